package engine

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
)

func TestTheOtherEndTurnsUp(t *testing.T) {
	c := newCrew(t)
	c.told(events.FastenerBroken{Case: "C2AAAAAA", Joint: "exhaust", Hole: "9", Stub: events.Below, OtherEnd: "not-found"})
	require.Len(t, c.job.Differences(), 2, "the end of the stud, and the nut on it")
	c.told(events.OtherEndTold{Case: "C2AAAAAA", InHand: true})
	require.Empty(t, c.job.Differences())
	require.Equal(t, events.Found, c.s().Book().Entry(1).Ending)
	c.told(events.OtherEndTold{Case: "C2AAAAAA", InHand: true})
	require.NoError(t, c.s().Book().Verify())
	require.False(t, hasCode(c.job, RedOtherEnd))
}

func TestPartsCountedOffAreACount(t *testing.T) {
	c := newCrew(t)
	c.counted(events.PartRemoved{Part: "locks", To: "bag/B9AAAAAA", Counted: 32})
	a, _ := c.s().Book().Lookup("bag/B9AAAAAA")
	require.NotZero(t, c.s().Book().LastCount(a).Fact)
	b, _ := c.s().Bag("B9AAAAAA")
	require.Equal(t, events.Part("locks"), b.Part, "the bag is for what went into it first")
	// what was presumed off and is counted where it lies is counted
	c = newCrew(t)
	c.told(events.PartRemoved{Part: "front-cover"})
	require.True(t, redSays(t, c.job, RedUncounted, "O-rings between block and front cover never counted"))
	c.counted(events.PartRemoved{Part: "cover-rings", Counted: 2})
	require.False(t, redSays(t, c.job, RedUncounted, "O-rings between block and front cover never counted"))
	require.Empty(t, c.job.Differences())
	c.counted(events.PartRemoved{Part: "crank-pulley", Counted: 1, To: "place/shelf"})
	require.Equal(t, []string{"Crank pulley: shelf"}, c.job.Where("part crank-pulley").Now)
}

func TestThisOneNamesTheBagInHand(t *testing.T) {
	c := newCrew(t)
	c.counted(events.PiecesOut{Joint: "water-pump", To: "bag/B9AAAAAA", All: true, Lines: []events.Line{{Kind: "M8x1.25x30 8.8 flange", Qty: 2}, {Kind: "M8x1.25x70 8.8 flange", Qty: 2}}})
	c.counted(events.PiecesOut{Joint: "front-cover", Holes: []events.Hole{"3", "18"}, To: "bag/B9BBBBBB", All: true, Lines: []events.Line{{Kind: "M8x1.25x30 8.8 flange", Qty: 1}, {Kind: "M8x1.25x45 8.8 flange", Qty: 1}}})
	require.Contains(t, c.job.ThisOne("front-cover", "3", "M8x1.25x45 8.8 flange", "bag/B9BBBBBB").Next, "1 in bag B9BBBBBB")
	require.Contains(t, c.job.ThisOne("front-cover", "3", "M8x1.25x45 8.8 flange", "").Next, "1 in bag B9BBBBBB", "the joint's own first")
	require.Contains(t, c.job.ThisOne("front-cover", "3", "M8x1.25x70 8.8 flange", "bag/B9AAAAAA").Next, "2 in bag B9AAAAAA")
}
