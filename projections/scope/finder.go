package scope

import (
	"slices"

	"countback/projections/plan"
)

// Finder answers questions about one plan. Making one reads every condition
// of the plan once; it may be kept as long as the plan. It is not safe for use
// by several goroutines at once.
type Finder struct {
	p     *plan.Plan
	asks  []formula // by step: exactly what able asks
	moves [][]move  // by step
	on    [things][][]move
	voids [][]plan.StepIndex // by mark: steps after which it may have fallen

	surelyVoid [][]plan.StepIndex // by mark: steps after which it does not stand

	lits    []known
	litID   map[literal]int32
	litsOn  [things][][]int32  // by thing: its literals
	asked   [][]int32          // by step: literals that it asks for, in rising order
	takes   [][]int32          // by step: literals that it may make false
	brings  [][]int32          // by step: literals that it may make true
	classes [][]plan.StepIndex // steps of which each brings some literals about
	classID map[string]int32

	seats []seatPrice
	parts []partPrice
	nodes int // of the largest web so far: the next one is likely to be as large
}

// known is a literal with the steps that bring it about.
type known struct {
	lit   literal
	class int32 // free: nobody knows what brings it about, so assume that it holds
}

const free = -1

// seatPrice is what opening a hole uses up.
type seatPrice struct {
	pieces int
	seals  []plan.PartIndex // seals of its joint that its opening uses up
}

// partPrice is what taking a part off uses up.
type partPrice struct {
	pieces  int
	travels bool // some step sends it away, after which its removal is not to be paid
}

// New makes a Finder for a plan.
func New(p *plan.Plan) *Finder {
	f := &Finder{
		p: p, asks: make([]formula, len(p.Steps)), moves: make([][]move, len(p.Steps)),
		litID: map[literal]int32{}, classID: map[string]int32{},
	}
	for k, n := range [things]int{len(p.Parts), len(p.Seats), len(p.Loans), len(p.Cavities), len(p.Marks)} {
		f.on[k] = make([][]move, n)
		f.litsOn[k] = make([][]int32, n)
	}
	for i := range p.Steps {
		f.moves[i] = moves(p, plan.StepIndex(i))
		for _, m := range f.moves[i] {
			f.on[m.thing][m.at] = append(f.on[m.thing][m.at], m)
		}
	}
	for i := range p.Steps {
		f.asks[i] = demands(p, plan.StepIndex(i))
		if movesThings(&p.Steps[i]) {
			f.asks[i] = both(f.asks[i], done(p, plan.StepIndex(i), true))
		}
		f.learn(&f.asks[i])
	}
	f.learnVoids()
	f.learnEffects()
	f.learnPrices()
	return f
}

// movesThings reports whether a step leaves more than marks and loans.
func movesThings(s *plan.Step) bool {
	return len(s.Removes)+len(s.SendsOut)+len(s.TakesBack)+len(s.Fits)+len(s.TakesOut)+len(s.Parks)+len(s.Fastens)+len(s.Drains)+len(s.Fills) > 0
}

// able reports whether a step can be done now and makes sense: nobody puts a
// chain on that is on. An act that leaves only marks or loans may be repeated.
func able(s *plan.Present, i plan.StepIndex) bool {
	return s.Can(i) && !(movesThings(&s.Plan().Steps[i]) && s.IsDone(i))
}

// Plan is the plan that the Finder answers for.
func (f *Finder) Plan() *plan.Plan { return f.p }

// learn gives every literal of a formula its number.
func (f *Finder) learn(x *formula) {
	if x.op == leaf {
		x.id = f.literal(x.lit)
	}
	for i := range x.kids {
		f.learn(&x.kids[i])
	}
}

func (f *Finder) literal(l literal) int32 {
	if id, ok := f.litID[l]; ok {
		return id
	}
	id := int32(len(f.lits))
	f.litID[l] = id
	f.lits = append(f.lits, known{l, f.class(l)})
	f.litsOn[l.thing][l.at] = append(f.litsOn[l.thing][l.at], id)
	if f.takes != nil { // asked for by a goal only
		f.learnEffect(id)
	}
	return id
}

// learnEffects works out which steps make which literals true and false.
func (f *Finder) learnEffects() {
	n := len(f.p.Steps)
	f.asked, f.takes, f.brings = make([][]int32, n), make([][]int32, n), make([][]int32, n)
	for i := range f.asks {
		f.asked[i] = literals(&f.asks[i])
	}
	for id := range f.lits {
		f.learnEffect(int32(id))
	}
}

func (f *Finder) learnEffect(id int32) {
	l := f.lits[id].lit
	for _, m := range f.on[l.thing][l.at] {
		if m.brings(l.is) {
			f.brings[m.step] = append(f.brings[m.step], id)
		}
		if m.takes(l.is) {
			f.takes[m.step] = append(f.takes[m.step], id)
		}
	}
	if l.thing == aMark {
		for _, i := range f.voids[l.at] {
			if l.is&markStands != 0 {
				f.takes[i] = append(f.takes[i], id)
			} else {
				f.brings[i] = append(f.brings[i], id)
			}
		}
	}
}

// literals is the numbers of the literals of a formula, each once.
func literals(x *formula) []int32 {
	var out []int32
	var add func(*formula)
	add = func(x *formula) {
		if x.op == leaf {
			out = append(out, x.id)
		}
		for i := range x.kids {
			add(&x.kids[i])
		}
	}
	add(x)
	slices.Sort(out)
	return slices.Compact(out)
}

// class is the number of the set of steps that can bring a literal about.
func (f *Finder) class(l literal) int32 {
	if l.thing == aMark && l.is&markVoid != 0 {
		return free
	}
	var steps []plan.StepIndex
	var key []byte
	for _, m := range f.on[l.thing][l.at] {
		if n := len(steps); m.brings(l.is) && (n == 0 || steps[n-1] != m.step) {
			steps = append(steps, m.step)
			key = append(key, byte(m.step), byte(m.step>>8))
		}
	}
	if id, ok := f.classID[string(key)]; ok {
		return id
	}
	id := int32(len(f.classes))
	f.classID[string(key)] = id
	f.classes = append(f.classes, steps)
	return id
}

// learnVoids works out which steps may make a mark fall: those that are an
// act that voids it, and those that bring about something that voids it.
func (f *Finder) learnVoids() {
	f.voids = make([][]plan.StepIndex, len(f.p.Marks))
	f.surelyVoid = make([][]plan.StepIndex, len(f.p.Marks))
	for m := range f.p.Marks {
		at := &f.p.Marks[m]
		by := map[plan.StepIndex]bool{}
		for i := range f.p.Steps {
			if voids(&f.p.Steps[i], at.VoidActs) {
				by[plan.StepIndex(i)] = true
			}
		}
		void := of(f.p, &at.VoidBy, false)
		void.each(func(l literal) {
			if l.thing == aMark && l.is&markVoid != 0 { // another mark's fall: any step may be behind it
				for i := range f.p.Steps {
					by[plan.StepIndex(i)] = true
				}
			}
			for _, x := range f.on[l.thing][l.at] {
				if x.brings(l.is) {
					by[x.step] = true
				}
			}
		})
		for i := range f.p.Steps {
			if by[plan.StepIndex(i)] {
				f.voids[m] = append(f.voids[m], plan.StepIndex(i))
			}
		}
		f.learnSurelyVoid(plan.MarkIndex(m), &void)
	}
}

// learnSurelyVoid works out after which steps a mark never stands: acts that
// void it and do not set it again, and steps after which something holds that
// voids it.
func (f *Finder) learnSurelyVoid(m plan.MarkIndex, void *formula) {
	any := []formula{*void}
	if void.op == anyOf {
		any = void.kids
	}
	for i := range f.p.Steps {
		sure := voids(&f.p.Steps[i], f.p.Marks[m].VoidActs) && !slices.Contains(f.p.Steps[i].Sets, m)
		for k := range any {
			for _, x := range f.moves[i] {
				if l := any[k].lit; any[k].op == leaf && x.thing == l.thing && x.at == l.at && x.surelyBrings(l) {
					sure = true
				}
			}
		}
		if sure {
			f.surelyVoid[m] = append(f.surelyVoid[m], plan.StepIndex(i))
		}
	}
}

// learnPrices works out what opening a hole and taking a part off uses up,
// as Present.Tally counts it.
func (f *Finder) learnPrices() {
	p := f.p
	f.parts = make([]partPrice, len(p.Parts))
	bySeal := map[plan.JointIndex][]plan.PartIndex{}
	for i := range p.Parts {
		if !p.Parts[i].Reuse.Single() {
			continue
		}
		f.parts[i].pieces = p.Parts[i].Count
		if j := p.Parts[i].Seals; j != plan.None {
			bySeal[j] = append(bySeal[j], plan.PartIndex(i))
		}
	}
	for i := range p.Steps {
		for _, x := range p.Steps[i].SendsOut {
			f.parts[x].travels = true
		}
	}
	f.seats = make([]seatPrice, len(p.Seats))
	for i := range p.Seats {
		at := &p.Seats[i]
		for k := range at.Members {
			if m := &at.Members[k]; !m.Stays && m.Reuse.Single() {
				f.seats[i].pieces += m.Count
			}
		}
		f.seats[i].seals = slices.Clone(bySeal[at.Joint])
		for _, j := range at.SharedBy {
			f.seats[i].seals = append(f.seats[i].seals, bySeal[j]...)
		}
	}
}
