package engine

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
)

// bought writes the buy list, a line for each kind.
func bought(b BuyList) (lines []string) {
	for _, g := range b.Groups {
		for _, l := range g.Lines {
			text := fmt.Sprintf("%s: need %d, ordered %d, buy %d %v", l.Name, l.Need, l.Ordered, l.Buy, l.Causes)
			for _, m := range l.Maybe {
				text += "; " + m
			}
			lines = append(lines, text)
		}
	}
	return lines
}

func (c *crew) receive(kind events.Kind, n int) {
	c.told(events.HardwareReceived{From: "outside/supplier/Fjord", To: "stock/new", Lines: lines(kind, n)})
}

// Rule R41, from the moment of removal.
func TestTheBuyListBeginsWithTheRemoval(t *testing.T) {
	c := boxCrew(t)
	require.Empty(t, bought(c.job.Buy()), "nothing is out")
	c.do("cap-off")
	require.Empty(t, bought(c.job.Buy()), "its bolts may go in again")
	c.do("lid-off")
	require.Equal(t, []string{
		"M6x1.0x20: need 4, ordered 0, buy 4 [{single-use, out of lid 4}]",
		"Gasket: need 1, ordered 0, buy 1 [{single-use, came out 1}]",
	}, bought(c.job.Buy()))
	c.order("o1", "2026-12-01", events.Line{Kind: boltM6, Qty: 3})
	require.Contains(t, bought(c.job.Buy()), "M6x1.0x20: need 4, ordered 3, buy 1 [{single-use, out of lid 4}]")
	c.told(events.HardwareReceived{From: "outside/supplier/Fjord", To: "stock/new", Order: "o1", Lines: lines(boltM6, 3)})
	require.Contains(t, bought(c.job.Buy()), "M6x1.0x20: need 1, ordered 0, buy 1 [{single-use, out of lid 1}]")
	c.told(events.HardwareSentBack{From: "stock/new", Supplier: "Fjord", Order: "o1", Lines: lines(boltM6, 2)})
	l := c.job.Buy().Groups[0].Lines[0]
	require.Equal(t, []int{3, 2, 1, 3, 2}, []int{l.Need, l.Ordered, l.Buy, l.Received, l.Returned})
	require.Equal(t, []events.Step{"lid-on"}, l.Steps)
	c.receive(boltM6, 9)
	c.receive("gasket", 1)
	require.Empty(t, bought(c.job.Buy()), "all is here, and what is too much is asked for by nobody")
}

func TestEachCauseIsCounted(t *testing.T) {
	c := openBox(t)
	c.receive(boltM6, 4)
	c.receive("gasket", 1)
	require.Empty(t, bought(c.job.Buy()))
	cap := c.fromBag("cap")
	c.told(events.ConditionChanged{Place: cap, Lines: lines(boltM8, 1), Cond: events.Condemned, Why: "stretched"})
	require.Equal(t, []string{"M8x1.25x30: need 1, ordered 0, buy 1 [{condemned 1}]"}, bought(c.job.Buy()))
	c.counted(events.Counted{Place: cap, Lines: lines(boltM8, 1), All: true})
	require.Equal(t, []string{"M8x1.25x30: need 1, ordered 0, buy 1 [{condemned 1}]; 1 missing, and may be found"}, bought(c.job.Buy()), "what may be found is not bought")
	short := c.s().ShortID(c.s().OpenShorts()[0])
	c.told(events.ShortEnded{Short: short, How: events.WrittenOff, Second: "Ole", Why: "looked everywhere"})
	require.Equal(t, []string{"M8x1.25x30: need 2, ordered 0, buy 2 [{condemned 1} {written off 1}]"}, bought(c.job.Buy()))
	c.told(events.FastenerBroken{Case: "C2AAAAAA", Joint: "lid", Hole: "1", OtherEnd: "in-hand"})
	require.Equal(t, []string{"M8x1.25x30: need 2, ordered 0, buy 2 [{condemned 1} {written off 1}]"}, bought(c.job.Buy()), "a broken old one needs no second new one")
}

func TestNeededByAndOrderBy(t *testing.T) {
	c := openBox(t)
	c.told(events.LeadTimeSet{Supplier: "Fjord", Kind: boltM6, Days: 6})
	c.told(events.LeadTimeSet{Supplier: "Bakke", Kind: "kit set", Days: 2})
	c.told(events.LeadTimeSet{Supplier: "Bakke", Days: 9})
	c.clock()
	b := c.job.Buy()
	require.Equal(t, events.Day("2026-11-25"), b.Today)
	require.Len(t, b.Groups, 2)
	for _, g := range b.Groups {
		require.Empty(t, g.OrderBy, "no start is planned")
	}
	c.told(events.StepPlanned{Step: "cap-on", Day: "2026-12-01"})
	b = c.job.Buy()
	bolts, gasket := b.Groups[0], b.Groups[1]
	require.Equal(t, []any{"Fjord", events.Day("2026-11-24"), true}, []any{bolts.Supplier, bolts.OrderBy, bolts.Overdue}, "in time for the cap on the 1st: the 30th, six days before")
	require.Equal(t, []any{"Bakke", events.Day("2026-11-28"), false}, []any{gasket.Supplier, gasket.OrderBy, gasket.Overdue}, "the kit's own lead time goes before the supplier's")
	require.Equal(t, events.Day("2026-11-30"), bolts.Lines[0].NeededBy)
	require.Equal(t, "set", gasket.Lines[0].Kit)
	c.order("o1", "2026-12-03", events.Line{Kind: boltM6, Qty: 4})
	for _, g := range c.job.Buy().Groups {
		for _, l := range g.Lines {
			if l.Kind == boltM6 {
				require.True(t, l.Late, "promised for later than it is needed")
				require.False(t, l.Overdue, "it is ordered")
				require.Equal(t, onDay("2026-12-03"), l.Coming)
				require.Equal(t, events.Day("2026-11-30"), l.NeededBy)
			}
		}
	}
}

// Kits: what they came without is needed before the part is even out; what is
// too much, as the plan expects it or not, is nobody's demand.
func TestAKitIsCountedAgainstItsList(t *testing.T) {
	c := boxCrew(t)
	open := func(lot events.Lot, bolts, gaskets int, more ...events.Line) {
		c.told(events.KitOpened{Kit: "set", Lot: lot, To: "stock/set", Lines: append([]events.Line{{Kind: "gasket", Qty: gaskets}, {Kind: boltM6, Qty: bolts}}, more...)})
	}
	open("l1", 3, 0, events.Line{Kind: "thing", Qty: 2})
	k := c.s().Kits()[0]
	require.Equal(t, []KitLine{
		{Kind: "gasket", Listed: 1, Said: true}, {Kind: boltM6, Listed: 6, Surplus: 2, Counted: 3, Said: true}, {Kind: "thing", Counted: 2, Said: true}}, k.Lines)
	require.Equal(t, []int{1, 1, 0}, []int{k.Lines[0].Short(), k.Lines[1].Short(), k.Lines[2].Short()})
	require.Equal(t, []int{0, 0, 2}, []int{k.Lines[0].Extra(), k.Lines[1].Extra(), k.Lines[2].More()})
	want := []string{"M6x1.0x20: need 1, ordered 0, buy 1 [{lacking in a kit 1}]", "Gasket: need 1, ordered 0, buy 1 [{lacking in a kit 1}]"}
	require.ElementsMatch(t, want, bought(c.job.Buy()), "before anything is out")
	c.do("cap-off")
	c.do("lid-off")
	require.ElementsMatch(t, want, bought(c.job.Buy()), "and not twice after it")
	c.order("o1", "", events.Line{Kind: "kit set", Qty: 1})
	require.ElementsMatch(t, []string{"M6x1.0x20: need 1, ordered 1, buy 0 [{lacking in a kit 1}]", "Gasket: need 1, ordered 1, buy 0 [{lacking in a kit 1}]"}, bought(c.job.Buy()))
	c.told(events.HardwareReceived{From: "outside/supplier/Fjord", To: "stock/shelf", Order: "o1", Lines: lines("kit set", 1)})
	require.Equal(t, 0, c.s().Order("o1").Due())
	require.ElementsMatch(t, []string{"M6x1.0x20: need 1, ordered 1, buy 0 [{lacking in a kit 1}]", "Gasket: need 1, ordered 1, buy 0 [{lacking in a kit 1}]"}, bought(c.job.Buy()), "it lies here unopened")
	got, all := whens(c, "lid-on")
	require.Contains(t, got[0], "now | M6x1.0x20: 3 of 4")
	require.Contains(t, got[0], "1 in kit set, which nobody opened yet")
	require.Equal(t, "now", all)
	c.told(events.PiecesMoved{From: "stock/shelf", To: "place/shelf", Lines: lines("kit set", 1)})
	for _, l := range c.job.Red() {
		require.NotEqual(t, RedLeftOver, l.Code, "a kit that is not open is not left over: %s", l)
	}
	open("l2", 6, 2)
	require.Empty(t, bought(c.job.Buy()))
	require.Equal(t, 0, c.s().unopened("kit set"))
	require.Equal(t, 2, c.s().Kits()[1].Lines[1].Extra(), "as the plan expects")
	require.Equal(t, 1, c.s().Kits()[1].Lines[0].More())
	require.False(t, c.s().Kits()[1].Again)
	open("l2", 6, 1)
	require.True(t, c.s().Kits()[2].Again, "the same kit once more")
	require.Equal(t, 3, total(c.s().At("stock/set"), "gasket"), "and nothing is lost")
	require.NoError(t, c.s().Book().Verify())
	c.told(events.KitOpened{Kit: "stranger", Lot: "x", To: "stock/x", Lines: lines("thing", 1)})
	require.Equal(t, []KitLine{{Kind: "thing", Counted: 1, Said: true}}, c.s().Kits()[3].Lines)
}

func TestAPartToBeReplacedIsBought(t *testing.T) {
	c := boxCrew(t)
	c.told(events.FindingRaised{Finding: "f1", On: "part cap", What: "cracked"})
	require.Empty(t, bought(c.job.Buy()))
	c.told(events.FindingDecided{Finding: "f1", Decision: "replace"})
	want := []string{"Cap: need 1, ordered 0, buy 1 [{to be replaced, by a finding 1}]"}
	require.Equal(t, want, bought(c.job.Buy()), "while it is on")
	c.do("cap-off")
	require.Equal(t, want, bought(c.job.Buy()), "and when it is off")
	got, _ := whens(c, "cap-on")
	require.Contains(t, got[0], "Cap: 0 of 1 that may go in; 1 to be replaced")
	c.receive("cap", 1)
	require.Empty(t, bought(c.job.Buy()))
	c.do("cap-on")
	require.Empty(t, bought(c.job.Buy()))
}

func TestWhatAFindingNeedsIsBought(t *testing.T) {
	c := boxCrew(t)
	c.told(events.FindingRaised{Finding: "f1", On: "joint cap", What: "threads pulled"})
	c.told(events.FindingDecided{Finding: "f1", Decision: "repair", Lines: append(lines("M8x1.25 insert", 2), lines(boltM8, 1)...)})
	require.ElementsMatch(t, []string{"M8x1.25 insert: need 2, ordered 0, buy 2 [{finding f1 2}]", "M8x1.25x30: need 1, ordered 0, buy 1 [{finding f1 1}]"}, bought(c.job.Buy()))
	c.order("o1", "2026-12-01", events.Line{Kind: "M8x1.25 insert", Qty: 1})
	require.Contains(t, bought(c.job.Buy()), "M8x1.25 insert: need 2, ordered 1, buy 1 [{finding f1 2}]")
	c.receive("M8x1.25 insert", 2)
	c.receive(boltM8, 1)
	require.Empty(t, bought(c.job.Buy()))
	c.told(events.FindingDone{Finding: "f1"})
	require.Empty(t, bought(c.job.Buy()))
}

// On any plan: once all that is on the list was ordered nothing is to be
// bought, once it has come nothing is needed, and what still waits waits for
// nothing from outside.
func TestWhatWasOrderedAndCameIsOffTheList(t *testing.T) {
	read := func(file string) string {
		text, err := os.ReadFile("../../testdata/plans/" + file)
		require.NoError(t, err)
		return string(text)
	}
	for name, text := range map[string]string{"sorrel": read("sorrel-i4-20.yaml"), "bramble": read("bramble-t2-42.yaml"), "box": aheadPlan, "drawn": drawnPlan(3)} {
		c := &crew{t: t, job: &Job{}, name: "b2", who: "Marit", at: morning, tick: 1_000_000, bags: map[events.Joint]events.Code{}}
		c.told(events.JobOpened{Engine: name, Plan: text})
		c.takeApart()
		c.clock()
		list := c.job.Buy()
		require.NotEmpty(t, list.Groups, name)
		var all []events.Line
		for _, l := range list.Groups[0].Lines {
			if l.Buy > 0 {
				all = append(all, events.Line{Kind: l.Kind, Qty: l.Buy})
			}
		}
		require.NotEmpty(t, all, name)
		c.order("o1", "2026-12-01", all...)
		for _, g := range c.job.Buy().Groups {
			for _, l := range g.Lines {
				require.Zero(t, l.Buy, "%s: %s", name, l.Kind)
				require.Equal(t, l.Need, l.Ordered, "%s: %s", name, l.Kind)
			}
		}
		for _, n := range c.job.WhatNow() {
			for i, b := range n.Blockers {
				if strings.Contains(b.Text, "single-use") {
					require.Equal(t, events.Day("2026-12-01"), n.When[i].Day, "%s: %s: %s", name, n.Step, b)
				}
			}
		}
		c.told(events.HardwareReceived{From: "outside/supplier/Fjord", To: "stock/new", Order: "o1", Lines: all})
		require.Zero(t, c.s().Order("o1").Due())
		for _, g := range c.job.Buy().Groups {
			for _, l := range g.Lines {
				require.Zero(t, l.Need, "%s: %s", name, l.Kind)
			}
		}
	}
}

// What any history leaves: each kind once, the causes add up, nothing is given
// twice or out of nothing, and a question changes no fact.
func TestNothingIsGivenTwice(t *testing.T) {
	text := sorrel(t)
	rapid.Check(t, func(rt *rapid.T) {
		job := &Job{}
		for _, f := range history(draw{rt}, text, 40) {
			job.Apply(&f)
			s := job.State()
			for _, ix := range s.lay.waits {
				_, held := s.ahead.held[s.lay.plan.Steps[ix].ID]
				require.Equal(rt, s.lay.plan.Steps[ix].When.Eval(s.now), held, "a wait that began or ended unseen")
			}
		}
		job.Clock(1_795_593_600_000_000)
		before := fingerprint(job.State())
		list := job.Buy()
		seen := map[events.Kind]bool{}
		for _, g := range list.Groups {
			for _, l := range g.Lines {
				require.False(rt, seen[l.Kind], "%s twice", l.Kind)
				seen[l.Kind] = true
				sum := 0
				for _, c := range l.Causes {
					require.Positive(rt, c.Qty)
					sum += c.Qty
				}
				require.Equal(rt, l.Need, sum, "%s: %v", l.Kind, l)
				require.Equal(rt, l.Need, l.Ordered+l.Buy)
				require.GreaterOrEqual(rt, l.Ordered, 0)
				require.GreaterOrEqual(rt, l.Buy, 0)
			}
		}
		v := job.State().view()
		given := make([]int, len(v.coming().lines))
		for w := range v.coming().share {
			for _, take := range v.coming().share[w].From {
				require.Positive(rt, take.Qty)
				given[take.Supply] += int(take.Qty)
			}
		}
		for i, l := range v.coming().lines {
			require.LessOrEqual(rt, given[i], l.n, "no more than is to come of %s", l.kind)
			if l.order != nil {
				require.Positive(rt, l.order.Due())
			}
		}
		here := make([]int32, len(v.hardware().supplies))
		for _, sh := range v.hardware().sharing.Shares {
			for _, take := range sh.From {
				here[take.Supply] += take.Qty
			}
		}
		for i, n := range here {
			require.LessOrEqual(rt, n, v.hardware().supplies[i].Qty)
		}
		for _, n := range job.WhatNow() {
			require.Len(rt, n.When, len(n.Blockers))
		}
		require.Equal(rt, before, fingerprint(job.State()), "a question changes nothing")
	})
}

// The box has one place for each kind, so its demand can be counted by hand:
// holes without a piece, less new ones here.
func TestTheBuyListAgainstCounting(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		c := openBox(t)
		fitted, here, due := 0, 0, 0
		for range rapid.IntRange(1, 25).Draw(rt, "facts") {
			n := rapid.IntRange(1, 3).Draw(rt, "n")
			switch rapid.IntRange(0, 4).Draw(rt, "what") {
			case 0:
				c.receive(boltM6, n)
				here += n
			case 1:
				c.told(events.Ordered{Order: "o1", Lines: lines(boltM6, n)})
				due += n
			case 2:
				c.told(events.HardwareReceived{From: "outside/supplier/Fjord", To: "stock/new", Order: "o1", Lines: lines(boltM6, n)})
				here += n
			case 3:
				if n = min(n, here, 4-fitted); n > 0 {
					var holes []events.Hole
					for h := range n {
						holes = append(holes, events.Hole(itoa(fitted+h+1)))
					}
					c.told(events.PiecesFitted{Joint: "lid", Holes: holes, From: "stock/new"})
					fitted, here = fitted+n, here-n
				}
			case 4:
				if n = min(n, here); n > 0 {
					c.told(events.HardwareSentBack{From: "stock/new", Supplier: "Fjord", Lines: lines(boltM6, n)})
					here -= n
				}
			}
		}
		if o := c.s().Order("o1"); o != nil {
			due = max(0, due-o.Lines[0].Received)
			require.Equal(rt, due, o.Due())
		} else {
			due = 0
		}
		need := max(0, 4-fitted-here)
		var got BuyLine
		for _, g := range c.job.Buy().Groups {
			for _, l := range g.Lines {
				if l.Kind == boltM6 {
					got = l
				}
			}
		}
		require.Equal(rt, []int{need, min(need, due), need - min(need, due)}, []int{got.Need, got.Ordered, got.Buy})
	})
}
