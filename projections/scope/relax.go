package scope

// relaxing raises the lower bound of a web by weighing all of its cuts against
// each other, where an ascent takes them one after the other. The question "the
// cheapest actions that meet every cut" is relaxed: a cut that is not met costs
// its weight, one that is met too often gains it. Whatever the weights, what
// that costs at least is a lower bound, and the weights are moved against what
// is missed and met too often (Held and Karp 1971; for covering, Beasley 1990).
// The actions that the best weights would take are then where new cuts are
// looked for.
type relaxing struct {
	b      *bounder
	value  []int64 // by action; 0 for what every way needs
	weight []int64 // by cut, those of the best bound
	try    []int64
	over   []int64 // by cut: 1 less how often it is met
	rest   []int64 // by action: its value less the weights of the cuts that it meets
	left   []int64 // the same of the best bound
	least  int64   // the best bound, what every way needs left out
	size   int     // of all cuts together
}

func (b *bounder) relaxing() *relaxing {
	n := len(b.w.acts)
	r := &relaxing{b: b, value: make([]int64, n), rest: make([]int64, n), left: make([]int64, n)}
	for a := range r.value {
		r.value[a] = b.scale.of(b.price[a])
	}
	r.cuts()
	for n, v := range b.raised {
		r.weight[n], r.try[n] = b.scale.of(v), b.scale.of(v)
	}
	r.least = r.bound()
	copy(r.left, r.rest)
	return r
}

// cuts takes over the cuts that were found since.
func (r *relaxing) cuts() {
	for n := len(r.weight); n < len(r.b.cuts); n++ {
		r.weight, r.try, r.over = append(r.weight, 0), append(r.try, 0), append(r.over, 0)
		r.size += len(r.b.cuts[n])
	}
}

// bound is the bound of the weights that are tried, and fills rest.
func (r *relaxing) bound() int64 {
	copy(r.rest, r.value)
	sum := int64(0)
	for n, w := range r.try {
		if w == 0 {
			continue
		}
		sum += w
		for _, a := range r.b.cuts[n] {
			r.rest[a] -= w
		}
	}
	for _, v := range r.rest {
		sum += min(0, v)
	}
	r.b.spent += (2*r.size + len(r.rest)) / 4
	return sum
}

// missed fills over, and returns the sum of its squares.
func (r *relaxing) missed() int64 {
	norm := int64(0)
	for n, c := range r.b.cuts {
		g := int64(1)
		for _, a := range c {
			if r.rest[a] < 0 {
				g--
			}
		}
		if g < 0 && r.try[n] == 0 {
			g = 0
		}
		r.over[n] = g
		norm += g * g
	}
	return norm
}

// patience is after how many rounds without a better bound the weights are
// moved by half.
const patience = 8

// raise moves the weights so many times, towards a bound of upper.
func (r *relaxing) raise(rounds int, upper int64) {
	r.cuts()
	copy(r.try, r.weight)
	pace, idle := int64(64), 0
	for range rounds {
		l := r.bound()
		if l > r.least {
			r.least, idle = l, 0
			copy(r.weight, r.try)
			copy(r.left, r.rest)
		} else if idle++; idle >= patience {
			if pace, idle = pace/2, 0; pace == 0 {
				return
			}
			copy(r.try, r.weight)
			l = r.bound()
		}
		norm := r.missed()
		if norm == 0 || l >= upper || r.b.looks() > r.b.limit {
			return
		}
		step := max(1, (upper-l)/norm*pace/32)
		for n, g := range r.over {
			r.try[n] = max(0, r.try[n]+step*g)
		}
	}
}

// prices is what the best weights leave of each price.
func (r *relaxing) prices() []price {
	out := make([]price, len(r.left))
	for a, v := range r.left {
		out[a] = r.b.scale.price(max(0, v))
	}
	return out
}

// look opens the actions that the best weights would take, and as long as the
// goal does not come up keeps a cut that they miss. It reports whether there
// was one; the actions are a set to keep.
func (r *relaxing) look() bool {
	b := r.b
	known := len(b.cuts)
	b.start(nil)
	for a, v := range r.left {
		if v <= 0 {
			b.x.open(int32(a))
		}
	}
	for !b.x.done() {
		if b.looks() > b.limit {
			b.openCheapest()
			break
		}
		cut := b.missed()
		b.note(cut)
		best := cut[0]
		for _, a := range cut {
			if r.left[a] < r.left[best] {
				best = a
			}
		}
		b.x.open(best)
	}
	b.keep(b.thin(b.x.needed()))
	return len(b.cuts) > known
}
