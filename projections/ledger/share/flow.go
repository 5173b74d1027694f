package share

import (
	"maps"

	"countback/events"
)

// flow is who has what. A flow that serve has made is the cheapest of those
// that serve the needs as well.
//
// Nodes are needs, then supplies, then the end. A chain goes from a need over
// an open arc to a supply, and from there to the end if something is free, or
// back over an arc that carries something to a need that would take something
// else. The worth of each node is such that no step of any chain costs less
// than it gains; so a search that goes by price less gain never has to look at
// a node twice (Johnson's potentials).
type flow struct {
	*table
	lot     map[int32]events.Lot // of the sets that have one
	on      []int32              // by arc
	free    []int32              // by supply
	missing []int32              // by need
	worth   []int32              // by node
	closed  []bool               // by node: nothing free can be reached from it any more
}

func (t *table) serve(lot map[int32]events.Lot) *flow {
	nodes := len(t.needs) + len(t.supplies) + 1
	f := &flow{table: t, lot: maps.Clone(lot), on: make([]int32, len(t.arcs)), free: make([]int32, len(t.supplies)),
		missing: make([]int32, len(t.needs)), worth: make([]int32, nodes), closed: make([]bool, nodes)}
	for i := range t.supplies {
		f.free[i] = max(0, t.supplies[i].Qty)
	}
	for _, i := range t.order {
		f.missing[i] = max(0, t.needs[i].Qty)
		for f.missing[i] > 0 && f.augment(i) {
		}
	}
	return f
}

// better says whether a flow serves the needs better in their order, or as well
// and cheaper.
func (f *flow) better(than *flow) bool {
	for _, i := range f.order {
		if f.missing[i] != than.missing[i] {
			return f.missing[i] < than.missing[i]
		}
	}
	return f.price() < than.price()
}

func (f *flow) price() (sum int64) {
	for i, q := range f.on {
		sum += int64(q) * int64(f.arcs[i].price)
	}
	return sum
}

// may says whether an arc may be used: one of a set only from the set's lot.
func (f *flow) may(a *arc) bool {
	set := f.needs[a.need].Set
	if set == 0 {
		return true
	}
	lot, chosen := f.lot[set]
	return !chosen || lot == f.supplies[a.supply].Lot
}

// augment gives a need some pieces more, by the cheapest chain; false if no
// chain has something free at its end.
func (f *flow) augment(need int32) bool {
	best := f.enter(need)
	if best == nil {
		return false
	}
	// What is free has never lost its worth, so if the best is free nothing is
	// better.
	if q := min(f.missing[need], f.free[best.supply]); q > 0 {
		f.on[best.id] += q
		f.free[best.supply] -= q
		f.missing[need] -= q
		return true
	}
	end, dist := f.seek(need)
	if end < 0 {
		for _, v := range f.popped {
			f.closed[v] = true
		}
		return false
	}
	for _, v := range f.popped {
		f.worth[v] -= dist - f.dist[v]
	}
	f.shift(need, end)
	return true
}

// enter sets the worth of a need by its arcs, and gives the best of them, nil if
// none leads anywhere.
func (f *flow) enter(need int32) (best *arc) {
	n := int32(len(f.needs))
	for i := f.first[need]; i < f.first[need+1]; i++ {
		a := &f.arcs[i]
		if f.closed[n+a.supply] || !f.may(a) {
			continue
		}
		if w := f.worth[n+a.supply] - a.price; best == nil || w > f.worth[need] {
			best = a
			f.worth[need] = w
		}
	}
	return best
}

// seek finds the cheapest chain from a need to a free supply, and what it costs
// beyond what it gains; -1 if there is none. What was settled is in popped.
func (f *flow) seek(need int32) (end, dist int32) {
	n := int32(len(f.needs))
	last := n + int32(len(f.supplies))
	f.begin()
	f.reach(need, 0, -1)
	for {
		v, ok := f.pop()
		switch {
		case !ok:
			return -1, 0
		case v == last:
			f.popped = f.popped[:len(f.popped)-1]
			return f.via[last], f.dist[last]
		case v < n:
			for i := f.first[v]; i < f.first[v+1]; i++ {
				if a := &f.arcs[i]; !f.closed[n+a.supply] && f.may(a) {
					f.reach(n+a.supply, f.dist[v]+a.price+f.worth[v]-f.worth[n+a.supply], i)
				}
			}
		default:
			s := v - n
			if f.free[s] > 0 {
				if f.worth[v] == f.worth[last] { // nothing can be nearer
					return s, f.dist[v]
				}
				f.reach(last, f.dist[v]+f.worth[v]-f.worth[last], s)
			}
			for _, i := range f.users[f.used[s]:f.used[s+1]] {
				if a := &f.arcs[i]; f.on[i] > 0 {
					f.reach(a.need, f.dist[v]-a.price+f.worth[v]-f.worth[a.need], i)
				}
			}
		}
	}
}

// shift moves as many pieces as can go down the chain that seek found.
func (f *flow) shift(need, end int32) {
	q := min(f.missing[need], f.free[end])
	f.chain(need, end, func(a *arc, back bool) {
		if back {
			q = min(q, f.on[a.id])
		}
	})
	f.chain(need, end, func(a *arc, back bool) {
		if back {
			f.on[a.id] -= q
		} else {
			f.on[a.id] += q
		}
	})
	f.free[end] -= q
	f.missing[need] -= q
}

// chain walks a chain from its end to the need where it began.
func (f *flow) chain(need, end int32, do func(a *arc, back bool)) {
	n := int32(len(f.needs))
	for v := n + end; ; {
		a := &f.arcs[f.via[v]]
		do(a, false)
		if v = a.need; v == need {
			return
		}
		a = &f.arcs[f.via[v]]
		do(a, true)
		v = n + a.supply
	}
}
