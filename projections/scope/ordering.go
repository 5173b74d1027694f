package scope

import (
	"slices"

	"countback/projections/plan"
)

// ordering looks through the orders of a set of steps.
type ordering struct {
	q       *query
	left    []plan.StepIndex
	did     []plan.StepIndex
	deepest []plan.StepIndex // the longest row of steps that was legal
	want    []int32          // by literal: how many of the steps that are left, and the goal, ask for it
	threat  []int32          // by literal: how many of the steps that are left may make it false
	seen    map[string]bool
	key     []byte
	stop    int
	stopped bool
}

func (q *query) ordering(set []plan.StepIndex, limit int) *ordering {
	o := &ordering{
		q: q, left: slices.Clone(set), seen: map[string]bool{}, stop: q.looks + limit,
		want: make([]int32, len(q.f.lits)), threat: make([]int32, len(q.f.lits)),
	}
	for _, id := range literals(&q.goal) {
		o.want[id]++
	}
	for _, i := range set {
		o.count(i, 1)
	}
	return o
}

func (o *ordering) count(i plan.StepIndex, by int32) {
	for _, id := range o.q.f.asked[i] {
		o.want[id] += by
	}
	for _, id := range o.q.f.takes[i] {
		o.threat[id] += by
	}
	o.q.looks += len(o.q.f.asked[i])/4 + 1
}

// from tries every order of the steps that are left, from a state on.
func (o *ordering) from(now *plan.Present) bool {
	if o.q.cond.Eval(now) {
		return true
	}
	if len(o.did) > len(o.deepest) {
		o.deepest = slices.Clone(o.did)
	}
	if o.q.looks > o.stop {
		o.stopped = true
		return false
	}
	able := o.able(now)
	for _, i := range able {
		// What harms nobody and is harmed by nobody may as well be done at once.
		if harms, harmed := o.harm(i); !harms && !harmed {
			return o.after(now, i)
		}
	}
	if !o.fresh(now) || !o.q.alive(now, o.left) {
		return false
	}
	for _, last := range []bool{false, true} {
		for _, i := range able {
			if harms, _ := o.harm(i); harms == last && o.after(now, i) {
				return true
			}
		}
	}
	return false
}

// able is the steps that are left and can be done now.
func (o *ordering) able(now *plan.Present) []plan.StepIndex {
	var out []plan.StepIndex
	for _, i := range o.left {
		o.q.looks += lookPerCan
		if able(now, i) {
			out = append(out, i)
		}
	}
	return out
}

// harm reports whether a step may make false what another step that is left
// or the goal asks for, and whether another may make false what it brings.
func (o *ordering) harm(i plan.StepIndex) (harms, harmed bool) {
	f := o.q.f
	for _, id := range f.takes[i] {
		own := int32(0)
		if _, ok := slices.BinarySearch(f.asked[i], id); ok {
			own = 1
		}
		harms = harms || o.want[id] > own
	}
	for _, id := range f.brings[i] {
		own := int32(0)
		if slices.Contains(f.takes[i], id) {
			own = 1
		}
		harmed = harmed || (o.want[id] > 0 && o.threat[id] > own)
	}
	o.q.looks += len(f.takes[i]) + len(f.brings[i])
	return harms, harmed
}

// after does a step and goes on from there.
func (o *ordering) after(now *plan.Present, i plan.StepIndex) bool {
	next := now.Clone()
	next.Do(i)
	o.q.looks += o.q.weight
	n := slices.Index(o.left, i)
	o.left = slices.Delete(slices.Clone(o.left), n, n+1)
	o.did = append(o.did, i)
	o.count(i, -1)
	if o.from(next) {
		return true
	}
	o.count(i, 1)
	o.did = o.did[:len(o.did)-1]
	o.left = slices.Insert(slices.Clone(o.left), n, i)
	return false
}

// fresh reports whether a state is met for the first time with these steps
// left.
func (o *ordering) fresh(now *plan.Present) bool {
	o.key = now.AppendKey(o.key[:0])
	for _, i := range o.left {
		o.key = append(o.key, byte(i), byte(i>>8))
	}
	if o.seen[string(o.key)] {
		return false
	}
	o.seen[string(o.key)] = true
	return true
}
