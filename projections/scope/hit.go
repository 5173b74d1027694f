package scope

import (
	"slices"
)

// hitting is a set of cuts, of each of which at least one action is needed,
// and the cheapest actions that meet them all.
type hitting struct {
	price []price // by action
	cuts  [][]int32
	upper price // only what is cheaper than this is of interest
	looks int
	limit int // of looks
}

// hits is what a hitting came to.
type hits struct {
	chosen []int32 // in rising order; nil where nothing cheaper than upper meets every cut
	least  price   // no actions that meet every cut cost less; at most upper
	exact  bool    // chosen costs just that; else the limit came first
}

// solve finds the cheapest actions that meet every cut.
func (h *hitting) solve() hits {
	cuts, taken := h.reduce(h.minimal())
	out := hits{chosen: taken, exact: true}
	if out.chosen == nil {
		out.chosen = []int32{}
	}
	for _, a := range taken {
		out.least = out.least.add(h.price[a])
	}
	var parts []*branching
	for _, c := range h.components(cuts) {
		b := h.branching(c)
		parts = append(parts, b)
		out.least = out.least.add(b.least)
	}
	for _, b := range parts {
		// What the others cost at least is not for this one to spend.
		b.run(h.upper.sub(out.least.sub(b.least)))
		if b.best == nil && !b.stopped {
			return hits{least: h.upper, exact: true} // this part alone makes it too dear
		}
		if b.best == nil {
			b.best = b.greedy
		}
		for _, a := range b.best {
			out.chosen = append(out.chosen, b.acts[a])
		}
		if b.stopped {
			out.exact = false
		} else {
			out.least = out.least.add(b.cost.sub(b.least))
		}
	}
	if !out.least.less(h.upper) {
		return hits{least: h.upper, exact: true}
	}
	slices.Sort(out.chosen)
	return out
}

// minimal drops cuts that are met whenever another is.
func (h *hitting) minimal() [][]int32 {
	order := slices.Clone(h.cuts)
	slices.SortStableFunc(order, func(a, b []int32) int { return len(a) - len(b) })
	var out [][]int32
	for _, c := range order {
		h.looks += 2 * len(out)
		if !slices.ContainsFunc(out, func(o []int32) bool { return subset(o, c) }) {
			out = append(out, c)
		}
	}
	return out
}

// subset reports whether all of a is in b; both are in rising order.
func subset(a, b []int32) bool {
	if len(a) > len(b) {
		return false
	}
	for _, x := range a {
		for len(b) > 0 && b[0] < x {
			b = b[1:]
		}
		if len(b) == 0 || b[0] != x {
			return false
		}
	}
	return true
}

// reduce takes what must be taken and drops actions of which another does all
// that they do and costs no more, until nothing changes.
func (h *hitting) reduce(cuts [][]int32) (left [][]int32, taken []int32) {
	took := make([]bool, len(h.price))
	for again := true; again; {
		cuts, again = h.dominate(cuts)
		for _, c := range cuts {
			if len(c) == 1 && !took[c[0]] {
				taken = append(taken, c[0])
				took[c[0]], again = true, true
			}
		}
		var rest [][]int32
		for _, c := range cuts {
			if !slices.ContainsFunc(c, func(a int32) bool { return took[a] }) {
				rest = append(rest, c)
			}
		}
		cuts = rest
	}
	return cuts, taken
}

func (h *hitting) dominate(cuts [][]int32) (out [][]int32, some bool) {
	in := make([][]int32, len(h.price)) // by action: the cuts that it is in
	for n, c := range cuts {
		h.looks += len(c)
		for _, a := range c {
			in[a] = append(in[a], int32(n))
		}
	}
	gone := make([]bool, len(h.price))
	for i := range in {
		if in[i] == nil {
			continue
		}
		a := int32(i)
		for _, b := range cuts[in[a][0]] { // whoever does all that a does is in its first cut
			h.looks += 2
			if a == b || gone[b] || h.price[a].less(h.price[b]) || !subset(in[a], in[b]) {
				continue
			}
			if h.price[a] != h.price[b] || len(in[a]) < len(in[b]) || b < a {
				gone[a], some = true, true
				break
			}
		}
	}
	if !some {
		return cuts, false
	}
	for _, c := range cuts {
		out = append(out, slices.DeleteFunc(slices.Clone(c), func(a int32) bool { return gone[a] }))
	}
	return out, true
}

// components splits cuts into groups that share no action.
func (h *hitting) components(cuts [][]int32) [][][]int32 {
	root := make([]int, len(cuts))
	find := func(n int) int {
		for root[n] != n {
			root[n] = root[root[n]]
			n = root[n]
		}
		return n
	}
	first := make([]int, len(h.price))
	for n, c := range cuts {
		root[n] = n
		for _, a := range c {
			if m := first[a]; m > 0 {
				root[find(n)] = find(m - 1)
			} else {
				first[a] = n + 1
			}
		}
	}
	at := make([]int, len(cuts))
	var out [][][]int32
	for n, c := range cuts {
		r := find(n)
		if at[r] == 0 {
			out = append(out, nil)
			at[r] = len(out)
		}
		out[at[r]-1] = append(out[at[r]-1], c)
	}
	return out
}
