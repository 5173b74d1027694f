package scope

import "slices"

// missed is a cut that none of the open actions meets. It goes down from the
// goal: of what all is needed for something, one that is missing, of what any
// would do, all. A step's own work is cut where no cut has it yet; else what
// the step lacks is looked into, so that cuts share little. As long as there is
// budget for it, what the cut can do without is dropped.
func (b *bounder) missed() []int32 {
	cut := b.descend()
	if len(cut) > 1 && len(cut) < wideCut && b.shrinking < b.limit/6 {
		b.shrinking -= b.y.looks
		cut = b.least(cut)
		b.shrinking += b.y.looks
	}
	slices.Sort(cut)
	return cut
}

// wideCut is from how many actions on a cut is taken as it is: to find out what
// it can do without takes too long.
const wideCut = 24

// least drops from a cut what it can do without: the goal does not come up
// either with that and all that the cut does not have.
func (b *bounder) least(cut []int32) []int32 {
	y := b.y
	y.close(cut...)
	slices.SortStableFunc(cut, b.likelier)
	kept := cut[:0]
	for _, a := range cut {
		before := len(y.log)
		y.open(a)
		if y.done() {
			y.undo(before)
			y.opens[a] = false
			kept = append(kept, a)
		}
	}
	for _, a := range kept {
		y.open(a)
	}
	y.log = y.log[:0]
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
	if !b.target.zero() {
		if v, u := b.holds(k), b.holds(than); u.less(v) || v.less(u) {
			return u.less(v)
		}
		if (x == none) != (y == none) {
			return x != none
		}
		return b.of[than].less(b.of[k])
	}
	fresh := func(a int32) bool { return a != none && b.in[a] == 0 }
	switch {
	case fresh(x) != fresh(y):
		return fresh(x)
	case (x == none) != (y == none):
		return x == none
	}
	return b.of[than].less(b.of[k])
}

// holds is how much a cut through a node can raise the bound at most, as far
// as what is aimed at.
func (b *bounder) holds(n int32) price {
	v := b.most[n]
	if a := b.w.act[n]; a != none {
		v = b.left[a]
	}
	if b.target.less(v) {
		return b.target
	}
	return v
}

// mostOf works out how much a cut through each node can raise the bound at
// most, before anything was taken.
func (b *bounder) mostOf() {
	b.most = make([]price, len(b.w.kind))
	for again := true; again; {
		again = false
		for _, n := range b.order {
			b.x.looks += len(b.w.kids[n]) + 1
			v := price{}
			switch {
			case b.w.act[n] != none:
				v = b.price[b.w.act[n]]
			case b.w.kind[n] == allOf:
				for _, k := range b.w.kids[n] {
					if v.less(b.most[k]) {
						v = b.most[k]
					}
				}
			default:
				v = dearest
				for _, k := range b.w.kids[n] {
					if b.most[k].less(v) {
						v = b.most[k]
					}
				}
			}
			if b.most[n].less(v) {
				b.most[n], again = v, true
			}
		}
	}
}
