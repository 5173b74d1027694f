package engine

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/projections/plan"
)

// What stands against a tell is said beside it, and what it leaves is red (R76).
func TestWhatStandsAgainstATell(t *testing.T) {
	for _, row := range []struct {
		name  string
		first []events.Event
		tell  events.Event
		says  string
		red   string // the code of the line that stays
	}{
		{"held", []events.Event{events.PartRemoved{Part: "cam-cover"}, events.HoldSet{Hold: "h1", On: "part cam-cover", Why: "cracked"}},
			events.PartFitted{Part: "cam-cover"}, "Hold on Cam cover since 11 May, cracked", RedHold},
		{"away", []events.Event{events.PartRemoved{Part: "oil-pan"}, events.SentOut{Slip: "S2AAAAAA", Shop: "Bakke", Parts: []events.Part{"oil-pan"}}},
			events.PartFitted{Part: "oil-pan"}, "Oil pan is away by the book since 11 May to Bakke", RedSlip},
		{"not looked over", []events.Event{events.PartRemoved{Part: "oil-pan"}, events.SentOut{Slip: "S2AAAAAA", Parts: []events.Part{"oil-pan"}}, events.Returned{Slip: "S2AAAAAA"}},
			events.PartFitted{Part: "oil-pan"}, "Oil pan came back and nobody has looked it over", RedUnlooked},
		{"in paint", []events.Event{events.PartRemoved{Part: "oil-pan"}, events.BatchOpened{Batch: "p1", What: "paint", Parts: []events.Part{"oil-pan"}}},
			events.PartFitted{Part: "oil-pan"}, "Oil pan is in batch p1", RedBatch},
		{"wet", []events.Event{events.PartRemoved{Part: "oil-pan"}, events.BatchOpened{Batch: "p1", What: "paint", Parts: []events.Part{"oil-pan"}}, events.BatchClosed{Batch: "p1", Cure: 1440}},
			events.PartFitted{Part: "oil-pan"}, "Oil pan: what was put on in batch p1 cures until", RedBatch},
		{"beyond its limit", []events.Event{events.PartRemoved{Part: "crank"}, events.Measured{Measurement: "main-journal", At: "4", Value: 51.95, Text: "51.95", Unit: "mm"}},
			events.PartFitted{Part: "crank"}, "main-journal at 4: 51.95 mm", RedMeasure},
		{"empty holes of a list", []events.Event{events.PiecesOut{Joint: "head", All: true}},
			events.StageRecorded{Joint: "head", Stage: 1, Stages: 4}, "Nothing is in Head bolts 1, 2, 3, 4, 5, 6, 7, 8, 9, 10", ""},
		{"one empty hole", []events.Event{events.PiecesOut{Joint: "coils", All: true}},
			events.StageRecorded{Joint: "coils", Holes: []events.Hole{"2"}, Stage: 1, Stages: 1}, "Nothing is in Coils 2", ""},
		{"turned with the battery not looked at", nil, events.ActDone{Act: events.Turning}, "Battery: not confirmed as off, 11 May", ""},
		{"turned with the battery off", []events.Event{events.SourceConfirmed{Source: events.Battery}}, events.ActDone{Act: events.Turning}, "", ""},
		{"heated with the fuel on", []events.Event{
			events.FluidChanged{Cavity: "sump", State: events.Drained}, events.FluidChanged{Cavity: "coolant-jacket", State: events.Drained},
			events.SourceConfirmed{Source: events.Battery}, events.SourceConfirmed{Source: events.Fuel, On: true},
		}, events.ActDone{Act: events.Heating}, "Fuel on since 11 May", ""},
		{"started with a bolt that is loose", []events.Event{events.PiecesLoosened{Joint: "oil-pan", Holes: []events.Hole{"3"}}},
			events.EngineStarted{}, "Oil pan 3: not tightened to the end", ""},
		{"nothing", []events.Event{events.PartRemoved{Part: "oil-pan"}}, events.PartFitted{Part: "oil-pan"}, "", ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			c := newCrew(t)
			for _, ev := range row.first {
				c.told(ev)
			}
			c.told(row.tell)
			against := c.job.Against(row.tell)
			if row.says == "" {
				require.Empty(t, against)
				return
			}
			require.Len(t, against, 1)
			require.Contains(t, against[0].Text, row.says)
			require.NotEmpty(t, against[0].Clear)
			if row.red != "" {
				require.Contains(t, codes(c.job.Red()), row.red)
			}
		})
	}
}

// A word about battery or fuel that a later one overrides is answered so.
func TestAWordThatWasBeforeIsAnsweredSo(t *testing.T) {
	c := newCrew(t)
	c.told(events.SourceConfirmed{Source: events.Battery, On: true})
	off := events.SourceConfirmed{Source: events.Battery}
	now := c.hours(c.at)
	c.past(events.Told, now-30, now-24, off)
	require.Contains(t, texts(c.job.Against(off)), "That was before: battery on since 11 May 21:48, Marit: look at it now: scan BATTERY ON; or scan BATTERY OFF")
	c.past(events.Told, now-2, now+1, off)
	require.Contains(t, texts(c.job.Against(off)), "Battery: told on and off for the same time")
	c.at += 7.2e9
	c.told(off)
	require.Empty(t, c.job.Against(off))
}

// What a turn leaves red is not said a second time.
func TestWhatATurnLeavesRedIsSaidOnce(t *testing.T) {
	c := newCrew(t)
	c.told(events.PartRemoved{Part: "buckets"})
	c.told(events.ActDone{Act: events.Turning})
	require.NotContains(t, texts(c.job.Against(events.ActDone{Act: events.Turning})), "lie loose")
	require.Contains(t, textsOfRed(c.job.Red(), RedTurned), "lie loose")
}

// A part that was said to be on comes back of its slip all the same.
func TestASlipClosesThoughItsPartIsOn(t *testing.T) {
	c := newCrew(t)
	c.told(events.PartRemoved{Part: "oil-pan"})
	c.told(events.SentOut{Slip: "S2AAAAAA", Shop: "Bakke", Parts: []events.Part{"oil-pan"}})
	c.told(events.PartFitted{Part: "oil-pan"})
	require.Contains(t, codes(c.job.Red()), RedSlip)
	c.told(events.Returned{Slip: "S2AAAAAA"})
	require.NotContains(t, codes(c.job.Red()), RedSlip)
	pan, _ := c.s().lay.plan.Part("oil-pan")
	require.Equal(t, plan.PartOn, c.s().now.Part(pan))
	v, _ := c.job.SlipNow("S2AAAAAA")
	require.Zero(t, v.Lines[0].Away)
	require.Equal(t, 1, v.Lines[0].Came)
	require.True(t, c.s().already(events.Returned{Slip: "S2AAAAAA"}), "a second time")
}

// Turned with the buckets out, started without the signature: red until somebody
// looked and a second person says so.
func TestTurnedAndStartedAgainstTheBook(t *testing.T) {
	c := newCrew(t)
	c.told(events.PartRemoved{Part: "buckets"})
	c.told(events.ActDone{Act: events.Turning})
	require.Contains(t, textsOfRed(c.job.Red(), RedTurned), "32 Valve lock halves lie loose")
	c.told(c.ask(Override{Ask: "act turning", Operator: "Marit", Second: "Ole", Why: "looked with a mirror"}))
	require.Empty(t, textsOfRed(c.job.Red(), RedTurned))

	c = newCrew(t)
	c.told(events.EngineStarted{})
	require.Contains(t, textsOfRed(c.job.Red(), RedStart), "audit Ready to start signed")
	for _, point := range []events.AuditPoint{"ready-to-start", "released"} {
		a, _ := c.job.Audit(point)
		require.Contains(t, textsOfRed(append(a.Red, a.Carried...), RedStart), "audit Ready to start signed", point)
	}
}

func textsOfRed(lines []RedLine, code string) string {
	text := ""
	for _, l := range lines {
		if l.Code == code {
			text += l.Text + "\n"
		}
	}
	return text
}

func TestToldTwiceIsSoAlready(t *testing.T) {
	c := newCrew(t)
	out := TakeOut{Joint: "coils", All: true}
	c.told(c.ask(out))
	again, err := c.job.Decide(out)
	require.NoError(t, err)
	require.Nil(t, again)
	into, err := c.job.Decide(TakeOut{Joint: "coils", To: "bag/B2KP34V5", All: true})
	require.NoError(t, err)
	require.NotNil(t, into, "the bag is new")
	c.told(events.EngineStarted{})
	c.told(events.EngineStopped{Warm: true})
	require.True(t, c.s().already(events.EngineStopped{Warm: true}))
	require.False(t, c.s().already(events.EngineStopped{}))
	require.False(t, c.s().already(events.EngineCooled{}))
	c.told(events.EngineCooled{})
	require.True(t, c.s().already(events.EngineCooled{}))
}

// Of an engine without a plan, what came out and off is red until it is back.
func TestWithoutAPlanWhatIsOutIsRed(t *testing.T) {
	b := &bench{t: t, job: &Job{}, name: "b2", at: 1_700_000_000_000_000}
	b.tell(events.Told, events.JobOpened{Engine: "Barn find"})
	red := func() []string {
		a, ok := b.job.Audit("ready-to-start")
		require.True(t, ok)
		return textsOf(blockersOf(a.Red))
	}
	require.Empty(t, red())
	b.tell(events.Told, events.JointTagged{Joint: "H1", Name: "water outlet"})
	_, err := b.job.SavePlan()
	require.ErrorContains(t, err, "nothing came out of joint H1 yet: scan it, a bag")
	bolts := []events.Line{{Kind: "M8x1.25x30", Qty: 3}}
	b.tell(events.CountedOpen, events.PiecesOut{Joint: "H1", To: "bag/B2KP34V5", Lines: bolts})
	b.tell(events.Told, events.PartRemoved{Part: "Outlet, cast"})
	require.Equal(t, []string{"Outlet, cast: off", "Water outlet: 3 M8x1.25x30 came out and not back in"}, red())
	ev, err := b.job.Decide(Fit{Joint: "H1", From: "bag/B2KP34V5", All: true})
	require.NoError(t, err)
	require.Equal(t, bolts, ev.(events.PiecesFitted).Lines)
	b.tell(events.Claimed, ev)
	b.tell(events.Told, events.PartFitted{Part: "Outlet, cast"})
	require.Empty(t, red())
	again, err := b.job.Decide(Fit{Joint: "H1", From: "bag/B2KP34V5", All: true})
	require.NoError(t, err)
	require.Nil(t, again)
	// out a second time: the same three, not three more
	b.tell(events.CountedOpen, events.PiecesOut{Joint: "H1", To: "bag/B2KP34V5", Lines: bolts})
	b.tell(events.Told, events.PartRemoved{Part: "Outlet, cast"})
	require.Len(t, red(), 2)
	require.Equal(t, 3, b.job.State().LearnedJoints()[0].Lines[0].Qty)
	p, err := b.job.SavePlan()
	require.NoError(t, err)
	require.EqualValues(t, "outlet-cast", p.Parts[0].ID)
	require.Equal(t, "Outlet, cast", p.Parts[0].Name)
	require.Len(t, p.Seats, 3)
	_, err = b.job.Decide(Fit{Joint: "H9", All: true})
	require.ErrorContains(t, err, "the book does not say what of joint H9 is there")
}

func blockersOf(lines []RedLine) []Blocker {
	var list []Blocker
	for _, l := range lines {
		list = append(list, Blocker{l.Text, l.Scan})
	}
	return list
}
