package scan

import "strings"

// ReadSaid is one reading as it was said.
type ReadSaid struct {
	Point   string
	Digits  string // as typed, with a point
	Unit    string // empty: that of the measurement
	Value   float64
	Celsius float64 // 0: not said
	Sure    bool    // it was doubted, and said to be so
}

// String is the reading as it was said.
func (r ReadSaid) String() string { return strings.TrimSpace(r.Digits + " " + r.Unit) }

// Doubt is a question about a reading: was another one meant?
type Doubt struct {
	Text  string
	Meant ReadSaid
	Has   bool // Meant is likely
}
