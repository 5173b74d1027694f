package share

import (
	"cmp"
	"slices"
	"sort"

	"countback/events"
)

// table is the needs and supplies with what could go from where to where.
type table struct {
	needs    []Need
	supplies []Supply
	order    []int32 // needs as they are served
	first    []int32 // by need: its first arc
	arcs     []arc   // by need, the cheapest first
	used     []int32 // by supply: its first arc in users
	users    []int32 // by supply: its arcs
	sets     []int32 // the numbers of the sets, in the order served
	lots     map[int32][]events.Lot
	*search
}

// arc is a supply that will do for a need, and at what price.
type arc struct {
	id, need, supply int32
	price            int32
}

func newTable(needs []Need, supplies []Supply) *table {
	t := &table{needs: needs, supplies: supplies, first: make([]int32, len(needs)+1),
		used: make([]int32, len(supplies)+1), order: make([]int32, len(needs)),
		search: newSearch(len(needs) + len(supplies) + 1)}
	by := usable(supplies)
	room := 0
	for i := range needs {
		for _, c := range needs[i].Accept {
			room += len(by.of(c))
		}
	}
	t.arcs = make([]arc, 0, room)
	for i := range needs {
		t.order[i] = int32(i)
		t.accept(int32(i), &by)
		t.first[i+1] = int32(len(t.arcs))
	}
	slices.SortStableFunc(t.order, func(a, b int32) int {
		x, y := &needs[a], &needs[b]
		return cmp.Or(behind(x)-behind(y), cmp.Compare(x.Step, y.Step))
	})
	t.listUsers()
	t.listLots()
	return t
}

// byClass is the supplies that can be used, those of one class together.
type byClass struct {
	supplies []Supply
	list     []int32
}

func usable(supplies []Supply) byClass {
	b := byClass{supplies, make([]int32, 0, len(supplies))}
	for i := range supplies {
		if s := &supplies[i]; s.Usable && s.Qty > 0 {
			b.list = append(b.list, int32(i))
		}
	}
	slices.SortStableFunc(b.list, func(x, y int32) int { return cmp.Compare(supplies[x].Class, supplies[y].Class) })
	return b
}

// of lists the supplies of a class, in their order.
func (b *byClass) of(c Class) []int32 {
	from := sort.Search(len(b.list), func(i int) bool { return b.supplies[b.list[i]].Class >= c })
	to := from
	for to < len(b.list) && b.supplies[b.list[to]].Class == c {
		to++
	}
	return b.list[from:to]
}

// listUsers lists the arcs again, by supply.
func (t *table) listUsers() {
	for i := range t.arcs {
		t.arcs[i].id = int32(i)
		t.used[t.arcs[i].supply+1]++
	}
	for s := range t.supplies {
		t.used[s+1] += t.used[s]
	}
	t.users = make([]int32, len(t.arcs))
	next := slices.Clone(t.used)
	for i := range t.arcs {
		s := t.arcs[i].supply
		t.users[next[s]] = int32(i)
		next[s]++
	}
}

func behind(n *Need) int {
	if n.Released {
		return 1
	}
	return 0
}

// accept lists the supplies that will do for a need, each once at its best
// price, the cheapest first.
func (t *table) accept(i int32, by *byClass) {
	n := &t.needs[i]
	from := len(t.arcs)
	for rank, c := range n.Accept {
		if slices.Contains(n.Accept[:rank], c) {
			continue
		}
		for _, s := range by.of(c) {
			price := int32(rank)
			if n.Own == 0 || t.supplies[s].Place != n.Own {
				price += int32(len(n.Accept))
			}
			if n.Set == 0 || t.supplies[s].Lot != "" {
				t.arcs = append(t.arcs, arc{need: i, supply: s, price: price})
			}
		}
	}
	slices.SortStableFunc(t.arcs[from:], func(a, b arc) int { return cmp.Compare(a.price, b.price) })
}

// listLots finds for each set the lots that could serve some of it.
func (t *table) listLots() {
	t.lots = make(map[int32][]events.Lot)
	for _, i := range t.order {
		set := t.needs[i].Set
		if set == 0 {
			continue
		}
		if _, ok := t.lots[set]; !ok {
			t.sets = append(t.sets, set)
			t.lots[set] = nil
		}
		for _, a := range t.arcs[t.first[i]:t.first[i+1]] {
			if lot := t.supplies[a.supply].Lot; !slices.Contains(t.lots[set], lot) {
				t.lots[set] = append(t.lots[set], lot)
			}
		}
	}
}

// choose finds the lots of the sets for which the needs are served best, and
// how they are served.
func (t *table) choose() (best *flow, exact bool) {
	ways := 1
	for _, set := range t.sets {
		if ways *= max(1, len(t.lots[set])); ways > maxTried {
			return t.oneByOne(), false
		}
	}
	t.each(map[int32]events.Lot{}, 0, func(lot map[int32]events.Lot) {
		if f := t.serve(lot); best == nil || f.better(best) {
			best = f
		}
	})
	return best, true
}

// each goes through the ways to choose a lot for every set.
func (t *table) each(lot map[int32]events.Lot, i int, do func(map[int32]events.Lot)) {
	if i == len(t.sets) {
		do(lot)
		return
	}
	set := t.sets[i]
	lot[set] = ""
	for _, l := range t.lots[set] {
		lot[set] = l
		t.each(lot, i+1, do)
	}
	if len(t.lots[set]) == 0 {
		t.each(lot, i+1, do)
	}
}

// oneByOne chooses for each set in order the lot that is best while the later
// sets may still take from any.
func (t *table) oneByOne() (best *flow) {
	lot := map[int32]events.Lot{}
	for _, set := range t.sets {
		best = nil
		var chosen events.Lot
		for _, l := range t.lots[set] {
			lot[set] = l
			if f := t.serve(lot); best == nil || f.better(best) {
				best, chosen = f, l
			}
		}
		lot[set] = chosen
	}
	return t.serve(lot)
}
