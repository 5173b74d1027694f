package plan

import "countback/events"

// Measurement is something measured with its limits, in its unit.
type Measurement struct {
	ID      string
	Of      string // what, in words
	Line    int
	Unit    string        // empty: the plan's unit of length
	Places  []events.Hole // where; none: at one place
	Points  []events.Hole // stations and directions at each place; none: one reading
	Min     Limit         // what decides for a part that has run
	Max     Limit
	NewMin  Limit // for new parts; what lies inside is as new
	NewMax  Limit
	FailsTo string // condition of what fails: "condemned"
	AllFail bool   // one that fails takes the whole set with it
	Outside string // what to do with a value outside
	Source  string // document and edition of the limits

	Kind    MeasureKind
	From    []MeasurementIndex // what it is worked out from; none: its own readings
	Nominal float64            // stretch: what it measured when it was new
	Gauge   string             // what it is read with, in words
	Band    float64            // guard band of that to each side; 0: not known
	Step    float64            // its finest division; 0: not known
	Metal   Metal              // what it is made of, where that matters

	Allows Allows
}

// MeasureKind says what the readings of one place come to. Its text is the word
// in a plan file.
type MeasureKind string

// The kinds of measurement.
const (
	MeasureSize       MeasureKind = "size"         // the reading itself
	MeasureTaper      MeasureKind = "taper"        // most less least along one direction
	MeasureOutOfRound MeasureKind = "out-of-round" // greatest difference at right angles at one height
	MeasureClearance  MeasureKind = "clearance"    // of two measurements, the bore first
	MeasureGap        MeasureKind = "gap"          // feelers, added up
	MeasureEndPlay    MeasureKind = "end-play"     // how far the indicator moved
	MeasureWarpage    MeasureKind = "warpage"      // greatest gap under a straight edge
	MeasureThinning   MeasureKind = "thinning"     // thickest less thinnest
	MeasureStretch    MeasureKind = "stretch"      // length less the nominal one
)

var measureKinds = []string{string(MeasureSize), string(MeasureTaper), string(MeasureOutOfRound), string(MeasureClearance), string(MeasureGap),
	string(MeasureEndPlay), string(MeasureWarpage), string(MeasureThinning), string(MeasureStretch)}

// Round reports whether its points name a direction and a height: A1, B1, A2.
func (k MeasureKind) Round() bool { return k == MeasureTaper || k == MeasureOutOfRound }

// Metal is what a measured part is made of: it decides how much it grows.
type Metal string

// The metals whose growth is known.
const (
	CastIron  Metal = "cast iron"
	Steel     Metal = "steel"
	Aluminium Metal = "aluminium"
)

// Limit is one limit of a measurement. Set without Known is a limit that the
// plan's author does not know: as found here is then the reference.
type Limit struct {
	Set   bool
	Known bool
	Value float64
}

// Allows is what a neighbour can take of the value of a part that is fitted.
type Allows struct {
	By        string    // whose limit it is, in words; empty: none
	Part      PartIndex // the neighbour in the plan; None
	Min       Limit
	Max       Limit
	About     float64 // how roughly that is known, to each side; 0: exactly
	Otherwise string  // what then
}

// MaxPoints is how many readings one place has at most.
const MaxPoints = 16

// Direct reports whether its limits are those of each reading, not of what the
// readings come to.
func (m *Measurement) Direct() bool {
	switch m.Kind {
	case MeasureSize:
		return true
	case MeasureClearance, MeasureWarpage:
		return true
	case MeasureGap, MeasureEndPlay, MeasureThinning:
		return len(m.Points) == 0
	}
	return false
}
