package events

// Ordered says what was ordered outside. An order that was told already gets
// more lines. A kind is that of a fastener, the id of a part, or "kit " and the
// id of a kit of the plan.
type Ordered struct {
	Order    string `json:"order"` // its name within the job
	Supplier string `json:"supplier,omitempty"`
	Lines    []Line `json:"lines"`
	Promised Day    `json:"promised,omitempty"` // all of it; empty: nobody said
}

// Promised says for which day somebody promised something; the last word
// stands, and those before it stay on record.
type Promised struct {
	On   string `json:"on"`             // a noun: "order o12-b2", "slip S2KHQ7NU", "part head"
	Kind Kind   `json:"kind,omitempty"` // one line of an order
	Day  Day    `json:"day,omitempty"`  // empty: the promise was taken back
	By   string `json:"by,omitempty"`   // who said so
}

// StepPlanned says on which day a step is meant to start.
type StepPlanned struct {
	Step Step `json:"step"`
	Day  Day  `json:"day,omitempty"` // empty: it is not planned any more
}

// LeadTimeSet says how long a supplier takes, and of whom a kind is bought.
type LeadTimeSet struct {
	Supplier string `json:"supplier"`
	Kind     Kind   `json:"kind,omitempty"` // empty: whatever that supplier brings
	Days     int    `json:"days"`           // calendar days
}

// SealantApplied starts the open time of a bead; once more, it starts anew.
type SealantApplied struct {
	Step  Step  `json:"step,omitempty"` // or the joint, or the part
	Joint Joint `json:"joint,omitempty"`
	Part  Part  `json:"part,omitempty"`
	Lot   Lot   `json:"lot,omitempty"`
}

// HardwareSentBack says what went back to a supplier.
type HardwareSentBack struct {
	From     Place  `json:"from"`
	Supplier string `json:"supplier"`
	Order    string `json:"order,omitempty"` // the order that it came with: it is owed again
	Lines    []Line `json:"lines"`
	Why      string `json:"why,omitempty"`
}

// OrderClosed says that nothing more will come of an order.
type OrderClosed struct {
	Order string `json:"order"`
	Why   string `json:"why,omitempty"`
}

func (Ordered) event()          {}
func (Promised) event()         {}
func (StepPlanned) event()      {}
func (LeadTimeSet) event()      {}
func (SealantApplied) event()   {}
func (HardwareSentBack) event() {}
func (OrderClosed) event()      {}
