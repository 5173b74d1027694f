package events

// PiecesOut says that fasteners came out of a joint and where they went.
// With All it also says that no more of them is in: either counted (Lines
// hold each size, also zero) or claimed (no lines). Without All it moves
// just what Lines and Holes name.
type PiecesOut struct {
	Joint Joint  `json:"joint"`
	Holes []Hole `json:"holes,omitempty"` // empty: the whole joint
	To    Place  `json:"to,omitempty"`    // empty: loose on this terminal's bench
	Lines []Line `json:"lines,omitempty"`
	All   bool   `json:"all,omitempty"`
	Left  []Hole `json:"left,omitempty"` // holes that were left in on purpose
	// OutOfTurn: loosened otherwise than the plan orders it, and told to be so.
	OutOfTurn bool `json:"outofturn,omitempty"`
	// Warm: loosened while the engine was warm, though the plan wants it cold.
	Warm bool `json:"warm,omitempty"`
}

// PiecesParked says that fasteners were put back finger-tight, to be kept.
type PiecesParked struct {
	Joint Joint  `json:"joint"`
	Holes []Hole `json:"holes,omitempty"` // empty: all of the joint
	From  Place  `json:"from,omitempty"`
}

// PiecesFitted says that fasteners went into a joint. With All and no lines
// it is a claim that every hole of Holes (or of the joint) is filled.
type PiecesFitted struct {
	Joint Joint  `json:"joint"`
	Holes []Hole `json:"holes,omitempty"`
	From  Place  `json:"from,omitempty"` // empty: from the bench, or wherever this job has them
	Lines []Line `json:"lines,omitempty"`
	All   bool   `json:"all,omitempty"`
	Trial bool   `json:"trial,omitempty"` // single-use rule off; red until out again
}

// PiecesLoosened says that tightened fasteners are loose again, in their holes.
type PiecesLoosened struct {
	Joint     Joint  `json:"joint"`
	Holes     []Hole `json:"holes,omitempty"`
	OutOfTurn bool   `json:"outofturn,omitempty"` // otherwise than the plan orders it, and told to be so
	Warm      bool   `json:"warm,omitempty"`      // while the engine was warm, though the plan wants it cold
}

// StageRecorded says that one stage of a tightening list was done on holes.
// Without an order it is told without a list: so many stages of so many.
type StageRecorded struct {
	Joint   Joint   `json:"joint"`
	Holes   []Hole  `json:"holes,omitempty"` // empty: all of the joint
	Order   string  `json:"order,omitempty"` // id of the tightening list
	Stage   int     `json:"stage"`           // from 1
	Stages  int     `json:"stages"`          // how many the list has
	What    string  `json:"what,omitempty"`  // "torque 40 N.m", "angle 90 deg"
	Tool    string  `json:"tool,omitempty"`
	Value   float64 `json:"value,omitempty"`   // what was read, if Read
	Unit    string  `json:"unit,omitempty"`    // of Value: N.m, lbf.ft, lbf.in, kgf.m, deg, mm, in
	Read    bool    `json:"read,omitempty"`    // a value was read; otherwise the stage is told as done
	Edition string  `json:"edition,omitempty"` // which edition of the list it was done by
}

// FastenerBroken opens a case: one broken fastener, from now to a sound thread.
type FastenerBroken struct {
	Case     Code    `json:"case"`
	Joint    Joint   `json:"joint"`
	Hole     Hole    `json:"hole"`
	Stub     Stub    `json:"stub,omitempty"`
	StubMm   float64 `json:"stubmm,omitempty"`   // above the face, negative below
	When     string  `json:"when,omitempty"`     // arrival, removal, tightening
	OtherEnd string  `json:"otherend,omitempty"` // in-hand, not-found; empty: not asked yet
}

// OtherEndTold answers where the other end of a broken fastener is.
type OtherEndTold struct {
	Case   Code  `json:"case"`
	InHand bool  `json:"inhand"`
	Where  Place `json:"where,omitempty"`
}

// HotWorkConfirmed says that every caution before heat was read and confirmed.
type HotWorkConfirmed struct {
	Case     Code     `json:"case"`
	Cautions []string `json:"cautions"`
}

// ExtractionTried records one attempt on a broken fastener.
type ExtractionTried struct {
	Case       Code   `json:"case"`
	Method     string `json:"method"`
	Minutes    int    `json:"minutes"`
	Moved      bool   `json:"moved,omitempty"`
	ToolBroken bool   `json:"toolbroken,omitempty"` // a hard piece is in the hole now
}

// StudExtracted ends a case: the piece is out and the hole is as found.
type StudExtracted struct {
	Case    Code      `json:"case"`
	Hole    HoleState `json:"hole"`
	DepthMm float64   `json:"depthmm,omitempty"` // usable thread from the face; 0 unknown
	Takes   Kind      `json:"takes,omitempty"`   // the fastener that it takes now, when changed
	Sealed  bool      `json:"sealed,omitempty"`
}

// HoleChanged says what became of a hole outside any case.
type HoleChanged struct {
	Joint   Joint     `json:"joint"`
	Hole    Hole      `json:"hole"`
	State   HoleState `json:"state"`
	DepthMm float64   `json:"depthmm,omitempty"`
	Takes   Kind      `json:"takes,omitempty"`
}

func (PiecesOut) event()        {}
func (PiecesParked) event()     {}
func (PiecesFitted) event()     {}
func (PiecesLoosened) event()   {}
func (StageRecorded) event()    {}
func (FastenerBroken) event()   {}
func (OtherEndTold) event()     {}
func (HotWorkConfirmed) event() {}
func (ExtractionTried) event()  {}
func (StudExtracted) event()    {}
func (HoleChanged) event()      {}
