package engine

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
)

// Known answers for the Sorrel, worked out by hand from grips and depths: an
// M8x45 in front cover hole 3 bottoms 14.5 mm early, an M8x30 in hole 18 catches
// by one millimetre.
func TestThisOne(t *testing.T) {
	c := coverOff(t)
	bag := events.Place("bag/" + c.bagOf("front-cover"))
	for _, row := range []struct {
		joint events.Joint
		hole  events.Hole
		kind  events.Kind
		from  events.Place
		ok    bool
		text  string
		next  string
	}{
		{"front-cover", "18", "M8x1.25x45 8.8 flange", bag, true, "Yes: M8x1.25x45 in Front cover to block 18", ""},
		{"front-cover", "18", "M8x45 8.8 flange", bag, true, "Yes: M8x45 in Front cover to block 18, as far as is known; not known: pitch", ""},
		{"front-cover", "3", "M8x1.25x45 8.8 flange", bag, false, "No: M8x1.25x45 in this hole: 31.0 mm would enter, 16.5 mm may: it bottoms 14.5 mm early",
			"Hole 3 wants M8x1.25x30, 8 in bag " + string(c.bagOf("front-cover"))},
		{"front-cover", "18", "M8x1.25x30 8.8 flange", bag, false, "No: M8x1.25x30 in this hole: it catches by 1.0 mm, 12.0 mm should in aluminium (1.5 x diameter)",
			"Hole 18 wants M8x1.25x45, 4 in bag " + string(c.bagOf("front-cover"))},
		{"front-cover", "18", "M12x1.25x65 8.8 flange", bag, false, "No: M12x1.25x65 does not start in an M8x1.25 hole",
			"Hole 18 wants M8x1.25x45, 4 in bag " + string(c.bagOf("front-cover"))},
		{"phasers", "I", "M12x1.25x45 10.9 12pt (solid)", "stock/box", false,
			"No: M12x1.25x45 (solid) starts in this hole and is another one: it differs in feature", "Hole I wants M12x1.25x45 (hollow with a filter), 1 in stock box"},
		{"phasers", "I", "M12x1.25x45 10.9 12pt (hollow with a filter)", "stock/box", true, "Yes: M12x1.25x45 (hollow with a filter) in Phaser bolts I", ""},
		{"pulley", "1", "M14x1.5x65 10.9 flange", events.Place("bag/" + c.bagOf("pulley")), false,
			"No: M14x1.5x65 in bag " + string(c.bagOf("pulley")) + " is as it came, and this hole takes only new ones", "take a good one, 1 in stock box"},
		{"front-cover", "99", "M8x1.25x45 8.8 flange", bag, false, "Front cover to block has no hole 99", "scan the joint, then the hole's number"},
		{"bellhousing", "1", "M12x1.75x50 10.9 hex", "", false, "Hole 1 holds no piece of the engine", "scan what it is"},
		{"front-cover", "18", "head-gasket", "", false, "No: Head gasket does not belong in this hole", "Hole 18 wants M8x1.25x45, 4 in bag " + string(c.bagOf("front-cover"))},
	} {
		a := c.job.ThisOne(row.joint, row.hole, row.kind, row.from)
		require.Equal(t, Answer{row.ok, row.text, row.next}, a, "%s %s %s", row.joint, row.hole, row.kind)
	}
}

func TestThisOneAfterAnInsert(t *testing.T) {
	c := coverOff(t)
	kind := events.Kind("M8x1.25x45 8.8 flange")
	require.True(t, c.job.ThisOne("front-cover", "18", kind, "").OK)
	c.told(events.HoleChanged{Joint: "front-cover", Hole: "18", State: events.HoleInsert, DepthMm: 14})
	a := c.job.ThisOne("front-cover", "18", kind, "")
	require.False(t, a.OK)
	require.Contains(t, a.Text, "it bottoms 4.5 mm early")
	c.told(events.HoleChanged{Joint: "front-cover", Hole: "18", State: events.HoleOversize, DepthMm: 19, Takes: "M10x1.5x45 8.8 flange"})
	require.False(t, c.job.ThisOne("front-cover", "18", kind, "").OK)
	require.True(t, c.job.ThisOne("front-cover", "18", "M10x1.5x45 8.8 flange", "").OK)
	// the step asks for what the hole takes now, ALL IN puts that in, and it is no odd one
	require.Contains(t, texts(c.job.Can("cover-on")), "M10x1.5x45: 0 of 1 that may go in")
	require.NotContains(t, texts(c.job.Can("cover-on")), "M8x1.25x45:")
	bag := events.Place("bag/" + c.bagOf("front-cover"))
	c.told(events.PiecesMoved{From: bag, To: "place/shelf", Lines: []events.Line{{Kind: kind, Qty: 1}}})
	c.counted(events.HardwareReceived{From: "outside/supplier/elm", To: "place/shelf", Lines: []events.Line{{Kind: "M10x1.5x45 8.8 flange", Qty: 1}}})
	c.told(events.PiecesMoved{From: "place/shelf", To: bag, Lines: []events.Line{{Kind: "M10x1.5x45 8.8 flange", Qty: 1}}})
	for _, how := range []events.PiecesFitted{
		{Joint: "front-cover", Holes: []events.Hole{"18", "19", "20", "22"}, From: bag, All: true},
		{Joint: "front-cover", Holes: []events.Hole{"18", "19", "20", "22"}, From: bag, Lines: []events.Line{{Kind: kind, Qty: 3}, {Kind: "M10x1.5x45 8.8 flange", Qty: 1}}},
	} {
		c.told(how)
		require.Empty(t, c.job.Differences())
		require.False(t, hasCode(c.job, RedOddKind) || hasCode(c.job, RedFoundOdd))
		require.Equal(t, "M10x1.5x45, not tightened to the end", c.job.Where("hole front-cover:18").Now[0])
		c.counted(events.PiecesOut{Joint: "front-cover", Holes: how.Holes, To: bag, All: true, Lines: []events.Line{{Kind: kind, Qty: 3}, {Kind: "M10x1.5x45 8.8 flange", Qty: 1}}})
		require.Empty(t, c.job.Differences())
	}
	c.told(events.PiecesFitted{Joint: "front-cover", Holes: []events.Hole{"18"}, Lines: []events.Line{{Kind: kind, Qty: 1}}})
	require.Equal(t, "M8x1.25x45, not tightened to the end", c.job.Where("hole front-cover:18").Now[0])
	require.True(t, redSays(t, c.job, RedOddKind, "Front cover to block 18: holds a kind that it does not want"))
}

func TestMeasuredPiecesAndOwnSeats(t *testing.T) {
	c := newCrew(t)
	c.takeApart()
	bag := events.Place("bag/" + c.bagOf("rod-1-cap"))
	a := c.job.ThisOne("rod-1-cap", "1", "M8x1.0x40 10.9 12pt", bag)
	require.Equal(t, Answer{false, "No: M8x1.0x40 in bag " + string(c.bagOf("rod-1-cap")) + " was not measured", "measure it, or take a new one, none at hand"}, a)
	c.measure()
	require.True(t, c.job.ThisOne("rod-1-cap", "1", "M8x1.0x40 10.9 12pt", bag).OK)
}

func TestAlsoStart(t *testing.T) {
	c := coverOff(t)
	got := map[events.Kind]string{}
	for _, s := range c.job.AlsoStart("front-cover", "18") {
		got[s.Kind] = s.Verdict.String()
		require.NotEqual(t, events.Kind("M8x1.25x45 8.8 flange"), s.Kind)
	}
	for _, k := range []events.Kind{"M8x1.25x20 8.8 flange", "M8x1.25x25 8.8 flange", "M8x1.25x30 8.8 flange", "M8x1.25x35 8.8 flange", "M8x1.25x40 8.8 flange",
		"M8x1.25x50 8.8 flange", "M8x1.25x70 8.8 flange", "M8x1.25x80 8.8 flange", "M8x1.25x85 8.8 flange"} {
		require.Contains(t, got, k)
	}
	require.Contains(t, got["M8x1.25x50 8.8 flange"], "it bottoms 4.5 mm early")
	require.NotContains(t, got, events.Kind("M8x1.0x40 10.9 12pt"))
	require.NotContains(t, got, events.Kind("M10x1.5x50 8.8 flange"))
	require.Nil(t, c.job.AlsoStart("front-cover", "99"))
}
