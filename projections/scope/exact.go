package scope

import (
	"container/heap"
	"slices"

	"countback/projections/plan"
)

// exact looks for the cheapest way in earnest, state by state, the most
// promising first (A*: Hart, Nilsson and Raphael 1968). What a state still
// costs at least is the cuts that no step on the way to it has met, each with
// its share of the price of what meets it. Only relevant steps are tried.
type exact struct {
	q      *query
	steps  []plan.StepIndex
	meets  [][]int32 // by step: cuts that it meets
	shares []price   // by cut
	nodes  []spot
	open   spots
	best   map[string]int32 // by state: the node that has reached it cheapest
	key    []byte
	upper  price // what a known way costs
}

// spot is a state with the way to it.
type spot struct {
	s      *plan.Present
	gone   spent
	cost   price
	least  price // cost and what is still to come, at least
	met    []uint64
	parent int32
	step   plan.StepIndex
}

// look searches for a way that is cheaper than upper. It returns the steps,
// nil where there is none, and the lower bound that it has proved; all says
// that the search was completed.
func (q *query) look(b *bounder, upper price) (steps []plan.StepIndex, least price, all bool) {
	e := &exact{q: q, steps: q.relevant(), best: map[string]int32{}, upper: upper}
	e.share(b)
	e.push(spot{s: q.s.Clone(), gone: make(spent, len(q.f.p.Parts)), met: make([]uint64, (len(e.shares)+63)/64), parent: none})
	for len(e.open.at) > 0 {
		n := heap.Pop(&e.open).(int32)
		at := &e.nodes[n]
		if e.best[string(e.keyOf(at))] != n {
			continue
		}
		if !at.least.less(e.upper) {
			return nil, e.upper, true
		}
		if q.cond.Eval(at.s) {
			return e.way(n), at.cost, true
		}
		if q.looks > q.limit {
			return nil, at.least, false
		}
		e.expand(n)
	}
	return nil, e.upper, true
}

func (e *exact) way(n int32) []plan.StepIndex {
	var out []plan.StepIndex
	for ; e.nodes[n].parent != none; n = e.nodes[n].parent {
		out = append(out, e.nodes[n].step)
	}
	slices.Reverse(out)
	return out
}

func (e *exact) expand(n int32) {
	for _, i := range e.steps {
		e.q.looks += lookPerCan
		at := &e.nodes[n]
		if !able(at.s, i) {
			continue
		}
		next := spot{s: at.s.Clone(), gone: slices.Clone(at.gone), met: slices.Clone(at.met), parent: n, step: i}
		next.cost = at.cost.add(e.q.charge(at.s, i, next.gone))
		next.s.Do(i)
		if next.s.Equal(at.s) {
			continue
		}
		for _, c := range e.meets[i] {
			next.met[c/64] |= 1 << (c % 64)
		}
		e.push(next)
	}
}

// push adds a state, unless it was reached as cheaply before or leads nowhere
// that is cheaper than what is known.
func (e *exact) push(x spot) {
	e.q.looks += e.q.weight
	x.least = x.cost
	for c, share := range e.shares {
		if x.met[c/64]&(1<<(c%64)) == 0 {
			x.least = x.least.add(share)
		}
	}
	if x.parent != none && x.least.less(e.nodes[x.parent].least) {
		x.least = e.nodes[x.parent].least
	}
	if !x.least.less(e.upper) {
		return
	}
	key := string(e.keyOf(&x))
	if o, ok := e.best[key]; ok && !x.cost.less(e.nodes[o].cost) {
		return
	}
	n := int32(len(e.nodes))
	e.nodes = append(e.nodes, x)
	e.best[key] = n
	e.open.of = e
	heap.Push(&e.open, n)
}

// keyOf tells states apart, and what of them is paid for.
func (e *exact) keyOf(x *spot) []byte {
	e.key = x.s.AppendKey(e.key[:0])
	for i, gone := range x.gone {
		if e.q.f.parts[i].pieces > 0 {
			e.key = append(e.key, 0)
			if gone {
				e.key[len(e.key)-1] = 1
			}
		}
	}
	return e.key
}

// share gives every cut a price such that no action is dearer than the shares
// of the cuts that it meets: what a way costs is then at least the shares of
// the cuts that it meets.
func (e *exact) share(b *bounder) {
	cuts := make([][]int32, 0, len(b.forced)+len(b.cuts))
	for _, a := range b.forced {
		cuts = append(cuts, []int32{a})
	}
	cuts = append(cuts, (&hitting{cuts: b.cuts}).minimal()...)
	left := make([]price, len(b.w.acts))
	for a := range left {
		left[a] = b.w.acts[a].price
	}
	e.meets = make([][]int32, len(e.q.f.p.Steps))
	for c, cut := range cuts {
		least := dearest
		for _, a := range cut {
			if left[a].less(least) {
				least = left[a]
			}
		}
		e.shares = append(e.shares, least)
		for _, a := range cut {
			left[a] = left[a].sub(least)
			for _, i := range b.w.doers(a) {
				if at := &e.meets[i]; !slices.Contains(*at, int32(c)) {
					*at = append(*at, int32(c))
				}
			}
		}
	}
}

// doers is the steps by any of which an action is done: the step itself, or
// those that would use up the pieces that the action pays for.
func (w *web) doers(a int32) []plan.StepIndex {
	if s := w.acts[a].step; s != plan.None {
		return []plan.StepIndex{s}
	}
	var out []plan.StepIndex
	n := w.acts[a].node
	for _, p := range w.parents[w.from[n]:w.from[n+1]] {
		for b := range w.acts {
			if w.acts[b].top == p && w.acts[b].step != plan.None {
				out = append(out, w.acts[b].step)
			}
		}
	}
	return out
}

// spots is the open states, the most promising first and of equals the last.
type spots struct {
	of *exact
	at []int32
}

func (h *spots) Len() int { return len(h.at) }

func (h *spots) Less(i, j int) bool {
	a, b := &h.of.nodes[h.at[i]], &h.of.nodes[h.at[j]]
	if a.least != b.least {
		return a.least.less(b.least)
	}
	return h.at[i] > h.at[j]
}

func (h *spots) Swap(i, j int) { h.at[i], h.at[j] = h.at[j], h.at[i] }
func (h *spots) Push(x any)    { h.at = append(h.at, x.(int32)) }

func (h *spots) Pop() any {
	n := len(h.at) - 1
	x := h.at[n]
	h.at = h.at[:n]
	return x
}
