package plan

import (
	"math/bits"
	"slices"
)

// PresumedBefore is the steps that must have happened for a part to be off,
// given the present state, in an order in which they can happen; the step that
// takes it off is the last. Of alternatives one that already holds is taken,
// else the one with the fewest steps. Nothing is presumed where the part is
// off already. ok is false where no steps of the plan lead there; the steps
// then are those that were found on the way.
func (s *Present) PresumedBefore(i PartIndex) (steps []StepIndex, ok bool) {
	return s.Way(partCond(i, IsOff), Off, BenchApart)
}

// maxRounds is how often Way looks again because a step undid what another
// had brought about: a turn of the crank voids where it stood.
const maxRounds = 6

// Way is a short way from the present state to one in which the goal holds,
// by steps of the given sections (all where none is given): a backward closure
// over what each step demands. It is no proof that none is shorter.
func (s *Present) Way(goal Condition, sections ...Section) (steps []StepIndex, ok bool) {
	now := s.Clone()
	for range maxRounds {
		if goal.Eval(now) {
			return steps, true
		}
		set, found := newReach(now, sections).cost(&goal)
		if !found || set.len() == 0 {
			return steps, false
		}
		did := now.Clone().inOrder(set)
		steps = append(steps, now.pruned(did, goal)...)
	}
	return steps, goal.Eval(now)
}

// pruned does the steps less those that the goal turns out not to need: a way
// through a bore where the cover comes off anyway. Where the steps do not lead
// to the goal they are all done.
func (s *Present) pruned(steps []StepIndex, goal Condition) []StepIndex {
	for n := len(steps) - 1; n >= 0; n-- {
		fewer := slices.Delete(slices.Clone(steps), n, n+1)
		try := s.Clone()
		if did := try.inOrder(setOf(fewer, len(s.p.Steps))); goal.Eval(try) {
			steps = did
			n = min(n, len(steps))
		}
	}
	return s.inOrder(setOf(steps, len(s.p.Steps)))
}

func setOf(steps []StepIndex, of int) stepSet {
	set := make(stepSet, (of+63)/64)
	for _, i := range steps {
		set[i/64] |= 1 << (i % 64)
	}
	return set
}

// inOrder does the steps of a set in the plan's order as far as they can be
// done, and returns them as they were done.
func (s *Present) inOrder(set stepSet) []StepIndex {
	var did []StepIndex
	left := set.list()
	for again := true; again; {
		again = false
		for n, i := range left {
			if !s.IsDone(i) && s.Can(i) {
				s.Do(i)
				did = append(did, i)
				left = slices.Delete(left, n, n+1)
				again = true
				break
			}
		}
	}
	return did
}

// stepSet is a set of steps.
type stepSet []uint64

func (a stepSet) len() int {
	n := 0
	for _, w := range a {
		n += bits.OnesCount64(w)
	}
	return n
}

func (a stepSet) with(b stepSet) stepSet {
	out := slices.Clone(a)
	for i := range b {
		out[i] |= b[i]
	}
	return out
}

func (a stepSet) list() []StepIndex {
	var out []StepIndex
	for w, word := range a {
		for ; word != 0; word &= word - 1 {
			out = append(out, StepIndex(w*64+bits.TrailingZeros64(word)))
		}
	}
	return out
}

// reach is, for every step, a small set of steps that must be done for it and
// itself, as if nothing that was brought about were ever undone. A step
// without a set cannot be reached at all.
type reach struct {
	s    *Present
	ways []stepSet // by step; nil: not reached yet
	use  []bool
	dem  [][]demand
}

func newReach(s *Present, sections []Section) *reach {
	n := len(s.p.Steps)
	r := &reach{s: s, ways: make([]stepSet, n), use: make([]bool, n), dem: make([][]demand, n)}
	for i := range s.p.Steps {
		r.use[i] = len(sections) == 0 || slices.Contains(sections, s.p.Steps[i].Section)
		if r.use[i] {
			r.dem[i] = s.p.demands(StepIndex(i))
		}
	}
	for again := true; again; {
		again = false
		for i := range s.p.Steps {
			again = r.better(StepIndex(i)) || again
		}
	}
	return r
}

// better looks for a smaller set for a step.
func (r *reach) better(i StepIndex) bool {
	if !r.use[i] {
		return false
	}
	set := r.empty()
	for k := range r.dem[i] {
		d := &r.dem[i][k]
		if d.active != nil && !d.active(r.s) {
			continue
		}
		c, ok := r.cost(&d.cond)
		if !ok {
			return false
		}
		set = set.with(c)
	}
	if step := &r.s.p.Steps[i]; step.Part != None && !r.s.onBench(step) && !r.s.p.Parts[step.Part].Root {
		c, ok := r.bench(step)
		if !ok {
			return false
		}
		set = set.with(c)
	}
	set[i/64] |= 1 << (i % 64)
	if r.ways[i] != nil && r.ways[i].len() <= set.len() {
		return false
	}
	r.ways[i] = set
	return true
}

// bench is the steps that bring the part of a bench step to the bench.
func (r *reach) bench(step *Step) (stepSet, bool) {
	is := IsOff
	if len(step.TakesBack) > 0 {
		is = IsAway
	}
	var best stepSet
	for part := step.Part; part != None; part = r.s.p.Parts[part].In {
		c := partCond(part, is)
		if set, ok := r.cost(&c); ok && (best == nil || set.len() < best.len()) {
			best = set
		}
	}
	return best, best != nil
}

func (r *reach) empty() stepSet { return make(stepSet, (len(r.ways)+63)/64) }

// cost is the smallest known set of steps after which a condition holds.
func (r *reach) cost(c *Condition) (stepSet, bool) {
	if c.Eval(r.s) {
		return r.empty(), true
	}
	switch c.Op {
	case AllOf:
		return r.all(c.Kids)
	case AnyOf:
		return r.any(c.Kids)
	case NotAll:
		return r.any(opposites(c.Kids))
	case OfStep:
		return r.ways[c.Step], r.ways[c.Step] != nil
	case OfCavity:
		if c.Is == IsOpen {
			return r.cost(&r.s.p.Cavities[c.Cavity].OpenWhen)
		}
	case OfSeats:
		set := r.empty()
		for _, seat := range c.Seats {
			if state := r.s.seats[seat]; state == SeatAbsent || state.is(c.Is) {
				continue
			}
			one, ok := r.least(r.s.p.bringers(c, seat))
			if !ok {
				return nil, false
			}
			set = set.with(one)
		}
		return set, true
	case OfSome:
		var best stepSet
		for _, seat := range c.Seats {
			if one, ok := r.least(r.s.p.bringers(c, seat)); ok && (best == nil || one.len() < best.len()) {
				best = one
			}
		}
		return best, best != nil
	}
	return r.least(r.s.p.bringers(c, None))
}

func (r *reach) all(kids []Condition) (stepSet, bool) {
	set := r.empty()
	for i := range kids {
		one, ok := r.cost(&kids[i])
		if !ok {
			return nil, false
		}
		set = set.with(one)
	}
	return set, true
}

func (r *reach) any(kids []Condition) (stepSet, bool) {
	var best stepSet
	for i := range kids {
		if one, ok := r.cost(&kids[i]); ok && (best == nil || one.len() < best.len()) {
			best = one
		}
	}
	return best, best != nil
}

func (r *reach) least(steps []StepIndex) (stepSet, bool) {
	var best stepSet
	for _, i := range steps {
		if w := r.ways[i]; w != nil && (best == nil || w.len() < best.len()) {
			best = w
		}
	}
	return best, best != nil
}

// bringers is the steps that can bring about a condition on one thing; seat
// is the one of c.Seats that is meant.
func (p *Plan) bringers(c *Condition, seat SeatIndex) []StepIndex {
	b := &p.clears
	switch c.Op {
	case OfPart:
		switch c.Is {
		case IsOn:
			return b.fits[c.Part]
		case IsOff:
			return b.removes[c.Part]
		case IsAway:
			return b.sendsOut[c.Part]
		}
		return b.takeBack[c.Part]
	case OfSeats, OfSome:
		switch c.Is {
		case IsEmpty, IsOut:
			return b.empties[seat]
		case IsParked:
			return b.parks[seat]
		}
		return b.fastens[seat]
	case OfLoan:
		if c.Is == IsIn {
			return b.loanIn[c.Loan]
		}
		return b.loanOut[c.Loan]
	case OfMark:
		return b.sets[c.Mark]
	case OfCavity:
		switch c.Is {
		case IsDrained:
			return b.drains[c.Cavity]
		case IsWet:
			return b.fills[c.Cavity]
		}
		return p.closing(c.Cavity)
	}
	return nil
}

// closing is the steps that say they close a cavity.
func (p *Plan) closing(c CavityIndex) []StepIndex {
	var out []StepIndex
	for i := range p.Steps {
		if slices.Contains(p.Steps[i].Closes, c) {
			out = append(out, StepIndex(i))
		}
	}
	return out
}
