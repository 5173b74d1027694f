package main

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestMeasureWritesTheWorksheet(t *testing.T) {
	s := sorrelShop(t)
	s.run("measure", "J1").ends(statusDone).says("Nothing was measured")
	s.feed("job J1\nmeasurement main-journal\nposition 1\n51.990\nmeasurement bore\nposition 1\n86.012\n3.3863 in\n86.015\n86.010\n", "scan").ends(statusDone)
	s.run("measure", "J1").ends(statusDone).says("limits: new at least 51.98 mm, service 51.97 to 52 mm; from builder's notes edition 2; gauge: micrometer 50-75",
		"51.990 mm", "B1 3.3863 in", "0.003 mm, along A", "Countersigned")
	// Bad: two inches typed as millimetres are asked about, and stored as they are answered.
	d := s.feed("job J1\nmeasurement main-journal\nposition 2\n2.1\nNO\nmeasurement main-journal\nposition 3\n51.971\n", "scan").ends(statusDone)
	d.says("main-journal at 2: 2.1 mm, 49.87 mm below 51.97 mm", "read it again")
	s.run("measure", "J1", "main-journal").ends(statusNo).says("2.1 mm (doubted, and said again)", "-> FINDING", "4      not read")
	s.run("audit", "J1").ends(statusNo).says("main-journal at 2: 2.1 mm")

	var r measureReport
	d = s.run("measure", "J1", "main-journal", "--json").ends(statusNo)
	require.NoError(t, json.Unmarshal([]byte(d.out), &r))
	require.Len(t, r.Sizes, 5)
	require.Equal(t, "51.990 mm", r.Sizes[0].Size)
	require.InDelta(t, 51.99, r.Sizes[0].Mm, 1e-9)
	require.Equal(t, "as new", r.Sizes[0].Verdict)
	require.True(t, r.Sizes[1].Reads[0].Sure)
	require.Equal(t, "read it again", r.Sizes[2].Verdict)
	require.Empty(t, r.Sizes[3].Reads)

	s.feed("range HT\nbench b1\nRESERVE\njob J1\njoint rod-1-cap\nplace tray\n2\nplace tray\nmeasurement rod-bolt-difference\n0.02\n0.14\nOK\n", "scan")
	s.run("measure", "J1", "rod-bolt-difference").says("2 M8x1.0x40", "0.02 mm, 0.14 mm", "1 good, 1 condemned", "number 2, 0.14 mm: 0.04 mm above 0.1 mm")

	s.run("measure", "J1", "main-jurnal").ends(statusUnknown).warns("job J1 measures no main-jurnal; the nearest is main-journal; see all with: countback measure J1 --all")
	s.run("measure").ends(statusUsage).warns("usage")
	require.Greater(t, strings.Count(s.run("measure", "J1", "--all").out, "not read"), 50)
	require.Contains(t, s.run("__complete", "measure", "J1", "").out, "main-journal\t")
}
