package acts

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
	"countback/projections/ledger"
)

// way is one way of explaining pieces, as the slow oracle sees it.
type way struct {
	short, over int // places in the list of entries, -1 for none
	what        string
	lo, hi      int64
	worth       int64
}

// ways lists every way, from the words of the package alone.
func ways(es []Entry, confusable func(a, b events.Kind) bool) (all []way) {
	for i, s := range es {
		if s.Undisturbed && s.After < s.Before {
			w := way{i, -1, fmt.Sprint("miscounted ", s.Place, s.Before), s.Before - 1, s.Before, 1_000_000 / int64(s.Qty)}
			if s.Sign == ledger.Over {
				w.short, w.over = -1, i
			}
			all = append(all, w)
		}
		for j, o := range es {
			if s.Sign == ledger.Short && o.Sign == ledger.Over {
				if w, ok := together(s, o, confusable); ok {
					w.short, w.over = i, j
					all = append(all, w)
				}
			}
		}
	}
	return all
}

func together(s, o Entry, confusable func(a, b events.Kind) bool) (w way, ok bool) {
	w.lo, w.hi = max(s.After, o.After), min(s.Before, o.Before)
	share := func(q Entry) int64 { return 1_000_000 / int64(q.Qty) }
	w.worth = share(s) + share(o)
	if s.Kind != o.Kind && !confusable(s.Kind, o.Kind) {
		return w, false
	}
	if s.Place == o.Place && s.Kind == o.Kind {
		w.what, ok = fmt.Sprint("miscounted ", s.Place, w.hi), w.lo <= w.hi
		w.lo = w.hi - 1
		return w, ok
	}
	if s.Place == o.Place {
		w.what = fmt.Sprint("confused ", s.Place, s.Kind, o.Kind)
		return w, w.lo < w.hi
	}
	w.what = fmt.Sprint("moved ", min(s.Place, o.Place), max(s.Place, o.Place))
	if s.Undisturbed {
		w.worth -= share(s) / 2
	}
	if o.Undisturbed {
		w.worth -= share(o) / 2
	}
	if s.Kind != o.Kind {
		w.worth -= 500_000
	}
	return w, w.lo < w.hi
}

// truth is the best that any allotment of pieces reaches.
type truth struct {
	left, acts int
	likely     int64
	answers    map[string]bool // what was done, without times and pieces
}

// brute tries every allotment of every piece.
func brute(es []Entry, confusable func(a, b events.Kind) bool) truth {
	all := ways(es, confusable)
	rest := make([]int, len(es))
	for i, e := range es {
		rest[i] = int(e.Qty)
	}
	best := truth{left: 1 << 30}
	on := make([]int, len(all))
	var try func(i int)
	try = func(i int) {
		if i == len(all) {
			best.take(all, on, rest)
			return
		}
		room := 1 << 30
		for _, e := range []int{all[i].short, all[i].over} {
			if e >= 0 {
				room = min(room, rest[e])
			}
		}
		for q := 0; q <= room; q++ {
			on[i] = q
			shift(rest, all[i], -q)
			try(i + 1)
			shift(rest, all[i], q)
		}
		on[i] = 0
	}
	try(0)
	return best
}

func shift(rest []int, w way, q int) {
	for _, e := range []int{w.short, w.over} {
		if e >= 0 {
			rest[e] += q
		}
	}
}

func (b *truth) take(all []way, on, rest []int) {
	left := 0
	for _, r := range rest {
		left += r
	}
	if left > b.left {
		return
	}
	done, likely := map[string][]way{}, int64(0)
	for i, w := range all {
		if on[i] > 0 {
			done[w.what] = append(done[w.what], w)
			likely += w.worth * int64(on[i])
		}
	}
	var names []string
	for what, ws := range done {
		for range moments(ws) {
			names = append(names, what)
		}
	}
	slices.Sort(names)
	switch c := cmp.Or(cmp.Compare(left, b.left), cmp.Compare(len(names), b.acts), cmp.Compare(b.likely, likely)); {
	case c > 0:
		return
	case c < 0:
		*b = truth{left, len(names), likely, map[string]bool{}}
	}
	b.answers[strings.Join(names, "; ")] = true
}

// moments is the fewest moments that meet all of the ways' intervals.
func moments(ws []way) (n int) {
	slices.SortFunc(ws, func(a, b way) int { return cmp.Compare(a.hi, b.hi) })
	last := int64(-1 << 62)
	for _, w := range ws {
		if w.lo >= last {
			last = w.hi
			n++
		}
	}
	return n
}

// short is what an answer says was done, without times and pieces.
func short(a Answer) (names []string) {
	for _, x := range a.Acts {
		switch x.Deed {
		case Miscounted:
			names = append(names, fmt.Sprint("miscounted ", x.From, x.Before))
		case Confused:
			names = append(names, fmt.Sprint("confused ", x.From, x.Pieces[0].Kind, x.Pieces[0].As))
		default:
			names = append(names, fmt.Sprint("moved ", min(x.From, x.To), max(x.From, x.To)))
		}
	}
	return names
}

// combined puts the answers of all groups together.
func combined(xs []Explanation) truth {
	b := truth{answers: map[string]bool{"": true}}
	for _, x := range xs {
		next := map[string]bool{}
		for _, a := range x.Answers[:x.Equal] {
			for before := range b.answers {
				names := short(a)
				if before != "" {
					names = append(names, strings.Split(before, "; ")...)
				}
				slices.Sort(names)
				next[strings.Join(names, "; ")] = true
			}
		}
		b.answers = next
		b.acts += len(x.Answers[0].Acts)
		b.likely += x.Answers[0].Likelihood
		for _, l := range x.Answers[0].Left {
			b.left += int(l.Qty)
		}
	}
	return b
}

func alike(a, b events.Kind) bool { return a != "M10" && b != "M10" }

func someEntries(t *rapid.T, least, most int) []Entry {
	var es []Entry
	for i := range rapid.IntRange(least, most).Draw(t, "entries") {
		after := rapid.Int64Range(0, 3).Draw(t, "after")
		es = append(es, Entry{
			ID:    int32(i + 1),
			Place: rapid.SampledFrom([]events.Place{"A", "B", "C"}).Draw(t, "place"),
			Kind:  rapid.SampledFrom([]events.Kind{"M8x30", "M8x35", "M10"}).Draw(t, "kind"),
			Sign:  rapid.SampledFrom([]ledger.Sign{ledger.Short, ledger.Over}).Draw(t, "sign"),
			Qty:   rapid.SampledFrom([]int32{1, 1, 2, 3}).Draw(t, "qty"),
			After: after, Before: after + rapid.SampledFrom([]int64{3, 4, 1, 2, 0}).Draw(t, "long"),
			Undisturbed: rapid.SampledFrom([]bool{false, false, false, false, true}).Draw(t, "undisturbed"),
		})
	}
	return es
}

// someActs makes the entries that a few true acts leave behind. No piece is
// moved on: what came to a place and left it again makes no entry there.
func someActs(t *rapid.T) (es []Entry, acts int) {
	acts = rapid.IntRange(1, 3).Draw(t, "acts")
	type where struct {
		place events.Place
		kind  events.Kind
	}
	net := map[where]int32{}
	var order []where
	add := func(w where, n int32) {
		if _, ok := net[w]; !ok {
			order = append(order, w)
		}
		net[w] += n
	}
	for range acts {
		from := rapid.SampledFrom([]events.Place{"A", "B", "C", "D"}).Draw(t, "from")
		to := rapid.SampledFrom([]events.Place{"B", "C", "D", "A"}).Draw(t, "to")
		for _, k := range []events.Kind{"M10", "M12", "M6"}[:rapid.IntRange(1, 3).Draw(t, "kinds")] {
			q := rapid.Int32Range(1, 2).Draw(t, "qty")
			if from != to && net[where{from, k}] <= 0 && net[where{to, k}] >= 0 {
				add(where{from, k}, -q)
				add(where{to, k}, q)
			}
		}
	}
	for _, w := range order {
		if n := net[w]; n != 0 {
			e := Entry{ID: int32(len(es) + 1), Place: w.place, Kind: w.kind, Sign: ledger.Over, Qty: n, Before: 9}
			if n < 0 {
				e.Sign, e.Qty = ledger.Short, -n
			}
			es = append(es, e)
		}
	}
	return es, acts
}

// TestAnswersAreTheBestOfAll compares with trying everything: the pieces left,
// the number of acts, the likelihood, and which answers reach them.
func TestAnswersAreTheBestOfAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		es := someEntries(t, 3, 7)
		xs := Explain(es, alike)
		for _, x := range xs {
			require.True(t, x.Exact)
			require.False(t, x.More)
			for _, a := range x.Answers {
				sound(t, es, x, a)
			}
		}
		require.Equal(t, brute(es, alike), combined(xs))
	})
}

// TestTrueActsAreNotBeaten takes entries that a few acts made.
func TestTrueActsAreNotBeaten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		es, acts := someActs(t)
		xs := Explain(es, nil)
		got := combined(xs)
		for _, x := range xs {
			require.True(t, x.Exact)
		}
		require.Zero(t, got.left)
		require.LessOrEqual(t, got.acts, acts)
		if len(es) <= 8 {
			require.Equal(t, brute(es, func(a, b events.Kind) bool { return false }), got)
		}
	})
}

// sound checks an answer by adding up.
func sound(t require.TestingT, es []Entry, x Explanation, a Answer) {
	byID := map[int32]Entry{}
	for _, e := range es {
		byID[e.ID] = e
	}
	sum := map[int32]int32{}
	for _, l := range a.Left {
		require.Positive(t, l.Qty)
		sum[l.Entry] += l.Qty
	}
	for _, act := range a.Acts {
		require.NotEmpty(t, act.Pieces)
		require.Less(t, act.After, act.Before)
		for _, p := range act.Pieces {
			require.Positive(t, p.Qty)
			for _, id := range []int32{p.Short, p.Over} {
				e, ok := byID[id]
				if id == 0 {
					continue
				}
				require.True(t, ok)
				sum[id] += p.Qty
				if act.Deed != Miscounted {
					require.True(t, e.After <= act.After && act.Before <= e.Before, "%v within %v", act, e)
				}
				from, to := act.From, act.To
				if p.Back {
					from, to = to, from
				}
				want, kind := from, p.Kind
				if id == p.Over {
					want, kind = to, p.As
				}
				require.Equal(t, want, e.Place)
				require.Equal(t, kind, e.Kind)
			}
		}
	}
	for _, id := range x.Entries {
		require.Equal(t, byID[id].Qty, sum[id], "entry %d", id)
		delete(sum, id)
	}
	require.Empty(t, sum, "only the group's own entries")
}
