package scope

import (
	"slices"

	"countback/projections/plan"
)

// bound is what a web costs at least, and sets of steps that bring its goal
// up, the cheapest first.
type bound struct {
	least price
	exact bool // the first set costs just that
	sets  []ready
}

// ready is steps that lead to the goal as if nothing were ever undone.
type ready struct {
	acts  []int32
	steps []plan.StepIndex // in the plan's order
	price price
}

// maxSets is how many sets are kept besides the cheapest.
const maxSets = 12

// bounder finds the cheapest actions that bring a goal up by cuts: sets of
// actions of which at least one is needed. The cheapest actions that meet all
// known cuts cost no more than the answer; where they bring the goal up they
// are the answer, and where not there is a cut that they miss (Bonet and
// Castillo 2011; Haslum, Slaney and Thiébaux 2012).
type bounder struct {
	w       *web
	x       *flow // by which sets are looked for
	y       *flow // with every action open
	forced  []int32
	price   []price
	worth   []price // by action: it and what it needs, counted once for each
	cuts    [][]int32
	in      []int32 // by action: in how many cuts
	order   []int32 // nodes in an order in which they can come up
	of      []price // by node: what it costs, counted like worth
	seen    []int32 // by node: the round in which it was met
	round   int32
	stack   []int32
	spent   int // looks, those of the flows left out
	limit   int
	base    price // of what is forced
	scale   scale
	raised  []price // by cut: by how much it raised the bound of the ascent
	left    []price // by action: what that bound has left of its price
	most    []price // by node: how much a cut through it can raise the bound at most
	target  price   // how much the next cut is to raise it; nothing: as it comes
	need    *needs
	swapper *swapping
	upper   price // only what is cheaper is of interest; none: dearest
	given   int   // of the looks: counted by another bounder

	idle      bool // nothing more can be found
	shrinking int  // looks spent on making cuts small
	out       bound
}

func newBounder(w *web, limit int) *bounder {
	b := &bounder{
		w: w, x: newFlow(w), price: make([]price, len(w.acts)), in: make([]int32, len(w.acts)), limit: limit,
		seen: make([]int32, len(w.kind)),
	}
	for a := range w.acts {
		b.price[a] = w.acts[a].price
	}
	b.need = b.x.needs() // leaves every action open
	b.y, b.x = b.x, newFlow(w)
	b.forced = b.need.must(w)
	b.upper = dearest
	return b
}

// largeWeb is from how many nodes on the web is made smaller before cuts are
// looked for in it.
const largeWeb = 1000

// settle takes what every way needs out of the prices.
func (b *bounder) settle() {
	for _, a := range b.forced {
		b.base = b.base.add(b.price[a])
		b.price[a] = price{}
	}
	b.out.least = b.base
	b.worthOf()
}

// run looks until the answer is proved or the limit of looks is reached.
func (b *bounder) run() bound {
	b.scale = scaleOf(b.w)
	b.settle()
	if b.small() {
		b.ascend()
		b.hits(b.limit / 5)
	} else {
		b.greedy()
	}
	b.better(b.limit / 6)
	if b.small() {
		b.hits(b.limit / 2)
	} else if b.open() {
		b.ascend()
		b.again(b.left, b.limit/8)
	}
	return b.more(b.limit)
}

// better betters the best set.
func (b *bounder) better(limit int) {
	if b.open() {
		b.swaps().run(b.out.sets[0].acts, limit)
	}
}

// again betters a set of another sort: what looks cheapest where a bound has
// left least of the prices.
func (b *bounder) again(left []price, limit int) {
	if !b.open() {
		return
	}
	guide := slices.Clone(b.price)
	for a := range guide {
		if p := left[a]; (price{}).less(p) {
			guide[a] = guide[a].add(p.times(8))
		}
	}
	b.estimate(guide)
	b.start(b.cheapest())
	for a := 0; a < len(b.w.acts) && !b.x.done(); a++ {
		b.x.open(int32(a))
	}
	set := b.thin(b.x.needed())
	b.keep(set)
	b.swaps().run(set, limit)
}

// swaps is made once: it goes on with other numbers each time.
func (b *bounder) swaps() *swapping {
	if b.swapper == nil {
		b.swapper = b.swapping()
	}
	return b.swapper
}

// greedy is a first set: what looks cheapest.
func (b *bounder) greedy() {
	b.start(nil)
	b.openCheapest()
	b.keep(b.thin(b.x.needed()))
}

// open reports whether something cheaper than the best set may be found.
func (b *bounder) open() bool {
	best := b.out.sets[0].price
	return b.out.least.less(best) && b.out.least.less(b.upper)
}

// small says that cuts by themselves are likely to prove the answer.
func (b *bounder) small() bool { return len(b.w.kind) < 1000 }

// more looks further, up to another limit.
func (b *bounder) more(limit int) bound {
	b.limit = limit
	b.narrow(limit)
	b.hits(limit)
	b.out.exact = !b.open()
	return b.out
}

// hits looks for the cheapest actions that meet all cuts, and for cuts that
// these miss, in turn.
func (b *bounder) hits(limit int) {
	for b.open() && b.looks() <= limit && !b.idle && len(b.cuts) > 0 {
		b.hit()
	}
}

// ascend raises the lower bound cut by cut: each takes what its cheapest
// action has left of its price (after LM-cut: Helmert and Domshlak 2009). First
// come cuts that the best set known meets just once: what they raise is what it
// pays. Then whatever has nothing left is open, and as long as the goal does not
// come up by that there is another cut.
func (b *bounder) ascend() {
	b.left = slices.Clone(b.price)
	sum := b.base
	if len(b.out.sets) > 0 {
		sum = sum.add(b.along(b.out.sets[0].acts))
	}
	b.start(nil)
	for a := range b.left {
		if b.left[a].zero() {
			b.x.open(int32(a))
		}
	}
	for !b.x.done() {
		if b.looks() > b.limit*9/10 {
			b.openCheapest()
			break
		}
		cut := b.missed()
		sum = sum.add(b.lower(cut))
		for _, a := range cut {
			if b.left[a].zero() {
				b.x.open(a)
			}
		}
	}
	if b.out.least.less(sum) {
		b.out.least = sum
	}
	b.keep(b.thin(b.x.needed()))
}

// lower takes a cut: what its cheapest action has left is taken from all of
// them, and raises the bound.
func (b *bounder) lower(cut []int32) price {
	b.note(cut)
	least := dearest
	for _, a := range cut {
		if b.left[a].less(least) {
			least = b.left[a]
		}
	}
	b.raised = append(b.raised, least)
	for _, a := range cut {
		b.left[a] = b.left[a].sub(least)
	}
	return least
}

// along takes cuts that a set meets just once, and sums up what they raise.
func (b *bounder) along(set []int32) (sum price) {
	b.mostOf()
	defer func() { b.target = price{} }()
	b.start(set)
	order := slices.Clone(set)
	slices.SortStableFunc(order, func(a, c int32) int { return -b.cheaper(a, c) })
	for _, a := range order {
		if b.left[a].zero() {
			continue
		}
		b.x.close(a)
		for !b.x.done() && !b.left[a].zero() && b.looks() < b.limit*8/10 {
			b.target = b.left[a]
			cut := b.missed()
			sum = sum.add(b.lower(cut))
			for _, c := range cut {
				if c != a && b.left[c].zero() {
					b.x.open(c)
				}
			}
		}
		b.x.open(a)
	}
	return sum
}

// cheaper orders actions by their price.
func (b *bounder) cheaper(a, c int32) int {
	switch {
	case b.price[a].less(b.price[c]):
		return -1
	case b.price[c].less(b.price[a]):
		return 1
	}
	return 0
}

// note keeps a cut.
func (b *bounder) note(cut []int32) {
	b.cuts = append(b.cuts, cut)
	for _, a := range cut {
		b.in[a]++
	}
}

// hit takes the cheapest actions that meet the cuts known so far, and finds
// what they miss.
func (b *bounder) hit() {
	if b.out.sets[0].price.less(b.upper) {
		b.upper = b.out.sets[0].price
	}
	h := &hitting{price: b.price, cuts: b.cuts, upper: b.upper.sub(b.base), limit: max(2000, (b.limit-b.looks())/3)}
	r := h.solve()
	b.spent += h.looks
	if low := r.least.add(b.base); b.out.least.less(low) {
		b.out.least = low
	}
	if r.chosen != nil {
		known := len(b.cuts)
		b.complete(r.chosen)
		if len(b.cuts) == known && !r.exact {
			b.idle = true // what is chosen misses nothing, and is not known to be the cheapest
		}
	}
}

func (b *bounder) looks() int { return b.spent + b.x.looks + b.y.looks }

func (b *bounder) start(chosen []int32) {
	b.x.reset()
	for _, a := range b.forced {
		b.x.open(a)
	}
	for _, a := range chosen {
		b.x.open(a)
	}
}

// complete opens more actions, the likeliest of a cut that is missed each
// time, until the goal is up, and keeps the cuts and the set.
func (b *bounder) complete(chosen []int32) {
	b.start(chosen)
	for !b.x.done() {
		if b.looks() > b.limit && len(b.out.sets) > 0 {
			return
		}
		cut := b.missed()
		b.note(cut)
		best := cut[0]
		for _, a := range cut {
			if b.worth[a].less(b.worth[best]) {
				best = a
			}
		}
		b.x.open(best)
	}
	b.keep(b.thin(b.x.needed()))
}

// thin drops actions that the goal turns out not to need, the dearest first.
func (b *bounder) thin(acts []int32) []int32 {
	slices.Sort(acts)
	order := slices.Clone(acts)
	slices.SortStableFunc(order, func(a, c int32) int {
		switch {
		case b.price[c].less(b.price[a]):
			return -1
		case b.price[a].less(b.price[c]):
			return 1
		}
		return int(c - a)
	})
	b.x.reset()
	for _, a := range acts {
		b.x.open(a)
	}
	for _, a := range order {
		if b.price[a].zero() {
			continue // every way needs it
		}
		if b.x.close(a); !b.x.done() {
			b.x.open(a)
		}
		if b.looks() > b.limit {
			break
		}
	}
	return b.x.needed()
}

// keep remembers a set of actions by its price and its steps.
func (b *bounder) keep(acts []int32) {
	r := ready{acts: acts}
	for _, a := range acts {
		r.price = r.price.add(b.w.acts[a].price)
		if s := b.w.acts[a].step; s != plan.None {
			r.steps = append(r.steps, s)
		}
	}
	slices.Sort(r.steps)
	for _, o := range b.out.sets {
		if slices.Equal(o.steps, r.steps) {
			return
		}
	}
	at := 0
	for at < len(b.out.sets) && !r.price.less(b.out.sets[at].price) {
		at++
	}
	b.out.sets = slices.Insert(b.out.sets, at, r)
	if len(b.out.sets) > maxSets {
		b.out.sets = b.out.sets[:maxSets]
	}
}
