package plan

import "countback/events"

// Tightening is a list of stages for groups of seats inside one order over
// one or several joints.
type Tightening struct {
	ID       string
	Line     int
	Loosen   bool     // way: loosen
	Order    []string // hole names, or words: "star"
	Rounds   string   // "3 turns": how far each snug round goes
	Passes   int      // how often the whole list is gone through; 1
	Member   Role     // the member that is turned
	ByMember bool     // Member was given: only that member's turning is meant
	Groups   []TightenGroup
	Tools    []string        // ids of tools of the shop: wrench, angle gauge
	Sets     [][]events.Hole // holes that go through the stages together, such as the two of a cap; none: all of them
	With     [][]events.Hole // holes that may not be loosened without each other
	Pause    int             // longest pause inside an angle stage in minutes; 0: the usual one
	AnyHands bool            // others may finish an angle stage than began it
	Cold     bool            // of a loosening: only while the engine is cold
	Note     string
}

// TightenGroup is one group of seats. Editions disagree where there are
// several: the builder chooses one and signs.
type TightenGroup struct {
	Seats    []events.Seat // holes, and pressed positions of parts
	Holes    []SeatIndex   // those of Seats that are holes
	Editions []TightenEdition
}

// TightenEdition is the stages as one source gives them.
type TightenEdition struct {
	Edition string // empty where the plan knows only one
	Source  string
	Stages  []Stage
}

// Stage is one pass over a group of seats.
type Stage struct {
	Kind  StageKind
	Min   float64 // N.m, degrees or mm by kind; Min == Max where one value is given
	Max   float64
	Known bool          // false: Text says it in words, or the value is unknown
	Text  string        // as written
	Said  string        // what it is worth as it was written in a unit of its own: "45 to 55 lbf.ft"; empty: in N.m, degrees or mm
	Unit  string        // of Said: lbf.ft, lbf.in, kgf.m, in; empty: N.m, degrees or mm
	Only  []events.Hole // of the group; none: all of it
	Never float64       // of a stretch in mm: beyond this the fastener is spent; 0: beyond Max
	Band  float64       // of what is measured, mm: how good a reading is to each side; 0: not asked
	Needs Condition     // before the stage
	Due   string        // falls due later: "cold after the first heat"
	Line  int
}

// StageKind is what a stage measures. Its text is the word in a plan file.
type StageKind string

// The kinds of stage.
const (
	StageSnug       StageKind = "snug"        // N.m, or rounds by hand
	StageTorque     StageKind = "torque"      // N.m
	StageAngle      StageKind = "angle"       // degrees
	StageStretch    StageKind = "stretch"     // mm
	StagePressDepth StageKind = "press-depth" // mm
	StageHeight     StageKind = "height"      // mm that a stud stands above the face
	StageLoosen     StageKind = "loosen"
	StageAgain      StageKind = "again" // N.m, the same torque once more after all others had it
)

// Kit is what is bought together.
type Kit struct {
	ID    string
	Line  int
	Lines []KitLine
}

// KitLine is one line of a kit: pieces of a part or of a fastener.
type KitLine struct {
	Part    PartIndex   // None: Kind says what
	Kind    events.Kind // empty: Part says what
	Count   int
	Surplus int // of Count: not for this engine
	Line    int
}
