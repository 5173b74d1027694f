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
	w      *web
	x      *flow
	forced []int32
	price  []price
	worth  []price // by action: it and what it needs, counted once for each
	cuts   [][]int32
	in     []int32 // by action: in how many cuts
	order  []int32 // nodes in an order in which they can come up
	of     []price // by node: what it costs, counted like worth
	mark   []bool  // by action
	seen   []int32 // by node: the round in which it was met
	round  int32
	stack  []int32
	spent  int // looks, those of the flow left out
	limit  int
	base   price // of what is forced

	idle      bool // nothing more can be found
	shrinking int  // looks spent on making cuts small
	out       bound
}

func newBounder(w *web, limit int) *bounder {
	b := &bounder{
		w: w, x: newFlow(w), price: make([]price, len(w.acts)), in: make([]int32, len(w.acts)), limit: limit,
		mark: make([]bool, len(w.acts)), seen: make([]int32, len(w.kind)),
	}
	for a := range w.acts {
		b.price[a] = w.acts[a].price
	}
	b.forced = b.x.forced()
	return b
}

// run looks until the answer is proved or the limit of looks is reached.
func (b *bounder) run() bound {
	for _, a := range b.forced {
		b.base = b.base.add(b.price[a])
		b.price[a] = price{}
	}
	b.out.least = b.base
	b.worthOf()
	b.ascend()
	if b.out.least.less(b.out.sets[0].price) {
		b.improve()
	}
	return b.more(b.limit)
}

// more looks further, up to another limit.
func (b *bounder) more(limit int) bound {
	b.limit = limit
	for !b.out.exact && b.looks() <= b.limit && !b.idle {
		b.out.exact = b.hit()
	}
	return b.out
}

// ascend raises the lower bound cut by cut: each takes what its cheapest
// action has left of its price, and what has nothing left is opened (after
// LM-cut: Helmert and Domshlak 2009). What is open when the goal comes up is a
// first set.
func (b *bounder) ascend() {
	left := slices.Clone(b.price)
	sum := b.base
	b.start(nil)
	for !b.x.done() {
		if b.looks() > b.limit*9/10 {
			b.openCheapest()
			break
		}
		cut := b.missed()
		b.note(cut)
		least := dearest
		for _, a := range cut {
			if left[a].less(least) {
				least = left[a]
			}
		}
		sum = sum.add(least)
		for _, a := range cut {
			if left[a] = left[a].sub(least); left[a].zero() {
				b.x.open(a)
			}
		}
	}
	b.out.least = sum
	b.keep(b.thin(b.x.needed()))
}

// note keeps a cut.
func (b *bounder) note(cut []int32) {
	b.cuts = append(b.cuts, cut)
	for _, a := range cut {
		b.in[a]++
	}
}

// hit takes the cheapest actions that meet the cuts known so far, and finds
// what they miss. It reports whether the best set is known to be the best.
func (b *bounder) hit() bool {
	h := &hitting{price: b.price, cuts: b.cuts, upper: dearest, limit: max(2000, (b.limit-b.looks())/3)}
	if len(b.out.sets) > 0 {
		h.upper = b.out.sets[0].price.sub(b.base)
	}
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
	return !b.out.least.less(b.out.sets[0].price)
}

func (b *bounder) looks() int { return b.spent + b.x.looks }

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
	for _, a := range order {
		if b.price[a].zero() {
			continue // every way needs it
		}
		b.x.reset()
		for _, o := range acts {
			if o != a {
				b.x.open(o)
			}
		}
		if b.x.done() {
			acts = b.x.needed()
			slices.Sort(acts)
		}
		if b.looks() > b.limit {
			break
		}
	}
	return acts
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
