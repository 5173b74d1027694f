package ledger

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

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
	if n > 0 {
		it, into := a.meet(said), said
		into.Cond = c
		k := a.note(f, at, it, Over, n)
		a.shift(place{k, it}, place{at, a.meet(into)}, n)
	}
}

var (
	places = []events.Place{"fitted/block/front-cover", "bag/B2KCZ6EE", "bag/B2KP34V5", "bench/2/front-cover", "scrap"}
	beyond = []events.Place{"outside/arrived", "outside/drawer"}
	kinds  = []events.Kind{"M8x1.25x30", "M8x1.25x45", "M10x1.5x50"}
	conds  = []events.Condition{"", events.New, events.Used}
	seats  = []events.Seat{"", "front-cover:18"}
)

func anItem(t *rapid.T) Item {
	return Item{Kind: rapid.SampledFrom(kinds).Draw(t, "kind"), Cond: rapid.SampledFrom(conds).Draw(t, "cond"),
		Origin: rapid.SampledFrom(seats).Draw(t, "origin")}
}

// machine drives a book and the auditor side by side.
type machine struct {
	b    *Book
	a    *auditor
	f    Fact
	redo []func(*Book)
}

func (m *machine) do(step func(*Book)) {
	step(m.b)
	m.redo = append(m.redo, step)
}

func (m *machine) post(t *rapid.T) {
	it, n := anItem(t), rapid.IntRange(-1, 6).Draw(t, "n")
	all := append(slices.Clone(beyond), places...)
	from, to := rapid.SampledFrom(all).Draw(t, "from"), rapid.SampledFrom(all).Draw(t, "to")
	want := n > 0 && from != to && (owes(from) || m.a.held[place{from, it}] >= n)
	f := m.f
	m.do(func(b *Book) {
		require.Equal(t, want, b.Post(f, b.Item(it), int32(n), b.Account(from), b.Account(to)))
	})
	m.a.meet(it)
	if want {
		m.a.shift(place{from, it}, place{to, it}, n)
	}
}

func (m *machine) move(t *rapid.T) {
	it, n := anItem(t), rapid.IntRange(1, 6).Draw(t, "n")
	from := rapid.SampledFrom(append(slices.Clone(beyond), places...)).Draw(t, "from")
	to := rapid.SampledFrom(places).Draw(t, "to")
	if from == to {
		return
	}
	f := m.f
	m.do(func(b *Book) { b.Move(f, b.Like(it), int32(n), b.Account(from), b.Account(to)) })
	m.a.move(f, it, n, from, to)
}

func (m *machine) count(t *rapid.T) {
	it, n := anItem(t), rapid.IntRange(0, 8).Draw(t, "n")
	at := rapid.SampledFrom(places).Draw(t, "at")
	f := m.f
	m.do(func(b *Book) { b.Count(f, events.CountedOpen, b.Account(at), b.Like(it), int32(n)) })
	m.a.count(f, at, it, n)
}

func (m *machine) countAll(t *rapid.T) {
	at := rapid.SampledFrom(places).Draw(t, "at")
	var rows []Item
	var ns []int
	for _, k := range kinds {
		if rapid.Bool().Draw(t, "row") {
			rows, ns = append(rows, Item{Kind: k}), append(ns, rapid.IntRange(0, 8).Draw(t, "n"))
		}
	}
	f := m.f
	m.do(func(b *Book) {
		var numbers []Number
		for i, it := range rows {
			numbers = append(numbers, Number{b.Like(it), int32(ns[i])})
		}
		b.CountAll(f, events.CountedBlind, b.Account(at), numbers, true)
	})
	m.a.countAll(f, at, rows, ns)
}

func (m *machine) turn(t *rapid.T) {
	it, n := anItem(t), rapid.IntRange(1, 4).Draw(t, "n")
	c := rapid.SampledFrom(conds).Draw(t, "into")
	at := rapid.SampledFrom(places).Draw(t, "at")
	if it.Cond == c {
		return
	}
	f := m.f
	m.do(func(b *Book) { b.Turn(f, b.Like(it), c, int32(n), b.Account(at)) })
	m.a.turn(f, it, c, n, at)
}

func (m *machine) close(t *rapid.T) {
	k, n := rapid.IntRange(1, 12).Draw(t, "entry"), rapid.IntRange(1, 4).Draw(t, "n")
	at := rapid.SampledFrom(append(slices.Clone(beyond), places...)).Draw(t, "against")
	f, want := m.f, false
	if k <= len(m.a.entries) {
		e := &m.a.entries[k-1]
		own := place{events.Place(fmt.Sprintf("unexplained/%d", k)), e.it}
		want = e.open >= n && (e.sign == Short || owes(at) || m.a.held[place{at, e.it}] >= n)
		if want {
			e.open -= n
			m.a.shift(own, place{at, e.it}, n*-int(e.sign))
		}
	}
	m.do(func(b *Book) {
		require.Equal(t, want, b.Close(f, EntryNo(k), events.Found, int32(n), b.Account(at)))
	})
}

func (m *machine) pair(t *rapid.T) {
	k, j := rapid.IntRange(1, 12).Draw(t, "short"), rapid.IntRange(1, 12).Draw(t, "over")
	n, f, want := rapid.IntRange(1, 4).Draw(t, "n"), m.f, false
	if max(k, j) <= len(m.a.entries) {
		s, o := &m.a.entries[k-1], &m.a.entries[j-1]
		want = s.sign == Short && o.sign == Over && s.open >= n && o.open >= n
		if want {
			s.open -= n
			o.open -= n
			m.a.held[place{events.Place(fmt.Sprintf("unexplained/%d", k)), s.it}] -= n
			m.a.held[place{events.Place(fmt.Sprintf("unexplained/%d", j)), o.it}] += n
			if s.it.Kind != o.it.Kind {
				m.a.held[place{beyond[0], s.it}] += n
				m.a.held[place{beyond[0], o.it}] -= n
			}
		}
	}
	m.do(func(b *Book) {
		require.Equal(t, want, b.Pair(f, EntryNo(k), EntryNo(j), int32(n), b.Account(beyond[0])))
	})
}

// check holds book and auditor against each other.
func (m *machine) check(t *rapid.T) {
	m.f += Fact(rapid.IntRange(0, 1).Draw(t, "next fact"))
	require.NoError(t, m.b.Verify())
	got := map[place]int{}
	for a := AccountID(1); int(a) <= m.b.Accounts(); a++ {
		for it, n := range m.b.At(a) {
			got[place{m.b.Path(a), m.b.ItemName(it)}] = int(n)
		}
	}
	want := map[place]int{}
	for p, n := range m.a.held {
		if n != 0 {
			want[p] = n
		}
	}
	require.Equal(t, want, got)
	require.Equal(t, len(m.a.entries), m.b.Entries())
	for i, n := range m.a.entries {
		e := m.b.Entry(EntryNo(i + 1))
		require.Equal(t, n, note{m.b.Path(e.Place), m.b.ItemName(e.Item), e.Sign, int(e.Open), e.Shown})
	}
	for _, k := range kinds {
		sum := int32(0)
		for _, n := range m.b.Tally(OfKind(m.b.Kind(k))) {
			sum += n
		}
		require.Zero(t, sum, k)
	}
}

// TestBookKeepsWhatTheAuditorCounts drives random facts through the book.
func TestBookKeepsWhatTheAuditorCounts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := &machine{b: New(), a: &auditor{held: map[place]int{}}, f: 1}
		for _, k := range kinds { // the order in which items are met decides which are taken
			m.do(func(b *Book) { b.Kind(k) })
		}
		var kept *Book
		t.Repeat(map[string]func(*rapid.T){
			"post": m.post, "move": m.move, "count": m.count, "count all": m.countAll, "turn": m.turn,
			"close": m.close, "pair": m.pair, "clone": func(t *rapid.T) { kept = m.b; m.b = m.b.Clone() }, "": m.check,
		})
		again := New()
		if kept != nil {
			kept.Reset() // a book that was used before folds as a new one does
			again = kept
		}
		for _, step := range m.redo {
			step(again)
		}
		require.Equal(t, m.b.Log(), again.Log())
		require.Equal(t, m.b.entries, again.entries)
	})
}
