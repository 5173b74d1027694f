package engine

import (
	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// State is what one job's facts come to. Everything in it is folded and can be
// thrown away and folded again. Read it; only the fold writes it.
type State struct {
	Opened  events.JobOpened
	Started ledger.Fact // the fact that opened the job; 0: none yet
	Ended   *Ended      // nil while the job is open

	lay   *layout
	now   *plan.Present
	spare *plan.Present // memory for the next now
	book  *ledger.Book
	kinds []ledger.KindID    // by layout kind
	group []ledger.AccountID // by layout group
	inst  []uint16           // by plan.PartIndex: which individual host part is on the job

	arrived, scrap, kept, lost ledger.AccountID

	seats []seat
	parts []part

	bags     map[events.Code]*Bag
	bagList  []*Bag // in order of first meeting
	racks    map[events.Place]*Rack
	spots    []spot // by spotNo
	bagRoom  room[Bag]
	seatRoom room[events.Seat]

	benches   []looseAt // every bench account, in the order of first use
	loose     []int32   // by joint: 1 + its first bench account; 0: none
	nextLoose []int32   // by bench account: 1 + the next of the same joint

	tags  map[events.Code]string
	codes map[string]events.Code

	loans     map[events.Loan]*LoanState
	loanAt    []*LoanState // by plan.LoanIndex; nil: not met
	loanRoom  room[LoanState]
	drawer    ledger.AccountID
	cases     []*Case
	slips     []*Slip
	arrivals  []Arrival
	holds     []*Hold
	findings  []*Finding
	checks    []Check
	passes    []LetPass
	signed    []Signature
	looks     []look
	turns     []cavityTurn
	caveOpen  []bool
	holes     map[plan.SeatIndex]Hole
	odd       map[plan.SeatIndex]events.Kind // what is in a hole that is not of the plan's kind
	choices   map[string]string
	options   map[events.Part]bool
	reassigns map[events.Seat]events.Seat
	measured  []Reading
	gauging   gauging
	run       running
	uncounted []Uncounted
	notes     []Note
	learned   learned
	toolsOut  []ToolOut
	trays     []Tray
	batches   []*Batch
	oiled     []preserved
	lotDays   []lotDay
	unknown   []Strange
	hot       map[events.Code]ledger.Fact
	tight     tight
	press     pressing
	studs     studding
	sources   sources
	hand      handing
	witnesses []witness // counts that were told too late to set their places
	dated     bool      // some fact was told later than it happened

	choicesOfScope []*ScopeChoice
	ahead          ahead
	stirred        bool // something that a wait looks at may have changed
	cores          []*Core
	owner          owners

	heard   []heard // by terminal, the first facts
	heardTo int     // how many these are

	job *Job // whose facts these are

	// of the fact in hand
	fact   ledger.Fact
	rec    *events.Record
	ev     events.Event // what stands in its place; nil: its own
	meant  *meant       // what its names mean
	opened ledger.Opened
	need   []need        // scratch
	undone plan.Progress // scratch
	said   []string      // by step: what to scan for it, while a view is worked out; nil: not kept
}

// seat is the fold's side of one hole.
type seat struct {
	in       uint8 // mask of the members that are in
	stages   uint8 // stages recorded for this fitting
	fitting  uint16
	parked   bool
	trial    bool
	reused   bool        // a single-use piece went in that was not new
	byNumber bool        // emptied by a count: which of several like holes it is nobody said
	kept     bool        // filled by a count or STILL IN: the same
	unsure   bool        // came out or not: a count was below the book and nobody has said
	broken   bool        // a stub is in it
	byClaim  bool        // last filled or emptied by a word for many
	oddKind  bool        // what is in it is not of the plan's kind: see State.odd
	badPiece bool        // condemned or sample
	changed  ledger.Fact // when it was filled or emptied last; 0: as it came
}

// part is the fold's side of one part.
type part struct {
	at        ledger.AccountID // where it was put last, while off
	bench     ledger.AccountID // loose on benchOf; 0 not asked yet
	benchOf   uint16           // see meant.bench
	in        []events.Seat    // by position: origin of the piece in it, for pieces that have one
	reused    int32            // pieces on it now that are single-use and not known to be new
	condemned int32            // pieces on it now that were condemned or are samples
	changed   ledger.Fact
}

// Bag is a labelled container.
type Bag struct {
	Code    events.Code
	Joint   events.Joint
	Part    events.Part
	Since   ledger.Fact
	Closed  bool
	Retired ledger.Fact
	account ledger.AccountID
}

// Rack is a container with positions.
type Rack struct {
	Place events.Place
	Part  events.Part
	Joint events.Joint
	Lost  ledger.Fact // when its order was lost; 0: it stands
}

// LoanState is what is known of one kind of loan.
type LoanState struct {
	In    int
	Since ledger.Fact
	Where string

	kind    ledger.KindID
	account ledger.AccountID
	loan    plan.LoanIndex // plan.None: the plan does not list it
}

// Ended says how and when the job ended.
type Ended struct {
	How  events.JobEnd
	Fact ledger.Fact
}

// Hole is what a hole became.
type Hole struct {
	State   events.HoleState
	DepthMm float64
	Takes   events.Kind
	Fact    ledger.Fact
}

// Hold is a reason that a step or a part may not go on.
type Hold struct {
	ID, On, Why string
	Since       ledger.Fact
	Released    ledger.Fact
}

// Check is a second person's answer at a gate.
type Check struct {
	events.SecondChecked
	Doer events.Badge
	Fact ledger.Fact
}

// LetPass is a refused ask that a second person let pass.
type LetPass struct {
	events.Overridden
	Fact ledger.Fact
}

// Signature is a signed audit point.
type Signature struct {
	events.AuditSigned
	By   events.Badge
	Fact ledger.Fact
}

// Slip is what was sent to another shop.
type Slip struct {
	Code  events.Code
	Shop  string
	Scope string
	Parts []events.Part
	Out   []events.Part // still away
	Since ledger.Fact
	Back  ledger.Fact

	Limits   string        // how far the other shop may go
	Went     []events.Line // the parts and all that was on them
	Came     []events.Line // of them, as it was counted or said when it came
	Unlooked []events.Part // back, and nobody has looked it over
	first    ledger.Fact   // when the first of it came back
}

// Reading is one measurement as recorded.
type Reading struct {
	events.Measured
	Fact ledger.Fact
}

// Uncounted is a joint or a part that is off by presumption: nobody counted
// what came out.
type Uncounted struct {
	Joint   events.Joint // or
	Part    events.Part
	Because events.Part // the part whose removal presumes it
	Fact    ledger.Fact
	Cleared ledger.Fact
}

// Strange is a kind of fact that this program does not know.
type Strange struct {
	Kind string
	Fact ledger.Fact
}

type look struct {
	cavity plan.CavityIndex
	fact   ledger.Fact
}

type cavityTurn struct {
	fact   ledger.Fact
	cavity plan.CavityIndex
	open   bool
}

type need struct {
	group int32
	kind  int32
	n     int32
}

// Note is something that the fold noticed and that stays on the job.
type Note struct {
	Fact ledger.Fact
	What NoteKind
	On   string // noun
	Text string
}

// NoteKind sorts notes.
type NoteKind uint8

// What the fold notices.
const (
	FoundOdd     NoteKind = iota // as found differs from the plan
	Unseen                       // a gate or signature passed without knowing of a fact
	Reopened                     // the job had ended
	NoSuch                       // the fact names what this job does not have
	Swapped                      // a piece with a seat of its own is in another
	PastStop                     // an attempt after the stop rule
	TurnedPinned                 // turned with a loan in that makes it impossible
	Mixed                        // old and new of a kind in one container
	TurnedLoose                  // turned with something lying loose in it
	FittedEarly                  // put on while it was in a wash or cured
)

func newState(j *Job) *State {
	s := &State{job: j}
	s.begin(emptyLayout)
	return s
}

// newStateFrom takes over the memory of a state that is no longer needed.
func newStateFrom(old *State) *State {
	s := &State{job: old.job}
	s.recycle(old)
	s.begin(emptyLayout)
	return s
}

var emptyLayout = layoutOf(&plan.Plan{})

// begin sets the state to an engine as the plan says, nothing recorded yet.
func (s *State) begin(l *layout) {
	if s.book == nil {
		s.book = ledger.New()
	} else {
		s.book.Reset()
	}
	s.lay = l
	s.beginTight()
	s.beginPress()
	s.beginStuds()
	s.now = plan.NewPresent(l.plan)
	b := s.book
	s.arrived, s.scrap = b.Account("outside/arrived"), b.Account("scrap")
	s.kept, s.lost = b.Account("kept"), b.Account("lost")
	s.kinds = resize(s.kinds, len(l.kinds))
	for i, k := range l.kinds {
		s.kinds[i] = b.Kind(k)
	}
	s.inst = resize(s.inst, len(l.plan.Parts))
	for i := range s.inst {
		s.inst[i] = 1
	}
	s.group = resize(s.group, len(l.groups))
	for i := range l.groups {
		s.group[i] = b.Account(s.groupPath(int32(i)))
	}
	s.seats = resize(s.seats, len(l.seats))
	s.parts = resize(s.parts, len(l.parts))
	s.loanAt = resize(s.loanAt, len(l.plan.Loans))
	s.chainAllLoose()
	s.caveOpen = resize(s.caveOpen, len(l.plan.Cavities))
	for i := range s.caveOpen {
		s.caveOpen[i] = s.now.Open(plan.CavityIndex(i))
	}
}

func resize[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	s = s[:n]
	clear(s)
	return s
}

// recycle takes over what nobody outside holds: the books and the tables. Lists
// that a view has handed out stay with those who have them; the new ones are as
// long at once.
func (s *State) recycle(old *State) {
	s.book, s.spare, s.seats, s.parts = old.book, old.now, old.seats, old.parts
	s.kinds, s.group, s.inst, s.caveOpen = old.kinds, old.group, old.inst, old.caveOpen
	s.need, s.loanAt, s.tight = old.need, old.loanAt, old.tight.recycled()
	s.press = pressing{log: old.press.log[:0], lists: old.press.lists}
	s.studs = studding{log: old.studs.log[:0], lists: old.studs.lists}
	s.spots = resize(old.spots, len(old.spots))
	s.benches, s.loose, s.nextLoose = old.benches[:0], old.loose, old.nextLoose[:0]
	s.heard, s.turns = old.heard[:0], old.turns[:0]
	s.bags, s.bagList = old.bags, make([]*Bag, 0, len(old.bagList))
	clear(s.bags)
	if s.loans = old.loans; s.loans != nil {
		clear(s.loans)
	}
	s.notes = make([]Note, 0, len(old.notes))
	*old = State{}
}

// Plan is this job's own copy of its plan, with its amendments.
func (s *State) Plan() *plan.Plan { return s.lay.plan }

// Now is the present state of the engine as conditions see it. Read only.
func (s *State) Now() *plan.Present { return s.now }

// Book is the job's ledger. Read only.
func (s *State) Book() *ledger.Book { return s.book }

// groupPath is the account of what is fitted to a host by one joint or part.
func (s *State) groupPath(g int32) events.Place {
	gr := &s.lay.groups[g]
	if gr.host < 0 {
		return events.Place("fitted/engine/" + gr.name)
	}
	return events.Place("fitted/" + string(s.hostName(gr.host)) + "/" + gr.name)
}

// hostName is the individual of a host part: "head 1".
func (s *State) hostName(p plan.PartIndex) events.Host {
	return events.Host(string(s.lay.plan.Parts[p].ID) + " " + itoa(int(s.inst[p])))
}

// presume posts the opening balance: all that the plan says is in its place.
func (s *State) presume() {
	p, b := s.lay.plan, s.book
	for i := range s.lay.seats {
		sl := &s.lay.seats[i]
		if s.now.Seat(plan.SeatIndex(i)) == plan.SeatAbsent {
			continue
		}
		for _, m := range sl.members {
			b.Move(s.fact, ledger.OfKind(s.kinds[m.kind]), 1, s.arrived, s.group[sl.group])
		}
		s.seats[i].in = sl.full
		s.seats[i].stages = sl.stages
	}
	for i := range s.lay.parts {
		if s.now.Part(plan.PartIndex(i)) == plan.PartAbsent {
			continue
		}
		pl := &s.lay.parts[i]
		b.Move(s.fact, ledger.OfKind(s.kinds[pl.kind]), int32(p.Parts[i].Count), s.arrived, s.group[pl.group])
	}
}
