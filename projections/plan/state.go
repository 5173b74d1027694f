package plan

import "countback/events"

// Cavity is an inside space of the engine.
type Cavity struct {
	ID       events.Cavity
	Name     string
	Line     int
	Of       []PartIndex   // the parts whose walls it has
	OpenWhen Condition     // it is open while this holds
	LeadsTo  []CavityIndex // where a dropped piece can end
	Fluid    string        // "oil"; empty: dry
	Amount   string        // "4.2 l"
	Carried  string        // in words: what becomes of it when a part is off
}

// Mark is an act that leaves no state in the metal.
type Mark struct {
	ID        events.Mark
	Name      string
	Line      int
	AtArrival bool        // stands, presumed, on an engine that nobody opened
	Needs     Condition   // before it may be set
	NeedsOut  []LoanIndex // loans that make the act impossible
	VoidBy    Condition   // it is void while this holds: an any-of
	VoidActs  []Act       // and when one of these is done
}

// Loan is something that goes on or in for a while.
type Loan struct {
	ID        events.Loan
	Name      string
	Line      int
	Count     int // pieces; 0: as many as were counted in
	Kind      events.Kind
	Condition string
	Owner     Owner
	Harmless  bool // may be forgotten without harm

	Fills     []SeatIndex // seats that it takes up
	In        CavityIndex // cavity that it is in; None
	AnyCavity bool        // may be in any cavity
	Pins      []PartIndex // what it holds: it stops nothing once all of these lie on the bench

	Stops   Barrier // refuses the ask
	Reminds Barrier // only says so
	Note    string
}

// Owner says whose a loan is.
type Owner uint8

// The owners.
const (
	ShopOwns Owner = iota
	JobOwns
	OtherShopOwns
)

// Barrier is what a loan must be out for. A step that names it in loan-out
// or loan-during takes it out itself.
type Barrier struct {
	Steps    []StepIndex
	Acts     []Act
	Removal  []PartIndex  // the removal of a host
	Finished []JointIndex // the last stage of a joint
	Audits   []AuditIndex
}

// Empty reports whether the barrier names nothing.
func (b Barrier) Empty() bool {
	return len(b.Steps)+len(b.Acts)+len(b.Removal)+len(b.Finished)+len(b.Audits) == 0
}
