package plan

import "slices"

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
