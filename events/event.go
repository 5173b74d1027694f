package events

// Event says what a hand did (a transfer), what an eye saw (an observation),
// or what a person decided. The interface is sealed: every kind is in this
// package and in the catalogue.
type Event interface{ event() }

// Condition says what state a piece is in. One container holds one condition
// of a kind.
type Condition string

// The conditions of a piece. AsFound is the zero condition.
const (
	AsFound      Condition = ""
	New          Condition = "new"
	Used         Condition = "used" // new here once, and tightened or fitted here since
	MeasuredGood Condition = "measured-good"
	Condemned    Condition = "condemned"
	Sample       Condition = "sample" // kept for reference only
)

// Line is a number of pieces of one kind. A zero condition, lot or origin
// means that it was not said: then it matches whatever is there.
type Line struct {
	Kind   Kind      `json:"kind"`
	Qty    int       `json:"qty"` // 0 to MaxQty
	Cond   Condition `json:"cond,omitempty"`
	Lot    Lot       `json:"lot,omitempty"`
	Origin Seat      `json:"origin,omitempty"`
	// Expected rides along for the record; no fold reads it.
	Expected int `json:"expected,omitempty"`
}

// MaxQty bounds the number of pieces of one line.
const MaxQty = 99999

// FactID names one recorded fact: its terminal and the terminal's own counter.
type FactID struct {
	Terminal Terminal `json:"terminal"`
	N        uint32   `json:"n"`
}

// ShortID names one disagreement by the fact that showed it and its ordinal
// (from 1) among those that the fact showed. It stays the same whatever
// arrives later, which a running number would not.
type ShortID struct {
	Terminal Terminal `json:"terminal"`
	N        uint32   `json:"n"`
	K        int      `json:"k"`
}

// Tag ties a label to the thing that it is on. Noun is the type word and the
// id, divided by one blank: "joint front-cover", "part head", "loan rag".
type Tag struct {
	Code Code   `json:"code"`
	Noun string `json:"noun"`
}

// PlaceCount is what somebody counted in one place.
type PlaceCount struct {
	Place Place  `json:"place"`
	Lines []Line `json:"lines,omitempty"`
}

// Stub says how much of a broken fastener stands out of its hole.
type Stub string

// Where a fastener broke, seen from the face of the hole.
const (
	Proud Stub = "proud"
	Flush Stub = "flush"
	Below Stub = "below"
)

// HoleState says what became of a threaded hole.
type HoleState string

// The states of a hole after work on it.
const (
	HoleOriginal HoleState = "original"
	HoleChased   HoleState = "chased"
	HoleInsert   HoleState = "insert"
	HoleBushing  HoleState = "bushing"
	HoleOversize HoleState = "oversize"
)

// Ending says how a short or an over ended.
type Ending string

// The endings of a disagreement with the book.
const (
	Found      Ending = "found"       // the pieces are in hand again
	Miscount   Ending = "miscount"    // a later count of the undisturbed container agrees with the book
	Paired     Ending = "paired"      // a short and an over of one act
	PlanWrong  Ending = "plan-wrong"  // the plan says what this engine never had, or leaves out what it has
	NeverThere Ending = "never-there" // missing when the engine came
	StillIn    Ending = "still-in"    // it never left its hole
	Borrowed   Ending = "borrowed"    // it is in another job
	WrittenOff Ending = "written-off" // given up, after looking, by two persons
)

// JobEnd says how a job ended.
type JobEnd string

// The ends of a job.
const (
	Released   JobEnd = "released"
	HandedBack JobEnd = "handed-back" // unfinished, with a counted inventory
	Suspended  JobEnd = "suspended"
)

// Fluid is what a cavity holds.
type Fluid string

// The states of the fluid side of a cavity.
const (
	Dry     Fluid = "dry"
	Drained Fluid = "drained"
	Filled  Fluid = "filled"
)

// Act is something done with the whole engine.
type Act string

// The acts with the whole engine.
const (
	Turning  Act = "turning"  // by hand
	Cranking Act = "cranking" // by the starter or under its own power
	Heating  Act = "heating"  // flame or weld near it
)
