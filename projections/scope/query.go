package scope

import (
	"slices"

	"countback/projections/plan"
)

// query is one question: the way from a state to a goal.
type query struct {
	f        *Finder
	s        *plan.Present
	cond     plan.Condition
	goal     formula
	use      []bool    // steps that may be used
	costs    [][]int32 // by step: classes of which a step must follow it, since the goal asks for what it undoes
	together bool      // the grain: of equals, steps that put together are preferred
	looks    int       // spent
	limit    int
	weight   int // looks that a copy of the state counts for
	scratch  *plan.Present
	reach    reachable
	spare    []plan.StepIndex
}

func (f *Finder) query(s *plan.Present, goal plan.Condition, o *Options) *query {
	q := &query{f: f, s: s, cond: goal, goal: of(f.p, &goal, false), limit: o.Budget, together: o.together, scratch: s.Clone()}
	if q.limit <= 0 {
		q.limit = DefaultBudget
	}
	f.learn(&q.goal)
	q.costs = q.losses()
	q.weight = 150 + (len(f.p.Parts)+len(f.p.Seats))/4
	q.use = make([]bool, len(f.p.Steps))
	for i := range q.use {
		q.use[i] = len(o.Sections) == 0 || slices.Contains(o.Sections, f.p.Steps[i].Section)
	}
	for _, i := range o.Without {
		q.use[i] = false
	}
	return q
}

// found is what a query has come to.
type found struct {
	steps []plan.StepIndex
	price price
	least price // proved: no way costs less
	ok    bool  // steps lead to the goal
	none  bool  // proved: no way leads there
}

// proved reports whether no way costs less.
func (x *found) proved() bool { return x.ok && !x.least.cost().Less(x.price.cost()) }

// run looks for the cheapest way: first as if nothing were ever undone, which
// gives a lower bound and sets of steps to try; then in earnest.
func (q *query) run() found {
	if q.cond.Eval(q.s) {
		return found{ok: true}
	}
	b, ok := q.bounder(q.s, q.limit*2/3)
	if !ok {
		return found{none: true}
	}
	r := b.run()
	var x found
	q.trySets(&x, r)
	if x.ok && x.price == r.sets[0].price && !x.proved() {
		// Nothing is undone that matters: what is left is to better the bound.
		q.trySets(&x, b.more(q.limit-q.looks))
	}
	q.looks += b.looks()
	if x.proved() || (x.ok && (q.looks > q.limit || !b.small())) {
		return x
	}
	if steps, ok := q.repair(); ok {
		q.offer(&x, steps)
	}
	if !x.proved() {
		q.inEarnest(&x, b)
	}
	return x
}

// trySets brings the sets into an order, the cheapest first, until one leads
// to the goal, and takes the bound.
func (q *query) trySets(x *found, r bound) {
	x.least = r.least
	for _, set := range r.sets {
		if x.ok && !set.price.less(x.price) {
			return
		}
		if steps, ok := q.sequence(q.s, set.steps, q.limit/20); ok {
			q.offer(x, steps)
		}
	}
}

// bounder ties the web between a state and the goal. What the goal asks for
// and a step that every way needs undoes must be brought about once more, by a
// step of every way, and so on.
func (q *query) bounder(s *plan.Present, limit int) (*bounder, bool) {
	var besides []int32
	weaver := q.weaver(s)
	for {
		w, ok := weaver.weave(besides)
		if !ok {
			return nil, false
		}
		b := newBounder(w, limit)
		q.looks += len(w.kind)
		known := len(besides)
		for _, a := range b.forced {
			if i := w.acts[a].step; i != plan.None {
				for _, c := range q.costs[i] {
					if !slices.Contains(besides, c) {
						besides = append(besides, c)
					}
				}
			}
		}
		if len(besides) == known {
			return b, true
		}
	}
}

// losses works out which steps certainly undo what the goal asks for.
func (q *query) losses() [][]int32 {
	out := make([][]int32, len(q.f.p.Steps))
	top := []formula{q.goal}
	if q.goal.op == allOf {
		top = q.goal.kids
	}
	for k := range top {
		if top[k].op != leaf {
			continue
		}
		l := q.f.lits[top[k].id]
		if l.class == free {
			continue
		}
		for _, m := range q.f.on[l.lit.thing][l.lit.at] {
			if m.surelyTakes(l.lit) {
				out[m.step] = append(out[m.step], l.class)
			}
		}
		if l.lit.thing == aMark {
			for _, i := range q.f.surelyVoid[l.lit.at] {
				out[i] = append(out[i], l.class)
			}
		}
	}
	for i := range out {
		slices.Sort(out[i])
		out[i] = slices.Compact(out[i])
	}
	return out
}

// offer takes a way if it is the best so far.
func (q *query) offer(x *found, steps []plan.StepIndex) {
	if p := q.priceOf(steps); !x.ok || p.less(x.price) {
		x.steps, x.price, x.ok = steps, p, true
	}
}

func (q *query) inEarnest(x *found, b *bounder) {
	upper := dearest
	if x.ok {
		upper = x.price
	}
	steps, least, all := q.look(b, upper)
	if x.least.less(least) {
		x.least = least
	}
	if steps != nil {
		x.steps, x.price, x.ok = steps, least, true
	}
	if all && !x.ok {
		x.none = true
	}
}

// maxRounds is how often repair starts anew.
const maxRounds = 8

// repair goes as far as some set of steps leads, and looks again from there:
// a way where one step undoes what another needs, as a turn of the crank does
// with where it stood. It is no proof of anything.
func (q *query) repair() ([]plan.StepIndex, bool) {
	now := q.s.Clone()
	var row []plan.StepIndex
	for range maxRounds {
		if q.cond.Eval(now) {
			return q.pruned(row), true
		}
		b, ok := q.bounder(now, q.limit/20)
		if !ok {
			return nil, false
		}
		sets := b.run().sets
		q.looks += b.looks()
		o := q.ordering(sets[0].steps, q.limit/40)
		did := o.did
		if o.from(now.Clone()) {
			did = o.did
		} else {
			did = o.deepest
		}
		if len(did) == 0 {
			return nil, false
		}
		for _, i := range did {
			now.Do(i)
		}
		row = append(row, did...)
	}
	return nil, false
}

// pruned drops steps that a row turns out not to need, the last first.
func (q *query) pruned(row []plan.StepIndex) []plan.StepIndex {
	for n := len(row) - 1; n >= 0 && q.looks < q.limit; n-- {
		if fewer := slices.Delete(slices.Clone(row), n, n+1); q.legal(fewer) {
			row = fewer
		}
	}
	return row
}
