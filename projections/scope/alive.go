package scope

import (
	"countback/projections/plan"
)

// reachable is which states every thing can be in, once some steps were done
// and as if nothing that they brought about were ever undone.
type reachable [things][]states

func (q *query) newReachable() reachable {
	p := q.f.p
	var r reachable
	for k, n := range [things]int{len(p.Parts), len(p.Seats), len(p.Loans), len(p.Cavities), len(p.Marks)} {
		r[k] = make([]states, n)
	}
	return r
}

func (r *reachable) start(s *plan.Present) {
	for k := range r {
		for i := range r[k] {
			r[k][i] = stateOf(s, thing(k), int16(i))
		}
	}
}

func (r *reachable) holds(f *formula, looks *int) bool {
	*looks++
	if f.op == leaf {
		// Nobody keeps track of what makes a mark fall: it may always have.
		return r[f.lit.thing][f.lit.at]&f.lit.is != 0 || (f.lit.thing == aMark && f.lit.is&markVoid != 0)
	}
	for i := range f.kids {
		if r.holds(&f.kids[i], looks) != (f.op == allOf) {
			return f.op == anyOf
		}
	}
	return f.op == allOf
}

func (r *reachable) move(m *move) {
	if at := &r[m.thing][m.at]; *at&m.from != 0 {
		*at |= m.to
	}
}

// alive reports whether a goal may still be reached by some steps, each done
// once. No is certain; yes is not.
func (q *query) alive(s *plan.Present, steps []plan.StepIndex) bool {
	r := &q.reach
	if r[aPart] == nil {
		*r = q.newReachable()
	}
	r.start(s)
	left := append(q.spare[:0], steps...)
	for again := true; again && len(left) > 0; {
		again = false
		kept := left[:0]
		for _, i := range left {
			if !r.holds(&q.f.asks[i], &q.looks) {
				kept = append(kept, i)
				continue
			}
			again = true
			for n := range q.f.moves[i] {
				r.move(&q.f.moves[i][n])
			}
		}
		left = kept
	}
	q.spare = left[:0]
	return r.holds(&q.goal, &q.looks)
}
