package acts

import (
	"cmp"
	"slices"
)

// prune takes out each act whose pieces the links of the other acts can carry
// as well, the smallest first. Acts that explain pieces of one entry alone
// stay.
func (p *plan) prune() {
	carries := map[int32]int32{}
	uses := map[int32]int{} // acts by link
	for _, a := range p.acts {
		for _, l := range p.t.acts[a].links {
			carries[a] += p.flow[l]
			uses[l]++
		}
	}
	for l := range p.chosen {
		p.t.eachEnd(l, func(e int32) { p.of[e] = append(p.of[e], l) })
	}
	for _, links := range p.of {
		slices.Sort(links)
	}
	order := slices.Clone(p.acts)
	slices.SortStableFunc(order, func(a, b int32) int { return cmp.Compare(carries[a], carries[b]) })
	for _, a := range order {
		if !p.without(a, uses) {
			continue
		}
		p.acts = slices.DeleteFunc(p.acts, func(o int32) bool { return o == a })
	}
}

// without takes an act's own links out and carries its pieces otherwise; false
// and nothing changed if that cannot be done.
func (p *plan) without(a int32, uses map[int32]int) bool {
	need := map[int32]int32{} // by over: pieces to be had again
	var short []int32
	lack := map[int32]int32{} // by short: pieces to be sent again
	var undo []change
	for _, l := range p.t.acts[a].links {
		k := &p.t.links[l]
		if uses[l] > 1 {
			continue
		}
		if q := p.flow[l]; q > 0 {
			if k.short == none || k.over == none {
				p.undo(undo)
				return false
			}
			if lack[k.short] == 0 {
				short = append(short, k.short)
			}
			lack[k.short] += q
			need[k.over] += q
			undo = append(undo, change{l, q})
			p.flow[l] = 0
		}
	}
	gone := func(l int32) bool {
		return uses[l] == 0 || uses[l] == 1 && slices.Contains(p.t.acts[a].links, l)
	}
	for _, s := range short {
		for lack[s] > 0 {
			way, q := p.way(s, lack[s], need, gone)
			if q == 0 {
				p.undo(undo)
				return false
			}
			for i, l := range way {
				d := q
				if i%2 == 1 {
					d = -q
				}
				p.flow[l] += d
				undo = append(undo, change{l, -d})
			}
			lack[s] -= q
			need[p.t.links[way[len(way)-1]].over] -= q
		}
	}
	for _, l := range p.t.acts[a].links {
		uses[l]--
	}
	return true
}

type change struct {
	link, qty int32
}

func (p *plan) undo(changes []change) {
	for _, c := range changes {
		p.flow[c.link] += c.qty
	}
}

// way finds the shortest way from a short to an over that needs pieces: forth
// through a link that stays, back through one that carries some. It gives the
// links and how many pieces can go, at most limit; 0 if there is no way.
func (p *plan) way(from, limit int32, need map[int32]int32, gone func(int32) bool) (way []int32, q int32) {
	via := map[int32]int32{from: none}
	queue := []int32{from}
	for len(queue) > 0 {
		e := queue[0]
		queue = queue[1:]
		out := p.t.entries[e].Sign < 0
		for _, l := range p.of[e] {
			k := &p.t.links[l]
			y := k.over
			if !out {
				y = k.short
			}
			if y == none || gone(l) || !out && p.flow[l] == 0 {
				continue
			}
			if _, seen := via[y]; seen {
				continue
			}
			via[y] = l
			queue = append(queue, y)
			if out && need[y] > 0 {
				return p.back(via, y, min(limit, need[y]))
			}
		}
	}
	return nil, 0
}

// back walks a way from its end to its beginning.
func (p *plan) back(via map[int32]int32, e, q int32) ([]int32, int32) {
	var way []int32
	for l := via[e]; l != none; l = via[e] {
		way = append(way, l)
		k := &p.t.links[l]
		if len(way)%2 == 1 {
			e = k.short
		} else {
			q = min(q, p.flow[l])
			e = k.over
		}
	}
	slices.Reverse(way)
	return way, q
}
