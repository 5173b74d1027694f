package main

import (
	"encoding/json"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestAgeingTellsWhatLiesBadly(t *testing.T) {
	s := sorrelShop(t)
	s.run("ageing", "J1").ends(statusDone).says("Nothing lies badly")
	s.feed("job J1\nlot blue-5\nGOOD UNTIL\n2020-01-01\nOK\nlot blue-6\nGOOD UNTIL\n2099-01-01\njoint oil-pan\nSEALANT ON\ntext blue-5\n"+
		"joint flywheel\n8\npart flywheel\nPRESERVED\nWAX\n", "scan")
	s.run("ageing", "J1").ends(statusNo).says("DUE  Lot blue-5: was good until Wednesday 1 January 2020", "and was used on", "Lot blue-6: good until", "Flywheel: wax 0 days ago")
	d := s.run("ageing", "J1", "--json", "--bare", "1").ends(statusNo)
	var r ageingReport
	require.NoError(t, json.Unmarshal([]byte(d.out), &r))
	require.Len(t, r.Lines, 4)
	s.run("ageing", "J1", "--oiled", "-1").ends(statusUsage).warns("--oiled -1")
	s.run("ageing", "J9").ends(statusUnknown).warns("there is no job J9")
	file := s.path("own.yaml")
	require.NoError(t, os.WriteFile(file, []byte("limits: {oiled: never}\n"), 0o644))
	s.run("ageing", "J1", "--config", file).ends(statusUsage).warns("limit oiled", "never")
	require.NoError(t, os.WriteFile(file, []byte("limits: {oiled: 0, bare-iron: 1d, desiccant: 30d}\n"), 0o644))
	s.run("ageing", "J1", "--config", file).ends(statusNo)
	s.run("ageing").ends(statusUsage).warns("usage")
}
