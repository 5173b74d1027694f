package plan

import (
	"time"

	"countback/events"
)

// Part is anything of the engine that no hole holds as a fastener: covers,
// shells, seals, lock halves. Whether it is on is relative to In: a pump plate
// that is on its cover is on, also while the cover lies on the bench.
type Part struct {
	ID   events.Part
	Name string // for people; the id in words where the plan gives none
	Line int

	In     PartIndex   // the part that it sits in and travels with; None: the engine itself, or not known
	Host   bool        // has seats of its own, and an instance number
	Root   bool        // never comes off; everything else is on it in the end
	MadeOf []PartIndex // parts that are slipped and counted with it

	Count     int        // pieces
	Place     string     // what its positions are called: "journal", "pressed bore"
	Positions []Position // in the plan's order; one named "1" where there is only one place

	Under  []PartIndex // what lies over it
	Mating []PartIndex // what must be there before it, and cannot go before it
	Seals  JointIndex  // joint whose opening uses it up; None

	Optional bool // not on every engine
	Stays    bool // comes out only to be replaced: no step removes it
	Timed    bool
	Reuse    Reuse
	OwnSeat  OwnSeat
	Sealant  Sealant
	Measures []MeasurementIndex
	Cavity   CavityIndex // cavity that it carries while it is off; None

	WayRound string // how it must lie
	Graded   string // what its grade is known by
	Feature  string // tells it from its like
	Material string // "cast iron", "steel", "aluminium"; empty: not said
	Inspect  string // what to look at
	Note     string
}

// Position is one place of a part, and how many pieces of it belong there.
type Position struct {
	Name  events.Hole // "2Ia"; the seat is part:name
	Count int
}

// Seat is the full name of a position of this part.
func (p *Part) Seat(pos Position) events.Seat {
	return events.Seat(string(p.ID) + ":" + string(pos.Name))
}

// OwnSeat says whether a piece must go back where it came from.
type OwnSeat uint8

// The rules for a piece's own seat.
const (
	AnySeat        OwnSeat = iota // pieces of this kind are equal
	OwnSeatOnly                   // back where it came from
	OwnSeatMeasure                // may be reassigned, by measurement
)

// ReuseRule says whether a piece may go in again.
type ReuseRule uint8

// The re-use rules.
const (
	ReuseAgain    ReuseRule = iota // may go in again
	ReuseNew                       // single-use: always new
	ReuseNewIfOut                  // stays good while it stays in; new if it came out
	ReuseMeasure                   // again if Reuse.Measure passes
)

// Reuse is a re-use rule with the measurement that it asks for.
type Reuse struct {
	Rule    ReuseRule
	Measure MeasurementIndex // None unless Rule is ReuseMeasure
}

// Single reports whether a piece is used up by coming out.
func (r Reuse) Single() bool { return r.Rule == ReuseNew || r.Rule == ReuseNewIfOut }

// Sealant says that a joint face or thread is sealed, and for how long the
// bead may stay open. The zero value is no sealant.
type Sealant struct {
	Used     bool
	Lot      string        // which; "any"
	OpenTime time.Duration // 0: not limited
}

// Variant is a choice of layouts of which an engine has exactly one.
type Variant struct {
	ID      string
	Line    int
	Options []Option
	Default int // index into Options
}

// Option is one layout of a variant: what is there only with it.
type Option struct {
	ID     string
	Joints []JointIndex
	Parts  []PartIndex
}
