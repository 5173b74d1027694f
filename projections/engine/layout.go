package engine

import (
	"sync"
	"sync/atomic"

	"countback/events"
	"countback/projections/index"
	"countback/projections/plan"
	"countback/projections/tightening"
)

// layout is what the fold needs of a plan, worked out once for each text.
type layout struct {
	no     uint32 // of its own, from 1
	plan   *plan.Plan
	once   sync.Once
	whole  *State        // by opening
	kinds  []events.Kind // of all members and parts, each once
	groups []group
	seats  []seatLayout // by plan.SeatIndex
	parts  []partLayout // by plan.PartIndex
	joints []jointLayout
	loans  []loanLayout // by plan.LoanIndex

	order     []plan.StepIndex   // steps that put together, each behind those that it waits for
	alike     [][]int32          // by kind: other kinds of the plan that may stand in for it
	single    []bool             // by kind: every place of it takes only new pieces
	gated     [][]plan.StepIndex // by step: steps with a gate that its conditions name
	stepNames []string           // by step: its name, told apart from those of others
	before    [][]plan.StepIndex // by step that puts together: those that it waits for in any case
	waits     []plan.StepIndex   // steps that may not start at once
	restless  bool               // the conditions of such a step look at more than holes and parts
	lists     []tightening.List  // the orders of turning
	studs     []tightening.List  // the orders of studs, beside those of the nuts on them
	presses   []tightening.Press // what is read of parts that are pressed in
	spans     [][]plan.SeatIndex // the holes of its sets, numbered for the log of turns
	plain     []bool             // by list: the edition that counts until a person chooses is plain
	// by cavity: whether it is open on an engine that nobody touched
	openAtFirst []bool

	turnedFor []bool // by plan.MarkIndex: the step that sets it turns the engine
	kindAt    index.Table[events.Kind]
	partKind  map[events.Kind]plan.PartIndex

	// what the plan calls its joints, parts, loans and marks
	jointOf index.Table[events.Joint]
	partOf  index.Table[events.Part]
	loanOf  index.Table[events.Loan]
	markOf  index.Table[events.Mark]
}

// group is one account of fitted pieces: a host and a joint or a part on it.
type group struct {
	host plan.PartIndex
	name string // joint or part id
}

type seatLayout struct {
	group    int32
	members  []member
	names    []events.Kind // of the members
	full     uint8         // mask of all members
	single   bool          // the outermost member is new only
	main     uint8         // mask of the outermost member: the bolt or the nut; 0: none
	stay     uint8         // mask of the members that stay when the joint is opened
	stages   uint8         // how many stages its list has, by the last edition; 0: no list
	list     int16         // into lists; -1: none
	spot     int16         // its position in that list
	stud     int16         // into studs: by which its stud is set; -1: none
	studSpot int16         // its position there
	studBit  uint8         // mask of the stud
	out      []plan.StepIndex
	in       []plan.StepIndex
	// cavities that open or close with it
	cavities []plan.CavityIndex
	waited   bool // the conditions of a step that waits look at it
}

type member struct {
	kind   int32 // index into kinds
	single bool  // new only
	stays  bool
}

// loanLayout is what a loan is called in the ledger.
type loanLayout struct {
	kind  events.Kind
	place events.Place
}

type partLayout struct {
	noun   string        // "part head"
	own    []events.Seat // by position: its full name
	kind   int32
	group  int32
	single bool
	press  int16 // into presses; -1: no depth is read of it
	many   bool  // more than one position
	seated bool  // many, and each piece has a seat of its own
	count  int32 // pieces, by the plan
	full   int32 // pieces in all positions
	clamps []plan.SeatIndex
	off    []plan.StepIndex
	on     []plan.StepIndex
	// cavities that open or close with it
	cavities []plan.CavityIndex
	waited   bool // the conditions of a step that waits look at it
}

type jointLayout struct {
	seals []plan.PartIndex // parts that are used up when it opens
	holes []events.Hole    // the names that mean one hole here
	seats []plan.SeatIndex // and their holes
	// steps that take pieces out of it, hole by hole, but for one named twice on end
	out  []plan.StepIndex
	sets []*holeSet // that most facts are about
}

var layouts sync.Map // plan hash -> *layout; a memo of a pure function

func layoutOf(p *plan.Plan) *layout {
	if l, ok := layouts.Load(p); ok {
		return l.(*layout)
	}
	l := newLayout(p)
	layouts.Store(p, l)
	return l
}

// layoutsMade counts them.
var layoutsMade atomic.Uint32

func newLayout(p *plan.Plan) *layout {
	b := &layoutBuilder{layout: &layout{no: layoutsMade.Add(1), plan: p, partKind: map[events.Kind]plan.PartIndex{}},
		groupAt: map[group]int32{}}
	b.parts()
	b.seats()
	b.holes()
	b.steps()
	b.stepsOut()
	b.cavities()
	b.names()
	b.layout.before, b.layout.waits = before(p), waitsOf(p)
	b.waited()
	b.sets()
	b.layout.order = orderOf(p, b.layout.before)
	b.layout.alike = alikeKinds(b.layout.kinds)
	b.layout.single = singleKinds(b.layout)
	b.layout.gated = gatedBefore(p)
	b.layout.stepNames = stepNames(p)
	b.layout.openAtFirst = make([]bool, len(p.Cavities))
	whole := plan.NewPresent(p)
	for i := range p.Cavities {
		b.layout.openAtFirst[i] = whole.Open(plan.CavityIndex(i))
	}
	return b.layout
}

type layoutBuilder struct {
	*layout
	groupAt map[group]int32
}

func (b *layoutBuilder) kind(k events.Kind) int32 {
	if i, ok := b.kindAt.Get(k); ok {
		return i
	}
	i := int32(len(b.layout.kinds))
	b.layout.kinds = append(b.layout.kinds, k)
	b.kindAt.Put(k, i)
	return i
}

func (b *layoutBuilder) group(host plan.PartIndex, name string) int32 {
	g := group{host, name}
	if i, ok := b.groupAt[g]; ok {
		return i
	}
	i := int32(len(b.layout.groups))
	b.layout.groups = append(b.layout.groups, g)
	b.groupAt[g] = i
	return i
}

func (b *layoutBuilder) parts() {
	p := b.plan
	b.layout.parts = make([]partLayout, len(p.Parts))
	b.layout.joints = make([]jointLayout, len(p.Joints))
	for i := range p.Parts {
		pt := &p.Parts[i]
		b.layout.parts[i] = partLayout{noun: noun("part", pt.ID), own: ownSeats(pt), kind: b.kind(events.Kind(pt.ID)), group: b.group(pt.In, string(pt.ID)),
			single: pt.Reuse.Single(), press: -1, many: len(pt.Positions) > 1, count: int32(pt.Count)}
		pl := &b.layout.parts[i]
		pl.seated = pl.many && pt.OwnSeat != plan.AnySeat
		for n := range pt.Positions {
			pl.full += int32(pt.Positions[n].Count)
		}
		b.partKind[events.Kind(pt.ID)] = plan.PartIndex(i)
		if pt.Seals >= 0 {
			b.layout.joints[pt.Seals].seals = append(b.layout.joints[pt.Seals].seals, plan.PartIndex(i))
		}
	}
}

func ownSeats(p *plan.Part) []events.Seat {
	own := make([]events.Seat, len(p.Positions))
	for i := range own {
		own[i] = p.Seat(p.Positions[i])
	}
	return own
}

// holes notes which hole each name means within each joint.
func (b *layoutBuilder) holes() {
	p := b.plan
	for j := range p.Joints {
		l := &b.layout.joints[j]
		for _, ix := range p.Joints[j].Seats {
			name := p.Seats[ix].Hole
			if at, ok := p.Hole(p.Joints[j].ID, name); ok && !contains(l.holes, name) {
				l.holes, l.seats = append(l.holes, name), append(l.seats, at)
			}
		}
	}
}

// names notes what the facts of a job name most.
func (b *layoutBuilder) names() {
	for i := range b.plan.Joints {
		b.jointOf.Put(b.plan.Joints[i].ID, int32(i))
	}
	for i := range b.plan.Parts {
		b.partOf.Put(b.plan.Parts[i].ID, int32(i))
	}
	for i := range b.plan.Loans {
		id := b.plan.Loans[i].ID
		b.loanOf.Put(id, int32(i))
		b.layout.loans = append(b.layout.loans, loanLayout{"loan " + events.Kind(id), events.Place("loan/" + id)})
	}
	for i := range b.plan.Marks {
		b.markOf.Put(b.plan.Marks[i].ID, int32(i))
	}
}

// hole finds a hole of a joint by its name; see plan.Plan.Hole.
func (l *layout) hole(j plan.JointIndex, name events.Hole) (plan.SeatIndex, bool) {
	jl := &l.joints[j]
	for i := range jl.holes {
		if jl.holes[i] == name {
			return jl.seats[i], true
		}
	}
	return plan.None, false
}

func (b *layoutBuilder) seats() {
	p := b.plan
	b.layout.seats = make([]seatLayout, len(p.Seats))
	for i := range p.Seats {
		st := &p.Seats[i]
		sl := &b.layout.seats[i]
		sl.group = b.group(st.Host, string(p.Joints[st.Joint].ID))
		for m := range st.Members {
			mb := &st.Members[m]
			sl.names = append(sl.names, mb.Kind)
			sl.members = append(sl.members, member{b.kind(mb.Kind), mb.Reuse.Single(), mb.Stays})
			sl.full |= 1 << m
			if mb.Stays {
				sl.stay |= 1 << m
			}
			sl.main, sl.single = 1<<m, mb.Reuse.Single()
		}
		for _, c := range st.Clamps {
			b.layout.parts[c].clamps = append(b.layout.parts[c].clamps, plan.SeatIndex(i))
		}
	}
	b.orders()
}

// orders notes the list of each seat and how many stages it has; what falls due
// later is owed at an audit, not before the joint counts as finished.
func (b *layoutBuilder) orders() {
	for i := range b.layout.seats {
		b.layout.seats[i].list, b.layout.seats[i].stud = -1, -1
	}
	b.layout.studs = tightening.Studs(b.plan)
	for i := range b.layout.studs {
		for spot, ix := range b.layout.studs[i].Seats {
			sl := &b.layout.seats[ix]
			sl.stud, sl.studSpot = int16(i), int16(spot)
			sl.studBit = 1 << tightening.StudOf(&b.plan.Seats[ix])
		}
	}
	b.layout.presses = tightening.Presses(b.plan)
	for i := range b.layout.presses {
		b.layout.parts[b.layout.presses[i].Part].press = int16(i)
	}
	b.layout.lists = tightening.Lists(b.plan)
	for i := range b.layout.lists {
		l := &b.layout.lists[i]
		b.layout.plain = append(b.layout.plain, l.Edition(0).Plain)
		for spot, s := range l.Seats {
			sl := &b.layout.seats[s]
			sl.list, sl.spot, sl.stages = int16(i), int16(spot), uint8(min(l.Edition(0).All(spot), 250))
		}
	}
}

func (b *layoutBuilder) steps() {
	p := b.plan
	b.turnedFor = make([]bool, len(p.Marks))
	for i := range p.Steps {
		st := &p.Steps[i]
		ix := plan.StepIndex(i)
		for _, m := range st.Sets {
			b.turnedFor[m] = b.turnedFor[m] || st.Turns
		}
		for _, s := range st.TakesOut {
			b.layout.seats[s].out = append(b.layout.seats[s].out, ix)
		}
		for _, s := range st.Fastens {
			b.layout.seats[s].in = append(b.layout.seats[s].in, ix)
		}
		for _, pt := range st.Removes {
			b.layout.parts[pt].off = append(b.layout.parts[pt].off, ix)
		}
		for _, pt := range st.Fits {
			b.layout.parts[pt].on = append(b.layout.parts[pt].on, ix)
		}
	}
}

// stepsOut lists for each joint the steps that the emptying of all its holes is
// looked at for.
func (b *layoutBuilder) stepsOut() {
	for j := range b.plan.Joints {
		b.layout.joints[j].out = b.outOf(b.plan.Joints[j].Seats)
	}
}

func (l *layout) outOf(seats []plan.SeatIndex) []plan.StepIndex {
	var list []plan.StepIndex
	for _, ix := range seats {
		for _, st := range l.seats[ix].out {
			if len(list) == 0 || list[len(list)-1] != st {
				list = append(list, st)
			}
		}
	}
	return list
}

// cavities notes which parts and holes open and close each cavity.
func (b *layoutBuilder) cavities() {
	for i := range b.plan.Cavities {
		b.watch(plan.CavityIndex(i), &b.plan.Cavities[i].OpenWhen)
	}
}

func (b *layoutBuilder) watch(c plan.CavityIndex, cond *plan.Condition) {
	switch cond.Op {
	case plan.OfPart:
		l := &b.layout.parts[cond.Part]
		if !contains(l.cavities, c) {
			l.cavities = append(l.cavities, c)
		}
	case plan.OfSeats, plan.OfSome:
		for _, s := range cond.Seats {
			l := &b.layout.seats[s]
			if !contains(l.cavities, c) {
				l.cavities = append(l.cavities, c)
			}
		}
	}
	for i := range cond.Kids {
		b.watch(c, &cond.Kids[i])
	}
}
