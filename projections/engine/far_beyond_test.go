package engine

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
)

func TestFarBeyond(t *testing.T) {
	for _, row := range []struct {
		n, most int
		far     bool
	}{{18, 18, false}, {19, 18, false}, {36, 18, false}, {37, 18, true}, {400, 18, true}, {11, 1, false}, {12, 1, true}, {0, 18, false},
		{100, 0, false}, {101, 0, true}, {events.MaxQty, 50000, false}} {
		require.Equal(t, row.far, FarBeyond(row.n, row.most), "%d of %d", row.n, row.most)
	}
	// What can be there is never doubted, and more is never doubted less.
	rapid.Check(t, func(t *rapid.T) {
		most, n := rapid.IntRange(1, events.MaxQty).Draw(t, "most"), rapid.IntRange(0, events.MaxQty).Draw(t, "n")
		require.False(t, FarBeyond(most, most))
		if FarBeyond(n, most) {
			require.True(t, FarBeyond(n+1, most))
			require.Greater(t, n, most)
		}
	})
}

func TestTheMostThatCanBeThere(t *testing.T) {
	c := newCrew(t)
	s := c.s()
	require.Equal(t, 18, s.MostOfJoint("oil-pan", "M6x1.0x20 8.8 flange")+s.MostOfJoint("oil-pan", "M8x1.25x85 8.8 flange"))
	require.Equal(t, 18, s.MostOfJoint("oil-pan", "M99x9x9"), "of a size that the plan does not have there: as many as it holds")
	require.Zero(t, s.MostOfJoint("nowhere", "M6x1.0x20 8.8 flange"))
	require.Equal(t, 16, s.MostOfPart("buckets"))
	require.Zero(t, s.MostOfPart("ghost"))
	require.Zero(t, s.MostOfEngine("M99x9x9"))
	planned := s.MostOfEngine("M6x1.0x25 8.8 flange")
	require.Greater(t, planned, 4)
	c.told(events.HardwareReceived{From: "outside/supplier/fjord", To: "stock/box", Lines: []events.Line{{Kind: "M99x9x9", Qty: 40}}})
	require.Equal(t, 40, c.s().MostOfEngine("M99x9x9"), "what the job has by the book")
	require.Positive(t, c.s().MostOfKit("bolt-set", "M10x1.5x150"))
	require.Zero(t, c.s().MostOfKit("no-kit", "M10x1.5x150"))
	c.told(events.Ordered{Order: "o1", Supplier: "fjord", Lines: []events.Line{{Kind: "M10x1.5x150", Qty: 10}}})
	require.Equal(t, 10, c.s().MostOfOrder("o1", "M10x1.5x150"))
	require.Zero(t, c.s().MostOfOrder("o2", "M10x1.5x150"))
	require.Zero(t, c.job.MostOfSlip("SHTBR6K7", "head"))
}

// What was delivered short comes no more, and is to be bought again; what was
// ordered more afterwards is to come.
func TestDeliveredShort(t *testing.T) {
	c := newCrew(t)
	nut := events.Kind("M10x1.5x150")
	c.told(events.Ordered{Order: "o1", Supplier: "fjord", Lines: []events.Line{{Kind: nut, Qty: 10}}})
	c.told(events.HardwareReceived{From: "outside/supplier/fjord", To: "stock/a", Order: "o1", Lines: []events.Line{{Kind: nut, Qty: 6}}, Short: []events.Line{{Kind: nut, Qty: 4}, {Kind: "ghost", Qty: 3}}})
	o := c.s().Order("o1")
	require.Zero(t, o.Due())
	require.Equal(t, "received", o.State())
	require.Equal(t, 4, o.Lines[0].Short)
	c.told(events.HardwareSentBack{From: "stock/a", Supplier: "fjord", Order: "o1", Lines: []events.Line{{Kind: nut, Qty: 2}}})
	require.Equal(t, 2, c.s().Order("o1").Due(), "what was sent back is owed again")
	c.told(events.Ordered{Order: "o1", Lines: []events.Line{{Kind: nut, Qty: 4}}})
	require.Equal(t, 6, c.s().Order("o1").Due())
	c.told(events.HardwareReceived{From: "outside/supplier/fjord", To: "stock/a", Order: "o9", Lines: []events.Line{{Kind: nut, Qty: 1}}, Short: []events.Line{{Kind: nut, Qty: 99999}}})
	require.Zero(t, c.s().Order("o9").Due(), "nobody had ordered it")
}

// What another shop kept back is still to come on the day that they say; it
// stays open, and the word can be taken back.
func TestAShortThatIsStillToCome(t *testing.T) {
	c := newCrew(t)
	c.counted(events.PiecesOut{Joint: "coils", To: "bag/B2AAAAAA", All: true, Lines: []events.Line{{Kind: "M6x1.0x25 8.8 flange", Qty: 3}}})
	d := c.job.Differences()[0]
	c.told(events.Promised{On: OnShort(d.Short), Day: "2025-12-15"})
	require.Contains(t, c.job.Differences()[0].Text, "still to come: promised for Monday 15 December 2025")
	require.Contains(t, c.s().Tells(events.Promised{On: OnShort(d.Short), Day: "2025-12-15"}), "Short 1, 1 M6x1.0x25, still to come, promised for Monday")
	c.told(events.Promised{On: OnShort(d.Short)})
	require.NotContains(t, c.job.Differences()[0].Text, "still to come")
	c.told(events.Promised{On: "short nobody-1.1", Day: "2025-12-15"})
	require.Len(t, c.job.Differences(), 1)
}
