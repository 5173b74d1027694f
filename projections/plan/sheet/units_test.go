package sheet

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/projections/plan"
)

// A cell of a stage keeps the unit that it is written in, its own or its
// column's, and may be a pair as manuals print it; a pair that disagrees is
// questioned in words, by row.
func TestStagesKeepTheirUnits(t *testing.T) {
	p := load(t, "bramble-t2-42.yaml")
	sheets := Write(p, Format{})
	name := ""
	for n := range sheets {
		if strings.HasPrefix(n, "tightening") {
			name = n
		}
	}
	require.NotEmpty(t, name)
	require.Contains(t, string(sheets[name]), "45..55 lbf.ft")
	require.Contains(t, string(sheets[name]), "0.004..0.005 in")
	with := func(cell string) (*plan.Plan, []Fault) {
		changed := map[string][]byte{}
		for n, text := range sheets {
			changed[n] = text
		}
		changed[name] = []byte(strings.Replace(string(sheets[name]), "45..55 lbf.ft", cell, 1))
		return Read(folder(changed), "engine")
	}
	for cell, want := range map[string]string{
		"45..55 lbf.ft":                "torque 45 to 55 lbf.ft",
		"61 N.m (45 lbf.ft)":           "61",
		"61 Nm (45 ft-lb)":             "61",
		"540 lbf.in":                   "540 lbf.in",
		"45..55 lbf.ft (61..74.6 N.m)": "45 to 55 lbf.ft",
	} {
		q, faults := with(cell)
		require.Empty(t, faults, cell)
		found := false
		for _, l := range q.Tightening {
			for _, g := range l.Groups {
				for _, s := range g.Editions[0].Stages {
					found = found || s.Said != "" && strings.HasSuffix(want, s.Said) || strings.HasPrefix(s.Text, want)
				}
			}
		}
		require.True(t, found, cell)
	}
	for cell, why := range map[string]string{
		"40 N.m (39.5 lbf.ft)": "which one is meant?",
		"40 N.m (40 furlongs)": "which is no torque",
	} {
		_, faults := with(cell)
		require.NotEmpty(t, faults, cell)
		text := ""
		for _, f := range faults {
			text += f.String() + "\n"
		}
		require.Contains(t, text, why, cell)
	}
}
