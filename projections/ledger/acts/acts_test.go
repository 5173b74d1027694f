package acts

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
	"countback/projections/ledger"
)

func below(id int32, p events.Place, k events.Kind, q int32, after, before int64) Entry {
	return Entry{ID: id, Place: p, Kind: k, Sign: ledger.Short, Qty: q, After: after, Before: before}
}

func above(id int32, p events.Place, k events.Kind, q int32, after, before int64) Entry {
	return Entry{ID: id, Place: p, Kind: k, Sign: ledger.Over, Qty: q, After: after, Before: before}
}

func still(e Entry) Entry {
	e.Undisturbed = true
	return e
}

func TestOneGroup(t *testing.T) {
	long := func(a, b events.Kind) bool { return a == "M8x30" && b == "M8x35" || a == "M8x35" && b == "M8x30" }
	for _, c := range []struct {
		name    string
		entries []Entry
		want    []Act
		left    []Left
	}{
		{"one bag tipped into another moves several kinds at once",
			[]Entry{below(1, "bag/A", "M8x30", 4, 1, 9), below(2, "bag/A", "M10", 2, 1, 9), above(3, "bag/B", "M8x30", 4, 3, 8), above(4, "bag/B", "M10", 2, 3, 8)},
			[]Act{{Moved, "bag/A", "bag/B", 3, 8, []Piece{{1, 3, "M8x30", "M8x30", 4, false}, {2, 4, "M10", "M10", 2, false}}}}, nil},
		{"a swap covers four entries",
			[]Entry{below(1, "bag/A", "M8x30", 4, 1, 9), above(2, "bag/A", "M10", 2, 1, 9), above(3, "bag/B", "M8x30", 4, 3, 8), below(4, "bag/B", "M10", 2, 3, 8)},
			[]Act{{Swapped, "bag/A", "bag/B", 3, 8, []Piece{{1, 3, "M8x30", "M8x30", 4, false}, {4, 2, "M10", "M10", 2, true}}}}, nil},
		{"between jobs",
			[]Entry{below(1, "K7 bag/A", "M8x30", 1, 1, 9), above(2, "P2 bag/Z", "M8x30", 1, 5, 20)},
			[]Act{{Moved, "K7 bag/A", "P2 bag/Z", 5, 9, []Piece{{1, 2, "M8x30", "M8x30", 1, false}}}}, nil},
		{"short ones taken for long ones in one bag",
			[]Entry{below(1, "bag/A", "M8x30", 2, 1, 9), above(2, "bag/A", "M8x35", 2, 1, 9)},
			[]Act{{Confused, "bag/A", "bag/A", 1, 9, []Piece{{1, 2, "M8x30", "M8x35", 2, false}}}}, nil},
		{"moved and taken for long ones",
			[]Entry{below(1, "bag/A", "M8x30", 2, 1, 9), above(2, "bag/B", "M8x35", 2, 1, 9)},
			[]Act{{Moved, "bag/A", "bag/B", 1, 9, []Piece{{1, 2, "M8x30", "M8x35", 2, false}}}}, nil},
		{"the next count takes it back",
			[]Entry{below(1, "bag/A", "M8x30", 2, 1, 9), above(2, "bag/A", "M8x30", 2, 9, 20)},
			[]Act{{Miscounted, "bag/A", "bag/A", 8, 9, []Piece{{1, 2, "M8x30", "M8x30", 2, false}}}}, nil},
		{"a container that nobody was at",
			[]Entry{still(above(1, "bag/A", "M8x30", 2, 1, 9))},
			[]Act{{Miscounted, "bag/A", "bag/A", 1, 9, []Piece{{0, 1, "M8x30", "M8x30", 2, false}}}}, nil},
		{"a part of it",
			[]Entry{below(1, "bag/A", "M8x30", 4, 1, 9), above(2, "bag/B", "M8x30", 1, 1, 9)},
			[]Act{{Moved, "bag/A", "bag/B", 1, 9, []Piece{{1, 2, "M8x30", "M8x30", 1, false}}}}, []Left{{1, 3}}},
		{"two moments are two acts",
			[]Entry{below(1, "bag/A", "M8x30", 2, 1, 20), above(2, "bag/B", "M8x30", 1, 1, 9), above(3, "bag/B", "M8x30", 1, 9, 20)},
			[]Act{{Moved, "bag/A", "bag/B", 1, 9, []Piece{{1, 2, "M8x30", "M8x30", 1, false}}},
				{Moved, "bag/A", "bag/B", 9, 20, []Piece{{1, 3, "M8x30", "M8x30", 1, false}}}}, nil},
	} {
		xs := Explain(c.entries, long)
		require.Len(t, xs, 1, c.name)
		require.Equal(t, 1, xs[0].Equal, c.name)
		require.Equal(t, c.want, xs[0].Answers[0].Acts, c.name)
		require.Equal(t, c.left, xs[0].Answers[0].Left, c.name)
		require.True(t, xs[0].Exact && !xs[0].More, c.name)
		require.Zero(t, xs[0].Tell, c.name)
	}
}

func TestWhatHasNoPartnerIsLeft(t *testing.T) {
	for _, c := range []struct {
		why     string
		entries []Entry
	}{
		{"alone", []Entry{below(1, "A", "M8", 2, 1, 9)}},
		{"two shorts", []Entry{below(1, "A", "M8", 2, 1, 9), below(2, "B", "M8", 2, 1, 9)}},
		{"other kinds", []Entry{below(1, "A", "M8", 2, 1, 9), above(2, "B", "M10", 2, 1, 9)}},
		{"the one before the other", []Entry{below(1, "A", "M8", 2, 1, 9), above(2, "B", "M8", 2, 9, 20)}},
		{"no time at all", []Entry{below(1, "A", "M8", 2, 9, 9), above(2, "B", "M8", 2, 1, 20)}},
		{"counted in between and found right", []Entry{below(1, "A", "M8", 2, 1, 9), above(2, "A", "M8", 2, 10, 20)}},
	} {
		xs := Explain(c.entries, nil)
		require.Len(t, xs, len(c.entries), c.why)
		for i, x := range xs {
			require.Equal(t, []Answer{{Acts: []Act{}, Left: []Left{{c.entries[i].ID, 2}}}}, x.Answers, c.why)
			require.True(t, x.Exact, c.why)
		}
	}
	require.Empty(t, Explain([]Entry{below(1, "A", "M8", 0, 1, 9), {ID: 2, Place: "A", Kind: "M8", Qty: 1, Before: 2}}, nil))
	require.Empty(t, Explain(nil, nil))
}

func TestTheCountThatTellsAnswersApart(t *testing.T) {
	// Either bag could have given the piece: no count can say which.
	xs := Explain([]Entry{below(1, "A", "M8", 1, 1, 9), below(2, "B", "M8", 1, 1, 9), above(3, "C", "M8", 1, 1, 9)}, nil)
	require.Equal(t, 2, xs[0].Equal)
	require.Equal(t, Tell{Place: "C"}, xs[0].Tell, "the piece is in C: look at it")

	// Two bolts of one length and one of another are short, one is over; what
	// it is decides from where it came.
	xs = Explain([]Entry{below(1, "A", "M8x30", 1, 1, 9), below(2, "B", "M8x35", 1, 1, 9), above(3, "C", "M8x40", 1, 1, 9)},
		func(a, b events.Kind) bool { return true })
	require.Equal(t, 2, xs[0].Equal)
	require.Equal(t, Tell{Place: "C", Count: true}, xs[0].Tell)
}

func TestLikelierComesFirst(t *testing.T) {
	// All of the three from B explain C and leave one entry; three of the four
	// from A would leave two.
	xs := Explain([]Entry{below(1, "A", "M8", 4, 1, 9), below(2, "B", "M8", 3, 1, 9), above(3, "C", "M8", 3, 1, 9)}, nil)
	require.Len(t, xs[0].Answers, 2)
	require.Equal(t, 1, xs[0].Equal)
	require.Equal(t, events.Place("B"), xs[0].Answers[0].Acts[0].From)
	require.Equal(t, int64(2_000_000-2), xs[0].Answers[0].Likelihood, "thirds are rounded down")

	// Nobody was at A, somebody was at B.
	xs = Explain([]Entry{still(below(1, "A", "M8", 1, 1, 9)), below(2, "B", "M8", 1, 1, 9), above(3, "C", "M8", 1, 1, 9)}, nil)
	require.Equal(t, 1, xs[0].Equal)
	require.Len(t, xs[0].Answers[0].Acts, 2, "B moved, and A was miscounted: all is explained")
}

// TestLargeGroup says that it is approximate, explains as many pieces as can
// be, and holds no act too many.
func TestLargeGroup(t *testing.T) {
	for seed := range uint64(6) {
		es := shuffled(seed, 40, 12, 2)
		for _, x := range Explain(es, nil) {
			sound(t, es, x, x.Answers[0])
			if len(x.Entries) <= MaxExact {
				continue
			}
			require.False(t, x.Exact)
			require.True(t, x.More)
		}
	}
}

// TestTransportAgainstSearch holds the approximation against the exact answer
// where both can be had.
func TestTransportAgainstSearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		es := someEntries(t, 4, 10)
		tab := newTable(es, alike)
		tab.link()
		tab.choose()
		for _, g := range tab.groups() {
			best, _, ok := tab.exact(g)
			require.True(t, ok)
			got := tab.transport(g)
			x := Explanation{}
			for _, e := range g.entries {
				x.Entries = append(x.Entries, tab.entries[e].ID)
			}
			sound(t, es, x, got)
			require.Equal(t, total(best[0].Left), total(got.Left), "as many pieces as can be")
			require.GreaterOrEqual(t, len(got.Acts), len(best[0].Acts))
		}
	})
}

func total(left []Left) (n int32) {
	for _, l := range left {
		n += l.Qty
	}
	return n
}

func TestExplainIsDeterministic(t *testing.T) {
	es := shuffled(3, 60, 20, 3)
	first := Explain(es, alike)
	for range 3 {
		require.Equal(t, first, Explain(es, alike))
	}
}
