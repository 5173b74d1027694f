package main

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestToolsTellsWhoHasWhich(t *testing.T) {
	s := sorrelShop(t)
	s.run("tools").ends(statusDone).says("No tool")
	s.feed("job J1\ntool wrench-40-200\nISSUED\ntext Large wrench\nOK\n40\n200\n2099-05-01\ntool lamp\nISSUED\nOK\nOK\nOK\nOK\n"+
		"tool old-wrench\nISSUED\nOK\ntext wrench\n5\n25\n2020-05-01\nOK\n"+
		"tool wrench-40-200\nstep head-on\nTAKEN\ntool lamp\ncavity timing-case\nIN\n", "scan")
	s.run("tools").ends(statusDone).says("wrench-40-200", "Large wrench; 40 to 200 N.m; calibrated until 2099-05-01; with", "CALIBRATION OVERDUE since 2020-05-01")
	s.run("tools", "J1").ends(statusNo).says("IN THE ENGINE, Timing case")
	s.feed("job J1\ntool lamp\nOUT\n", "scan")
	s.run("tools", "J1").ends(statusDone)

	// a step that wants a tool which another job has
	s.run("job", "open", "--plan", sorrel(t), "--engine", "Twin").ends(statusDone)
	s.feed("job J2\nstep coils-off\nAMEND\ntext {tools: [wrench-40-200]}\ntext as we do it\n", "scan")
	d := s.run("tools", "J2", "--json").ends(statusNo)
	var r toolsReport
	require.NoError(t, json.Unmarshal([]byte(d.out), &r))
	require.Len(t, r.Tools, 1)
	require.True(t, r.Tools[0].Stops)
	require.Equal(t, "J1", r.Tools[0].Job)
	require.Equal(t, []string{"coils-off"}, r.Tools[0].Steps)
	s.run("now", "J2", "coils-off").ends(statusNo).says("Tool wrench-40-200 is not here: with")

	s.run("tools", "J9").ends(statusUnknown).warns("there is no job J9")
	s.run("tools", "a", "b").ends(statusUsage).warns("usage")
}
