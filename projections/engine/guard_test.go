package engine

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
)

func TestGuards(t *testing.T) {
	for _, row := range []struct {
		name string
		act  events.Act
		do   func(c *crew)
		want string // empty: nothing stands against it
	}{
		{"nothing touched, and nobody looked at the battery", events.Turning, func(c *crew) {}, "Battery: not confirmed as off, 11 May: take its cables off, negative first: scan BATTERY OFF"},
		{"nothing touched", events.Turning, func(c *crew) { c.off(events.Battery) }, ""},
		{"the battery was connected again", events.Turning, func(c *crew) {
			c.off(events.Battery)
			c.told(events.SourceConfirmed{Source: events.Battery, On: true})
		}, "Battery on since 11 May 21:49, Marit"},
		{"it cranked meanwhile", events.Turning, func(c *crew) {
			c.off(events.Battery)
			c.told(events.ActDone{Act: events.Cranking})
		}, "Battery on since"},
		{"the battery was off yesterday", events.Turning, func(c *crew) {
			c.off(events.Battery)
			c.job.Clock(c.job.LatestAt() + 86_400_000_000)
		}, "Battery: not confirmed as off, 12 May"},
		{"a lamp lies in it", events.Turning, func(c *crew) {
			c.off(events.Battery)
			c.told(events.LoanIn{Loan: "bore-lamp", Count: 1, Where: "cylinders"})
		}, "bore-lamp in since 11 May (cylinders): scan tool bore-lamp, OUT"},
		{"a pin in the crank", events.Turning, func(c *crew) { c.told(events.LoanIn{Loan: "crank-pin", Count: 1}) }, "Crank timing pin in since 11 May: scan loan crank-pin, OUT"},
		{"a pin in a part that lies on the bench", events.Turning, func(c *crew) {
			c.takeApart()
			c.off(events.Battery)
			c.told(events.LoanIn{Loan: "tensioner-pin", Count: 1})
			for _, l := range []events.Loan{"crank-pin", "cam-bar", "rag"} {
				c.told(events.LoanOut{Loan: l, Count: 9})
			}
		}, ""},
		{"buckets without cams", events.Turning, func(c *crew) {
			c.told(events.PartRemoved{Part: "cam-intake"})
			c.told(events.PartRemoved{Part: "cam-exhaust"})
		}, "16 Graded buckets lie loose: Cam intake and Cam exhaust off: scan part cam-intake, ON; scan part cam-exhaust, ON; or scan part buckets, OFF"},
		{"buckets taken out as well", events.Turning, func(c *crew) {
			c.off(events.Battery)
			c.told(events.PartRemoved{Part: "cam-intake"})
			c.told(events.PartRemoved{Part: "cam-exhaust"})
			c.told(events.PartRemoved{Part: "buckets"})
			c.told(events.PartRemoved{Part: "head"})
		}, ""},
		{"cranking with a bolt that is not tight", events.Cranking, func(c *crew) { c.told(events.PiecesLoosened{Joint: "oil-pan", Holes: []events.Hole{"3"}}) },
			"Oil pan 3: not tightened to the end: scan joint oil-pan, hole 3, STAGE"},
		{"cranking with a plug in by hand", events.Cranking, func(c *crew) { c.do("check-in"); c.do("drain") }, "Oil drain plug 1: in finger-tight only"},
		{"cranking with nothing signed", events.Cranking, func(c *crew) {}, "Audit Ready to start is not signed"},
		{"cranking with the battery off", events.Cranking, func(c *crew) { c.off(events.Battery) }, "Battery off since 11 May"},
		{"cranking, and nobody looked at the battery", events.Cranking, func(c *crew) {}, "Battery: not confirmed as on, 11 May"},
		{"cranking, and nobody looked at the fuel", events.Cranking, func(c *crew) {}, "Fuel: not confirmed, 11 May: shut it off: scan FUEL OFF; or look at its lines under pressure for leaks: scan FUEL ON"},
		{"flame, and nobody looked at battery or fuel", events.Heating, func(c *crew) {}, "Fuel: not confirmed as off, 11 May: shut it off, relieve its pressure, cap its lines: scan FUEL OFF"},
		{"flame after it ran", events.Heating, func(c *crew) {
			c.off(events.Battery, events.Fuel)
			c.told(events.EngineStarted{})
		}, "Fuel on since 11 May"},
		{"flame with oil in it", events.Heating, func(c *crew) {}, "Sump holds oil: drain it, then scan cavity sump, DRAINED"},
		{"flame with rags in it", events.Heating, func(c *crew) { c.told(events.LoanIn{Loan: "rag", Count: 2, Where: "ports"}) }, "Rags, 2 in since 11 May (ports), and may burn: scan loan rag, OUT"},
		{"flame on an unconfirmed case", events.Heating, func(c *crew) {
			c.told(events.FastenerBroken{Case: "C2AAAAAA", Joint: "exhaust", Hole: "9", OtherEnd: "in-hand"})
		}, "Case C2AAAAAA: not confirmed: Both battery cables off"},
		{"flame, drained and confirmed", events.Heating, func(c *crew) {
			c.told(events.FluidChanged{Cavity: "sump", State: events.Drained})
			c.told(events.FluidChanged{Cavity: "coolant-jacket", State: events.Drained})
			c.told(events.FastenerBroken{Case: "C2AAAAAA", Joint: "exhaust", Hole: "9", OtherEnd: "in-hand"})
			c.told(events.HotWorkConfirmed{Case: "C2AAAAAA", Cautions: CautionIDs()})
		}, ""},
		{"flame, drained, no case, battery and fuel off", events.Heating, func(c *crew) {
			c.told(events.FluidChanged{Cavity: "sump", State: events.Drained})
			c.told(events.FluidChanged{Cavity: "coolant-jacket", State: events.Drained})
			c.off(events.Battery, events.Fuel)
		}, ""},
		{"flame, all confirmed for a case, and the battery on since", events.Heating, func(c *crew) {
			c.told(events.FastenerBroken{Case: "C2AAAAAA", Joint: "exhaust", Hole: "9", OtherEnd: "in-hand"})
			c.told(events.HotWorkConfirmed{Case: "C2AAAAAA", Cautions: CautionIDs()})
			c.told(events.SourceConfirmed{Source: events.Battery, On: true})
		}, "Battery on since"},
		{"an act that nobody knows", "flying", func(c *crew) {}, "Nothing is known about flying"},
	} {
		t.Run(row.name, func(t *testing.T) {
			c := newCrew(t)
			row.do(c)
			if row.want == "" {
				require.Empty(t, c.job.MayDo(row.act))
				return
			}
			require.Contains(t, texts(c.job.MayDo(row.act)), row.want)
		})
	}
}

// off tells that somebody looked at sources and found them off.
func (c *crew) off(which ...events.Source) {
	for _, w := range which {
		c.told(events.SourceConfirmed{Source: w})
	}
}

// live tells that battery and fuel are on and were looked at.
func (c *crew) live() {
	c.told(events.SourceConfirmed{Source: events.Battery, On: true})
	c.told(events.SourceConfirmed{Source: events.Fuel, On: true})
}

func TestAGuardIsLetPassByTwo(t *testing.T) {
	c := newCrew(t)
	c.off(events.Battery)
	c.told(events.LoanIn{Loan: "crank-pin", Count: 1})
	o := Override{Ask: "act turning", Operator: "Marit", Second: "Ole", Why: "it is a dummy pin"}
	require.Equal(t, NeedsTwo, c.refused(Override{Ask: "act turning", Operator: "Marit", Second: "Marit", Why: "x"}).Code)
	require.Equal(t, NeedsTwo, c.refused(Override{Ask: "act turning", Operator: "Marit", Why: "x"}).Code)
	require.Equal(t, Malformed, c.refused(Override{Ask: "act turning", Operator: "Marit", Second: "Ole"}).Code)
	require.Equal(t, Malformed, c.refused(Override{Ask: "turning", Operator: "Marit", Second: "Ole", Why: "x"}).Code)
	require.Equal(t, Unknown, c.refused(Override{Ask: "act flying", Operator: "Marit", Second: "Ole", Why: "x"}).Code)
	ev := c.ask(o).(events.Overridden)
	require.Equal(t, []string{"Crank timing pin in since 11 May"}, ev.Unmet)
	c.told(ev)
	require.Empty(t, c.job.MayDo(events.Turning))
	require.Nil(t, c.ask(o), "nothing is left to let pass")
	c.told(events.LoanIn{Loan: "cam-bar", Count: 1})
	require.NotEmpty(t, c.job.MayDo(events.Turning), "what came later was not let pass")
	a, _ := c.job.Audit("released")
	require.Contains(t, a.Overrides[0], "act turning let pass by Ole, it is a dummy pin")
}

func TestLadder(t *testing.T) {
	broken := func(c *crew, joint events.Joint, hole events.Hole, stub events.Stub, mm float64) {
		c.told(events.FastenerBroken{Case: "C2AAAAAA", Joint: joint, Hole: hole, Stub: stub, StubMm: mm, OtherEnd: "in-hand"})
	}
	tried := func(c *crew, method string, minutes int) {
		c.told(events.ExtractionTried{Case: "C2AAAAAA", Method: method, Minutes: minutes})
	}
	for _, row := range []struct {
		name   string
		do     func(c *crew)
		access Access
		next   string
		stop   bool
		sleeve bool
		why    string
	}{
		{"fresh", func(c *crew) { broken(c, "exhaust", "9", events.Proud, 9) }, InLine, Soak, false, false, "aluminium: no torch colour"},
		{"proud by more than a diameter", func(c *crew) { broken(c, "exhaust", "9", events.Proud, 9); tried(c, Soak, 10) }, InLine, Grip, false, false, "a diameter or more"},
		{"proud by less", func(c *crew) { broken(c, "exhaust", "9", events.Proud, 4); tried(c, Soak, 10) }, InLine, WeldNut, false, false, "less than a diameter"},
		{"proud, nobody measured", func(c *crew) { broken(c, "exhaust", "9", events.Proud, 0); tried(c, Soak, 10) }, InLine, WeldNut, false, false, "less than a diameter"},
		{"flush", func(c *crew) { broken(c, "exhaust", "9", events.Flush, 0); tried(c, Soak, 10) }, InLine, WeldNut, false, false, "flush"},
		{"below", func(c *crew) { broken(c, "exhaust", "9", events.Below, -3); tried(c, Soak, 10) }, InLine, WeldNut, false, true, "below the face"},
		{"in cast iron", func(c *crew) { broken(c, "front-cover", "6", events.Flush, 0); tried(c, Soak, 10) }, InLine, Heat, false, false, "cast iron takes heat"},
		{"two methods failed", func(c *crew) { broken(c, "exhaust", "9", events.Flush, 0); tried(c, Soak, 10); tried(c, DrillLeft, 10) }, InLine, HandOut, true, false,
			"2 methods failed: stop, and ask a second person"},
		{"an hour", func(c *crew) { broken(c, "exhaust", "9", events.Flush, 0); tried(c, Soak, 60) }, InLine, HandOut, true, false, "60 minutes of work: stop"},
		{"a tap broke in it", func(c *crew) {
			broken(c, "exhaust", "9", events.Flush, 0)
			c.told(events.ExtractionTried{Case: "C2AAAAAA", Method: DrillOut, Minutes: 5, ToolBroken: true})
		}, InLine, HandOut, true, false, "a hard piece is in the hole"},
		{"no drill in line", func(c *crew) {
			c.job.Use(Limits{})
			broken(c, "exhaust", "9", events.Flush, 0)
			tried(c, Soak, 10)
			for range 6 {
				tried(c, WeldNut, 10)
			}
		}, NotInLine, HandOut, false, false, "no drill gets in line"},
		{"drill in line", func(c *crew) {
			c.job.Use(Limits{})
			broken(c, "exhaust", "9", events.Flush, 0)
			tried(c, Soak, 10)
			for range 6 {
				tried(c, WeldNut, 10)
			}
		}, InLine, DrillLeft, false, false, ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			c := newCrew(t)
			row.do(c)
			a, ok := c.job.Ladder("C2AAAAAA", row.access)
			require.True(t, ok)
			require.Equal(t, row.next, a.Next.ID)
			require.Equal(t, row.stop, a.Stop)
			require.Equal(t, row.sleeve, a.Sleeve)
			if row.why != "" {
				require.Contains(t, wordList(a.Why), row.why)
			}
		})
	}
	c := newCrew(t)
	_, ok := c.job.Ladder("C2AAAAAA", InLine)
	require.False(t, ok)
	require.Len(t, Methods(), 10)
	require.Len(t, Cautions(), 9)
}

func TestExtraction(t *testing.T) {
	c := newCrew(t)
	c.told(events.FastenerBroken{Case: "C2AAAAAA", Joint: "exhaust", Hole: "9", Stub: events.Below, OtherEnd: "in-hand"})
	for _, row := range []struct {
		cmd  Command
		code Code
		fact string
	}{
		{TryExtraction{Case: "C2AAAAAA", Method: "axe"}, Malformed, `"axe" is no method`},
		{TryExtraction{Case: "C2AAAAAA", Method: Soak, Minutes: -1}, Malformed, "-1 minutes"},
		{TryExtraction{Case: "C2BBBBBB", Method: Soak}, Unknown, "this job has no case C2BBBBBB"},
		{TryExtraction{Case: "C2AAAAAA", Method: WeldNut}, Conflict, "not confirmed: Both battery cables off"},
		{TryExtraction{Case: "C2AAAAAA", Method: Heat}, Conflict, "not confirmed: Both battery cables off"},
		{ExtractStud{Case: "C2AAAAAA", Hole: "gone"}, Malformed, `"gone" is no state of a hole`},
		{ExtractStud{Case: "C2AAAAAA", Hole: events.HoleInsert, DepthMm: -1}, Malformed, "a depth of -1 mm"},
		{ExtractStud{Case: "C2AAAAAA", Hole: events.HoleInsert}, Conflict, "an insert of unknown depth"},
		{ExtractStud{Case: "C2AAAAAA", Hole: events.HoleOversize, DepthMm: 20}, Conflict, "an oversize thread of unknown size"},
		{ExtractStud{Case: "C2AAAAAA", Hole: events.HoleOversize, DepthMm: 20, Takes: "a long one"}, Malformed, "is no fastener"},
		{ExtractStud{Case: "C2BBBBBB", Hole: events.HoleChased}, Unknown, "this job has no case"},
	} {
		no := c.refused(row.cmd)
		require.Equal(t, row.code, no.Code, "%+v", row.cmd)
		require.Contains(t, no.Fact, row.fact)
	}
	// every caution but one is not enough
	c.told(events.HotWorkConfirmed{Case: "C2AAAAAA", Cautions: CautionIDs()[1:]})
	require.Contains(t, c.refused(TryExtraction{Case: "C2AAAAAA", Method: WeldNut}).Fact, "not confirmed")
	c.told(events.HotWorkConfirmed{Case: "C2AAAAAA", Cautions: CautionIDs()})
	c.told(c.ask(TryExtraction{Case: "C2AAAAAA", Method: WeldNut, Minutes: 20}))
	c.told(c.ask(TryExtraction{Case: "C2AAAAAA", Method: WeldNut, Minutes: 20}))
	c.told(c.ask(TryExtraction{Case: "C2AAAAAA", Method: DrillLeft, Minutes: 10}))
	no := c.refused(TryExtraction{Case: "C2AAAAAA", Method: DrillOut})
	require.Equal(t, NeedsTwo, no.Code)
	require.Contains(t, no.Fact, "2 methods failed")
	c.told(c.ask(Override{Ask: "case C2AAAAAA", Operator: "Marit", Second: "Ole", Why: "nearly out"}))
	c.told(c.ask(TryExtraction{Case: "C2AAAAAA", Method: DrillOut, Minutes: 5}))
	require.Equal(t, NeedsTwo, c.refused(TryExtraction{Case: "C2AAAAAA", Method: FitInsert}).Code, "one override, one attempt")
	require.False(t, hasCode(c.job, RedPastStop))
	c.told(events.ExtractionTried{Case: "C2AAAAAA", Method: FitInsert, Minutes: 5})
	require.True(t, hasCode(c.job, RedPastStop), "an attempt already made is stored, and shows")
	c.told(c.ask(ExtractStud{Case: "C2AAAAAA", Hole: events.HoleInsert, DepthMm: 22, Takes: "M8x1.25x45 8.8 stud"}))
	require.Nil(t, c.ask(ExtractStud{Case: "C2AAAAAA", Hole: events.HoleInsert, DepthMm: 22}), "it is out")
	require.Equal(t, Conflict, c.refused(TryExtraction{Case: "C2AAAAAA", Method: Soak}).Code)
}
