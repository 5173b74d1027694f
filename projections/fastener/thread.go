package fastener

import (
	"math"
	"strconv"
	"strings"
)

// System is the family of standards that a thread belongs to.
type System uint8

// The thread systems. The numbers are not stored.
const (
	NoThread System = iota
	Metric          // ISO 68-1 / ISO 261 profile, any diameter and pitch
	Inch            // unified inch, ASME B1.1
	PipeR           // ISO 7-1 taper, outside
	PipeRc          // ISO 7-1 taper, inside
	PipeRp          // ISO 7-1 parallel, inside
	PipeG           // ISO 228-1 parallel
	PipeNPT         // ASME B1.20.1 taper
	PipeNPTF        // ASME B1.20.3 taper, dry seal
)

var systemWords = [...]string{"none", "metric", "inch", "R", "Rc", "Rp", "G", "NPT", "NPTF"}

// String is the system's name.
func (s System) String() string {
	if int(s) < len(systemWords) {
		return systemWords[s]
	}
	return "system " + strconv.Itoa(int(s))
}

// Pipe reports whether the system is one of the pipe threads.
func (s System) Pipe() bool { return s >= PipeR && s <= PipeNPTF }

// inches reports whether lengths beside such a thread are written in inches.
func (s System) inches() bool { return s == Inch || s == PipeNPT || s == PipeNPTF }

// Thread is one screw thread. Threads compare with ==. The zero value is no
// thread.
type Thread struct {
	System       System
	DiameterMm   float64 // nominal outside diameter in millimetres
	PitchMm      float64 // pitch in millimetres, 25.4/TPI for inch and pipe
	TPI          float64 // threads per inch; 0 for metric
	Size         string  // nominal size of inch and pipe threads as written: 5/16, #10, 1-1/4
	Left         bool    // left-handed
	PitchAssumed bool    // the pitch was not given: coarse, ISO 261
}

// Known reports whether there is a thread at all.
func (t Thread) Known() bool { return t.System != NoThread }

// String is the thread as the canonical text writes it, without the hand.
func (t Thread) String() string {
	var b strings.Builder
	t.write(&b)
	return b.String()
}

func (t Thread) write(b *strings.Builder) {
	switch {
	case t.System == Metric:
		b.WriteByte('M')
		b.WriteString(decimal(t.DiameterMm))
		if !t.PitchAssumed {
			b.WriteByte('x')
			b.WriteString(pitchText(t.PitchMm))
		}
	case t.System == Inch:
		b.WriteString(t.Size)
		b.WriteByte('-')
		b.WriteString(decimal(t.TPI))
	case t.System == PipeNPT || t.System == PipeNPTF:
		b.WriteString(t.Size)
		b.WriteByte(' ')
		b.WriteString(t.System.String())
	case t.System.Pipe():
		b.WriteString(t.System.String())
		b.WriteString(t.Size)
	}
}

// decimal writes a number with as many decimals as it has and no more.
func decimal(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// pitchText writes a metric pitch with at least one decimal: M6x1.0.
func pitchText(v float64) string {
	s := decimal(v)
	if strings.IndexByte(s, '.') < 0 {
		s += ".0"
	}
	return s
}

// Coefficients of the tensile stress area As = pi/4 (d - c P)^2.
const (
	stressMetric = 0.938194 // ISO 898-1:2013 9.1.6.1: d - (0.649519 + 1.226869)/2 P
	stressInch   = 0.9743   // ASME B1.1: As = 0.7854 (D - 0.9743/n)^2
)

// StressAreaMm2 is the tensile stress area in square millimetres: for metric
// threads As = pi/4 ((d2+d3)/2)^2 with d2 = d - 0.649519 P and
// d3 = d - 1.226869 P (ISO 898-1:2013 9.1.6.1), for inch threads
// As = pi/4 (D - 0.9743/n)^2 (ASME B1.1; not the metric coefficient). Pipe
// threads and no thread have none: 0, false.
func (t Thread) StressAreaMm2() (float64, bool) {
	var c float64
	switch t.System {
	case Metric:
		c = stressMetric
	case Inch:
		c = stressInch
	default:
		return 0, false
	}
	d := t.DiameterMm - c*t.PitchMm
	if d <= 0 {
		return 0, false
	}
	return math.Pi / 4 * d * d, true
}

// StressAreaIn2 is StressAreaMm2 in square inches.
func (t Thread) StressAreaIn2() (float64, bool) {
	a, ok := t.StressAreaMm2()
	return a / (mmPerInch * mmPerInch), ok
}

// PitchDiameterMm is the basic pitch diameter d2 = d - 0.649519 P in
// millimetres (ISO 724, ASME B1.1), 0 for pipe threads and no thread.
func (t Thread) PitchDiameterMm() float64 {
	if t.System != Metric && t.System != Inch {
		return 0
	}
	return t.DiameterMm - 0.649519*t.PitchMm
}

// RootDiameterMm is the diameter at the rounded root, d3 = d - 1.226869 P for
// metric threads (ISO 898-1) and D - 1.299038 P for inch threads (ASME B1.1),
// in millimetres, 0 for pipe threads and no thread.
func (t Thread) RootDiameterMm() float64 {
	switch t.System {
	case Metric:
		return t.DiameterMm - 1.226869*t.PitchMm
	case Inch:
		return t.DiameterMm - 1.299038*t.PitchMm
	}
	return 0
}
