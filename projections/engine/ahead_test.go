package engine

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/projections/plan"
)

// aheadPlan is a box with a lid of four single-use bolts, a gasket and a part
// that waits.
const aheadPlan = `plan: {id: lid, family: Lid on a box, edition: 1}
parts:
  - {id: box, root: true}
  - {id: gasket, in: box, reuse: new}
  - {id: lid, in: box, under: [cap], mating: [gasket]}
  - {id: cap, in: box, sealant: {open-time: 5m}}
joints:
  - id: lid
    holes:
      - {at: 1..4, in: box, clamps: [lid], fastener: M6x1.0x20 8.8 flange, reuse: new, grip: 8, depth: 16, thread-in: aluminium}
  - id: cap
    holes:
      - {at: 1..2, in: box, clamps: [cap], fastener: M8x1.25x30 8.8 flange, grip: 10, depth: 24, thread-in: aluminium}
marks:
  - {id: cured}
steps:
  off:
    - {id: cap-off, takes-out: {cap: all}, removes: [cap]}
    - {id: lid-off, takes-out: {lid: all}, removes: [lid, gasket]}
  on:
    - {id: lid-on, fits: [gasket, lid], fastens: {lid: all}, minutes: 300}
    - {id: cap-on, fits: [cap], fastens: {cap: all}, minutes: 300, when: [lid-on]}
    - {id: cure, wait: 2h, sets: [cured], when: [cap-on]}
    - {id: start, when: [{mark: cured}]}
kits:
  - id: set
    lines:
      - {part: gasket, count: 1}
      - {piece: M6x1.0x20 8.8 flange, count: 6, surplus-expected: 2}
`

const boltM6, boltM8 = "M6x1.0x20 8.8 flange", "M8x1.25x30 8.8 flange"

// morning is eight o'clock on Wednesday 25 November 2026.
const morning = 1_795_593_600_000_000

// boxCrew has the box whole, on that morning.
func boxCrew(t testing.TB) *crew {
	c := &crew{t: t, job: &Job{}, name: "b2", who: "Marit", at: morning, tick: 60_000_000, bags: map[events.Joint]events.Code{}}
	c.told(events.JobOpened{Engine: "box", Plan: aheadPlan})
	c.clock()
	return c
}

// clock tells the job the time of the last fact, or so much later.
func (c *crew) clock(later ...time.Duration) {
	now := c.at
	for _, d := range later {
		now += d.Microseconds()
	}
	c.job.Clock(now)
}

func openBox(t testing.TB) *crew {
	c := boxCrew(t)
	c.do("cap-off")
	c.do("lid-off")
	c.clock()
	return c
}

func (c *crew) order(id string, promised events.Day, lines ...events.Line) {
	c.told(events.Ordered{Order: id, Supplier: "Fjord", Lines: lines, Promised: promised})
	c.clock()
}

func lines(kind events.Kind, n int) []events.Line { return []events.Line{{Kind: kind, Qty: n}} }

// whens gives the reasons of a step, each with when it goes away.
func whens(c *crew, step events.Step) (list []string, all string) {
	n := find(c.t, c.job.WhatNow(), step)
	require.Len(c.t, n.When, len(n.Blockers))
	today := c.s().today()
	for i := range n.Blockers {
		list = append(list, n.When[i].Words(today)+" | "+n.Blockers[i].String())
	}
	return list, n.Earliest.Words(today)
}

// Rule R38: what is lacked comes when it was promised last, or nobody knows
// when; the step starts when its last reason has gone, and what waits for the
// step after it.
func TestReasonsGoAwayWhenTheyWerePromised(t *testing.T) {
	c := openBox(t)
	got, all := whens(c, "lid-on")
	require.Equal(t, []string{
		"unknown when | M6x1.0x20: 0 of 4 that may go in; 4 not new, and single-use: when they come scan place shelf, RECEIVED",
		"unknown when | Gasket: 0 of 1 that may go in; 1 not new, and single-use: when they come scan place shelf, RECEIVED",
	}, got)
	require.Equal(t, "unknown when", all)

	c.order("o1", "2026-12-01", events.Line{Kind: boltM6, Qty: 3})
	c.order("o2", "", events.Line{Kind: boltM6, Qty: 1}, events.Line{Kind: "gasket", Qty: 1})
	got, all = whens(c, "lid-on")
	require.Equal(t, []string{
		"unknown when | M6x1.0x20: 0 of 4 that may go in; 4 not new, and single-use: when they come scan place shelf, RECEIVED; 3 on order o1 from Fjord, promised for 1 December, 1 on order o2 from Fjord, promised for no day",
		"unknown when | Gasket: 0 of 1 that may go in; 1 not new, and single-use: when they come scan place shelf, RECEIVED; 1 on order o2 from Fjord, promised for no day",
	}, got)
	require.Equal(t, "unknown when", all)

	c.told(events.Promised{On: "order o2", Kind: "gasket", Day: "2026-12-04"})
	c.told(events.Promised{On: "order o2", Day: "2026-12-02"}) // the last word stands, for all of it
	got, all = whens(c, "lid-on")
	require.Contains(t, got[1], "2 December | Gasket")
	require.Contains(t, got[0], "2 December | M6x1.0x20")
	require.Equal(t, "2 December", all)
	_, all = whens(c, "cap-on")
	require.Equal(t, "2 December", all, "it waits for the lid")
	_, all = whens(c, "start")
	require.Equal(t, "2 December 02:00", all, "and the start for two hours of curing after it")

	c.told(events.Promised{On: "order o1", Day: "2026-12-09"})
	_, all = whens(c, "lid-on")
	require.Equal(t, "9 December", all, "a promise can move")
	require.Len(t, c.s().Promises("order o2"), 2, "and what was said before is kept")
	c.told(events.Promised{On: "order o1"})
	_, all = whens(c, "lid-on")
	require.Equal(t, "unknown when", all, "or be taken back")
	c.told(events.Promised{On: "order o1", Day: "2026-11-20"})
	got, _ = whens(c, "lid-on")
	require.Contains(t, got[0], "promised for 20 November and not here")
	require.Equal(t, 0, len(c.s().Notes()), "nothing was strange")
	c.told(events.Promised{On: "order o9", Day: "2026-12-09"})
	require.Equal(t, NoSuch, c.s().Notes()[0].What, "an order that nobody told of")
}

func TestAnOrderIsReceived(t *testing.T) {
	c := openBox(t)
	c.order("o1", "2026-12-01", events.Line{Kind: boltM6, Qty: 4}, events.Line{Kind: "gasket", Qty: 1})
	o := c.s().Order("o1")
	require.Equal(t, []string{"ordered", "5"}, []string{o.State(), itoa(o.Due())})
	receive := func(kind events.Kind, n int) {
		c.told(events.HardwareReceived{From: "outside/supplier/Fjord", To: "stock/new", Order: "o1", Lines: lines(kind, n)})
		o = c.s().Order("o1")
	}
	receive(boltM6, 3)
	require.Equal(t, []string{"part received", "2"}, []string{o.State(), itoa(o.Due())})
	got, _ := whens(c, "lid-on")
	require.Contains(t, got[0], "3 of 4 that may go in")
	require.Contains(t, got[0], "1 on order o1 from Fjord, promised for 1 December")
	receive(boltM6, 3) // two too many
	receive(boltM8, 1) // never ordered
	require.Equal(t, []OrderLine{
		{Kind: boltM6, Ordered: 4, Received: 6, Promised: "2026-12-01"},
		{Kind: "gasket", Ordered: 1, Promised: "2026-12-01"},
		{Kind: boltM8, Received: 1}}, o.Lines)
	require.Equal(t, 1, o.Due())
	c.told(events.HardwareSentBack{From: "stock/new", Supplier: "Fjord", Order: "o1", Lines: lines(boltM6, 3), Why: "nicked"})
	o = c.s().Order("o1")
	require.Equal(t, 3, o.Lines[0].Returned)
	require.Equal(t, 2, o.Due(), "six came and three went: one is owed again")
	require.Equal(t, 3, total(c.s().At("stock/new"), boltM6), "and the book agrees")
	require.NoError(t, c.s().Book().Verify())
	c.told(events.OrderClosed{Order: "o1", Why: "out of make"})
	o = c.s().Order("o1")
	require.Equal(t, []string{"closed", "0"}, []string{o.State(), itoa(o.Due())})
	_, all := whens(c, "lid-on")
	require.Equal(t, "unknown when", all)
	ev, err := c.job.Decide(Tell{events.OrderClosed{Order: "o1"}})
	require.NoError(t, err)
	require.Nil(t, ev, "it is closed already")
	c.told(events.HardwareReceived{From: "outside/supplier/Fjord", To: "stock/new", Order: "o7", Lines: lines(boltM6, 1)})
	require.Equal(t, 4, total(c.s().At("stock/new"), boltM6), "of an order that nobody told of: stored all the same")
	require.Equal(t, "order o7", c.s().Notes()[0].On)
}

func total(list []events.Line, k events.Kind) int {
	n := 0
	for _, l := range list {
		if l.Kind == k {
			n += l.Qty
		}
	}
	return n
}

func TestWhatIsSaidAheadMustMakeSense(t *testing.T) {
	c := openBox(t)
	for _, bad := range []struct {
		ev  events.Event
		why string
	}{
		{events.Ordered{Lines: lines("gasket", 1)}, "an order without a name"},
		{events.Ordered{Order: "o1"}, "orders nothing"},
		{events.Ordered{Order: "o1", Lines: lines("gasket", 0)}, "0 gasket on order o1"},
		{events.Ordered{Order: "o1", Lines: lines("gasket", -2)}, "a number below zero"},
		{events.Ordered{Order: "o1", Lines: lines("", 2)}, "a number without a kind"},
		{events.Ordered{Order: "o1", Lines: lines("gasket", 2), Promised: "2026-02-30"}, `"2026-02-30" is no day`},
		{events.Promised{On: "order o1", Day: "soon"}, `"soon" is no day`},
		{events.Promised{Day: "2026-12-01"}, "a promise of nothing"},
		{events.StepPlanned{Step: "lid-on", Day: "14.12."}, `"14.12." is no day`},
		{events.LeadTimeSet{Supplier: "Fjord", Days: -1}, "a lead time of -1 days"},
		{events.LeadTimeSet{Days: 3}, "a lead time of nobody"},
		{events.HardwareSentBack{From: "stock/new", Supplier: "Fjord"}, "nothing was sent back"},
	} {
		require.Contains(t, c.refused(Tell{bad.ev}).Fact, bad.why)
	}
	c.told(events.LeadTimeSet{Supplier: "Fjord", Days: 4})
	ev, err := c.job.Decide(Tell{events.LeadTimeSet{Supplier: "Fjord", Days: 4}})
	require.NoError(t, err)
	require.Nil(t, ev, "it is so already")
	c.told(events.StepPlanned{Step: "nothing", Day: "2026-12-01"})
	require.Equal(t, NoSuch, c.s().Notes()[0].What)
}

// Rule R37: the wait counts from when the conditions held last.
func TestAStepWaitsOutItsTime(t *testing.T) {
	whole := boxCrew(t)
	whole.told(events.MarkMade{Mark: "cured"})
	require.Empty(t, whole.job.Can("cure"), "what came closed has waited long enough")
	require.Zero(t, whole.s().TooSoon("cured"))
	c := openBox(t)
	c.told(events.HardwareReceived{From: "outside/supplier/Fjord", To: "stock/new", Lines: append(lines(boltM6, 4), lines("gasket", 1)...)})
	c.do("lid-on")
	c.do("cap-on")
	held := c.s().Fact(c.s().ahead.held["cure"]).At
	c.clock()
	got, all := whens(c, "cure")
	require.Len(t, got, 1)
	require.Equal(t, momentWords(held+2*3600_000_000)+" | Not before "+momentWords(held+2*3600_000_000)+": 2 h from "+momentWords(held)+": wait; or a second person: scan step cure, OVERRIDE", got[0])
	require.Equal(t, momentWords(held+2*3600_000_000), all)
	c.job.Clock(held + 2*3600_000_000 - 1)
	require.Len(t, c.job.Can("cure"), 1)
	c.job.Clock(held + 2*3600_000_000)
	require.Empty(t, c.job.Can("cure"))
	c.told(events.MarkMade{Mark: "cured"})
	var red []string
	for _, l := range c.job.Red() {
		if l.Code == RedWait {
			red = append(red, l.String())
		}
	}
	require.Equal(t, []string{"Cure: told before its 2 h were over: wait until " + momentWords(held+2*3600_000_000) + "; or a second person: scan step cure, OVERRIDE"}, red, "told in the same minute")
	c.at = held + 2*3600_000_000
	c.told(events.CavityOpened{})
	require.Zero(t, c.s().TooSoon("cured"), "it is over now")
	c.told(events.PiecesOut{Joint: "cap", Holes: []events.Hole{"1"}})
	c.told(events.PiecesFitted{Joint: "cap", Holes: []events.Hole{"1"}})
	c.clock()
	require.Len(t, c.job.Can("cure"), 1, "a bolt was out: it waits again")
	c.job.Clock(0)
	require.Empty(t, c.job.Can("cure"), "without a clock nobody can say")
}

// Rule R37: sealant that was open for too long blocks its step until it is put
// on anew; one that was closed too late stays red.
func TestSealantHasItsTime(t *testing.T) {
	for _, on := range []events.SealantApplied{{Step: "cap-on"}, {Joint: "cap"}, {Part: "cap", Lot: "S7"}} {
		c := openBox(t)
		c.told(events.HardwareReceived{From: "outside/supplier/Fjord", To: "stock/new", Lines: append(lines(boltM6, 4), lines("gasket", 1)...)})
		c.do("lid-on")
		c.told(on)
		at := c.at
		c.clock()
		require.Empty(t, c.job.Can("cap-on"))
		require.Equal(t, at+5*60_000_000, find(t, c.job.WhatNow(), "cap-on").Until)
		c.clock(5*time.Minute + time.Second)
		require.Equal(t, []Blocker{{"Sealant put on " + momentWords(at) + ": its 5 min were over " + momentWords(at+5*60_000_000),
			"clean it off both faces, put on new: scan step cap-on, SEALANT ON"}}, c.job.Can("cap-on"))
		c.at += 6 * 60_000_000
		c.told(on)
		c.clock()
		require.Empty(t, c.job.Can("cap-on"), "put on anew")
		c.do("cap-on")
		require.Zero(t, c.s().Beads()[1].Late())
		require.Zero(t, find(t, c.job.WhatNow(), "cap-on").Until)
		for _, l := range c.job.Red() {
			require.NotEqual(t, RedSealant, l.Code)
		}
		c.do("cap-off")
		c.told(on)
		c.at += 11 * 60_000_000
		c.do("cap-on")
		late := c.s().bead("cap-on")
		require.Greater(t, late.Late(), 6*time.Minute)
		var red []string
		for _, l := range c.job.Red() {
			if l.Code == RedSealant {
				red = append(red, l.Text)
			}
		}
		require.Equal(t, []string{"Cap on: closed " + spanWords(late.Late()) + " after the sealant's 5 min"}, red)
	}
	c := openBox(t)
	c.told(events.SealantApplied{Joint: "nothing"})
	c.told(events.SealantApplied{Step: "lid-off"})
	require.Len(t, c.s().Notes(), 2, "no step of this job is sealed so")
}

// Rule R39: by the minutes, in days of eight hours.
func TestPlannedStartsFollow(t *testing.T) {
	c := openBox(t)
	starts := func() (days []events.Day) {
		for _, step := range []events.Step{"lid-on", "cap-on", "cure", "start"} {
			days = append(days, c.job.PlannedStart(step))
		}
		return days
	}
	require.Equal(t, []events.Day{"", "", "", ""}, starts(), "nothing is planned")
	c.told(events.StepPlanned{Step: "lid-on", Day: "2026-12-14"})
	require.Equal(t, []events.Day{"2026-12-14", "2026-12-14", "2026-12-15", "2026-12-15"}, starts(), "five hours, and five more")
	c.told(events.StepPlanned{Step: "cap-on", Day: "2026-12-16"})
	require.Equal(t, []events.Day{"2026-12-14", "2026-12-16", "2026-12-16", "2026-12-16"}, starts())
	c.told(events.StepPlanned{Step: "lid-on"})
	require.Equal(t, []events.Day{"2026-12-15", "2026-12-16", "2026-12-16", "2026-12-16"}, starts(), "in time for the cap")
	c.told(events.StepPlanned{Step: "cap-on"})
	c.told(events.StepPlanned{Step: "start", Day: "2026-12-16"})
	require.Equal(t, []events.Day{"2026-12-14", "2026-12-15", "2026-12-16", "2026-12-16"}, starts(), "all of it in time for the start")
	require.Empty(t, c.job.PlannedStart("nothing"))
	require.Equal(t, plan.StepIndex(plan.None), func() plan.StepIndex { ix, _ := c.plan().Step("nothing"); return ix }())
}
