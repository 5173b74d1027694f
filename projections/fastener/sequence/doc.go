// Package sequence knows in which order the fasteners of a joint are turned:
// around a circle by opposite pairs, over a block from the centre out, and
// loose in exactly the reverse.
//
// It is pure and computes an order only where nobody has given one: what the
// maker of an engine shows in a figure comes first. It knows no torque, no
// stage and no hole by name: positions are numbers from 0 in the order in
// which the caller has them, and [Names] turns an order back into names.
//
// A circle of a whole number of quads (4, 8, 12 ...) gives 1-7-4-10, 2-8-5-11,
// 3-9-6-12 and its like: each quad is two opposite pairs at right angles, and
// each next quad goes where the untightened gap is widest. These are the
// legacy cross patterns of ASME PCC-1 (from memory; the one of twelve as
// reproduced at wjlr.roverradio.com). Other even numbers go by opposite pairs,
// odd ones by the star, each next as nearly opposite as there is.
package sequence
