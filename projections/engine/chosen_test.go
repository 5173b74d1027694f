package engine

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/projections/plan"
)

// A torque that a person chose where the plan knows none (rule R53): owed from
// then on, kept over an amendment of the plan, gone with its fitting, and taken
// back like any other fact.
func TestATorqueThatAPersonChose(t *testing.T) {
	src, err := os.ReadFile("../../testdata/plans/bramble-t2-42.yaml")
	require.NoError(t, err)
	c := &crew{t: t, job: &Job{}, name: "b2", who: "Marit", at: 1_747_000_000_000_000, tick: 60_000_000, bags: map[events.Joint]events.Code{}}
	c.tell(events.Told, c.ask(OpenJob{Engine: "Bramble", Plan: string(src)}))
	chosen := ChooseTorque{events.TorqueChosen{Joint: "spark-plugs", Value: 18, Unit: "lbf.ft", Lubricant: "dry", Signed: "Marit"}}
	stand := func() plan.SeatState {
		ix, ok := c.plan().Hole("spark-plugs", "1")
		require.True(t, ok)
		return c.s().now.Seat(ix)
	}
	c.told(c.ask(chosen))
	require.Equal(t, plan.SeatFinished, stand(), "as the engine came")
	c.renewed("spark-plugs")
	require.Equal(t, plan.SeatFilled, stand())
	n, ok := c.job.NextStage("spark-plugs", nil)
	require.True(t, ok)
	require.Equal(t, "torque 24.405 N.m", n.What)
	stage := events.StageRecorded{Joint: "spark-plugs", Order: n.Order, Stage: 1, Stages: 1, Value: 18, Unit: "lbf.ft", Read: true}
	c.told(stage)
	require.Equal(t, plan.SeatFinished, stand())

	c.told(events.PlanAmended{Op: "add", Section: "parts", ID: "tag", Text: "{in: crankcase}", Why: "it has one"})
	require.Equal(t, plan.SeatFinished, stand(), "an amendment takes nothing away")
	require.Len(t, c.job.Tightened("spark-plugs"), 1)
	c.renewed("spark-plugs")
	require.Equal(t, plan.SeatFilled, stand(), "another fitting")
	c.told(stage)
	require.Equal(t, plan.SeatFinished, stand())
	c.told(events.Corrected{Wrong: events.FactID{Terminal: "b2", N: c.n}, Why: "test"})
	require.Equal(t, plan.SeatFilled, stand(), "taken back")

	for _, row := range []struct {
		e    events.TorqueChosen
		code Code
	}{
		{events.TorqueChosen{Joint: "spark-plugs", Value: 18, Unit: "deg", Lubricant: "dry"}, Malformed},
		{events.TorqueChosen{Joint: "spark-plugs", Value: 0, Unit: "N.m", Lubricant: "dry"}, Malformed},
		{events.TorqueChosen{Joint: "spark-plugs", Value: 18, Unit: "N.m"}, Malformed},
		{events.TorqueChosen{Joint: "lid", Value: 18, Unit: "N.m", Lubricant: "dry"}, Unknown},
		{events.TorqueChosen{Joint: "cylinders", Value: 60, Unit: "N.m", Lubricant: "oil"}, Conflict},
	} {
		require.Equal(t, row.code, c.refused(ChooseTorque{row.e}).Code, "%v", row.e)
	}
}

// Of two editions that disagree the chosen one counts, over an amendment too
// (rule R52).
func TestTheEditionThatWasChosen(t *testing.T) {
	c := newCrew(t)
	c.renewed("head")
	require.Equal(t, Malformed, c.refused(ChooseEdition{Joint: "head", Choice: 1, Signed: "Ole"}).Code, "no reason")
	require.Equal(t, Malformed, c.refused(ChooseEdition{Joint: "head", Choice: 1, Why: "older block"}).Code, "nobody signs")
	require.Equal(t, Malformed, c.refused(ChooseEdition{Joint: "head", Choice: 3, Signed: "Ole", Why: "older block"}).Code)
	require.Equal(t, Conflict, c.refused(ChooseEdition{Joint: "oil-pan", Choice: 1, Signed: "Ole", Why: "older block"}).Code)
	c.told(c.ask(ChooseEdition{Joint: "head", Choice: 1, Signed: "Ole", Why: "older block"}))
	require.Nil(t, c.ask(ChooseEdition{Joint: "head", Choice: 1, Signed: "Ole", Why: "older block"}), "so already")
	for k := range 2 {
		n, ok := c.job.NextStage("head", nil)
		require.True(t, ok)
		require.Equal(t, k+1, n.Stage)
		c.told(events.StageRecorded{Joint: "head", Order: n.Order, Stage: n.Stage, Stages: n.Stages, What: n.What, Edition: n.Edition})
	}
	ix, _ := c.plan().Hole("head", "1")
	require.Equal(t, plan.SeatFinished, c.s().now.Seat(ix))
	c.told(events.PlanAmended{Op: "add", Section: "parts", ID: "tag", Text: "{in: block}", Why: "it has one"})
	ix, _ = c.plan().Hole("head", "1")
	require.Equal(t, plan.SeatFinished, c.s().now.Seat(ix))
	require.Equal(t, 1, c.job.Tightened("head")[0].Edition)
	c.told(c.ask(ChooseEdition{Joint: "head", Choice: 2, Signed: "Ole", Why: "no, the newer"}))
	require.Equal(t, plan.SeatFilled, c.s().now.Seat(ix))
	require.Len(t, c.job.Doubts("head", nil), 2, "both stages were told by the other edition")
}
