package scope

import (
	"slices"

	"countback/projections/plan"
)

// web is what stands between the present state and a goal, as if nothing that
// a step brings about were ever undone: nodes of which all or any kid must
// come up. Whatever way there is in earnest also brings the web's goal up, so
// what the web needs at least is needed at least. What costs are actions,
// nodes without kids that come up when they are opened: the work of a step,
// and single-use pieces that several steps would use up and that are paid once.
type web struct {
	kind    []joiner
	need    []int32 // how many kids of an all-node
	from    []int32 // parents of node n: parents[from[n]:from[n+1]]
	parents []int32
	kids    [][]int32
	act     []int32 // the action that the node is, or none
	acts    []action
	goal    int32
}

const none = -1

// action is something that costs.
type action struct {
	node  int32
	top   int32          // the node of the whole step: its work and all that it asks for
	step  plan.StepIndex // plan.None: only pays for pieces
	price price
	first int32 // its number in the web that this one is a part of
}

// weaver builds a web.
type weaver struct {
	f        *Finder
	s        *plan.Present
	use      []bool    // by step
	costs    [][]int32 // by step: classes of which a step must follow it
	together bool
	holds    []int8  // by literal: 0 not looked at yet, 1 holds, 2 does not
	class    []int32 // by class: node + 1
	step     []int32 // by step: node + 1
	queue    []plan.StepIndex
	top      int32   // the node of the goal, or up or dead
	woven    int     // of the queue
	stack    []int32 // kids of nodes that are being made
	w        web
}

// Nodes that need not be built.
const (
	up   = -2 // holds already
	dead = -3 // can never hold
)

// weaver begins a web between the present state and the goal.
func (q *query) weaver(s *plan.Present) *weaver {
	f := q.f
	b := &weaver{
		f: f, s: s, use: q.use, costs: q.costs, together: q.together, holds: make([]int8, len(f.lits)),
		class: make([]int32, len(f.classes)), step: make([]int32, len(f.p.Steps)),
	}
	b.w = web{kind: make([]joiner, 0, f.nodes), kids: make([][]int32, 0, f.nodes), act: make([]int32, 0, f.nodes), acts: make([]action, 0, len(f.p.Steps))}
	b.queue = make([]plan.StepIndex, 0, len(f.p.Steps))
	b.top = b.node(&q.goal)
	return b
}

// weave is the web of the goal, and of some step of each of some classes
// besides. ok is false where no steps lead there. It may be asked again: what
// was woven once is kept.
func (b *weaver) weave(besides []int32) (w *web, ok bool) {
	kids := []int32{}
	if b.top != up {
		kids = append(kids, b.top)
	}
	for _, c := range besides {
		kids = append(kids, b.bringers(c))
	}
	b.w.goal = b.gather(allOf, kids)
	for ; b.woven < len(b.queue) && b.w.goal >= 0; b.woven++ {
		b.weaveStep(b.queue[b.woven])
	}
	if b.w.goal < 0 {
		return &b.w, b.w.goal == up
	}
	b.f.nodes = max(b.f.nodes, len(b.w.kind))
	all := b.w // what is dropped now may be wanted when it is asked again
	defer func() { b.w = all }()
	b.w.link()
	if !b.w.prune() {
		return nil, false
	}
	b.pay()
	b.w.link()
	for a := range b.w.acts {
		b.w.acts[a].first = int32(a)
	}
	out := b.w
	return &out, true
}

// weaveStep ties a step to what it asks for, to its own work, and to the work
// of what must follow it: the goal asks for something that it undoes.
func (b *weaver) weaveStep(i plan.StepIndex) {
	at := b.step[i] - 1
	kids := b.w.kids[at]
	if k := b.node(&b.f.asks[i]); k == dead {
		b.w.kind[at] = anyOf
		b.w.kids[at] = nil
		return
	} else if k != up {
		kids = append(kids, k)
	}
	for _, c := range b.costs[i] {
		var works []int32
		for _, j := range b.f.classes[c] {
			if b.use[j] {
				works = append(works, b.work(j))
			}
		}
		k := b.gather(anyOf, works)
		if k == dead {
			b.w.kind[at] = anyOf
			b.w.kids[at] = nil
			return
		}
		kids = append(kids, k)
	}
	slices.Sort(kids)
	b.w.kids[at] = slices.Compact(kids)
}

func (b *weaver) add(kind joiner) int32 {
	b.w.kind = append(b.w.kind, kind)
	b.w.kids = append(b.w.kids, nil)
	b.w.act = append(b.w.act, none)
	return int32(len(b.w.kind) - 1)
}

func (b *weaver) node(x *formula) int32 {
	if x.op == leaf {
		return b.literal(x.id)
	}
	from := len(b.stack)
	for i := range x.kids {
		k := b.node(&x.kids[i])
		if (k == up && x.op == anyOf) || (k == dead && x.op == allOf) {
			b.stack = b.stack[:from]
			return k
		}
		if k >= 0 {
			b.stack = append(b.stack, k)
		}
	}
	n := b.gather(x.op, b.stack[from:])
	b.stack = b.stack[:from]
	return n
}

// gather is a node over others, or what it comes to without one. It puts the
// kids in order.
func (b *weaver) gather(op joiner, kids []int32) int32 {
	slices.Sort(kids)
	kids = slices.Compact(kids)
	for len(kids) > 0 && kids[0] < 0 { // dead comes first, then up
		if (kids[0] == up && op == anyOf) || (kids[0] == dead && op == allOf) {
			return kids[0]
		}
		kids = kids[1:]
	}
	switch {
	case len(kids) == 1:
		return kids[0]
	case len(kids) == 0 && op == allOf:
		return up
	case len(kids) == 0:
		return dead
	}
	n := b.add(op)
	b.w.kids[n] = slices.Clone(kids)
	return n
}

func (b *weaver) literal(id int32) int32 {
	if b.holds[id] == 0 {
		b.holds[id] = 2
		if b.f.lits[id].class == free || b.f.lits[id].lit.holds(b.s) {
			b.holds[id] = 1
		}
	}
	if b.holds[id] == 1 {
		return up
	}
	c := b.f.lits[id].class
	if b.class[c] == 0 {
		b.class[c] = b.bringers(c) + 1
	}
	return b.class[c] - 1
}

// bringers is a node for any of the steps of a class.
func (b *weaver) bringers(c int32) int32 {
	var kids []int32
	for _, i := range b.f.classes[c] {
		if b.use[i] {
			b.work(i)
			kids = append(kids, b.step[i]-1)
		}
	}
	return b.gather(anyOf, kids)
}

// work is the node of a step's own work.
func (b *weaver) work(i plan.StepIndex) int32 {
	if b.step[i] == 0 {
		top, own := b.add(allOf), b.add(allOf)
		b.w.kids[top] = []int32{own}
		b.step[i] = top + 1
		b.w.act[own] = int32(len(b.w.acts))
		b.w.acts = append(b.w.acts, action{node: own, top: top, step: i, price: work(&b.f.p.Steps[i], b.together)})
		b.queue = append(b.queue, i)
	}
	return b.step[i] // made right after its top
}

// link works out parents and needs from kids.
func (w *web) link() {
	n := len(w.kind)
	w.need = make([]int32, n)
	w.from = make([]int32, n+1)
	sum := 0
	for i := range w.kids {
		w.need[i] = int32(len(w.kids[i]))
		sum += len(w.kids[i])
		for _, k := range w.kids[i] {
			w.from[k+1]++
		}
	}
	for i := range n {
		w.from[i+1] += w.from[i]
	}
	w.parents = make([]int32, sum)
	next := slices.Clone(w.from[:n])
	for i := range w.kids {
		for _, k := range w.kids[i] {
			w.parents[next[k]] = int32(i)
			next[k]++
		}
	}
}

// prune drops what can never come up and what the goal then does not need. It
// reports whether the goal can come up at all.
func (w *web) prune() bool {
	all := newFlow(w)
	for a := range w.acts {
		all.open(int32(a))
	}
	if !all.up[w.goal] {
		return false
	}
	keep := make([]int32, len(w.kind))
	for i := range keep {
		keep[i] = none
	}
	order := []int32{w.goal}
	keep[w.goal] = 0
	for n := 0; n < len(order); n++ {
		for _, k := range w.kids[order[n]] {
			if all.up[k] && keep[k] == none {
				keep[k] = int32(len(order))
				order = append(order, k)
			}
		}
	}
	w.compact(order, keep)
	return true
}

func (w *web) compact(order, keep []int32) {
	old := *w
	*w = web{goal: keep[old.goal], kind: make([]joiner, 0, len(order)), kids: make([][]int32, 0, len(order)), act: make([]int32, 0, len(order))}
	edges := 0
	for _, o := range order {
		edges += len(old.kids[o])
	}
	all := make([]int32, 0, edges)
	for n, o := range order {
		w.kind = append(w.kind, old.kind[o])
		from := len(all)
		for _, k := range old.kids[o] {
			if keep[k] != none {
				all = append(all, keep[k])
			}
		}
		w.kids = append(w.kids, all[from:len(all):len(all)])
		w.act = append(w.act, none)
		if a := old.act[o]; a != none {
			w.act[n] = int32(len(w.acts))
			at := old.acts[a]
			at.node, at.top = int32(n), keep[at.top]
			w.acts = append(w.acts, at)
		}
	}
}
