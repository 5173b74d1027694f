// Package fastener knows threads, fasteners and holes: how people write them,
// which of them are the same, which of them a hand mistakes for one another,
// how strong they are, and whether one of a given length belongs in a hole.
//
// It is pure: text and numbers in, values out. It knows no engine, no job, no
// stock and no event; it does not know which fastener a hole should have, only
// what would happen if this one went in.
//
// # The canonical text
//
// Spec.String is the identity of a kind of fastener wherever kinds are counted
// or stored, and Parse gives back the same Spec for it. The form is
//
//	[thread[/thread]][xlength] [LH] [class] [head ...] [use ...] [form] [(feature)]
//	form-of-a-ring-or-washer size[xsize[xsize]] [class] [(feature)]
//
// with exactly one blank between the pieces:
//
//	M8x1.25x30 8.8 flange                        a bolt: the form is not written
//	M12x1.25x45 10.9 12pt (hollow with a filter) with the feature that sets it apart
//	M8x30                                        pitch not written: coarse, assumed
//	M10x1.5/M8x1.25x60 8.8 stud                  host end / nut end, whole length
//	M8x1.25 8 flange nut                         M8x1.25 copper nut
//	R1/8 oil pressure switch                     3/8 NPT plug
//	5/16-18x1-1/4 grade 5 hex                    #10-32x1/2
//	seal ring 24x30                              inside x outside diameter
//	O-ring 40x2.5                                inside diameter x cord
//	plate washer 10.5x2.5                        hole x thickness
//	M12x1.75                                     a thread and nothing more
//
// Metric sizes are millimetres with a point, the pitch with at least one
// decimal. Inch sizes are whole numbers and 64ths in lowest terms, number sizes
// carry #; a length on an inch thread that is no 64th is written in
// millimetres with the unit (3/8-16x25mm). Words are lower case, a feature
// stands last in round brackets and holds none.
//
// Parse reads more than it writes: upper and lower case, ×, blanks around x, a
// decimal comma, the form first (stud M10x1.5x60), 12-pt, gr. 5, UNC after the
// threads per inch, quotation marks and mm after a length, and the dash of
// standard designations (M12x80 - 8.8). Of a metric thread with one number
// after the diameter, that number is a pitch up to a quarter of the diameter
// and a length from half of it on; between the two it is refused. A number
// after an inch or NPT thread is a length in inches unless it says mm. Thread
// tolerances (6g, 2A) are dropped: they set no kind apart. What it cannot read it refuses with
// the place, and with the nearest reading where there is one.
package fastener
