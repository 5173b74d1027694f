package engine

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// A washer that stayed in its hole, while its bolt is out, lies there and holds
// nothing: what the bolt clamps stays off, and the hole owes its stages.
func TestWasherStillIn(t *testing.T) {
	for _, tt := range []struct {
		file  string
		joint events.Joint
		hole  events.Hole
	}{{"bramble-t2-42", "base", "5"}, {"sorrel-i4-20", "", ""}} {
		text, err := os.ReadFile("../../testdata/plans/" + tt.file + ".yaml")
		require.NoError(t, err)
		c := crewOn(t, string(text))
		if tt.joint == "" {
			tt.joint, tt.hole = aWasher(c)
		}
		ix, _ := c.s().lay.plan.Hole(tt.joint, tt.hole)
		j, _ := c.s().lay.plan.Joint(tt.joint)
		counts := map[events.Kind]int{}
		var kinds []events.Kind
		for _, at := range c.s().lay.plan.Joints[j].Seats {
			for _, m := range c.s().lay.plan.Seats[at].Members {
				if counts[m.Kind] == 0 {
					kinds = append(kinds, m.Kind)
				}
				counts[m.Kind]++
			}
		}
		washer := kindOfHole(c, tt.joint, tt.hole, 0)
		counts[washer]--
		var lines []events.Line
		for _, k := range kinds {
			lines = append(lines, events.Line{Kind: k, Qty: counts[k]})
		}
		c.told(events.PiecesOut{Joint: tt.joint, Lines: lines, All: true})
		short := c.s().OpenShorts()
		require.Len(t, short, 1, tt.file)
		off := stateOfClamped(c, ix)
		c.told(events.ShortEnded{Short: c.s().ShortID(short[0]), How: events.StillIn, Holes: []events.Hole{tt.hole}})
		require.Empty(t, c.s().OpenShorts())
		st, sl := &c.s().seats[ix], &c.s().lay.seats[ix]
		require.Equal(t, uint8(1), st.in, "the washer is in hole %s", tt.hole)
		require.Equal(t, plan.SeatEmpty, c.s().now.Seat(ix))
		require.Zero(t, st.stages)
		require.Equal(t, off, stateOfClamped(c, ix), "nothing holds the part on")
		require.Equal(t, int32(1), c.s().book.Balance(c.s().group[sl.group], ledger.OfKind(c.s().kinds[sl.members[0].kind])))
	}
}

func stateOfClamped(c *crew, ix plan.SeatIndex) (list []plan.PartState) {
	for _, p := range c.s().lay.plan.Seats[ix].Clamps {
		list = append(list, c.s().now.Part(p))
	}
	return list
}

// aWasher is a hole with a washer under its bolt.
func aWasher(c *crew) (events.Joint, events.Hole) {
	for i := range c.s().lay.joints {
		j := &c.s().lay.plan.Joints[i]
		for _, ix := range j.Seats {
			if sl := &c.s().lay.seats[ix]; len(sl.members) > 1 && sl.stay == 0 && len(c.s().lay.plan.Seats[ix].Clamps) > 0 {
				return j.ID, c.s().lay.plan.Seats[ix].Hole
			}
		}
	}
	c.t.FailNow()
	return "", ""
}
