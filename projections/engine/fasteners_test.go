package engine

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
)

const boltPlan = `
plan: {id: bolts, family: Bolts, edition: 1}
parts:
  - {id: block, root: true}
  - {id: cap, in: block}
joints:
  - id: rods
    holes: [{at: 1..4, in: block, stack: [{clamps: [cap]}, {bolt: M9x1.0x48, reuse: measure length}], grip: 20, depth: 40, thread-in: steel}]
  - id: heads
    holes: [{at: 1..4, in: block, stack: [{clamps: [cap]}, {bolt: M10x1.5x150, reuse: measure thinning}], grip: 120, depth: 40, thread-in: steel}]
measurements:
  - {id: length, max: 48.4, band: 0.05, fails-to: condemned}
  - {id: thinning, kind: thinning, max: 0.15, fails-to: condemned, one-fails: all}
steps:
  off: [{id: off, takes-out: {rods: all, heads: all}, removes: [cap]}]
  on: [{id: "on", fits: [cap], fastens: {rods: all, heads: all}}]
`

// Each bolt is good or condemned by its own reading, unless one that fails takes
// the set; those that the gauge cannot tell stay as they are (rule R57).
func TestBoltsAreMeasuredGoodOrCondemned(t *testing.T) {
	reads := func(list ...float64) (out []events.PointRead) {
		for _, v := range list {
			out = append(out, events.PointRead{Value: v})
		}
		return out
	}
	for _, row := range []struct {
		name      string
		m         string
		kind      events.Kind
		reads     []events.PointRead
		good, bad int
		left      int
		words     string
	}{
		{"all good", "length", "M9x1.0x48", reads(48.1, 48.2, 48.0, 48.1), 4, 0, 0, "4 good, 0 condemned"},
		{"one too long", "length", "M9x1.0x48", reads(48.1, 48.6, 48.0, 48.1), 3, 1, 0, "3 good, 1 condemned"},
		{"one too near", "length", "M9x1.0x48", reads(48.1, 48.42, 48.0, 48.1), 3, 0, 1, "3 good, 0 condemned, 1 to be read again"},
		{"fewer than there are", "length", "M9x1.0x48", reads(48.1, 48.6), 1, 1, 2, "1 good, 1 condemned"},
		{"one takes the set", "thinning", "M10x1.5x150", reads(0.02, 0.2, 0.01, 0.03), 0, 4, 0, "0 good, 4 condemned: one that fails takes the set with it"},
	} {
		t.Run(row.name, func(t *testing.T) {
			c := crewOn(t, boltPlan)
			c.counted(events.PiecesOut{Joint: "rods", To: "bag/B1", Lines: []events.Line{{Kind: "M9x1.0x48", Qty: 4}}, All: true})
			c.counted(events.PiecesOut{Joint: "heads", To: "bag/B1", Lines: []events.Line{{Kind: "M10x1.5x150", Qty: 4}}, All: true})
			require.Equal(t, []events.Kind{row.kind}, c.s().MeasuredKinds(row.m, "bag/B1"))
			require.Contains(t, c.job.Can("on")[0].Text+c.job.Can("on")[len(c.job.Can("on"))-1].Text, "measured")
			c.told(events.FastenersMeasured{Measurement: row.m, Place: "bag/B1", Reads: row.reads, Unit: "mm"})
			got := map[events.Condition]int{}
			for _, l := range c.s().At("bag/B1") {
				if l.Kind == row.kind {
					got[l.Cond] += l.Qty
				}
			}
			require.Equal(t, row.good, got[events.MeasuredGood])
			require.Equal(t, row.bad, got[events.Condemned])
			require.Equal(t, row.left, got[events.AsFound])
			sets := c.s().Sets()
			require.Equal(t, row.words, sets[0].Words())
			require.NoError(t, c.s().Book().Verify())
		})
	}
	c := crewOn(t, boltPlan)
	c.told(events.FastenersMeasured{Measurement: "cows", Place: "bag/B9", Reads: reads(1), Unit: "mm"})
	c.told(events.FastenersMeasured{Measurement: "length", Place: "bag/B9", Reads: reads(48, 49), Kind: "M9x1.0x48", Unit: "mm"})
	require.NoError(t, c.s().Book().Verify(), "more than the book has there")
}
