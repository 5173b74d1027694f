package plan

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const runHead = `plan: {id: r, family: R, edition: 1}
parts: [{id: block, root: true}]
marks: [{id: oiled, name: Pre-oiled, void-by: []}]
`

func TestRunningIsRead(t *testing.T) {
	p, err := Parse("r.yaml", []byte(runHead+`start-evidence: [oiled]
run-readings:
  - {id: oil, unit: bar, within: 10s, limits: {800: 1.0, 2000: 2.5..6, 4000: ..7}, between: step}
  - {id: water, unit: C, min: 75, max: 105}
obligations:
  - {id: cold, what: look at it cold, after: {heat-cycles: 1, marks: [oiled]}}
  - {id: service, after: {distance-km: 800, minutes: 20}}
`))
	require.NoError(t, err)
	require.Equal(t, []MarkIndex{0}, p.Evidence)
	require.Equal(t, 10, p.RunReadings[0].Within)
	require.Equal(t, "2.5..6", p.RunReadings[0].Limits[1].RangeText())
	require.Equal(t, "1 heat cycle or Pre-oiled", p.Obligations[0].AfterText(p))
	require.Equal(t, "20 minutes of running or 800 km", p.Obligations[1].AfterText(p))
	again, err := Parse("r.yaml", Write(p))
	require.NoError(t, err)
	require.Equal(t, p.RunReadings[0].Limits, again.RunReadings[0].Limits)
	p, err = Amend(p, Amendment{Op: "alter", Section: "obligations", ID: "service", Text: "{after: {minutes: 30}}"})
	require.NoError(t, err)
	require.Equal(t, 30, p.Obligations[1].Minutes)
	require.Zero(t, p.Obligations[1].Km)
	p, err = Amend(p, Amendment{Op: "drop", Section: "run-readings", ID: "water"})
	require.NoError(t, err)
	require.Len(t, p.RunReadings, 1)
}

func TestRunningIsRefused(t *testing.T) {
	for _, row := range []struct{ text, why string }{
		{"start-evidence: [oild]", `no mark "oild"`},
		{"run-readings: [{id: oil, unit: bar}]", "min, max or limits is wanted"},
		{"run-readings: [{id: oil, min: 3, max: 1}]", "min 3 is above max 1"},
		{"run-readings: [{id: oil, min: 3, limits: {800: 1}}]", "it has both"},
		{"run-readings: [{id: oil, limits: {2000: 2, 800: 1}}]", "rising speeds are wanted"},
		{"run-readings: [{id: oil, limits: {fast: 2}}]", "a speed from 1 to 25000"},
		{"run-readings: [{id: oil, limits: {800: 6..2.5}}]", "is wanted"},
		{"run-readings: [{id: oil, limits: {800: lots}}]", "is wanted"},
		{"run-readings: [{id: oil, min: 1}, {id: oil, min: 2}]", "this id is given already"},
		{"obligations: [{id: cold}]", "after is missing"},
		{"obligations: [{id: cold, after: {}}]", "one of heat-cycles, minutes, distance-km, marks is wanted"},
		{"obligations: [{id: cold, after: {heat-cycles: 0}}]", "a whole number from 1"},
		{"obligations: [{id: cold, after: {weeks: 1}}]", `unknown key "weeks"`},
	} {
		_, err := Parse("r.yaml", []byte(runHead+row.text+"\n"))
		require.ErrorContains(t, err, row.why, row.text)
	}
}

// A limit between two speeds is on a straight line, or that of the speed below.
func TestLimitsBySpeed(t *testing.T) {
	r := RunReading{Limits: []RunLimit{{RPM: 800, Min: known(1)}, {RPM: 2000, Min: known(2.5), Max: known(6)}, {RPM: 4000, Min: known(3.5), Max: known(6)}}}
	for _, row := range []struct {
		rpm        int
		line, step float64
	}{{0, 1, 1}, {800, 1, 1}, {1000, 1.25, 1}, {1400, 1.75, 1}, {2000, 2.5, 2.5}, {3000, 3, 2.5}, {4000, 3.5, 3.5}, {9000, 3.5, 3.5}} {
		r.Steps = false
		low, _ := r.At(row.rpm)
		require.InDelta(t, row.line, low.Value, 1e-9, "%d", row.rpm)
		r.Steps = true
		low, _ = r.At(row.rpm)
		require.InDelta(t, row.step, low.Value, 1e-9, "%d", row.rpm)
	}
	r.Steps = false
	_, high := r.At(1000)
	require.False(t, high.Known, "nobody said a most at 800")
}

func known(v float64) Limit { return Limit{Set: true, Known: true, Value: v} }

func TestMeasurementIsRefused(t *testing.T) {
	for _, row := range []struct{ text, why string }{
		{"{id: a}", "min or max is wanted"},
		{"{id: a, min: 2, max: 1}", "min 2 is above max 1"},
		{"{id: a, max: 1, new-max: 2}", "max 1 is tighter than new-max 2"},
		{"{id: a, min: 1, new-min: 2, new-max: 1}", "new-min 2 is above new-max 1"},
		{"{id: a, max: 1, kind: tapper}", `kind is "tapper"`},
		{"{id: a, max: 1, kind: taper, from: [b]}", "b has no points"},
		{"{id: a, max: 1, kind: taper, points: [left, right]}", "a direction and a height such as A1"},
		{"{id: a, max: 1, kind: clearance, from: [b]}", "clearance is from two measurements"},
		{"{id: a, max: 1, kind: gap, from: [b, c]}", "gap is not worked out from 2 other measurements"},
		{"{id: a, max: 1, kind: taper, from: [a]}", "worked out from itself"},
		{"{id: a, max: 1, band: -1}", "a number above zero"},
		{"{id: a, max: 1, metal: tin}", `metal is "tin"`},
		{"{id: a, allows: {max: 2}}", "by is missing"},
		{"{id: a, allows: {by: pivot}}", "min or max is wanted"},
		{"{id: a, max: 1, points: [" + strings.Repeat("p, ", 3) + "p1, p2, p3, p4, p5, p6, p7, p8, p9, q1, q2, q3, q4, q5]}", "at most 16"},
	} {
		_, err := Parse("m.yaml", []byte(runHead+"measurements: ["+row.text+", {id: b, max: 1}, {id: c, max: 1}]\n"))
		require.ErrorContains(t, err, row.why, row.text)
	}
}
