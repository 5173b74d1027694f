package plan

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
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
