package plan

import (
	"fmt"
	"math"
	"math/big"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// What a stage is worth may be written in another unit, or as a pair. A
// pound-foot is 1.3558179483314004 N.m (NIST SP 811, appendix B), an inch 25.4 mm.
func TestStagesInOtherUnits(t *testing.T) {
	read := func(units, stage string) (*Plan, error) {
		return Parse("box", []byte(fmt.Sprintf(`
plan: {id: lid, family: Lid on a box, edition: 1%s}
parts:
  - {id: box, root: true}
  - {id: lid, in: box}
joints:
  - {id: lid, holes: [{at: 1..4, in: box, clamps: [lid], fastener: M6x1.0x20 8.8 flange, grip: 8, depth: 16, thread-in: aluminium}]}
steps:
  off: [{id: lid-off, takes-out: {lid: all}, removes: [lid]}]
  on: [{id: lid-on, fits: [lid], fastens: {lid: all}}]
tightening:
  - {id: lid, seats: {lid: all}, stages: [%s]}
`, units, stage)))
	}
	const lbfft = 1.3558179483314004
	for _, row := range []struct {
		units, stage, said string
		min, max           float64
	}{
		{"", "{torque: 9 lbf.ft}", "9 lbf.ft", 9 * lbfft, 9 * lbfft},
		{"", "{torque: 45..55 lbf.ft}", "45 to 55 lbf.ft", 45 * lbfft, 55 * lbfft},
		{"", "{snug: 60 in-lb}", "60 lbf.in", 5 * lbfft, 5 * lbfft},
		{"", "{torque: 40}", "", 40, 40},
		{"", "{torque: 40 N.m (29.5 lbf.ft)}", "", 40, 40},
		{"", "{torque: 29.5 lbf.ft (40 N.m)}", "29.5 lbf.ft", 29.5 * lbfft, 29.5 * lbfft},
		{"", "{stretch: 0.004..0.005 in}", "0.004 to 0.005 in", 0.1016, 0.127},
		{"", "{stretch: 0.1 mm (0.004 in)}", "", 0.1, 0.1},
		{", units: {torque: lbf.ft}", "{torque: 15}", "15 lbf.ft", 15 * lbfft, 15 * lbfft},
		{", units: {torque: lbf.in}", "{torque: 50..60}", "50 to 60 lbf.in", 50 * lbfft / 12, 60 * lbfft / 12},
		{", units: {torque: lbf.ft}", "{torque: 20 N.m}", "", 20, 20},
		{", units: {torque: lbf.ft}", "{angle: 90}", "", 90, 90},
	} {
		p, err := read(row.units, row.stage)
		require.NoError(t, err, row.stage)
		s := p.Tightening[0].Groups[0].Editions[0].Stages[0]
		require.True(t, s.Known)
		require.Equal(t, row.said, s.Said, row.stage)
		require.InDelta(t, row.min, s.Min, 1e-9, row.stage)
		require.InDelta(t, row.max, s.Max, 1e-9, row.stage)
	}
	for stage, why := range map[string]string{
		"{torque: 40 N.m (39.5 lbf.ft)}":     "which one is meant?",
		"{torque: 40..50 N.m (29.5 lbf.ft)}": "one is a range, and the other is not",
		"{torque: 40 N.m (29.5 furlongs)}":   "which is no torque",
		"{torque: 9 furlongs}":               "with another unit behind it",
		"{torque: 55..45 lbf.ft}":            "with another unit behind it",
		"{stretch: 0.1 mm (0.014 in)}":       "which one is meant?",
		"{angle: 9 lbf.ft}":                  "with another unit behind it",
	} {
		_, err := read("", stage)
		require.ErrorContains(t, err, why, stage)
	}
	_, err := read(", units: {torque: furlongs}", "{torque: 4}")
	require.ErrorContains(t, err, "one of N.m, lbf.ft, lbf.in is wanted")
}

// A plan in inches says every length without a unit in inches: what Parse makes of
// it is what the same plan in millimetres says, to the last bit, and Write gives
// it back as it was written.
func TestPlanInInches(t *testing.T) {
	text := func(units, xy, hole, stretch, depth, limits string) string {
		return fmt.Sprintf(`
plan: {id: lid, family: Lid on a box, edition: 1, units: {%s}}
parts:
  - {id: box, root: true, measure: [bore]}
  - {id: lid, in: box}
  - {id: plugs, in: box, count: 2, seats: {at: 1..2, place: pressed bore}}
joints:
  - {id: lid, face: {side: top}, holes: [{at: 1..2, xy: %s, in: box, clamps: [lid], fastener: 3/8-16x1-1/4 grade 5 hex, %s, thread-in: cast iron}]}
steps:
  off: [{id: lid-off, takes-out: {lid: all}, removes: [lid]}]
  on: [{id: lid-on, fits: [lid], fastens: {lid: all}}]
tightening:
  - {id: lid, seats: {lid: all}, stages: [%s]}
  - {id: plugs, seats: {plugs: all}, stages: [%s]}
measurements:
  - {id: bore, of: bore, %s}
`, units, xy, hole, stretch, depth, limits)
	}
	inches := text("length: in", "[[-1.5, 0.865], [1.5, 0.865]]", "grip: 0.58, depth: 0.865", "{stretch: 0.004..0.005, never: 0.006, band: 0.0005}", "{press-depth: 0.04..0.06}", "min: 2.0465, max: 2.0475, band: 0.0001")
	p, err := Parse("lid", []byte(inches))
	require.NoError(t, err)
	mm, err := Parse("lid", []byte(text("length: mm", "[[-38.1, 21.971], [38.1, 21.971]]", "grip: 14.732, depth: 21.971", "{stretch: 0.1016..0.127, never: 0.1524, band: 0.0127}", "{press-depth: 1.016..1.524}", "unit: in, min: 2.0465, max: 2.0475, band: 0.0001")))
	require.NoError(t, err)
	require.Equal(t, mm.Seats, p.Seats, "depth, grip and xy")
	for i := range p.Tightening {
		a, b := p.Tightening[i].Groups[0].Editions[0].Stages[0], mm.Tightening[i].Groups[0].Editions[0].Stages[0]
		require.InDelta(t, b.Min, a.Min, 1e-12)
		require.InDelta(t, b.Max, a.Max, 1e-12)
		require.Equal(t, []float64{b.Never, b.Band}, []float64{a.Never, a.Band})
		require.Equal(t, "in", a.Unit)
	}
	require.Equal(t, "0.004 to 0.005 in", p.Tightening[0].Groups[0].Editions[0].Stages[0].Said)
	require.Equal(t, Limit{Set: true, Known: true, Value: 2.0465}, p.Measurements[0].Min, "a limit keeps its unit, which is the plan's")
	require.Equal(t, Units{Length: "in", Torque: "N.m", LengthSaid: true}, p.Units)

	written := Write(p)
	require.Contains(t, string(written), "units: {length: in}")
	require.Contains(t, string(written), "grip: 0.58, depth: 0.865")
	require.Contains(t, string(written), "{stretch: 0.004..0.005, never: 0.006, band: 0.0005}")
	again, err := Parse("lid", written)
	require.NoError(t, err)
	require.Equal(t, p.Seats[0].Depth, again.Seats[0].Depth)
	require.Equal(t, written, Write(again))

	for _, row := range []struct{ units, hole, why string }{
		{"length: furlongs", "grip: 1", "one of mm, in is wanted"},
		{"length: in", "grip: 300", "inches from 0 to 196"},
		{"length: in", "grip: -1", "inches from 0 to 196"},
		{"length: mm", "grip: 6000", "millimetres from 0 to 5000"},
	} {
		_, err := Parse("lid", []byte(text(row.units, "unknown", row.hole, "{torque: 5}", "{press-depth: 0.04}", "max: 2")))
		require.ErrorContains(t, err, row.why)
	}
}

// Whatever number of inches with up to six decimals a plan has is in millimetres
// the number nearest to 25.4 times it.
func TestInchesAreExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, d := rapid.Int64Range(0, 100_000_000).Draw(t, "digits"), rapid.IntRange(0, 6).Draw(t, "decimals")
		v, err := strconv.ParseFloat(new(big.Rat).SetFrac64(n, int64(math.Pow10(d))).FloatString(d), 64)
		require.NoError(t, err)
		want, err := strconv.ParseFloat(new(big.Rat).SetFrac64(n*254, int64(math.Pow10(d+1))).FloatString(d+1), 64)
		require.NoError(t, err)
		r := &reader{p: &Plan{Units: Units{Length: "in"}}}
		require.Equal(t, want, r.inMm(v))
	})
}
