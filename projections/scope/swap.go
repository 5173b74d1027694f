package scope

import "slices"

// swapping betters a set of actions by local search. The set is held as a
// choice: for each any-node that it needs, by which kid that comes up. Swapping
// takes away all that serves one any-node alone and brings the node up by what
// is then cheapest beside the rest, as long as that is cheaper; then it chooses
// otherwise in a few places and tries again from there (iterated local search:
// Lourenço, Martin and Stützle 2003). Choices never go in a circle, so that
// steps never only hold each other up.
type swapping struct {
	b      *bounder
	choice []int32 // by node: the kid by which an any-node comes up
	at     []int32 // by node: the round in which it was met
	round  int32
	nodes  []int32 // met in the last round, kids before parents
	rests  []bool  // by node: rests on the node that is taken away
	cost   price   // of the nodes that were met

	dug   []int32 // by node: the round in which its price was looked for
	price []price
	dig   []int32 // by node: the kid that is cheapest
	limit price   // what costs as much is of no use
	seed  uint64
	looks int
}

func (b *bounder) swapping() *swapping {
	n := len(b.w.kind)
	s := &swapping{b: b, choice: make([]int32, n), at: make([]int32, n), rests: make([]bool, n), dug: make([]int32, n),
		price: make([]price, n), dig: make([]int32, n), seed: 0x9e3779b97f4a7c15}
	return s
}

// begin takes a set of actions as the choice to better: an any-node comes up
// by the kid that is up first.
func (s *swapping) begin(acts []int32) {
	x := s.b.x
	x.reset()
	for _, a := range s.b.forced {
		x.open(a)
	}
	for _, a := range acts {
		x.open(a)
	}
	when := make([]int32, len(s.choice))
	for i, n := range x.log {
		when[n] = int32(i) + 1
	}
	for n := range s.choice {
		s.choice[n] = none
		for _, k := range s.b.w.kids[n] {
			if when[k] != 0 && (s.choice[n] == none || when[k] < when[s.choice[n]]) {
				s.choice[n] = k
			}
		}
	}
	s.looks += len(s.choice) / 2
}

// meet goes down from the goal by what is chosen, and leaves out what serves
// one node alone.
func (s *swapping) meet(without int32) {
	s.round++
	s.nodes, s.cost = s.nodes[:0], price{}
	s.go1(s.b.w.goal, without)
	s.looks += 2 * len(s.nodes)
}

func (s *swapping) go1(n, without int32) bool {
	if s.at[n] == s.round {
		return s.rests[n]
	}
	s.at[n] = s.round
	rests := n == without
	w := s.b.w
	switch {
	case rests:
	case w.act[n] != none:
		s.cost = s.cost.add(s.b.price[w.act[n]])
	case w.kind[n] == anyOf:
		rests = s.go1(s.choice[n], without)
	default:
		for _, k := range w.kids[n] {
			rests = s.go1(k, without) || rests
		}
	}
	s.rests[n] = rests
	s.nodes = append(s.nodes, n)
	return rests
}

// find is what it costs to bring a node up beside what was met, each need
// counted for itself.
func (s *swapping) find(n int32) price {
	if s.at[n] == s.round {
		if s.rests[n] {
			return dearest
		}
		return price{}
	}
	if s.dug[n] == s.round {
		return s.price[n]
	}
	s.dug[n], s.price[n] = s.round, dearest // so long as it is looked for: a circle is no way
	w := s.b.w
	s.looks += len(w.kids[n]) + 1
	v := price{}
	switch {
	case w.act[n] != none:
		v = s.b.price[w.act[n]]
	case w.kind[n] == allOf:
		for _, k := range w.kids[n] {
			if v = v.add(s.find(k)); !v.less(s.limit) {
				v = dearest
				break
			}
		}
	default:
		v = dearest
		for _, k := range w.kids[n] {
			if c := s.find(k); c.less(v) {
				v, s.dig[n] = c, k
			}
		}
	}
	s.price[n] = v
	return v
}

// take makes what was found for a node the choice.
func (s *swapping) take(n int32) {
	if s.at[n] == s.round {
		return
	}
	s.at[n], s.rests[n] = s.round, false
	w := s.b.w
	switch {
	case w.act[n] != none:
	case w.kind[n] == anyOf:
		s.choice[n] = s.dig[n]
		s.take(s.dig[n])
	default:
		for _, k := range w.kids[n] {
			s.take(k)
		}
	}
}

// swap tries to bring one any-node up by another kid than now, and reports
// whether that is cheaper. With force any other kid will do.
func (s *swapping) swap(n int32, now price, force bool) bool {
	s.meet(n)
	if s.limit = now.sub(s.cost); force {
		s.limit = dearest
	}
	best, least := int32(none), s.limit
	old := s.choice[n]
	for _, k := range s.b.w.kids[n] {
		if force && k == old {
			continue
		}
		if v := s.find(k); v.less(least) {
			best, least = k, v
		}
	}
	if best == none || best == old {
		return false
	}
	s.choice[n] = best
	s.take(best)
	return true
}

// settle swaps until nothing gets cheaper, and returns what the choice costs.
func (s *swapping) settle(stop int) price {
	s.meet(none)
	now := s.cost
	for again := true; again; {
		again = false
		var any []int32
		for _, n := range s.nodes {
			if s.b.w.kind[n] == anyOf && s.b.w.act[n] == none {
				any = append(any, n)
			}
		}
		slices.Reverse(any) // nearest to the goal first: most hangs on them
		for _, n := range any {
			if s.looks > stop {
				return now
			}
			if s.swap(n, now, false) {
				s.meet(none)
				now, again = s.cost, true
				continue
			}
		}
		if again {
			s.meet(none)
		}
	}
	return now
}

// acts is the actions of the choice.
func (s *swapping) acts() []int32 {
	s.meet(none)
	var out []int32
	for _, n := range s.nodes {
		if a := s.b.w.act[n]; a != none {
			out = append(out, a)
		}
	}
	slices.Sort(out)
	return out
}

// next is a number drawn from a fixed row: the same question gets the same
// answer everywhere.
func (s *swapping) next(n int) int {
	s.seed ^= s.seed << 13
	s.seed ^= s.seed >> 7
	s.seed ^= s.seed << 17
	return int(s.seed % uint64(n))
}

// kicks is in how many places at most it is chosen otherwise, tries after how
// many attempts in vain it goes on from what they led to.
const (
	kicks = 4
	tries = 60
)

// run betters a set of the bounder within so many looks.
func (s *swapping) run(acts []int32, limit int) {
	s.looks = 0
	s.begin(acts)
	here := s.settle(limit)
	best := here
	s.b.keep(s.acts())
	kept := slices.Clone(s.choice)
	for vain := 0; s.looks < limit && s.b.open(); {
		if !s.kick() {
			break
		}
		now := s.settle(limit)
		if here.less(now) && vain < tries {
			copy(s.choice, kept)
			vain++
			continue
		}
		if now.less(best) {
			best = now
			s.b.keep(s.acts())
		}
		if now.less(here) || vain >= tries {
			vain = 0
		}
		here = now
		copy(kept, s.choice)
	}
	s.b.spent += s.looks
}

// kick chooses otherwise in a few places. false: there is nothing to choose.
func (s *swapping) kick() bool {
	s.meet(none)
	var any []int32
	for _, n := range s.nodes {
		if s.b.w.kind[n] == anyOf && s.b.w.act[n] == none && len(s.b.w.kids[n]) > 1 {
			any = append(any, n)
		}
	}
	if len(any) == 0 {
		return false
	}
	for range 1 + s.next(kicks) {
		s.meet(none)
		if n := any[s.next(len(any))]; s.at[n] == s.round {
			s.swap(n, dearest, true)
		}
	}
	return true
}
