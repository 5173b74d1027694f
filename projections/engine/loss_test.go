package engine

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/projections/ledger"
)

// A bolt of the front cover is lost while the cover comes off: the timing case is
// open and leads to the sump. The step that closes either waits for a look, a
// look clears up to its own moment, and the short stays open until it is ended.
func TestALossHoldsWhatWouldCloseTheCavity(t *testing.T) {
	c := newCrew(t)
	for _, id := range []events.Step{"check-in", "flywheel-off", "stand-on", "drain", "accessories-off", "bracket-off", "harness-off", "coils-off",
		"sparks-off", "cam-cover-off", "one-set", "pulley-off", "pump-off", "pan-off"} {
		c.do(id)
	}
	bag := c.bagOf("front-cover")
	ch := c.counted(events.PiecesOut{Joint: "front-cover", Holes: []events.Hole{"1", "3", "5", "6", "7", "9", "10", "12", "13", "14", "15", "16", "17", "18", "19", "20", "21", "22"},
		To: events.Place("bag/" + bag), All: true, Lines: []events.Line{{Kind: "M6x1.0x25 8.8 flange", Qty: 1}, {Kind: "M8x1.25x30 8.8 flange", Qty: 8},
			{Kind: "M8x1.25x45 8.8 flange", Qty: 4}, {Kind: "M10x1.5x50 8.8 flange", Qty: 4}}})
	c.counted(events.PiecesOut{Joint: "head-front", To: events.Place("bag/" + c.bagOf("head-front")), All: true, Lines: []events.Line{{Kind: "M8x1.25x40 8.8 flange", Qty: 4}}})
	require.EqualValues(t, 1, ch.Opened.N)
	d := c.job.Differences()
	require.Len(t, d, 1)
	require.Equal(t, events.Kind("M10x1.5x50 8.8 flange"), d[0].Kind)
	require.Equal(t, 1, d[0].Qty)
	require.Equal(t, "last known there by the plan only; first missed 11 May 22:45", d[0].Interval)
	require.Contains(t, d[0].Offers, "still in: it never left its hole")
	look := strings.Join(d[0].Look, "; ")
	require.Contains(t, look, "Sump, open")
	require.Contains(t, look, "oil pan before the wash")
	require.Equal(t, RedShort, c.job.Red()[0].Code)
	require.Contains(t, c.job.Red()[0].Scan, "scan short 1, FOUND")

	c.buy()
	require.Contains(t, texts(c.job.Can("pan-on")), "Sump may hold short 1, 1 M10x1.5x50 missing since 11 May: look into it: scan cavity sump, LOOKED")
	require.Contains(t, texts(c.job.Can("access-plug-on")), "")
	w := WriteOff{Short: d[0].Short, Operator: "Marit", Second: "Ole", Why: "looked everywhere"}
	no := c.refused(w)
	require.Equal(t, Conflict, no.Code)
	require.Contains(t, no.Next, "LOOKED")
	open := c.s().couldBeIn(entryOf(c, 1))
	for _, cav := range open {
		c.told(events.CavityLooked{Cavity: c.plan().Cavities[cav].ID})
	}
	require.NotContains(t, texts(c.job.Can("pan-on")), "Sump may hold")
	require.Len(t, c.job.Differences(), 1, "a look ends nothing")
	require.Equal(t, NeedsTwo, c.refused(WriteOff{Short: d[0].Short, Operator: "Marit", Second: "Marit", Why: "x"}).Code)
	require.Equal(t, Malformed, c.refused(WriteOff{Short: d[0].Short, Operator: "Marit", Second: "Ole"}).Code)
	c.told(c.ask(w))
	require.Empty(t, c.job.Differences())
	require.Nil(t, c.ask(w), "it is written off already")
	require.Equal(t, Unknown, c.refused(WriteOff{Short: events.ShortID{Terminal: "b9", N: 1, K: 1}, Operator: "Marit", Second: "Ole", Why: "x"}).Code)

	// a later loss needs its own look
	c.told(events.LossReported{From: events.Place("bag/" + bag), Lines: []events.Line{{Kind: "M8x1.25x30 8.8 flange", Qty: 1}}, Cavity: "timing-case"})
	require.Contains(t, texts(c.job.Can("pan-on")), "Sump may hold short 2, 1 M8x1.25x30 missing")
	d = c.job.Differences()
	require.Equal(t, "Timing case, it was heard to go there", d[0].Look[0])
}

// What is closed already holds turning, cranking and the next audit until it is
// looked into or a second person signs for it.
func TestALossInAClosedCavityHoldsTurning(t *testing.T) {
	c := newCrew(t)
	c.takeApart()
	c.buy()
	c.build()
	c.off(events.Battery)
	require.Empty(t, c.job.MayDo(events.Turning))
	c.counted(events.HardwareReceived{From: "outside/drawer", To: "place/shelf", Lines: []events.Line{{Kind: "M6x1.0x25 8.8 flange", Qty: 1}}})
	c.told(events.LossReported{From: "place/shelf", Lines: []events.Line{{Kind: "M6x1.0x25 8.8 flange", Qty: 1}}})
	blocked := texts(c.job.MayDo(events.Turning))
	require.Contains(t, blocked, "Sump is closed and may hold short 1, 1 M6x1.0x25: open it and look into it: scan cavity sump, LOOKED")
	a, _ := c.job.Audit("ready-to-start")
	require.Contains(t, codes(a.Red), RedInside)
	require.Contains(t, codes(a.Carried), RedShort)
	c.told(c.ask(Override{Ask: "cavity sump", Operator: "Marit", Second: "Ole", Why: "magnet and endoscope"}))
	require.NotContains(t, texts(c.job.MayDo(events.Turning)), "Sump is closed")
}

func TestExplainATippedBag(t *testing.T) {
	c := coverOff(t)
	from, into := c.bagOf("front-cover"), c.bagOf("water-pump")
	c.counted(events.Counted{Place: events.Place("bag/" + from), Lines: c.s().At(events.Place("bag/" + from)), All: true})
	c.counted(events.Counted{Place: events.Place("bag/" + into), Lines: c.s().At(events.Place("bag/" + into)), All: true})
	// somebody tips five pieces of the one into the other and tells nobody
	c.counted(events.Counted{Place: events.Place("bag/" + from), All: true, Lines: []events.Line{{Kind: "M6x1.0x25 8.8 flange", Qty: 1}, {Kind: "M8x1.25x30 8.8 flange", Qty: 5},
		{Kind: "M8x1.25x45 8.8 flange", Qty: 2}, {Kind: "M10x1.5x50 8.8 flange", Qty: 5}, {Kind: "M12x1.25x65 8.8 flange", Qty: 4}}})
	c.counted(events.Counted{Place: events.Place("bag/" + into), All: true, Lines: []events.Line{{Kind: "M8x1.25x30 8.8 flange", Qty: 5}, {Kind: "M8x1.25x70 8.8 flange", Qty: 2},
		{Kind: "M8x1.25x45 8.8 flange", Qty: 2}}})
	require.Len(t, c.job.Differences(), 4)
	require.Equal(t, "bag "+string(into)+", 3 too many by the count of 11 May", c.job.Differences()[0].Look[0])
	x := c.job.Explain()
	require.Len(t, x, 1)
	require.True(t, x[0].Exact)
	require.Len(t, x[0].Shorts, 4)
	require.Equal(t, 1, x[0].Equal)
	require.Len(t, x[0].Answers[0].Acts, 1)
	require.Contains(t, x[0].Answers[0].Acts[0], "3 M8x1.25x30 and 2 M8x1.25x45 went from bag "+string(from)+" to bag "+string(into))
	require.Empty(t, x[0].Tell)
}

func TestAMiscountOffersItself(t *testing.T) {
	c := coverOff(t)
	bag := events.Place("bag/" + c.bagOf("water-pump"))
	c.counted(events.Counted{Place: bag, Lines: []events.Line{{Kind: "M8x1.25x30 8.8 flange", Qty: 2}, {Kind: "M8x1.25x70 8.8 flange", Qty: 1}}, All: true})
	require.NotContains(t, strings.Join(c.job.Differences()[0].Offers, "\n"), "miscount")
	c.counted(events.Counted{Place: bag, Lines: []events.Line{{Kind: "M8x1.25x30 8.8 flange", Qty: 2}, {Kind: "M8x1.25x70 8.8 flange", Qty: 2}}, All: true})
	d := c.job.Differences()
	require.Len(t, d, 2)
	require.Contains(t, d[0].Offers[0], "miscount: bag")
	c.told(events.ShortEnded{Short: d[0].Short, How: events.Miscount})
	require.Empty(t, c.job.Differences())
}

func TestTwoBenchesDisagree(t *testing.T) {
	c := coverOff(t)
	bag := events.Place("bag/" + c.bagOf("mount-bracket"))
	seen := c.job.Seen()
	lines := c.s().At(bag)
	// bench 1, cut off, empties the bag; bench 2 counts it, and neither knows of the other
	c.at += 60_000_000
	one := events.Record{Shop: "hill", Job: "4K7", Terminal: "b1", N: 1, Time: c.at, At: c.at, Seen: seen, Operator: "Ole",
		Event: events.PiecesFitted{Joint: "mount-bracket", Holes: []events.Hole{"1", "2", "3", "4"}, From: bag, All: true}}
	two := events.Record{Shop: "hill", Job: "4K7", Terminal: "b2", N: c.n + 1, Time: c.at + 1, At: c.at + 1, Seen: seen, Operator: "Marit", Known: events.CountedBlind,
		Event: events.Counted{Place: bag, Lines: lines, All: true}}
	c.n++
	c.job.Apply(&two)
	c.job.Apply(&one)
	red := c.job.Red()
	require.NotEmpty(t, red)
	require.Equal(t, RedDisagreement, red[0].Code)
	require.Contains(t, red[0].Text, "neither bench knew of the other")
	d := c.job.Differences()
	require.True(t, d[0].Disputed)
	require.ElementsMatch(t, []events.FactID{one.ID(), two.ID()}, d[0].Facts)

	settle := Settle{Facts: d[0].Facts, Falls: two.ID(), Why: "the bag is empty"}
	require.Equal(t, Conflict, c.refused(settle).Code, "without a count of the bag")
	require.Equal(t, Malformed, c.refused(Settle{Facts: d[0].Facts[:1], Falls: two.ID()}).Code)
	require.Equal(t, Malformed, c.refused(Settle{Facts: d[0].Facts, Falls: events.FactID{Terminal: "b1", N: 9}}).Code)
	require.Equal(t, Unknown, c.refused(Settle{Facts: []events.FactID{one.ID(), {Terminal: "b9", N: 1}}, Falls: one.ID()}).Code)
	settle.Counts = []events.PlaceCount{{Place: bag}}
	c.counted(c.ask(settle))
	for _, x := range c.job.Differences() {
		require.False(t, x.Disputed, "%+v", x)
	}
	require.Nil(t, c.ask(settle), "settled already")
}

func TestAnOldCountIsAskedAgain(t *testing.T) {
	c := coverOff(t)
	c.do("pump-strip")
	require.Empty(t, c.job.Can("pump-build"))
	now := c.job.LatestAt() + int64(21*24*time.Hour/time.Microsecond)
	c.job.Clock(now)
	require.Equal(t, []Blocker{{"The bag " + string(c.bagOf("pump-plate")) + " was counted 21 days ago", "scan bag B2AOAAAA, COUNT"}}, c.job.Can("pump-build"))
	c.job.Use(Limits{CountAge: 30 * 24 * time.Hour})
	require.Empty(t, c.job.Can("pump-build"))
	c.job.Use(UsualLimits())
	c.at = now
	bag := events.Place("bag/" + c.bagOf("pump-plate"))
	c.counted(events.Counted{Place: bag, Lines: c.s().At(bag), All: true})
	require.Empty(t, c.job.Can("pump-build"))
}

func entryOf(c *crew, k ledger.EntryNo) *ledger.Entry {
	en := c.s().book.Entry(k)
	return &en
}
