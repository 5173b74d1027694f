package acts

import (
	"cmp"
	"slices"
)

// explained is more than any likelihood: an answer explains as many pieces as
// it can before it is likely.
const explained = int64(1) << 46

// answer allots the pieces of a group to a set of acts, as many as these can
// explain and in the likeliest way.
func (t *table) answer(g *group, acts []int32) Answer {
	var used []int32
	var of []int32
	taken := map[int32]bool{}
	for i, a := range acts {
		for _, l := range t.acts[a].links {
			if !taken[l] {
				taken[l] = true
				used, of = append(used, l), append(of, int32(i))
			}
		}
	}
	flow := t.allot(g, used, func(l int32) int64 { return t.links[l].weight })
	ans := Answer{Acts: make([]Act, len(acts))}
	left := make(map[int32]int32, len(g.entries))
	for i := range ans.Acts {
		var mine, qty []int32
		for j, l := range used {
			if of[j] == int32(i) && flow[j] > 0 {
				mine, qty = append(mine, l), append(qty, flow[j])
				ans.Likelihood += t.links[l].weight * int64(flow[j])
				t.eachEnd(l, func(e int32) { left[e] += flow[j] })
			}
		}
		ans.Acts[i] = t.act(mine, qty)
	}
	ans.Acts = slices.DeleteFunc(ans.Acts, func(a Act) bool { return len(a.Pieces) == 0 })
	slices.SortFunc(ans.Acts, func(a, b Act) int {
		return cmp.Or(cmp.Compare(a.Before, b.Before), cmp.Compare(a.Pieces[0].Short, b.Pieces[0].Short),
			cmp.Compare(a.Pieces[0].Over, b.Pieces[0].Over))
	})
	for _, e := range g.entries {
		if q := t.entries[e].Qty - left[e]; q > 0 {
			ans.Left = append(ans.Left, Left{t.entries[e].ID, q})
		}
	}
	return ans
}

func (t *table) eachEnd(l int32, do func(int32)) {
	for _, e := range []int32{t.links[l].short, t.links[l].over} {
		if e != none {
			do(e)
		}
	}
}

// allot gives each of the links its pieces: the most explained, then the most
// of what a piece is worth on its link.
func (t *table) allot(g *group, links []int32, worth func(int32) int64) []int32 {
	node := make(map[int32]int32, len(g.entries))
	n := newNetwork(len(g.entries) + 2)
	for i, e := range g.entries {
		node[e] = int32(i + 2)
		if t.entries[e].Sign < 0 {
			n.arc(0, node[e], t.entries[e].Qty, 0)
		} else {
			n.arc(node[e], 1, t.entries[e].Qty, 0)
		}
	}
	arcs := make([]int32, len(links))
	for i, l := range links {
		k := &t.links[l]
		switch {
		case k.over == none:
			arcs[i] = n.arc(node[k.short], 1, 1<<30, -explained-worth(l))
		case k.short == none:
			arcs[i] = n.arc(0, node[k.over], 1<<30, -explained-worth(l))
		default:
			arcs[i] = n.arc(node[k.short], node[k.over], 1<<30, -2*explained-worth(l))
		}
	}
	n.run()
	flow := arcs
	for i, a := range arcs {
		flow[i] = n.carried(a)
	}
	return flow
}

// act puts links and their pieces into words.
func (t *table) act(links, qty []int32) Act {
	if len(links) == 0 {
		return Act{}
	}
	k := t.links[links[0]].key
	a := Act{Deed: k.deed}
	a.After, a.Before = t.window(links)
	forth, back := int32(0), int32(0)
	for i, l := range links {
		p := t.piece(l, qty[i])
		if e := t.links[l].short; k.deed == Moved && t.place[e] == k.b {
			p.Back = true
			back += p.Qty
		} else {
			forth += p.Qty
		}
		a.Pieces = append(a.Pieces, p)
	}
	from, to := k.a, k.b
	if forth == 0 || back > forth {
		from, to = to, from
		for i := range a.Pieces {
			a.Pieces[i].Back = !a.Pieces[i].Back
		}
	}
	if k.deed == Moved && forth > 0 && back > 0 {
		a.Deed = Swapped
	}
	if k.deed != Moved {
		from, to = k.a, k.a
		for i := range a.Pieces {
			a.Pieces[i].Back = false
		}
	}
	a.From, a.To = t.names[from], t.names[to]
	return a
}

func (t *table) piece(l, qty int32) Piece {
	k := &t.links[l]
	p := Piece{Qty: qty}
	if k.short != none {
		p.Short, p.Kind = t.entries[k.short].ID, t.entries[k.short].Kind
		p.As = p.Kind
	}
	if k.over != none {
		p.Over, p.As = t.entries[k.over].ID, t.entries[k.over].Kind
		if k.short == none {
			p.Kind = p.As
		}
	}
	return p
}

// same says whether two answers say the same.
func same(a, b Answer) bool {
	return slices.Equal(a.Left, b.Left) && slices.EqualFunc(a.Acts, b.Acts, func(x, y Act) bool {
		return x.Deed == y.Deed && x.From == y.From && x.To == y.To && slices.Equal(x.Pieces, y.Pieces)
	})
}
