package ledger

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
)

// Moves of one item and of one kind take short cuts. The long way, on a book of
// its own, ends in the same balances, entries and log.
func TestShortCutsEndAsTheLongWayDoes(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		short, long := New(), New()
		paths := []events.Place{"outside/arrived", "bag/B2AAAAAA", "bag/B2BBBBBB", "fitted/head 1/cap", "unexplained/1"}
		kinds := []events.Kind{"M6x1.0x20", "M8x1.25x30"}
		conds := []events.Condition{"", events.New, events.Used}
		for f := Fact(1); f <= Fact(rapid.IntRange(1, 40).Draw(rt, "facts")); f++ {
			from, to := rapid.SampledFrom(paths).Draw(rt, "from"), rapid.SampledFrom(paths).Draw(rt, "to")
			k, c := rapid.SampledFrom(kinds).Draw(rt, "kind"), rapid.SampledFrom(conds).Draw(rt, "cond")
			n := int32(rapid.IntRange(-1, 9).Draw(rt, "qty"))
			item := rapid.Bool().Draw(rt, "item")
			all := rapid.IntRange(0, 4).Draw(rt, "all") == 0
			only, count := rapid.Bool().Draw(rt, "only"), rapid.IntRange(0, 3).Draw(rt, "count") == 0
			numbers := [2]int32{int32(rapid.IntRange(0, 3).Draw(rt, "first")), int32(rapid.IntRange(0, 3).Draw(rt, "second"))}
			for _, b := range []*Book{short, long} {
				a, z, it := b.Account(from), b.Account(to), b.Item(Item{Kind: k, Cond: c})
				switch m := OfKind(b.Kind(k)); {
				case count:
					rows := []Number{{OfKind(b.Kind(kinds[0])), numbers[0]}, {OfKind(b.Kind(kinds[1])), numbers[1]}}[:1+n&1]
					if b == short {
						if !b.CountedAsBook(f, events.CountedBlind, z, pieces(rows)) {
							b.CountAll(f, events.CountedBlind, z, rows, true)
						}
					} else {
						countedLong(b, f, z, rows)
					}
				case all && short.Class(a) != Outside: // all of a kind, one account to another
					if b == short {
						b.MoveAll(f, b.Kind(k), a, z)
					} else {
						b.MoveInto(f, m, 0, b.BalanceOf(a, b.Kind(k)), a, z)
					}
				case only:
					if b == long || b.MoveOnly(f, b.Kind(k), n, a, z) == 0 {
						b.MoveInto(f, m, 0, n, a, z)
					}
				case item && b == short:
					b.MoveItem(f, it, n, a, z)
				case item:
					b.MoveInto(f, Exactly(it), 0, n, a, z)
				case b == short:
					b.Move(f, m, n, a, z)
				default:
					b.MoveInto(f, m, 0, n, a, z)
				}
			}
			require.Equal(rt, long.Log(), short.Log())
			require.Equal(rt, long.Entries(), short.Entries())
			require.NoError(rt, short.Verify())
			for _, p := range paths {
				a, _ := short.Lookup(p)
				require.Equal(rt, long.Touched(a), short.Touched(a))
				for _, k := range kinds {
					held := int32(0)
					for _, h := range short.HeldOf(nil, a, short.Kind(k)) {
						held += h.Qty
					}
					require.Equal(rt, short.Balance(a, OfKind(short.Kind(k))), short.BalanceOf(a, short.Kind(k)))
					if short.Class(a) != Outside && a != 0 && short.EntryAt(a) == 0 {
						require.Equal(rt, short.BalanceOf(a, short.Kind(k)), held)
					}
				}
			}
		}
	})
}

// countedLong is a complete count row by row, whether it agrees or not.
func countedLong(b *Book, f Fact, a AccountID, rows []Number) {
	if !b.countable(a) {
		return
	}
	for _, r := range rows {
		b.set(f, a, r.Match, r.N)
	}
	for it := ItemID(1); int(it) <= b.Items(); it++ {
		if n := b.Qty(a, it); n > 0 && !b.named(rows, it) {
			b.short(f, a, it, n)
		}
	}
	b.Saw(f, events.CountedBlind, a)
}

func pieces(rows []Number) []Pieces {
	var list []Pieces
	for _, r := range rows {
		list = append(list, Pieces{r.Match.like.kind, r.N})
	}
	return list
}
