package engine

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
	"countback/projections/ledger"
)

const dish events.Place = "place/dish"

func bagPlace(b events.Code) events.Place { return events.Place("bag/" + b) }

// tip empties a bag into the dish.
func (c *crew) tip(b events.Code) { c.told(events.PiecesMoved{From: bagPlace(b), To: dish}) }

func (c *crew) sort() events.TraySorted {
	ev := c.ask(SortTray{From: dish, Here: "b2"})
	c.told(ev)
	return ev.(events.TraySorted)
}

func TestTwoTippedBagsAreSortedBack(t *testing.T) {
	c := newCrew(t)
	cover, pan := c.countedBag("front-cover", "", 0), c.countedBag("oil-pan", "", 0)
	inCover, inPan := c.s().At(bagPlace(cover)), c.s().At(bagPlace(pan))
	c.tip(cover)
	c.tip(pan)
	require.Empty(t, c.s().At(bagPlace(cover)))
	so := c.job.Sort(dish, "b2")
	require.Empty(t, so.Lacks)
	require.Empty(t, so.Stays)
	require.Len(t, so.Into, 2)
	c.sort()
	require.ElementsMatch(t, inCover, c.s().At(bagPlace(cover)))
	require.ElementsMatch(t, inPan, c.s().At(bagPlace(pan)))
	require.Empty(t, c.s().At(dish))
	require.Equal(t, "dish is empty by the book", c.refused(SortTray{From: dish, Here: "b2"}).Fact)
}

// The bolts of a hole that two joints share may lie in the bag of either.
func TestSharedHolesLackNothing(t *testing.T) {
	c := newCrew(t)
	bracket := c.countedBag("mount-bracket", "", 0)
	cover := c.countedBag("front-cover", "M12x1.25x65 8.8 flange", 4)
	inBracket, inCover := c.s().At(bagPlace(bracket)), c.s().At(bagPlace(cover))
	c.tip(cover)
	so := c.job.Sort(dish, "b2")
	require.Empty(t, so.Lacks, "what they share is in the bracket's bag")
	c.tip(bracket)
	require.Empty(t, c.job.Sort(dish, "b2").Lacks)
	c.sort()
	require.ElementsMatch(t, inBracket, c.s().At(bagPlace(bracket)))
	require.ElementsMatch(t, inCover, c.s().At(bagPlace(cover)))
}

// One of a kind that two bags had is gone: the earlier step has all of its
// own, and who could go short as well is said.
func TestWhoGoesShortIsSaid(t *testing.T) {
	c := newCrew(t)
	const m8 = "M8x1.25x30 8.8 flange"
	a, b := c.countedBag("front-cover", "", 0), c.countedBag("water-pump", "", 0)
	c.tip(a)
	c.tip(b)
	lines := c.s().At(dish)
	i := slices.IndexFunc(lines, func(l events.Line) bool { return l.Kind == m8 })
	require.GreaterOrEqual(t, i, 0)
	lines[i].Qty--
	c.counted(events.Counted{Place: dish, Lines: lines, All: true})
	so := c.job.Sort(dish, "b2")
	require.Len(t, so.Lacks, 1)
	require.Equal(t, 1, so.Lacks[0].Qty)
	require.Equal(t, events.Kind(m8), so.Lacks[0].Kind)
	require.Len(t, so.Lacks[0].Or, 1)
	require.NotEqual(t, so.Lacks[0].Name, so.Lacks[0].Or[0])
	c.sort()
	require.Empty(t, c.s().At(dish))
}

// What nobody lacks is said to be left, with the reason; a foreign bolt is not
// pressed into a bag.
func TestWhatHasNoPlaceStays(t *testing.T) {
	c := newCrew(t)
	cover := c.countedBag("front-cover", "M8x1.25x30 8.8 flange", 1)
	c.tip(cover)
	lines := append(c.s().At(dish), events.Line{Kind: "M14x1.5x90 10.9 hex", Qty: 2}, events.Line{Kind: "M6x1.0x20 8.8 flange", Qty: 1})
	i := slices.IndexFunc(lines, func(l events.Line) bool { return l.Kind == "M8x1.25x30 8.8 flange" })
	lines[i].Qty++ // the one that was short
	c.counted(events.Counted{Place: dish, Lines: lines, All: true})
	so := c.job.Sort(dish, "b2")
	require.Empty(t, so.Lacks, "%v", so)
	require.Len(t, so.Stays, 2)
	require.Equal(t, "no bag and no joint of this engine lacks it", so.Stays[0].Why)
	c.sort()
	require.Len(t, c.s().At(dish), 2)
	eight := c.s().book.Balance(c.s().bag(cover).account, ledger.OfKind(c.s().book.Kind("M8x1.25x30 8.8 flange")))
	require.Equal(t, int32(8), eight, "the found one went where it was short")
	require.Equal(t, "nothing in dish belongs anywhere else", c.refused(SortTray{From: dish, Here: "b2"}).Fact)
}

// New pieces go back to their stock with their lot, old ones to their bag, and
// never both into one.
func TestOldAndNewAreSortedApart(t *testing.T) {
	c := newCrew(t)
	bag := c.countedBag("flywheel", "", 0)
	kind := c.s().At(bagPlace(bag))[0].Kind
	c.told(events.HardwareReceived{From: "outside/supplier/fjord", To: "stock/box-9", Lot: "box-9", Lines: []events.Line{{Kind: kind, Qty: 8}}})
	c.tip(bag)
	c.told(events.PiecesMoved{From: "stock/box-9", To: dish})
	so := c.job.Sort(dish, "b2")
	require.Len(t, so.Into, 2)
	c.sort()
	require.Equal(t, []events.Line{{Kind: kind, Qty: 8, Cond: events.New, Lot: "box-9"}}, c.s().At("stock/box-9"))
	require.Equal(t, []events.Line{{Kind: kind, Qty: 8}}, c.s().At(bagPlace(bag)))

	c.tip(bag)
	c.told(events.PiecesMoved{From: "stock/box-9", To: dish})
	c.counted(events.Counted{Place: dish, Lines: []events.Line{{Kind: kind, Qty: 15}}, All: true})
	require.Equal(t, []events.Kind{kind}, c.job.Sort(dish, "b2").Mixed, "the book cannot say which of them is gone")
}

// Two bags tipped into one another: what belongs in the bag stays in it.
func TestAMergedBagIsTakenApartAgain(t *testing.T) {
	c := newCrew(t)
	cover, pan := c.countedBag("front-cover", "", 0), c.countedBag("oil-pan", "", 0)
	want, whole := c.s().At(bagPlace(cover)), c.s().At(bagPlace(pan))
	c.told(events.BagsMerged{From: pan, Into: cover})
	ev := c.ask(SortTray{From: bagPlace(cover), Here: "b2"}).(events.TraySorted)
	require.Len(t, ev.Into, 1)
	require.Equal(t, events.Place("bench/b2/oil-pan"), ev.Into[0].To, "its old bag is done with")
	c.told(ev)
	require.ElementsMatch(t, want, c.s().At(bagPlace(cover)))
	require.ElementsMatch(t, whole, c.s().At("bench/b2/oil-pan"))
}

// What was confirmed is what is stored.
func TestSortingRefusesWhatWasNotShown(t *testing.T) {
	c := newCrew(t)
	cover := c.countedBag("front-cover", "", 0)
	c.tip(cover)
	var shown []string
	for _, p := range c.job.Sort(dish, "b2").Into {
		shown = append(shown, c.s().PileWords(p))
	}
	c.ask(SortTray{From: dish, Here: "b2", Shown: shown})
	c.told(events.LossReported{From: dish, Lines: []events.Line{{Kind: "M8x1.25x30 8.8 flange", Qty: 1}}})
	require.Contains(t, c.refused(SortTray{From: dish, Here: "b2", Shown: shown}).Fact, "changed meanwhile")
	c.refused(SortTray{Here: "b2"})
	c.refused(SortTray{From: "place/nowhere", Here: "b2"})
}

// slot is one piece that a place gave, in the slow way of sorting.
type slot struct {
	rank  int32
	kind  events.Kind
	fresh bool
}

// slowly tries every way to lay pieces into slots and gives the best numbers of
// filled slots, the earliest rank first.
func slowly(pieces []ledger.Item, slots []slot, ranks []int32) []int {
	best := make([]int, len(ranks))
	filled := make([]int, len(ranks))
	used := make([]bool, len(pieces))
	var try func(i int)
	try = func(i int) {
		if i == len(slots) {
			if slices.Compare(filled, best) > 0 {
				copy(best, filled)
			}
			return
		}
		try(i + 1)
		r := slices.Index(ranks, slots[i].rank)
		for p := range pieces {
			if used[p] || !alike(slots[i].kind, pieces[p].Kind) || (pieces[p].Cond == events.New) != slots[i].fresh {
				continue
			}
			used[p] = true
			filled[r]++
			try(i + 1)
			filled[r]--
			used[p] = false
		}
	}
	try(0)
	return best
}

// The sharing is as good as every way tried, on small trays, with sizes that
// leave things open so that one piece may stand in for several kinds.
func TestSortingIsAsGoodAsEveryWayTried(t *testing.T) {
	joints := []events.Joint{"front-cover", "oil-pan", "water-pump"}
	kinds := []events.Kind{"M8x1.25x30 8.8 flange", "M8x1.25x30 10.9 flange", "M8x1.25x30", "M6x1.0x20 8.8 flange"}
	conds := []events.Condition{events.Used, events.New, events.MeasuredGood}
	text := sorrel(t)
	rapid.Check(t, func(t *rapid.T) {
		d := draw{t}
		c := &crew{job: &Job{}, name: "b2", who: "Marit", at: 1_747_000_000_000_000, tick: 1000, bags: map[events.Joint]events.Code{}}
		c.told(events.JobOpened{Engine: "Sorrel", Plan: text})
		var slots []slot
		left := 6
		for _, j := range joints {
			bag := c.bagOf(j)
			for range rapid.IntRange(0, 2).Draw(t, "lines") {
				l := events.Line{Kind: pick(d, kinds, "kind"), Cond: pick(d, conds, "cond"), Qty: rapid.IntRange(1, 2).Draw(t, "n")}
				if left -= l.Qty; left < 0 {
					break
				}
				c.told(events.HardwareReceived{From: "outside/owner", To: bagPlace(bag), Lines: []events.Line{l}})
				w := &sorting{s: c.s()}
				w.ranks()
				for range l.Qty {
					slots = append(slots, slot{w.rankOf(string(j)), l.Kind, l.Cond == events.New})
				}
			}
			if len(c.s().At(bagPlace(bag))) > 0 {
				c.tip(bag)
			}
		}
		var counted []events.Line
		for _, l := range c.s().At(dish) {
			l.Qty = rapid.IntRange(0, l.Qty).Draw(t, "counted")
			counted = append(counted, l)
		}
		if len(counted) == 0 {
			return
		}
		c.counted(events.Counted{Place: dish, Lines: counted, All: true})
		var pieces []ledger.Item
		for it, n := range c.s().book.At(must(c.s().book.Lookup(dish))) {
			for range n {
				pieces = append(pieces, c.s().book.ItemName(it))
			}
		}
		ranks := []int32{}
		for _, sl := range slots {
			if !slices.Contains(ranks, sl.rank) {
				ranks = append(ranks, sl.rank)
			}
		}
		slices.Sort(ranks)
		so := c.job.Sort(dish, "b2")
		got := make([]int, len(ranks))
		laid := 0
		for _, p := range so.Into {
			code := events.Code(p.To[len("bag/"):])
			w := &sorting{s: c.s()}
			w.ranks()
			r := slices.Index(ranks, w.rankOf(string(c.s().bags[code].Joint)))
			for _, l := range p.Lines {
				got[r] += l.Qty
				laid += l.Qty
			}
		}
		require.Equal(t, slowly(pieces, slots, ranks), got, "%v of %v", so, c.s().At(dish))
		for _, p := range so.Stays {
			for _, l := range p.Lines {
				laid += l.Qty
			}
		}
		require.Equal(t, len(pieces), laid, "every piece goes somewhere or is said to stay")
		if len(so.Into) > 0 {
			ev, err := c.job.Decide(SortTray{From: dish, Here: "b2"})
			require.NoError(t, err)
			c.told(ev)
			require.NoError(t, c.s().book.Verify())
			for _, p := range so.Into {
				for _, l := range p.Lines {
					require.GreaterOrEqual(t, c.s().book.Balance(must(c.s().book.Lookup(p.To)), c.s().book.Like(ledger.Item{Kind: l.Kind, Cond: l.Cond, Lot: l.Lot})), int32(l.Qty))
				}
			}
		}
	})
}

func must[T any](v T, ok bool) T {
	if !ok {
		panic("not there")
	}
	return v
}
