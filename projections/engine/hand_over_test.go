package engine

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
)

// What is not accepted stays with the one who hands over, red, until it is
// settled or taken over later (rule R59).
func TestWhatIsNotTakenOverStays(t *testing.T) {
	c := newCrew(t)
	c.told(events.LoanIn{Loan: "crank-pin", Count: 1})
	c.told(events.LoanIn{Loan: "rag", Count: 2})
	texts := func() (list []string) {
		for _, i := range c.job.HandOver() {
			list = append(list, i.Text)
		}
		return list
	}
	open := texts()
	require.Len(t, open, 2)
	require.Equal(t, NeedsTwo, c.refused(TakeOver{From: "Marit", To: "Marit"}).Code)
	require.Equal(t, Malformed, c.refused(TakeOver{From: "Marit"}).Code)
	c.told(c.ask(TakeOver{From: "Marit", To: "Ole", Open: open[1:], Left: open[:1], Note: "mind the pin"}))
	require.Contains(t, codes(c.job.Red()), RedLeft)
	require.Equal(t, open, texts(), "the red line of it is no item of its own")
	require.Equal(t, events.Badge("Marit"), c.job.HandOver()[0].With)
	require.Empty(t, c.job.HandOver()[1].With)
	from, e, _, ok := c.s().LastHandOver()
	require.True(t, ok)
	require.Equal(t, events.Badge("Marit"), from)
	require.Equal(t, "mind the pin", e.Note)

	c.told(c.ask(TakeOver{From: "Marit", To: "Ole", Open: open}))
	require.NotContains(t, codes(c.job.Red()), RedLeft, "taken over later")
	c.told(events.HandedOver{To: "Ole", Left: open[:1]})
	require.Contains(t, codes(c.job.Red()), RedLeft)
	c.told(events.LoanOut{Loan: "crank-pin", Count: 1})
	c.told(events.LoanOut{Loan: "rag", Count: 2})
	require.NotContains(t, codes(c.job.Red()), RedLeft, "settled: nothing is left of it")
}

// A stage of turning by angle that some holes have and some have not is begun
// anew by other hands.
func TestABrokenOffAngleIsBegunAnew(t *testing.T) {
	c := newCrew(t)
	joint := events.Joint("head")
	c.told(events.PiecesLoosened{Joint: joint})
	for n := 1; n <= 2; n++ {
		c.told(events.StageRecorded{Joint: joint, Order: "head", Stage: n, Stages: 4})
	}
	c.told(events.StageRecorded{Joint: joint, Order: "head", Holes: []events.Hole{"1", "2", "3"}, Stage: 3, Stages: 4})
	var restart []HandItem
	for _, i := range c.job.HandOver() {
		if i.Restart {
			restart = append(restart, i)
		}
	}
	require.Len(t, restart, 1)
	require.Contains(t, restart[0].Text, "done on 3 of 10")
	require.Contains(t, restart[0].Next, "RESTART")
}

func TestEverythingOpenIsHandedOver(t *testing.T) {
	c := newCrew(t)
	c.told(events.PiecesOut{Joint: "coils", Holes: []events.Hole{"1"}, To: "bag/B2KCZ6EE"})
	c.told(events.FastenerBroken{Case: "C2KR4MBN", Joint: "exhaust", Hole: "9", Stub: events.Below})
	c.told(events.HoldSet{Hold: "h1", On: "step cover-on", Why: "seal on order"})
	c.told(events.FindingRaised{Finding: "f1", On: "part head", What: "cracked"})
	c.told(events.Measured{Measurement: "main-journal", At: "2", Value: 51.9, Unit: "mm"})
	c.told(events.SentOut{Slip: "S2KV6TNU", Parts: []events.Part{"head"}})
	c.told(events.EngineStarted{})
	about := map[string]bool{}
	for _, i := range c.job.HandOver() {
		about[i.About] = true
		require.NotEmpty(t, i.Text)
	}
	for _, a := range []string{AboutBegun, AboutCount, AboutBag, AboutCase, AboutDecide, AboutMeasure, AboutAway, AboutRun} {
		require.True(t, about[a], a)
	}
	require.NotEmpty(t, c.job.NextUp(3))
}
