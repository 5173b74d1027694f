package scope

import (
	"math/bits"
	"slices"
)

// branching is branch and bound over one group of cuts. Actions and cuts have
// numbers of their own in it.
type branching struct {
	h       *hitting
	acts    []int32 // the actions' numbers outside
	price   []price
	cuts    [][]int32
	in      [][]uint64 // by action: the cuts that it meets
	banned  []int32    // by action: how often it is out of the question
	rest    []price    // by action: what the bound has left of its price
	now     []int32
	greedy  []int32 // a first answer
	best    []int32 // cheaper than the upper bound; nil while there is none
	cost    price   // of best, or else the upper bound
	least   price
	stopped bool
}

func (h *hitting) branching(cuts [][]int32) *branching {
	b := &branching{h: h}
	id := make([]int32, len(h.price))
	words := (len(cuts) + 63) / 64
	for n, c := range cuts {
		cut := make([]int32, len(c))
		for k, a := range c {
			if id[a] == 0 {
				b.acts = append(b.acts, a)
				b.price = append(b.price, h.price[a])
				b.in = append(b.in, make([]uint64, words))
				id[a] = int32(len(b.acts))
			}
			cut[k] = id[a] - 1
			b.in[cut[k]][n/64] |= 1 << (n % 64)
		}
		b.cuts = append(b.cuts, cut)
	}
	b.banned = make([]int32, len(b.acts))
	b.rest = make([]price, len(b.acts))
	b.least = b.bound(b.all())
	return b
}

func (b *branching) all() []uint64 {
	open := make([]uint64, (len(b.cuts)+63)/64)
	for n := range b.cuts {
		open[n/64] |= 1 << (n % 64)
	}
	return open
}

// run looks for actions that cost less than upper.
func (b *branching) run(upper price) {
	b.cost = upper
	sum := b.first()
	if sum.less(b.cost) {
		b.best, b.cost = b.greedy, sum
	}
	b.step(b.all(), price{})
}

// bound is a lower bound of what the open cuts cost: each cut in turn takes
// what its cheapest action has left. rest is then what each action costs more
// than the bound has counted for it.
func (b *branching) bound(open []uint64) price {
	copy(b.rest, b.price)
	var sum price
	for w, word := range open {
		for ; word != 0; word &= word - 1 {
			c := b.cuts[w*64+bits.TrailingZeros64(word)]
			least := dearest
			for _, a := range c {
				if b.banned[a] == 0 && b.rest[a].less(least) {
					least = b.rest[a]
				}
			}
			b.h.looks += len(c)
			if least == dearest {
				return dearest
			}
			if least.zero() {
				continue
			}
			sum = sum.add(least)
			for _, a := range c {
				b.rest[a] = b.rest[a].sub(least)
			}
		}
	}
	return sum
}

// first is a first answer: again and again the action that meets the most
// cuts for its price.
func (b *branching) first() (sum price) {
	open := b.all()
	for n := b.pick(open); n != none; n = b.pick(open) {
		best, meets := int32(none), int64(0)
		for _, a := range b.cuts[n] {
			k := int64(overlap(b.in[a], open))
			if best == none || b.price[a].times(meets).less(b.price[best].times(k)) {
				best, meets = a, k
			}
		}
		b.greedy = append(b.greedy, best)
		sum = sum.add(b.price[best])
		without(open, b.in[best])
	}
	return sum
}

// pick is the open cut with the fewest actions left, or none.
func (b *branching) pick(open []uint64) int32 {
	best, few := int32(none), 0
	for w, word := range open {
		for ; word != 0; word &= word - 1 {
			n := w*64 + bits.TrailingZeros64(word)
			k := 0
			for _, a := range b.cuts[n] {
				if b.banned[a] == 0 {
					k++
				}
			}
			b.h.looks += len(b.cuts[n])
			if best == none || k < few {
				best, few = int32(n), k
			}
		}
	}
	return best
}

func (b *branching) step(open []uint64, spent price) {
	if b.h.looks > b.h.limit {
		b.stopped = true
		return
	}
	low := b.bound(open)
	if low == dearest || !spent.add(low).less(b.cost) {
		return
	}
	out := b.ban(spent.add(low))
	defer func() {
		for _, a := range out {
			b.banned[a]--
		}
	}()
	n := b.pick(open)
	if n == none {
		b.best, b.cost = slices.Clone(b.now), spent
		return
	}
	var acts []int32
	for _, a := range b.cuts[n] {
		if b.banned[a] == 0 {
			acts = append(acts, a)
		}
	}
	slices.SortStableFunc(acts, func(x, y int32) int { return overlap(b.in[y], open) - overlap(b.in[x], open) })
	for _, a := range acts {
		rest := slices.Clone(open)
		without(rest, b.in[a])
		b.now = append(b.now, a)
		b.step(rest, spent.add(b.price[a]))
		b.now = b.now[:len(b.now)-1]
		b.banned[a]++
		out = append(out, a)
	}
}

// ban puts out of the question what would make the bound too dear.
func (b *branching) ban(low price) (out []int32) {
	for a := range b.acts {
		if b.banned[a] == 0 && !low.add(b.rest[a]).less(b.cost) {
			b.banned[a]++
			out = append(out, int32(a))
		}
	}
	b.h.looks += len(b.acts) / 2
	return out
}

func overlap(a, b []uint64) int {
	n := 0
	for i := range a {
		n += bits.OnesCount64(a[i] & b[i])
	}
	return n
}

func without(a, b []uint64) {
	for i := range a {
		a[i] &^= b[i]
	}
}
