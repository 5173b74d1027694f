package ledger

import (
	"fmt"
	"maps"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
)

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
		where := map[AccountID]int32{}
		for a := AccountID(1); int(a) <= m.b.Accounts(); a++ {
			if n := m.b.Balance(a, OfKind(m.b.Kind(k))); n != 0 {
				where[a] = n
			}
		}
		require.Equal(t, where, maps.Collect(m.b.Where(OfKind(m.b.Kind(k)))))
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
