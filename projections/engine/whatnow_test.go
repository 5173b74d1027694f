package engine

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
)

// The steps that can be done while the head is away, as they were worked out by
// hand for the Sorrel.
var whileHeadIsAway = []events.Step{
	"piston-1-built", "piston-2-built", "piston-3-built", "piston-4-built", "bedplate-shells-in", "rear-seal-in", "front-seal-in",
	"pump-build", "cam-cover-build", "intake-build", "rail-build",
	"plugs-in", "shells-in", "crank-on", "mains-tried", "bedplate-on", "end-play", "rear-seal-on", "liners-clamped",
	"rod-1-on", "rod-2-on", "rod-3-on", "rod-4-on", "pickup-on", "balance-on", "sprocket-on", "holes-dried", "thermostat-on",
}

func TestWhatNowWhileTheHeadIsAway(t *testing.T) {
	c := newCrew(t)
	did := c.takeApart()
	for _, n := range c.job.WhatNow() {
		if n.Section.Apart() && n.Step != "chain-hung" {
			require.Contains(t, did, n.Step, "%v", n.Blockers)
		}
	}
	require.Empty(t, c.job.Differences())
	c.buy()
	did = nil
	for again := true; again; {
		again = false
		for _, n := range c.job.WhatNow() {
			if !n.Section.Apart() && n.State == CanStart && n.Step != "head-back" {
				c.do(n.Step)
				did = append(did, n.Step)
				again = true
				break
			}
		}
	}
	require.ElementsMatch(t, whileHeadIsAway, did)
	require.NoError(t, c.s().Book().Verify())
}

// coverOff is the Sorrel with its front cover off: everything before it is off,
// counted into its bags, and new pieces are here.
func coverOff(t testing.TB) *crew {
	c := newCrew(t)
	for _, id := range []events.Step{"check-in", "flywheel-off", "stand-on", "drain", "accessories-off", "bracket-off", "harness-off", "coils-off",
		"sparks-off", "cam-cover-off", "one-set", "pulley-off", "pump-off", "pan-off", "cover-off"} {
		require.Empty(t, c.job.Can(id), "%s", id)
		c.do(id)
	}
	c.buy()
	return c
}

func texts(list []Blocker) string {
	var words []string
	for _, b := range list {
		words = append(words, b.String())
	}
	return strings.Join(words, "\n")
}

func TestBlockersSayTheFactAndWhatClearsIt(t *testing.T) {
	bag := func(c *crew, j events.Joint) events.Place { return events.Place("bag/" + c.bagOf(j)) }
	for _, row := range []struct {
		name  string
		do    func(c *crew)
		step  events.Step
		want  string // in the blockers after do, and not before
		clear func(c *crew)
	}{
		{"a loan that must be out", func(c *crew) { c.told(events.LoanIn{Loan: "balance-tensioner-pin", Count: 1}) }, "cover-on",
			"Balance tensioner pin in since 11 May, and must be out for this: scan loan balance-tensioner-pin, OUT",
			func(c *crew) { c.told(events.LoanOut{Loan: "balance-tensioner-pin", Count: 1}) }},
		{"a hold on the step", func(c *crew) { c.told(events.HoldSet{Hold: "h1", On: "step pump-build", Why: "ask the owner"}) }, "pump-build",
			"Hold on Pump build since 11 May, ask the owner: scan hold h1, RELEASE",
			func(c *crew) { c.told(c.ask(ReleaseHold{Hold: "h1"})) }},
		{"a hold on a part that it works on", func(c *crew) { c.told(events.HoldSet{Hold: "h2", On: "part front-cover", Why: "crack?"}) }, "pump-build",
			"Hold on Front cover since 11 May, crack?: scan hold h2, RELEASE",
			func(c *crew) { c.told(events.HoldReleased{Hold: "h2"}) }},
		{"a finding that is not decided", func(c *crew) {
			c.told(events.FindingRaised{Finding: "f1", On: "part pump-rotor-inner", What: "scored"})
		}, "pump-build",
			"Finding on Pump rotor inner is not decided, scored: scan finding f1, USE; or scan finding f1, REPAIR; or scan finding f1, REPLACE; or scan finding f1, SEND OUT; or scan finding f1, ASK THE OWNER",
			func(c *crew) { c.told(events.FindingDecided{Finding: "f1", Decision: "use"}) }},
		{"a stub in a hole", func(c *crew) {
			c.told(events.FastenerBroken{Case: "C2AAAAAA", Joint: "pump-plate", Hole: "3", Stub: events.Flush, OtherEnd: "in-hand"})
		}, "pump-build", "Case C2AAAAAA: a stub is in Oil pump cover plate, inside the front cover 3: get it out, or send the part out with it",
			func(c *crew) { c.told(events.StudExtracted{Case: "C2AAAAAA", Hole: events.HoleChased}) }},
		{"pieces scrapped", func(c *crew) {
			c.told(events.PiecesScrapped{From: bag(c, "pump-plate"), Lines: []events.Line{{Kind: "M6x1.0x16 8.8 flange", Qty: 5}}})
			c.told(events.PiecesScrapped{From: bag(c, "grounds"), Lines: []events.Line{{Kind: "M6x1.0x16 8.8 flange", Qty: 6}}})
		}, "pump-build", "M6x1.0x16: 0 of 5 that may go in: when they come scan place shelf, RECEIVED",
			func(c *crew) {
				c.counted(events.HardwareReceived{From: "outside/supplier/elm", To: "stock/more", Lines: []events.Line{{Kind: "M6x1.0x16 8.8 flange", Qty: 5}}})
			}},
		{"pieces condemned", func(c *crew) {
			c.told(events.PiecesScrapped{From: bag(c, "grounds"), Lines: []events.Line{{Kind: "M6x1.0x16 8.8 flange", Qty: 6}}})
			c.told(events.ConditionChanged{Place: bag(c, "pump-plate"), Lines: []events.Line{{Kind: "M6x1.0x16 8.8 flange", Qty: 2}}, Cond: events.Condemned})
		}, "pump-build", "M6x1.0x16: 3 of 5 that may go in; 2 condemned: when they come scan place shelf, RECEIVED",
			func(c *crew) {
				c.told(events.ConditionChanged{Place: bag(c, "pump-plate"), Lines: []events.Line{{Kind: "M6x1.0x16 8.8 flange", Qty: 2, Cond: events.Condemned}}, Cond: events.MeasuredGood})
			}},
		{"a single-use piece that is not new", func(c *crew) {
			c.told(events.PiecesScrapped{From: "stock/box", Lines: []events.Line{{Kind: "front-seal", Qty: 1}}})
		}, "front-seal-in", "Front seal: 0 of 1 that may go in; 1 not new, and single-use: when they come scan place shelf, RECEIVED",
			func(c *crew) {
				c.counted(events.HardwareReceived{From: "outside/supplier/elm", To: "stock/more", Lines: []events.Line{{Kind: "front-seal", Qty: 1}}})
			}},
	} {
		t.Run(row.name, func(t *testing.T) {
			c := coverOff(t)
			c.do("pump-strip")
			c.do("front-seal-out")
			require.NotContains(t, texts(c.job.Can(row.step)), row.want)
			row.do(c)
			require.Contains(t, texts(c.job.Can(row.step)), row.want)
			row.clear(c)
			require.NotContains(t, texts(c.job.Can(row.step)), row.want)
		})
	}
}

func TestHardwareOfTheHeadBoltsIsMeasuredFirst(t *testing.T) {
	c := newCrew(t)
	c.takeApart()
	require.Contains(t, texts(c.job.Can("rod-1-on")), "M8x1.0x40: 0 of 2 that may go in; 8 not measured: measure them (rod-bolt-difference); or scan place shelf, RECEIVED")
	c.told(events.ConditionChanged{Place: events.Place("bag/" + c.bagOf("rod-1-cap")), Lines: []events.Line{{Kind: "M8x1.0x40 10.9 12pt", Qty: 2}}, Cond: events.MeasuredGood})
	require.NotContains(t, texts(c.job.Can("rod-1-on")), "M8x1.0x40")
	require.Contains(t, texts(c.job.Can("rod-2-on")), "M8x1.0x40: 0 of 2 that may go in; Piston and rod 1 needs them first; 6 not measured")
}

func TestALaterStepGoesShortNotAnEarlierOne(t *testing.T) {
	c := newCrew(t)
	c.takeApart()
	c.buy()
	// two of the five bolts of the pump plate are gone: the harness, which comes last, pays
	c.told(events.PiecesScrapped{From: events.Place("bag/" + c.bagOf("pump-plate")), Lines: []events.Line{{Kind: "M6x1.0x16 8.8 flange", Qty: 2}}})
	require.Empty(t, c.job.Can("pump-build"))
	list := c.job.Missing()
	require.Len(t, list, 2)
	require.Equal(t, events.Step("pump-build"), list[0].Step)
	require.Equal(t, events.Step("harness-on"), list[0].Robs)
	require.Equal(t, 2, list[0].RobsQty)
	require.Equal(t, 0, list[0].Missing)
	require.Equal(t, events.Step("harness-on"), list[1].Step)
	require.Equal(t, Shortfall{Step: "harness-on", Name: "Harness on", Kind: "M6x1.0x16 8.8 flange", Need: 6, Have: 4, Missing: 2,
		Seats: []events.Seat{"grounds:1", "grounds:2", "grounds:3", "grounds:4", "grounds:5", "grounds:6"},
		From:  []Source{{events.Place("bag/" + c.bagOf("grounds")), "M6x1.0x16 8.8 flange", "", 4}}}, list[1])

	// a second person gives the pump plate's share free: then it goes short itself
	c.told(c.ask(Override{Ask: "share pump-build", Operator: "Marit", Second: "Ole", Why: "another plate is coming"}))
	require.Contains(t, texts(c.job.Can("pump-build")), "M6x1.0x16: 3 of 5 that may go in")
	require.NotContains(t, texts(c.job.Can("harness-on")), "that may go in")
}

func TestEitherOr(t *testing.T) {
	c := newCrew(t)
	c.takeApart()
	c.buy()
	c.build("rear-seal-on", "balance-on", "pickup-on", "thermostat-on", "head-back")
	for _, id := range []events.Step{"rear-seal-on", "balance-on", "pickup-on"} {
		n := find(t, c.job.WhatNow(), id)
		require.Equal(t, CanStart, n.State, "%s %v", id, n.Blockers)
		require.Empty(t, n.EitherOr)
	}
	// six M6x1.0x20 are left: the seal carrier wants six, the balance drive four, the pickup two
	const kind = "M6x1.0x20 8.8 flange"
	for _, j := range []events.Joint{"oil-pan", "pickup", "balance-drive", "oil-control"} {
		for _, l := range c.s().At(events.Place("bag/" + c.bagOf(j))) {
			if l.Kind == kind {
				c.told(events.PiecesScrapped{From: events.Place("bag/" + c.bagOf(j)), Lines: []events.Line{{Kind: kind, Qty: l.Qty}}})
			}
		}
	}
	list := c.job.WhatNow()
	seal, balance, pickup := find(t, list, "rear-seal-on"), find(t, list, "balance-on"), find(t, list, "pickup-on")
	require.Equal(t, CanStart, seal.State)
	require.ElementsMatch(t, []events.Step{"balance-on", "pickup-on"}, seal.EitherOr)
	require.Equal(t, []events.Step{"rear-seal-on"}, balance.EitherOr)
	require.Equal(t, []events.Step{"rear-seal-on"}, pickup.EitherOr)
	require.Equal(t, []Blocker{{"M6x1.0x20: 0 of 4 that may go in; Rear seal on needs them first", "when they come scan place shelf, RECEIVED"}}, balance.Blockers)
}
