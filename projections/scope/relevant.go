package scope

import (
	"countback/projections/plan"
)

// relevance finds the steps that a shortest way may contain: those that bring
// about something that the goal or a relevant step asks for and that does not
// hold, or that a relevant step may undo. Every other step can be left out of
// any way.
type relevance struct {
	f     *Finder
	s     *plan.Present
	use   []bool
	steps []bool
	asked map[literal]bool
	wait  []literal
	all   []plan.StepIndex
}

func (q *query) relevant() []plan.StepIndex {
	r := &relevance{f: q.f, s: q.s, use: q.use, steps: make([]bool, len(q.f.p.Steps)), asked: map[literal]bool{}}
	q.goal.each(r.ask)
	for again := true; again; {
		again = false
		var later []literal
		for len(r.wait) > 0 {
			l := r.wait[len(r.wait)-1]
			r.wait = r.wait[:len(r.wait)-1]
			if l.holds(r.s) && !r.undone(l) {
				later = append(later, l)
				continue
			}
			again = true
			r.bring(l)
		}
		r.wait = later
	}
	for i, in := range r.steps {
		if in {
			r.all = append(r.all, plan.StepIndex(i))
		}
	}
	return r.all
}

func (r *relevance) ask(l literal) {
	if !r.asked[l] {
		r.asked[l] = true
		r.wait = append(r.wait, l)
	}
}

// undone reports whether a relevant step may make a literal false.
func (r *relevance) undone(l literal) bool {
	for _, m := range r.f.on[l.thing][l.at] {
		if r.steps[m.step] && m.takes(l.is) {
			return true
		}
	}
	if l.thing == aMark {
		for _, i := range r.f.voids[l.at] {
			if r.steps[i] {
				return true
			}
		}
	}
	return false
}

// bring makes the steps relevant that bring a literal about, and asks for
// what they ask for.
func (r *relevance) bring(l literal) {
	if l.thing == aMark && l.is&markVoid != 0 {
		for _, i := range r.f.voids[l.at] {
			r.add(i)
		}
	}
	for _, m := range r.f.on[l.thing][l.at] {
		if !m.brings(l.is) || !r.use[m.step] {
			continue
		}
		r.add(m.step)
		// A move from elsewhere than where the thing may be does nothing: to be
		// parked, a piece must be in.
		if able := (literal{l.thing, l.at, l.is | m.from}); able.not().is&^absentOf(l.thing) != 0 {
			r.ask(able)
		}
	}
}

func (r *relevance) add(i plan.StepIndex) {
	if r.use[i] && !r.steps[i] {
		r.steps[i] = true
		r.f.asks[i].each(r.ask)
	}
}
