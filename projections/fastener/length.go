package fastener

import "strconv"

// Length is a length in millimetres that may be unknown. The zero value is
// unknown; zero millimetres is Mm(0).
type Length struct {
	mm    float64
	known bool
}

// Mm is a known length of v millimetres.
func Mm(v float64) Length { return Length{mm: v, known: true} }

// Known reports whether the length is known.
func (l Length) Known() bool { return l.known }

// Mm is the length in millimetres, and whether it is known.
func (l Length) Mm() (float64, bool) { return l.mm, l.known }

// String is the length with one decimal and its unit, or "unknown".
func (l Length) String() string {
	if !l.known {
		return "unknown"
	}
	return mmText(l.mm)
}

// mmText writes a length as it is shown to people: one decimal and the unit.
func mmText(v float64) string { return strconv.FormatFloat(v, 'f', 1, 64) + " mm" }

// bothText writes a length as it is shown where the thread is an inch thread:
// 0.92 in (23.4 mm). An inch has two decimals, below a tenth three: the
// last one is a quarter of a millimetre, below that a fortieth.
func bothText(v float64) string {
	in, decimals := v/mmPerInch, 2
	if in > -0.0995 && in < 0.0995 && in != 0 {
		decimals = 3
	}
	return strconv.FormatFloat(in, 'f', decimals, 64) + " in (" + mmText(v) + ")"
}
