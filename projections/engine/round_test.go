package engine

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/projections/fastener/stage"
	"countback/projections/plan"
)

// flywheelIn is an engine whose flywheel has a star for its order and a stage
// more, with its bolts put in anew.
func flywheelIn(t *testing.T) *crew {
	const was = "order: star, stages: [{torque: 53}, {angle: 25}]"
	require.Contains(t, sorrel(t), was)
	c := &crew{t: t, job: &Job{}, name: "b2", who: "Marit", at: 1_747_000_000_000_000, tick: 60_000_000, bags: map[events.Joint]events.Code{}}
	c.tell(events.Told, c.ask(OpenJob{Engine: "Sorrel", Plan: strings.Replace(sorrel(t), was,
		"order: star, stages: [{torque: 53}, {angle: 25}, {torque: 60, due: cold after the first heat}]", 1)}))
	c.tell(events.Told, events.PiecesOut{Joint: "flywheel", All: true})
	c.tell(events.Claimed, events.PiecesFitted{Joint: "flywheel", All: true})
	return c
}

// A stage told of a whole joint was gone in the order of the list; told hole by
// hole in another, it says which came before their turn.
func TestRoundOfAWholeJointIsInItsOrder(t *testing.T) {
	early := func(c *crew) (n int) {
		for _, x := range c.job.Tightened("flywheel")[0].Rows[0].Cells {
			require.Equal(t, stage.Done, x.State)
			if x.Early {
				n++
			}
		}
		return n
	}
	one := events.StageRecorded{Joint: "flywheel", Order: "flywheel", Stage: 1, Stages: 2, What: "torque 53 N.m"}
	c := flywheelIn(t)
	c.tell(events.Told, one)
	require.Zero(t, early(c))
	c = flywheelIn(t)
	for _, seat := range seatsOfJoint(c, "flywheel") {
		hole := one
		hole.Holes = []events.Hole{c.plan().Seats[seat].Hole}
		c.tell(events.Told, hole)
	}
	require.NotZero(t, early(c))
}

// What is doubtful stands before a later stage, which does not clear it.
func TestDoubtStandsBeforeTheNextStage(t *testing.T) {
	c := flywheelIn(t)
	next := func() (NextStage, Doubt, bool) {
		n, _ := c.job.NextStage("flywheel", nil)
		d, doubtful := c.job.DoubtBefore(&n, "flywheel", nil)
		return n, d, doubtful
	}
	tell := func(number int, what string, holes ...events.Hole) {
		c.tell(events.Told, events.StageRecorded{Joint: "flywheel", Order: "flywheel", Stage: number, Stages: 2, What: what, Holes: holes})
	}
	tell(1, "torque 53 N.m")
	n, _, doubtful := next()
	require.Equal(t, 2, n.Stage)
	require.False(t, doubtful)
	tell(2, "angle 25 deg", "1", "2", "3")
	c.who = "Ole"
	n, _, doubtful = next()
	require.Equal(t, 2, n.Stage)
	require.False(t, doubtful)
	tell(2, "angle 25 deg", "4", "5", "6", "7", "8")
	n, d, doubtful := next()
	require.NotEmpty(t, n.Due)
	require.True(t, doubtful)
	require.Equal(t, 2, d.Stage)
	require.Equal(t, "RESTART", d.Clears())
	c.tell(events.Told, events.StageRestarted{Joint: "flywheel", Order: "flywheel", Stage: 2})
	n, _, doubtful = next()
	require.Equal(t, 1, n.Stage) // what was turned is loose
	require.False(t, doubtful)
}

func seatsOfJoint(c *crew, id events.Joint) []plan.SeatIndex {
	ix, ok := c.plan().Joint(id)
	require.True(c.t, ok)
	return c.plan().Joints[ix].Seats
}
