package scope

import (
	"slices"
)

// worthOf works out what each action and all that it needs cost.
func (b *bounder) worthOf() {
	b.order = slices.Clone(b.y.log)
	b.of = make([]price, len(b.w.kind))
	b.estimate(b.price)
	b.worth = make([]price, len(b.w.acts))
	for a := range b.w.acts {
		if b.worth[a] = b.price[a]; b.w.acts[a].top != none {
			b.worth[a] = b.of[b.w.acts[a].top]
		}
	}
}

// estimate works out what each node and all that it needs cost, each need
// counted for itself: too much where needs are shared, but a guide.
func (b *bounder) estimate(prices []price) {
	w := b.w
	for i := range b.of {
		b.of[i] = dearest
	}
	for range 4 {
		changed := false
		for _, n := range b.order {
			b.x.looks += len(w.kids[n]) + 1
			v := price{}
			switch {
			case w.act[n] != none:
				v = prices[w.act[n]]
			case w.kind[n] == allOf:
				for _, k := range w.kids[n] {
					v = v.add(b.of[k])
				}
			default:
				v = dearest
				for _, k := range w.kids[n] {
					if b.of[k].less(v) {
						v = b.of[k]
					}
				}
			}
			if !v.less(dearest) {
				v = dearest
			}
			changed = changed || v != b.of[n]
			b.of[n] = v
		}
		if !changed {
			return
		}
	}
}

// openCheapest opens actions that bring the goal up: those that look cheapest,
// or else all.
func (b *bounder) openCheapest() {
	b.estimate(b.price)
	for _, a := range b.cheapest() {
		b.x.open(a)
	}
	for a := 0; a < len(b.w.acts) && !b.x.done(); a++ {
		b.x.open(int32(a))
	}
}

// cheapest is the actions by which the goal is as cheap as estimated.
func (b *bounder) cheapest() []int32 {
	b.round++
	var out []int32
	stack := append(b.stack[:0], b.w.goal)
	for len(stack) > 0 {
		n := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if b.seen[n] == b.round {
			continue
		}
		b.seen[n] = b.round
		if a := b.w.act[n]; a != none {
			out = append(out, a)
			continue
		}
		b.x.looks += len(b.w.kids[n]) + 1
		if b.w.kind[n] == allOf {
			stack = append(stack, b.w.kids[n]...)
			continue
		}
		best := b.w.kids[n][0]
		for _, k := range b.w.kids[n] {
			if b.of[k].less(b.of[best]) {
				best = k
			}
		}
		stack = append(stack, best)
	}
	b.stack = stack
	return out
}
