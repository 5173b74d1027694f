package plan

import (
	"time"

	"countback/events"
)

// Section is the part of the work that a step belongs to.
type Section uint8

// The sections, in the order in which a whole job meets them.
const (
	Off           Section = iota // taking the engine apart
	BenchApart                   // taking apart what is off
	BenchTogether                // putting together what is off
	On                           // putting the engine together
)

// String is the section in words.
func (s Section) String() string {
	return [...]string{"off", "bench apart", "bench together", "on"}[s]
}

// Apart reports whether the section takes things apart.
func (s Section) Apart() bool { return s == Off || s == BenchApart }

// Step is one act of work: what must hold before it, and what it leaves.
type Step struct {
	ID      events.Step
	Name    string
	Line    int
	Section Section
	Part    PartIndex // bench work: the part on the bench; None

	When Condition // all of it, before the step

	TakesOut  []SeatIndex // emptied, but for members that stay
	Parks     []SeatIndex // back in finger-tight, to be kept
	Removes   []PartIndex
	SendsOut  []PartIndex // to another shop
	TakesBack []PartIndex
	Drains    []CavityIndex

	Fits    []PartIndex
	Fastens []SeatIndex
	Trial   []SeatIndex // put in without the single-use rule, and out again
	Fills   []CavityIndex

	Opens  []CavityIndex // as the author sees it; Check compares it with open-when
	Closes []CavityIndex

	LoanOut    []LoanIndex // before the work
	LoanIn     []LoanIndex // after it
	LoanDuring []LoanIndex // in and out within the step
	LoanMay    []LoanIndex // the same, where wanted and where its seat is free

	Sets   []MarkIndex
	Turns  bool // turns the crank
	Cranks bool // the starter turns it

	Optional  bool // one way among others: never owed
	AsksCount bool // the pieces are counted as they come or go
	Gate      GateIndex
	Audit     AuditIndex // the audit point that must be signed before it; None
	Sealant   Sealant
	Wait      time.Duration // not before this long after its conditions held
	Minutes   int           // usual work; 0 not known
	Tools     []string      // ids of tools of the shop that it needs, those of its tightening lists apart
	Note      string

	Need Need // what it asks for beside When

	traces  []trace
	demands []demand
}

// Owed reports whether an audit may ask for the step: trials and ways that are
// one among others are never owed.
func (s *Step) Owed() bool { return !s.Optional && len(s.Trial) == 0 }

// Gate is a check by a second person.
type Gate struct {
	ID   string
	Line int
	Asks string // "blind-count", "look"
}

// AuditPoint is a named moment at which everything owed must be settled.
type AuditPoint struct {
	ID    events.AuditPoint
	Name  string
	Line  int
	Needs []AuditNeed
	When  Condition // conditions over the present state, all of
	Signs int       // persons that sign
}

// AuditNeed is a line of an audit that is computed over the whole job. Its
// text is the word in a plan file.
type AuditNeed string

// What an audit point may ask for beside conditions.
const (
	PartsOn            AuditNeed = "parts-on"             // every part that is not absent
	SeatsFinished      AuditNeed = "seats-finished"       // or due later and carried
	StoppingLoansOut   AuditNeed = "stopping-loans-out"   // loans that stop this audit point
	AllLoansOut        AuditNeed = "all-loans-out"        // or signed for
	CavitiesClosed     AuditNeed = "cavities-closed"      // and cleared
	NoDifferenceInside AuditNeed = "no-difference-inside" // no open short or over in a cavity
	NoDifference       AuditNeed = "no-difference"        // no open short or over at all
	DuesMet            AuditNeed = "dues-met"             // or handed over
)

// Act is something done to the whole engine that leaves no part of its own.
type Act uint8

// The acts that void marks and that loans stop.
const (
	Turning    Act = iota // turning the crank by hand
	Cranking              // turning it with the starter
	SendingOut            // a part leaves for another shop
	actCount
)

// String is the act's word in a plan file.
func (a Act) String() string { return [...]string{"turning", "cranking", "sending-out"}[a] }
