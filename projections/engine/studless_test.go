package engine

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
)

func kindOfHole(c *crew, joint events.Joint, hole events.Hole, member int) events.Kind {
	ix, ok := c.s().lay.plan.Hole(joint, hole)
	require.True(c.t, ok)
	m := c.s().lay.plan.Seats[ix].Members
	if member < 0 {
		member += len(m)
	}
	return m[member].Kind
}

func startRed(c *crew) []string {
	a, ok := c.job.Audit("ready-to-start")
	require.True(c.t, ok)
	var list []string
	for _, l := range a.Red {
		list = append(list, l.String())
	}
	return list
}

// A stud that came out while its nut is in by the book leaves a hole that holds
// nothing: it is red, and nothing is noted of a stage of it.
func TestStudOutUnderItsNut(t *testing.T) {
	for _, tt := range []struct {
		plan  string
		joint events.Joint
		hole  events.Hole
	}{{"bramble-t2-42", "head-1", "2"}, {"sorrel-i4-20", "intake", ""}} {
		text, err := os.ReadFile("../../testdata/plans/" + tt.plan + ".yaml")
		require.NoError(t, err)
		c := crewOn(t, string(text))
		if tt.hole == "" {
			tt.joint, tt.hole = aStud(c)
		}
		stud := kindOfHole(c, tt.joint, tt.hole, 0)
		one := []events.Hole{tt.hole}
		require.False(t, hasCode(c.job, RedNoStud))
		c.told(events.PiecesOut{Joint: tt.joint, Holes: one, Lines: []events.Line{{Kind: stud, Qty: 1}}})
		require.True(t, hasCode(c.job, RedNoStud), tt.plan)
		require.Contains(t, strings.Join(startRed(c), "; "), "the stud is out, and what goes onto it is in by the book", tt.plan)

		turn := events.StageRecorded{Joint: tt.joint, Holes: one, Stage: 1, Stages: 1}
		require.Contains(t, c.job.Against(turn)[0].Text, "is out by the book, and nothing is noted of it")
		c.told(turn)
		ix, _ := c.s().lay.plan.Hole(tt.joint, tt.hole)
		require.Zero(t, c.s().seats[ix].stages)
		require.True(t, hasCode(c.job, RedNoStud))

		// its nut came out too: the hole is empty; then all of it goes in again
		c.told(events.PiecesOut{Joint: tt.joint, Holes: one})
		require.False(t, hasCode(c.job, RedNoStud))
		require.Contains(t, strings.Join(startRed(c), "; "), ": empty")
		c.told(events.PiecesFitted{Joint: tt.joint, Holes: one})
		require.NotContains(t, strings.Join(startRed(c), "; "), ": empty")
	}
}

// aStud is a hole with a stud that stays, and a nut on it.
func aStud(c *crew) (events.Joint, events.Hole) {
	for i := range c.s().lay.seats {
		if sl := &c.s().lay.seats[i]; sl.stay != 0 && sl.main&^sl.stay != 0 {
			seat := &c.s().lay.plan.Seats[i]
			return c.s().lay.plan.Joints[seat.Joint].ID, seat.Hole
		}
	}
	c.t.FailNow()
	return "", ""
}

// What was counted out of a hole leaves it red as well where something else of it
// stayed: its bolt, or the washer under that.
func TestOneOfAHoleOut(t *testing.T) {
	text, err := os.ReadFile("../../testdata/plans/bramble-t2-42.yaml")
	require.NoError(t, err)
	for member, want := range map[int]string{-1: "Oil base 2: empty", 0: "in, and not with all its pieces"} {
		c := crewOn(t, string(text))
		c.told(events.PiecesOut{Joint: "base", Holes: []events.Hole{"2"}, Lines: []events.Line{{Kind: kindOfHole(c, "base", "2", member), Qty: 1}}})
		require.Contains(t, strings.Join(startRed(c), "; "), want)
	}
}
