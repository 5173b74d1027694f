package ledger

import (
	"fmt"
	"slices"

	"countback/events"
)

// auditor is the same bookkeeping in the plainest way: one map, one list, no
// numbers instead of names, no log. It only counts.
type auditor struct {
	held    map[place]int
	items   []Item // in the order in which the book met them
	entries []note
}

type place struct {
	at events.Place
	it Item
}

type note struct {
	at    events.Place
	it    Item
	sign  Sign
	open  int
	shown Fact
}

func (a *auditor) meet(it Item) Item {
	if !slices.Contains(a.items, it) {
		a.items = append(a.items, it)
	}
	return it
}

func like(said, it Item) bool {
	return said.Kind == it.Kind && (said.Cond == "" || said.Cond == it.Cond) &&
		(said.Lot == "" || said.Lot == it.Lot) && (said.Origin == "" || said.Origin == it.Origin)
}

func owes(at events.Place) bool { return ClassOf(at) == Outside }

// some lists what a place holds that is like what was said, in order.
func (a *auditor) some(at events.Place, said Item) (list []Item) {
	for _, it := range a.items {
		if like(said, it) && a.held[place{at, it}] > 0 {
			list = append(list, it)
		}
	}
	return list
}

func (a *auditor) shift(from, to place, n int) {
	a.held[from] -= n
	a.held[to] += n
}

func (a *auditor) note(f Fact, at events.Place, it Item, sign Sign, n int) events.Place {
	a.entries = append(a.entries, note{at, it, sign, n, f})
	return events.Place(fmt.Sprintf("unexplained/%d", len(a.entries)))
}

func (a *auditor) move(f Fact, said Item, n int, from, to events.Place) {
	for _, it := range a.some(from, said) {
		q := min(n, a.held[place{from, it}])
		a.shift(place{from, it}, place{to, it}, q)
		n -= q
	}
	if n == 0 {
		return
	}
	it := a.meet(said)
	if !owes(from) {
		from = a.note(f, from, it, Over, n)
	}
	a.shift(place{from, it}, place{to, it}, n)
}

func (a *auditor) count(f Fact, at events.Place, said Item, n int) {
	have, last := 0, said
	for _, it := range a.some(at, said) {
		have += a.held[place{at, it}]
		last = it
	}
	if n > have {
		a.meet(last)
		k := a.note(f, at, last, Over, n-have)
		a.shift(place{k, last}, place{at, last}, n-have)
	}
	for _, it := range a.some(at, said) {
		if q := min(have-n, a.held[place{at, it}]); q > 0 {
			a.shift(place{at, it}, place{a.note(f, at, it, Short, q), it}, q)
			have -= q
		}
	}
}

func (a *auditor) countAll(f Fact, at events.Place, rows []Item, ns []int) {
	for i, said := range rows {
		a.count(f, at, said, ns[i])
	}
	for _, it := range a.items {
		named := false
		for _, said := range rows {
			named = named || like(said, it)
		}
		if q := a.held[place{at, it}]; q > 0 && !named {
			a.shift(place{at, it}, place{a.note(f, at, it, Short, q), it}, q)
		}
	}
}

func (a *auditor) turn(f Fact, said Item, c events.Condition, n int, at events.Place) {
	already := 0
	for _, it := range a.some(at, said) {
		if it.Cond == c {
			already += a.held[place{at, it}]
		}
	}
	for _, it := range a.some(at, said) {
		if it.Cond == c || n == 0 {
			continue
		}
		q := min(n, a.held[place{at, it}])
		into := it
		into.Cond = c
		a.shift(place{at, it}, place{at, a.meet(into)}, q)
		n -= q
	}
	if n > already {
		it, into := a.meet(said), said
		into.Cond = c
		k := a.note(f, at, it, Over, n-already)
		a.shift(place{k, it}, place{at, a.meet(into)}, n-already)
	}
}
