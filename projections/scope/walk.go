package scope

import (
	"slices"

	"countback/projections/plan"
)

// spent says of every part whether it was paid for: a gasket is used up once,
// by the opening of its joint or by coming off, whichever is first.
type spent []bool

// charge is what a step costs now, and notes what it uses up. It counts as
// Present.Tally does.
func (q *query) charge(s *plan.Present, i plan.StepIndex, gone spent) price {
	f := q.f
	step := &f.p.Steps[i]
	out := work(step, q.together)
	spend := func(x plan.PartIndex) {
		if !gone[x] && f.parts[x].pieces > 0 {
			gone[x] = true
			out = out.add(pieces(f.parts[x].pieces))
		}
	}
	for _, x := range step.TakesOut {
		at := &f.seats[x]
		if at.pieces == 0 && at.seals == nil || stateOf(s, aSeat, int16(x))&seatHeld == 0 {
			continue
		}
		out = out.add(pieces(at.pieces))
		for _, seal := range at.seals {
			if s.Part(seal) == plan.PartOn {
				spend(seal)
			}
		}
	}
	for _, x := range step.Removes {
		if stateOf(s, aPart, int16(x))&partThere != 0 {
			spend(x)
		}
	}
	return out
}

// priceOf is what a row of steps costs.
func (q *query) priceOf(steps []plan.StepIndex) price {
	now, gone := q.s.Clone(), make(spent, len(q.f.p.Parts))
	var out price
	for _, i := range steps {
		out = out.add(q.charge(now, i, gone))
		now.Do(i)
	}
	return out
}

// legal does the steps as far as they can be done, and reports whether all of
// them could and the goal holds in the end.
func (q *query) legal(steps []plan.StepIndex) bool {
	now := q.scratch
	now.CopyFrom(q.s)
	for _, i := range steps {
		q.looks += lookPerCan
		if !able(now, i) {
			return false
		}
		now.Do(i)
	}
	return q.cond.Eval(now)
}

// lookPerCan is how many looks count for asking whether a step can be done,
// and doing it.
const lookPerCan = 25

// inOrder does steps of a set one after the other as they become possible, in
// the plan's order and again from the start, and returns them as they were
// done.
func (q *query) inOrder(now *plan.Present, set []plan.StepIndex) []plan.StepIndex {
	left := slices.Clone(set)
	did := make([]plan.StepIndex, 0, len(set))
	for again := true; again && len(left) > 0; {
		again = false
		kept := left[:0]
		for _, i := range left {
			q.looks += lookPerCan
			if able(now, i) {
				now.Do(i)
				did = append(did, i)
				again = true
			} else {
				kept = append(kept, i)
			}
		}
		left = kept
	}
	return did
}

// sequence brings the steps of a set into an order in which they can be done
// and that leads to the goal. First the plan's own order is tried; where that
// fails, every order that does not make the goal impossible, within the
// limit.
func (q *query) sequence(from *plan.Present, set []plan.StepIndex, limit int) (steps []plan.StepIndex, ok bool) {
	now := q.scratch
	now.CopyFrom(from)
	did := q.inOrder(now, set)
	if len(did) == len(set) && q.cond.Eval(now) {
		return did, true
	}
	o := q.ordering(set, limit)
	ok = o.from(from.Clone())
	return o.did, ok
}
