package events

// BagLabelled starts a container for the pieces of a joint or a part.
type BagLabelled struct {
	Bag   Code  `json:"bag"`
	Joint Joint `json:"joint,omitempty"`
	Part  Part  `json:"part,omitempty"`
}

// BagOpened says that a closed bag was opened.
type BagOpened struct {
	Bag Code `json:"bag"`
}

// BagClosed says that a bag was closed; with lines it is a full count.
type BagClosed struct {
	Bag   Code   `json:"bag"`
	Lines []Line `json:"lines,omitempty"`
}

// Counted is an observation: this is in the place. With All there is nothing
// else in it. Empty lines with All: it is empty.
type Counted struct {
	Place Place  `json:"place"`
	Lines []Line `json:"lines,omitempty"`
	All   bool   `json:"all,omitempty"`
}

// BagsMerged says that everything of one bag went into another.
type BagsMerged struct {
	From Code `json:"from"`
	Into Code `json:"into"`
}

// BagSplit says that some of a bag went into a new one.
type BagSplit struct {
	From  Code   `json:"from"`
	Into  Code   `json:"into"`
	Lines []Line `json:"lines"`
}

// BagRetired says that a bag is empty and its label torn up.
type BagRetired struct {
	Bag Code   `json:"bag"`
	Why string `json:"why,omitempty"`
}

// LabelReprinted says that a label was ordered once more: there may be two of
// it now. The further one says so.
type LabelReprinted struct {
	Code Code   `json:"code"`
	Why  string `json:"why,omitempty"`
}

// PiecesMoved says that pieces went from one place to another.
type PiecesMoved struct {
	From  Place  `json:"from"`
	To    Place  `json:"to"`
	Lines []Line `json:"lines,omitempty"` // empty: everything
}

// PiecesScrapped says that pieces were thrown away.
type PiecesScrapped struct {
	From  Place  `json:"from"`
	Lines []Line `json:"lines"`
	Why   string `json:"why,omitempty"`
}

// PiecesKept says that pieces were put aside as a sample for reference.
type PiecesKept struct {
	From  Place  `json:"from"`
	Lines []Line `json:"lines"`
}

// ConditionChanged says what somebody found pieces to be.
type ConditionChanged struct {
	Place Place     `json:"place"`
	Lines []Line    `json:"lines"`
	Cond  Condition `json:"to"`
	Why   string    `json:"why,omitempty"`
}

// BenchSwept says that nothing of this job is loose on a bench any more.
type BenchSwept struct {
	Bench Terminal `json:"bench"`
	Joint Joint    `json:"joint,omitempty"` // empty: of any joint
}

// PartRemoved says that a part came off, whole or by positions.
type PartRemoved struct {
	Part      Part   `json:"part"`
	Positions []Hole `json:"positions,omitempty"` // empty: all of it
	To        Place  `json:"to,omitempty"`        // empty: loose on this bench
	Counted   int    `json:"counted,omitempty"`   // pieces counted; 0: not counted
	NoneCame  bool   `json:"none,omitempty"`      // counted, and there was none
}

// PartPlaced says which piece of a part lies in a position of a rack.
type PartPlaced struct {
	Part     Part  `json:"part"`
	Position Hole  `json:"position,omitempty"` // where on the engine it came from
	Rack     Place `json:"rack"`               // with the rack's own position
}

// RackRead is an observation of a whole rack: which positions are full.
type RackRead struct {
	Rack  Place  `json:"rack"`
	Empty []Hole `json:"empty,omitempty"`
	Part  Part   `json:"part,omitempty"`
	Joint Joint  `json:"joint,omitempty"`
}

// OrderLost says that a rack was tipped: the pieces are there, which is which
// is not known any more.
type OrderLost struct {
	Rack Place `json:"rack"`
	Part Part  `json:"part,omitempty"`
}

// Reassigned gives a piece another seat on purpose.
type Reassigned struct {
	Part Part   `json:"part"`
	From Hole   `json:"from"`
	To   Hole   `json:"to"`
	Why  string `json:"why"` // the measurement, or "order lost"
}

// PartFitted says that a part went back on, whole or by positions.
type PartFitted struct {
	Part      Part   `json:"part"`
	Positions []Hole `json:"positions,omitempty"`
	From      Place  `json:"from,omitempty"`
	Counted   int    `json:"counted,omitempty"`
	WayRound  bool   `json:"wayround,omitempty"` // the way round was confirmed
}

// HardwareReceived says what came in from outside.
type HardwareReceived struct {
	From  Place  `json:"from"` // outside/supplier/..., outside/drawer, outside/owner
	To    Place  `json:"to"`
	Lot   Lot    `json:"lot,omitempty"`
	Lines []Line `json:"lines"` // a line without a condition is new
	// AsFound: used hardware. A line without a condition is as found.
	AsFound bool   `json:"asfound,omitempty"`
	Order   string `json:"order,omitempty"` // that it came with
	// Short: pieces of the order that were delivered short: they come no more.
	// What neither came nor is here is still to come.
	Short []Line `json:"short,omitempty"`
}

// KitOpened is a count of what a kit held.
type KitOpened struct {
	Kit   string `json:"kit"`
	Lot   Lot    `json:"lot"`
	To    Place  `json:"to"`
	Lines []Line `json:"lines"`
	Order string `json:"order,omitempty"` // that it came with
}

func (BagLabelled) event()      {}
func (BagOpened) event()        {}
func (BagClosed) event()        {}
func (Counted) event()          {}
func (BagsMerged) event()       {}
func (BagSplit) event()         {}
func (BagRetired) event()       {}
func (LabelReprinted) event()   {}
func (PiecesMoved) event()      {}
func (PiecesScrapped) event()   {}
func (PiecesKept) event()       {}
func (ConditionChanged) event() {}
func (BenchSwept) event()       {}
func (PartRemoved) event()      {}
func (PartPlaced) event()       {}
func (RackRead) event()         {}
func (OrderLost) event()        {}
func (Reassigned) event()       {}
func (PartFitted) event()       {}
func (HardwareReceived) event() {}
func (KitOpened) event()        {}
