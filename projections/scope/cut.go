package scope

import "slices"

// missed is a cut that none of the open actions meets. It goes down from the
// goal: of what all is needed for something, one that is missing, of what any
// would do, all. A step's own work is cut where no cut has it yet; else what
// the step lacks is looked into, so that cuts share little. As long as there is
// budget for it, what the cut can do without is dropped.
func (b *bounder) missed() []int32 {
	cut := b.descend()
	if len(cut) == 1 || b.shrinking > b.limit*3/10 {
		slices.Sort(cut)
		return cut
	}
	defer func(before int) { b.shrinking += b.x.looks - before }(b.x.looks)
	length := len(b.x.log)
	for a := range b.w.acts {
		b.mark[a] = b.x.opens[a]
	}
	for _, a := range cut {
		b.mark[a] = true
	}
	for a, m := range b.mark {
		if !m {
			b.x.open(int32(a))
		}
	}
	slices.SortStableFunc(cut, b.likelier)
	kept := cut[:0]
	for _, a := range cut {
		before := len(b.x.log)
		b.x.open(a)
		if b.x.done() {
			b.x.undo(before)
			b.x.opens[a] = false
			kept = append(kept, a)
			b.mark[a] = false
		}
	}
	b.x.undo(length)
	for a := range b.w.acts {
		if !b.x.up[b.w.acts[a].node] {
			b.x.opens[a] = false
		}
	}
	slices.Sort(kept)
	return kept
}

// likelier orders actions that are in many cuts first, then cheap ones: those
// are rather left out of a cut.
func (b *bounder) likelier(a, c int32) int {
	if b.in[a] != b.in[c] {
		return int(b.in[c] - b.in[a])
	}
	switch {
	case b.price[a].less(b.price[c]):
		return -1
	case b.price[c].less(b.price[a]):
		return 1
	}
	return 0
}

// descend is a cut, not always a smallest.
func (b *bounder) descend() []int32 {
	b.round++
	var cut []int32
	stack := append(b.stack[:0], b.w.goal)
	for len(stack) > 0 {
		n := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if b.seen[n] == b.round {
			continue
		}
		b.seen[n] = b.round
		if a := b.w.act[n]; a != none {
			cut = append(cut, a)
			continue
		}
		b.x.looks += len(b.w.kids[n]) + 1
		if b.w.kind[n] == anyOf {
			stack = append(stack, b.w.kids[n]...)
			continue
		}
		stack = append(stack, b.lacking(n))
	}
	b.stack = stack
	return cut
}

// lacking is a kid of an all-node that is not up: one that is in the cut
// already, or work that no cut has, or else what is dearest.
func (b *bounder) lacking(n int32) int32 {
	best := int32(none)
	for _, k := range b.w.kids[n] {
		if b.x.up[k] {
			continue
		}
		if b.seen[k] == b.round {
			return k
		}
		if best == none || b.rather(k, best) {
			best = k
		}
	}
	return best
}

func (b *bounder) rather(k, than int32) bool {
	x, y := b.w.act[k], b.w.act[than]
	fresh := func(a int32) bool { return a != none && b.in[a] == 0 }
	switch {
	case fresh(x) != fresh(y):
		return fresh(x)
	case (x == none) != (y == none):
		return x == none
	}
	return b.of[than].less(b.of[k])
}
