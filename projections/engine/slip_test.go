package engine

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
)

func slipLine(v SlipView, kind events.Kind) SlipLine {
	for _, l := range v.Lines {
		if l.Kind == kind {
			return l
		}
	}
	return SlipLine{}
}

// A head and its cover at a machine shop: what travels, what comes back in
// parts, what lacks, and what is to be looked over before it is fitted.
func TestASlipLineByLine(t *testing.T) {
	c := newCrew(t)
	c.told(events.CaughtUp{Deepest: "head"})
	c.told(events.SentOut{Slip: "S2BBBBBB", Parts: []events.Part{"head", "cam-cover"}, Shop: "Bakke", Scope: "skim"})
	c.told(events.WorkAsked{Slip: "S2BBBBBB", Work: "skim 0.1 mm", Limits: "not the cam bores"})
	v, ok := c.job.SlipNow("S2BBBBBB")
	require.True(t, ok)
	require.Equal(t, "skim 0.1 mm", v.Scope)
	require.Equal(t, "not the cam bores", v.Limits)
	require.Equal(t, SlipLine{Kind: "locks", Name: "Valve lock halves", Went: 32, Away: 32}, slipLine(v, "locks"))
	require.Equal(t, SlipLine{Kind: "head", Name: "Head", Part: true, Went: 1, Away: 1}, slipLine(v, "head"))
	require.NotEmpty(t, v.Blocks)
	require.Positive(t, v.SlackWork.Steps, "the bottom end can be built meanwhile")

	c.told(events.Returned{Slip: "S2BBBBBB", Parts: []events.Part{"cam-cover"}})
	v, _ = c.job.SlipNow("S2BBBBBB")
	require.True(t, v.Partial)
	require.Equal(t, []events.Part{"head"}, v.Out)
	require.Zero(t, v.Returned)

	c.counted(events.Returned{Slip: "S2BBBBBB", Lines: []events.Line{{Kind: "locks", Qty: 31}, {Kind: "springs", Qty: 17}}})
	v, _ = c.job.SlipNow("S2BBBBBB")
	require.Equal(t, SlipLine{Kind: "locks", Name: "Valve lock halves", Went: 32, Came: 31, Missing: 1}, slipLine(v, "locks"))
	require.NotZero(t, v.Returned)
	require.ElementsMatch(t, []events.Part{"head", "cam-cover"}, v.Unlooked)
	require.Contains(t, textsOf(c.job.Can("head-on")), "Head came back from Bakke and nobody has looked it over")

	require.Zero(t, v.Overdue, "what is back is not overdue")
	ev, err := c.job.Decide(Tell{events.Returned{Slip: "S2BBBBBB"}})
	require.NoError(t, err)
	require.Nil(t, ev, "a slip returned twice is not stored twice")
	ev, err = c.job.Decide(Tell{events.Returned{Slip: "S2BBBBBB", Lines: []events.Line{{Kind: "locks", Qty: 32}}}})
	require.NoError(t, err)
	require.NotNil(t, ev, "a count is always an event")

	c.told(events.FindingRaised{Finding: "f1", On: "part cam-cover", What: "cracked"})
	c.told(events.LookedOver{Parts: []events.Part{"head"}})
	v, _ = c.job.SlipNow("S2BBBBBB")
	require.Empty(t, v.Unlooked)
	require.NotContains(t, textsOf(c.job.Can("head-on")), "Head came back from Bakke and nobody has looked it over")
	_, ok = c.job.SlipNow("S2ZZZZZZ")
	require.False(t, ok)
}

// A promised day that passed is overdue until the slip is back; the slack is from
// that day, or today if it is past, to the planned start of the first step that
// the slip blocks.
func TestASlipIsOverdue(t *testing.T) {
	c := newCrew(t)
	c.told(events.CaughtUp{Deepest: "head"})
	c.told(events.SentOut{Slip: "S2BBBBBB", Parts: []events.Part{"head"}, Shop: "Bakke"})
	today := events.DayOf(c.at)
	view := func() SlipView {
		v, ok := c.job.SlipNow("S2BBBBBB")
		require.True(t, ok)
		return v
	}
	require.Zero(t, view().Words)
	c.told(events.Promised{On: "slip S2BBBBBB", Day: today.Plus(3)})
	c.told(events.Promised{On: "slip S2BBBBBB", Day: today.Plus(5)})
	c.told(events.StepPlanned{Step: "head-on", Day: today.Plus(9)})
	v := view()
	require.Equal(t, today.Plus(5), v.Promised)
	require.Equal(t, 2, v.Words)
	require.Zero(t, v.Overdue)
	require.True(t, v.NeededBy.Valid())
	require.LessOrEqual(t, v.NeededBy, today.Plus(9))
	require.Equal(t, v.Promised.Until(v.NeededBy), v.SlackDays)

	c.job.Clock(today.Plus(7).Start())
	v = view()
	require.Equal(t, 2, v.Overdue)
	require.Equal(t, today.Plus(7).Until(v.NeededBy), v.SlackDays)
	require.Contains(t, redTexts(c), "2 days overdue")
	c.job.Clock(today.Plus(8).Start())
	require.Contains(t, redTexts(c), "3 days overdue", "a day later without a fact")
	c.told(events.Returned{Slip: "S2BBBBBB"})
	require.Zero(t, view().Overdue)
}

// What was measured before it went stands beside what was measured since.
func TestASlipPairsReadings(t *testing.T) {
	c := newCrew(t)
	p := c.plan()
	part, measure := events.Part(""), ""
	for i := range p.Parts {
		if len(p.Parts[i].Measures) > 0 && !p.Parts[i].Root {
			part, measure = p.Parts[i].ID, p.Measurements[p.Parts[i].Measures[0]].ID
			break
		}
	}
	require.NotEmpty(t, measure)
	read := func(v float64) { c.told(events.Measured{Measurement: measure, At: "1", Value: v, Unit: "mm"}) }
	read(1)
	read(2)
	c.told(events.SentOut{Slip: "S2BBBBBB", Parts: []events.Part{part}})
	v, _ := c.job.SlipNow("S2BBBBBB")
	require.Nil(t, v.Readings[0].After)
	read(9) // told by the other shop, while it is away
	c.told(events.Returned{Slip: "S2BBBBBB"})
	read(3)
	v, _ = c.job.SlipNow("S2BBBBBB")
	require.Len(t, v.Readings, 1)
	require.Equal(t, 2.0, v.Readings[0].Before.Value)
	require.Equal(t, 3.0, v.Readings[0].After.Value)
}

// Whatever is told in whatever order, slips can be looked at.
func TestSlipsOfAnyHistory(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var j Job
		j.Load(history(draw{r}, sorrel(t), 30))
		for _, v := range j.Slips() {
			require.GreaterOrEqual(r, v.DaysAway, 0)
			require.Equal(r, len(v.Out) == 0, len(v.Blocks) == 0 && v.SlackWork == SlipSlack{})
		}
	})
}

// What lacks of a line on return is what went less what was counted, and lines
// that nobody named are as they went.
func TestResidualOfALine(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		c := newCrew(t)
		c.told(events.CaughtUp{Deepest: "head"})
		c.told(events.SentOut{Slip: "S2BBBBBB", Parts: []events.Part{"head"}})
		went, said := c.s().Contents("head"), map[events.Kind]int{}
		back := events.Returned{Slip: "S2BBBBBB"}
		for _, l := range went {
			if rapid.Bool().Draw(r, "named") {
				said[l.Kind] = rapid.IntRange(0, 2*l.Qty).Draw(r, "counted")
				back.Lines = append(back.Lines, events.Line{Kind: l.Kind, Qty: said[l.Kind]})
			}
		}
		c.counted(back)
		v, _ := c.job.SlipNow("S2BBBBBB")
		for _, l := range went {
			missing := 0
			if n, ok := said[l.Kind]; ok {
				missing = l.Qty - n
			}
			require.Equal(r, missing, slipLine(v, l.Kind).Missing, "%s", l.Kind)
		}
	})
}
