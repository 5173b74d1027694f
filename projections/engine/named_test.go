package engine

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

const panShort = events.Kind("M6x1.0x20 8.8 flange")

func (c *crew) held(p events.Place, k events.Kind) int32 {
	a, ok := c.s().Book().Lookup(p)
	if !ok {
		return 0
	}
	return c.s().Book().Balance(a, ledger.OfKind(c.s().Book().Kind(k)))
}

func (c *crew) filled(j events.Joint) (holes []events.Hole) {
	ix, _ := c.plan().Joint(j)
	for _, seat := range c.plan().Joints[ix].Seats {
		if c.s().Now().Seat(seat) > plan.SeatLoan {
			holes = append(holes, c.plan().Seats[seat].Hole)
		}
	}
	return holes
}

// Rule R68: two pan bolts were left in, and the fold can only guess which. The
// holes that are named come out, and nothing is left in.
func TestNamedHolesWinOverAGuess(t *testing.T) {
	two := []events.Line{{Kind: panShort, Qty: 12}, {Kind: "M8x1.25x85 8.8 flange", Qty: 4}}
	out := events.PiecesOut{Joint: "oil-pan", To: "bag/B2AAAAAA", All: true, Lines: two}
	for _, row := range []struct {
		named []events.Hole
		left  int
	}{{[]events.Hole{"1", "2"}, 0}, {[]events.Hole{"1"}, 1}, {[]events.Hole{"1", "2", "3"}, 0}} {
		c := newCrew(t)
		c.counted(out)
		c.told(events.ShortEnded{Short: c.job.Differences()[0].Short, How: events.StillIn})
		guess := c.filled("oil-pan")
		require.Len(t, guess, 2)
		require.NotContains(t, guess, events.Hole("1"))
		c.told(events.PiecesOut{Joint: "oil-pan", Holes: row.named, To: "bag/B2BBBBBB"})
		require.Len(t, c.filled("oil-pan"), row.left)
		require.EqualValues(t, 2-row.left, c.held("bag/B2BBBBBB", panShort), "%v", row.named)
		require.NoError(t, c.s().Book().Verify())
		holesAgree(t, c.s())
	}
	// a hole that somebody filled by name is no guess
	c := newCrew(t)
	c.counted(events.PiecesOut{Joint: "oil-pan", To: "bag/B2AAAAAA", All: true, Lines: []events.Line{{Kind: panShort, Qty: 14}, {Kind: "M8x1.25x85 8.8 flange", Qty: 4}}})
	c.told(events.PiecesFitted{Joint: "oil-pan", Holes: []events.Hole{"16"}, From: "bag/B2AAAAAA"})
	require.Equal(t, []events.Hole{"16"}, c.filled("oil-pan"))
	c.told(events.PiecesOut{Joint: "oil-pan", Holes: []events.Hole{"1"}, To: "bag/B2BBBBBB"})
	require.Equal(t, []events.Hole{"16"}, c.filled("oil-pan"))
	require.Zero(t, c.held("bag/B2BBBBBB", panShort))
}

// The hand says in which of several like holes two bolts still are: those are in,
// and nothing of it is a guess any more. What is no such hole is passed over.
func TestStillInWhich(t *testing.T) {
	out := events.PiecesOut{Joint: "oil-pan", To: "bag/B2AAAAAA", All: true, Lines: []events.Line{{Kind: panShort, Qty: 12}, {Kind: "M8x1.25x85 8.8 flange", Qty: 4}}}
	for _, row := range []struct{ said, in []events.Hole }{
		{[]events.Hole{"1", "2"}, []events.Hole{"1", "2"}},
		{[]events.Hole{"2", "13"}, []events.Hole{"2", "13"}},
		{[]events.Hole{"1", "2", "3"}, []events.Hole{"1", "2"}},
		{[]events.Hole{"18", "zz", "5", "6"}, []events.Hole{"5", "6"}},
	} {
		c := newCrew(t)
		c.counted(out)
		d := c.job.Differences()[0]
		k := c.s().Short(d.Short)
		require.Len(t, c.s().StillInWhich(k, 0), 14, "one of fourteen like holes")
		c.told(events.ShortEnded{Short: d.Short, How: events.StillIn, Holes: row.said})
		require.ElementsMatch(t, row.in, c.filled("oil-pan"), "%v", row.said)
		require.Empty(t, c.job.Differences())
		require.NoError(t, c.s().Book().Verify())
		holesAgree(t, c.s())
		require.Nil(t, c.s().StillInWhich(k, 0), "it is answered")
		for i := range c.plan().Seats {
			require.False(t, c.s().Unsure(plan.SeatIndex(i)))
		}
	}
	c := newCrew(t)
	c.counted(out)
	require.Nil(t, c.s().StillInWhich(c.s().Short(c.job.Differences()[0].Short), 14), "all of them: there is no choice")
	require.Nil(t, c.s().StillInWhich(0, 0))
}

// Rule R69: all of a joint into a rack lies there by its holes.
func TestARackKeepsFastenersByHole(t *testing.T) {
	c := newCrew(t)
	c.tell(events.Claimed, events.PiecesOut{Joint: "coils", To: "rack/R2AAAAAA", All: true})
	for _, h := range []events.Place{"1", "2", "3", "4"} {
		require.EqualValues(t, 1, c.held("rack/R2AAAAAA/"+h, coilBolt))
	}
	require.Zero(t, c.held("rack/R2AAAAAA", coilBolt))
	c.counted(events.RackRead{Rack: "rack/R2AAAAAA"})
	require.Empty(t, c.job.Differences())
	c.tell(events.Claimed, events.PiecesFitted{Joint: "coils", From: "rack/R2AAAAAA", All: true})
	require.Len(t, c.filled("coils"), 4)
	for what, ev := range map[string]events.PiecesOut{
		"a count below the book":    {Joint: "coils", To: "rack/R2AAAAAA", All: true, Lines: []events.Line{{Kind: coilBolt, Qty: 3}}},
		"a condition was said":      {Joint: "coils", To: "rack/R2AAAAAA", All: true, Lines: []events.Line{{Kind: coilBolt, Qty: 4, Cond: events.Condemned}}},
		"some of it":                {Joint: "coils", To: "rack/R2AAAAAA", Lines: []events.Line{{Kind: coilBolt, Qty: 2}}},
		"a rack of another joint":   {Joint: "coils", To: "rack/R2BBBBBB", All: true},
		"a bag":                     {Joint: "coils", To: "bag/B2AAAAAA", All: true},
		"a position of it was said": {Joint: "coils", To: "rack/R2AAAAAA/9", All: true},
	} {
		c := newCrew(t)
		c.counted(events.PiecesOut{Joint: "pulley", To: "rack/R2BBBBBB", All: true, Lines: []events.Line{}})
		c.counted(ev)
		for _, h := range []events.Place{"1", "2", "3", "4"} {
			require.Zero(t, c.held("rack/R2AAAAAA/"+h, coilBolt), what)
			require.Zero(t, c.held("rack/R2BBBBBB/"+h, coilBolt), what)
		}
		require.Positive(t, c.held(ev.To, coilBolt), what)
	}
}

// A voided label is off its noun; a second label that stands stays on it.
func TestAVoidedLabelIsOffItsNoun(t *testing.T) {
	c := newCrew(t)
	code := func() events.Code { k, _ := c.s().CodeOf("part head"); return k }
	c.told(events.TagsIssued{Tags: []events.Tag{{Code: "P2AAAAAA", Noun: "part head"}}})
	c.told(events.TagsIssued{Tags: []events.Tag{{Code: "P2BBBBBB", Noun: "part head"}}})
	c.told(events.TagVoided{Code: "P2CCCCCC"})
	require.Equal(t, events.Code("P2BBBBBB"), code())
	c.told(events.TagVoided{Code: "P2BBBBBB"})
	require.Equal(t, events.Code("P2AAAAAA"), code())
	c.told(events.TagVoided{Code: "P2AAAAAA"})
	_, ok := c.s().CodeOf("part head")
	require.False(t, ok)
	c.told(events.TagsIssued{Tags: []events.Tag{{Code: "P2DDDDDD", Noun: "part head"}}})
	require.Equal(t, events.Code("P2DDDDDD"), code())
}

// Used hardware is as found: it may go in again where that is allowed, and not
// where only new may.
func TestUsedHardwareIsAsFound(t *testing.T) {
	c := newCrew(t)
	line := []events.Line{{Kind: coilBolt, Qty: 2}}
	c.counted(events.HardwareReceived{From: "outside/owner", To: "bag/B2AAAAAA", Lines: line, AsFound: true})
	c.counted(events.HardwareReceived{From: "outside/drawer", To: "bag/B2BBBBBB", Lines: line})
	require.Equal(t, "2 M6x1.0x25, used, received from owner into bag B2AAAAAA", c.s().Tells(events.HardwareReceived{From: "outside/owner", To: "bag/B2AAAAAA", Lines: line, AsFound: true}))
	for place, cond := range map[events.Place]events.Condition{"bag/B2AAAAAA": events.AsFound, "bag/B2BBBBBB": events.New} {
		a, _ := c.s().Book().Lookup(place)
		for it, n := range c.s().Book().At(a) {
			require.Equal(t, cond, c.s().Book().ItemName(it).Cond)
			require.EqualValues(t, 2, n)
		}
	}
}
