package events

// LossReported tells that pieces fell or cannot be found.
type LossReported struct {
	From   Place  `json:"from"`
	Lines  []Line `json:"lines"`
	Cavity Cavity `json:"cavity,omitempty"` // where it was heard or seen to go
}

// ShortEnded ends one short or over by name.
type ShortEnded struct {
	Short  ShortID `json:"short"`
	How    Ending  `json:"how"`
	Qty    int     `json:"qty,omitempty"` // 0: all of it
	To     Place   `json:"to,omitempty"`  // found: where it is now
	With   ShortID `json:"with,omitzero"` // paired
	Job    Job     `json:"job,omitempty"` // borrowed
	Second Badge   `json:"second,omitempty"`
	Why    string  `json:"why,omitempty"`
	Holes  []Hole  `json:"holes,omitempty"` // still in: which, where that was said
}

// DisagreementSettled says which of two facts falls, with a count of each
// place concerned.
type DisagreementSettled struct {
	Facts  []FactID     `json:"facts"`
	Falls  FactID       `json:"falls"`
	Counts []PlaceCount `json:"counts"`
	Why    string       `json:"why,omitempty"`
}

// HardwareLent and HardwareBorrowed are the two halves of one loan of
// hardware between jobs; they carry one number.
type HardwareLent struct {
	Ref   string `json:"ref"`
	To    Job    `json:"to"`
	From  Place  `json:"from"`
	Lines []Line `json:"lines"`
}

// HardwareBorrowed is the other half of HardwareLent, on the borrowing job.
type HardwareBorrowed struct {
	Ref   string `json:"ref"`
	From  Job    `json:"from"`
	To    Place  `json:"to"`
	Lines []Line `json:"lines"`
}

// LoanIn says that something went on or in for a while.
type LoanIn struct {
	Loan  Loan   `json:"loan"`
	Count int    `json:"count"`
	Where string `json:"where,omitempty"` // a cavity, or joint:hole
	Lot   Lot    `json:"lot,omitempty"`
}

// LoanOut says that it is out again.
type LoanOut struct {
	Loan  Loan `json:"loan"`
	Count int  `json:"count"`
}

// CavityOpened says that an inside space is open.
type CavityOpened struct {
	Cavity Cavity `json:"cavity"`
}

// CavityLooked is a look into a cavity: clear, or what was found in it.
type CavityLooked struct {
	Cavity Cavity `json:"cavity"`
	Found  []Line `json:"found,omitempty"`
}

// CavityClosed says that it was capped or closed.
type CavityClosed struct {
	Cavity Cavity `json:"cavity"`
}

// FluidChanged says what a cavity holds now.
type FluidChanged struct {
	Cavity Cavity  `json:"cavity"`
	State  Fluid   `json:"state"`
	What   string  `json:"what,omitempty"`
	Litres float64 `json:"litres,omitempty"`
}

// MarkMade records an act that leaves no state in the metal.
type MarkMade struct {
	Mark Mark `json:"mark"`
}

// ActDone records that the engine was turned, cranked or heated.
type ActDone struct {
	Act Act `json:"act"`
}

// SecondChecked is the answer of a second person at a gate.
type SecondChecked struct {
	Step   Step   `json:"step"`
	Second Badge  `json:"second"`
	Lines  []Line `json:"lines,omitempty"` // counted without seeing the first number
	Total  int    `json:"total,omitempty"` // when only a total was asked
	Agreed bool   `json:"agreed"`
	Alone  bool   `json:"alone,omitempty"` // the same person after a gap of hours
	First  bool   `json:"first,omitempty"` // by one who did the work, after a second count that differed; it passes no gate
	Early  bool   `json:"early,omitempty"` // by the second person before that: it does not count, and Agreed is false
}

// SentOut says what left for another shop: hosts with all that is in them.
type SentOut struct {
	Slip  Code   `json:"slip"`
	Parts []Part `json:"parts"`
	Shop  string `json:"shop,omitempty"`
	Scope string `json:"scope,omitempty"`
	Stays []Line `json:"stays,omitempty"` // what does not go
}

// Returned compares a slip line by line: what differs from what went.
type Returned struct {
	Slip  Code   `json:"slip"`
	Parts []Part `json:"parts,omitempty"` // empty: all of the slip
	Lines []Line `json:"lines,omitempty"` // counted lines; unnamed lines are as they went
	To    Place  `json:"to,omitempty"`
}

// Exchanged says that another individual came back in place of a host part.
type Exchanged struct {
	Part Part   `json:"part"`
	Old  Host   `json:"old"`
	New  Host   `json:"new"`
	Why  string `json:"why,omitempty"`
}

// HoldSet stops a step or a part for a reason.
type HoldSet struct {
	Hold string `json:"hold"` // its name within the job
	On   string `json:"on"`   // a noun: "step cover-on", "part head"
	Why  string `json:"why"`
}

// HoldReleased ends a hold.
type HoldReleased struct {
	Hold string `json:"hold"`
	Why  string `json:"why,omitempty"`
}

// Overridden lets a refused ask pass: who, why, and what was not met.
type Overridden struct {
	Ask    string   `json:"ask"` // a noun: "step cover-on"
	Second Badge    `json:"second"`
	Why    string   `json:"why"`
	Unmet  []string `json:"unmet,omitempty"`
}

// Measured records one reading, or those of all points of one place.
type Measured struct {
	Measurement string      `json:"measurement"`
	At          Hole        `json:"at,omitempty"`
	Value       float64     `json:"value"` // of the first point, where there are several
	Unit        string      `json:"unit"`
	Gauge       string      `json:"gauge,omitempty"`
	Text        string      `json:"text,omitempty"`    // the digits as they were read: "51.980"
	Sure        bool        `json:"sure,omitempty"`    // it was doubted, and told to be so
	Celsius     float64     `json:"celsius,omitempty"` // of the part; 0: not said
	Points      []PointRead `json:"points,omitempty"`  // by station and direction; empty: Value alone
}

// FindingRaised says what inspection found; it holds its part until decided.
type FindingRaised struct {
	Finding string `json:"finding"`
	On      string `json:"on"` // a noun
	What    string `json:"what"`
}

// FindingDecided decides it: use, repair, replace, send-out, ask-owner.
type FindingDecided struct {
	Finding  string `json:"finding"`
	Decision string `json:"decision"`
	Why      string `json:"why,omitempty"`
	Lines    []Line `json:"lines,omitempty"` // what it needs from outside, where that was said
	Shop     string `json:"shop,omitempty"`  // send-out: to whom
	Cost     int    `json:"cost,omitempty"`  // in whole units of the shop's money; 0: not said
}

// Corrected names one fact and says what should have been recorded instead,
// or nothing. It takes that fact's place in the order.
type Corrected struct {
	Wrong   FactID `json:"wrong"`
	Instead Event  `json:"-"` // nil: nothing; stored as insteadkind and instead
	Why     string `json:"why"`
}

// Unknown is a kind that this program does not know: kept and shown.
type Unknown struct {
	Kind string // the stored name
	Data string // its data as stored
}

func (LossReported) event()        {}
func (ShortEnded) event()          {}
func (DisagreementSettled) event() {}
func (HardwareLent) event()        {}
func (HardwareBorrowed) event()    {}
func (LoanIn) event()              {}
func (LoanOut) event()             {}
func (CavityOpened) event()        {}
func (CavityLooked) event()        {}
func (CavityClosed) event()        {}
func (FluidChanged) event()        {}
func (MarkMade) event()            {}
func (ActDone) event()             {}
func (SecondChecked) event()       {}
func (SentOut) event()             {}
func (Returned) event()            {}
func (Exchanged) event()           {}
func (HoldSet) event()             {}
func (HoldReleased) event()        {}
func (Overridden) event()          {}
func (Measured) event()            {}
func (FindingRaised) event()       {}
func (FindingDecided) event()      {}
func (Corrected) event()           {}
func (Unknown) event()             {}
