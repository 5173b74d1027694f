package acts

import (
	"cmp"
	"slices"
)

// steps is how finely the price of a piece is graded by what its act could
// explain; few prices make few phases of the flow.
const steps = 24

// transport explains a large group: pieces flow from shorts to overs where they
// cost least, and a piece costs the less the more pieces its act could explain.
// Then acts that the others can replace are taken out, the smallest first.
func (t *table) transport(g *group) Answer {
	best := make([]int64, len(t.links)) // the most that an act of the link could explain
	for _, a := range g.acts {
		n := t.potential(a)
		for _, l := range t.acts[a].links {
			best[l] = max(best[l], n)
		}
	}
	flow := t.allot(g, g.links, func(l int32) int64 { return -(steps / min(best[l], steps)) })
	p := &plan{t: t, flow: map[int32]int32{}, chosen: map[int32]bool{}, of: map[int32][]int32{}}
	for i, l := range g.links {
		if flow[i] > 0 {
			p.flow[l] = flow[i]
		}
	}
	p.pick(g)
	p.prune()
	return t.answer(g, p.acts)
}

// potential is the most pieces that one act could explain.
func (t *table) potential(a int32) int64 {
	seen := map[int32]bool{}
	var sum [2]int64
	for _, l := range t.acts[a].links {
		for side, e := range []int32{t.links[l].short, t.links[l].over} {
			if e != none && !seen[e] {
				seen[e] = true
				sum[side] += int64(t.entries[e].Qty)
			}
		}
	}
	return max(1, min(sum[0], sum[1]))
}

// plan is a flow and the acts that carry it.
type plan struct {
	t      *table
	flow   map[int32]int32 // by link
	acts   []int32
	chosen map[int32]bool    // links of the acts
	of     map[int32][]int32 // by entry: chosen links
}

// pick takes acts until every link that carries something has one, first those
// that carry the most.
func (p *plan) pick(g *group) {
	open := map[int32]bool{}
	for l := range p.flow {
		open[l] = true
	}
	order := slices.Clone(g.acts)
	carries := func(a int32) (n int32) {
		for _, l := range p.t.acts[a].links {
			if open[l] {
				n += p.flow[l]
			}
		}
		return n
	}
	first := map[int32]int32{}
	for _, a := range order {
		first[a] = carries(a)
	}
	slices.SortStableFunc(order, func(a, b int32) int { return cmp.Compare(first[b], first[a]) })
	for _, a := range order {
		if carries(a) == 0 {
			continue
		}
		p.acts = append(p.acts, a)
		for _, l := range p.t.acts[a].links {
			delete(open, l)
			p.chosen[l] = true
		}
	}
}
