package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/spf13/viper"
	"github.com/stretchr/testify/require"

	"countback/events/journal"
	"countback/kiosk"
	"countback/projections/engine"
)

// The units of the shop come from the settings file as keys and values, from a
// flag or the environment as words.
func TestUnitsOfTheShop(t *testing.T) {
	for _, row := range []struct {
		set            any
		length, torque string
		why            string
	}{
		{map[string]any{"torque": "lbf.ft", "length": "in"}, "in", "lbf.ft", ""},
		{map[string]any{"length": "mm"}, "mm", "", ""},
		{"lbf.in", "", "lbf.in", ""},
		{"in, lbf.ft", "in", "lbf.ft", ""},
		{map[string]any{"length": "furlong"}, "", "", `length "furlong": want one of mm, in`},
		{map[string]any{"power": "hp"}, "", "", `there is no "power" under units; there are: length, torque`},
		{"lbf.ft furlong", "", "", "want a unit of torque and one of length"},
		{"in mm", "", "", "want a unit of torque and one of length"},
		{"5", "", "", "want a unit of torque and one of length"},
	} {
		v := viper.New()
		v.Set("units", row.set)
		l, err := readShopUnits(v, "settings.yaml", nil)
		if row.why != "" {
			require.ErrorContains(t, err, row.why)
			continue
		}
		require.NoError(t, err)
		require.Equal(t, []string{row.length, row.torque}, []string{l.Length, l.Torque}, "%v", row.set)
		require.Equal(t, 60, l.Minutes, "the other limits are the usual ones")
	}
	l, err := readShopUnits(viper.New(), "settings.yaml", nil)
	require.NoError(t, err)
	require.Nil(t, l)
}

const lidWithoutUnits = `
plan: {id: lid, family: Lid on a box, edition: 1}
parts: [{id: box, root: true, measure: [bore]}, {id: lid, in: box}]
joints:
  - {id: lid, holes: [{at: 1..2, in: box, clamps: [lid], fastener: 3/8-16x1-1/4 grade 5 hex, grip: 11.43, depth: 24.13, thread-in: cast iron}]}
steps:
  off: [{id: lid-off, takes-out: {lid: all}, removes: [lid]}]
  on: [{id: lid-on, fits: [lid], fastens: {lid: all}}]
tightening: [{id: lid, seats: {lid: all}, stages: [{torque: 40}]}]
measurements: [{id: bore, of: bore, min: 51.9, max: 52.1}]
`

// A plan without units is read in those of the shop, and a flag goes before the
// file.
func TestUnitsOfTheShopAtTheBench(t *testing.T) {
	dir := t.TempDir()
	lid := filepath.Join(dir, "lid.yaml")
	require.NoError(t, os.WriteFile(lid, []byte(lidWithoutUnits), 0o600))
	file := filepath.Join(dir, "settings.yaml")
	require.NoError(t, os.WriteFile(file, []byte("units: {torque: lbf.ft, length: in}\n"), 0o600))
	s := newShop(t)
	s.run("job", "open", "--terminal", "b1", "--id", "J9", "--plan", lid, "--engine", "Lid on a box").ends(statusDone)
	s.args = []string{"--terminal", "b1"}
	out := s.feed("job J9\njoint lid\nALL OUT\njoint lid\nALL IN\njoint lid\nSTAGE READ\n29.5\njoint lid\nhole 1\nsize 3/8-16x1-1/2 grade 5 hex\nTHIS ONE?\nmeasurement bore\n2.047\n", "scan", "--config", file)
	out.says("torque 40 N.m, read 29.5 lbf.ft, stage 1 of 1, finished", "1.05 in (26.7 mm) would enter", "51.9938 mm (read 2.047 in)")
	out = s.feed("job J9\njoint lid\nhole 1\nsize 3/8-16x1-1/2 grade 5 hex\nTHIS ONE?\n", "scan", "--config", file, "--units", "mm")
	out.says("26.7 mm would enter, 21.0 mm may")
	s.run("tighten", "J9", "lid", "--units", "yards").ends(statusUsage).warns("want a unit of torque")
}

// What the bench asks names the unit that it takes.
func TestTheBenchAsksInTheUnitsOfTheShop(t *testing.T) {
	v := viper.New()
	v.Set("units", "lbf.ft in")
	l, err := readShopUnits(v, "", nil)
	require.NoError(t, err)
	clock := time.Date(2025, 5, 12, 8, 0, 0, 0, time.UTC).UnixMicro()
	for _, row := range []struct {
		units  string
		limits *engine.Limits
		torque string
		length string
	}{
		{"", nil, "torque 40 N.m. What was read, in N.m?", "What does it read?"},
		{"", l, "torque 40 N.m (29.5 lbf.ft). What was read, in lbf.ft?", "What does it read, in inches?"},
		{", units: {torque: N.m, length: mm}", l, "torque 40 N.m. What was read, in N.m?", "What does it read?"},
		{", units: {torque: lbf.in}", nil, "torque 40 lbf.in. What was read, in lbf.in?", "What does it read?"},
	} {
		text := strings.Replace(lidWithoutUnits, "edition: 1", "edition: 1"+row.units, 1)
		term, err := sitDown(t.Context(), journal.NewMemory(), nil, settings{Shop: "hill", Limits: row.limits}, "b1", map[string]string{"lid": text}, func() int64 { return clock })
		require.NoError(t, err)
		var view kiosk.View
		scan := func(lines ...string) string {
			for _, line := range lines {
				clock += 2_000_000
				view, err = term.Scan(t.Context(), line)
				require.NoError(t, err, line)
			}
			return fmt.Sprintf("%+v", view)
		}
		scan("job 4K7", "engine Lid", "plan lid", "OPEN JOB", "joint lid", "ALL OUT", "joint lid", "ALL IN")
		require.Contains(t, scan("joint lid", "STAGE READ"), row.torque)
		require.Contains(t, scan("CANCEL", "measurement bore"), row.length)
	}
}
