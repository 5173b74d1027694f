package scope

import "math/bits"

// needs is which actions each node of a web needs, whatever way it comes up:
// the greatest solution of "an all-node needs what any of its kids needs, an
// any-node what all of its kids need".
type needs struct {
	words int
	sets  []uint64
}

func (n *needs) of(node int32) []uint64 {
	return n.sets[int(node)*n.words : (int(node)+1)*n.words]
}

// must is the actions without which the goal cannot come up.
func (n *needs) must(w *web) (must []int32) {
	row := n.of(w.goal)
	for a := range w.acts {
		if row[a/64]&(1<<(a%64)) != 0 {
			must = append(must, int32(a))
		}
	}
	return must
}

// needs works out what each node needs. Nodes that never come up need all. Every
// action is open then.
func (x *flow) needs() *needs {
	w := x.w
	x.reset()
	for a := range w.acts {
		x.open(int32(a))
	}
	n := &needs{words: (len(w.acts) + 63) / 64}
	n.sets = make([]uint64, n.words*len(w.kind))
	for i := range n.sets {
		n.sets[i] = ^uint64(0)
	}
	next := make([]uint64, n.words)
	for again := true; again; {
		again = false
		for _, node := range x.log {
			x.looks += (len(w.kids[node])+1)*(n.words+4)/8 + 1
			n.join(w, node, next)
			if row := n.of(node); !equal(row, next) {
				copy(row, next)
				again = true
			}
		}
	}
	return n
}

// join is what a node needs by what its kids need.
func (n *needs) join(w *web, node int32, next []uint64) {
	kids := w.kids[node]
	if len(kids) == 0 {
		clear(next)
	} else {
		copy(next, n.of(kids[0]))
		for _, k := range kids[1:] {
			row := n.of(k)
			if w.kind[node] == anyOf {
				for i, word := range row {
					next[i] &= word
				}
			} else {
				for i, word := range row {
					next[i] |= word
				}
			}
		}
	}
	if a := w.act[node]; a != none {
		next[a/64] |= 1 << (a % 64)
	}
}

func equal(a, b []uint64) bool {
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// shaved is the web less every node that no set of actions cheaper than upper
// brings up: what such a set costs is at least the bound and what the bound has
// left of the price of all that the node needs (reduced costs: Dantzig,
// Fulkerson and Johnson 1954; for Steiner trees, Duin and Volgenant 1989). ok is
// false where nothing cheaper than upper is left; gone counts the nodes.
func (w *web) shaved(n *needs, least int64, left []int64, upper int64) (out *web, gone int, ok bool) {
	dead := make([]bool, len(w.kind))
	for node := range w.kind {
		sum := least
		for i, word := range n.of(int32(node)) {
			for ; word != 0 && sum < upper; word &= word - 1 {
				if a := i*64 + bits.TrailingZeros64(word); a < len(left) {
					sum += max(0, left[a])
				}
			}
		}
		if sum >= upper {
			dead[node] = true
			gone++
		}
	}
	if gone == 0 {
		return w, 0, true
	}
	if dead[w.goal] {
		return nil, gone, false
	}
	out = &web{kind: append([]joiner(nil), w.kind...), act: append([]int32(nil), w.act...), acts: w.acts, goal: w.goal}
	out.kids = make([][]int32, len(w.kids))
	for node, kids := range w.kids {
		if dead[node] {
			out.kind[node], out.act[node] = anyOf, none
			continue
		}
		for _, k := range kids {
			if !dead[k] || w.kind[node] == allOf {
				out.kids[node] = append(out.kids[node], k)
			}
		}
	}
	out.link()
	if !out.prune() {
		return nil, gone, false
	}
	out.link()
	return out, gone, true
}
