package main

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestRunTellsHowItRanAndWhatFallsDue(t *testing.T) {
	s := sorrelShop(t)
	s.run("run", "J1").ends(statusDone).says("It was not started yet", "before a start: Audit Ready to start is not signed")
	s.feed("job J1\nSTARTED\nreading oil-pressure\n3.4\n3000\n4\nreading oil-pressure\n34 psi\n800\nOUTPUT\n4900\n400 hp\n429 lbf.ft\nSTOPPED\nYES\nCOLD\n", "scan").ends(statusDone)
	s.run("run", "J1").ends(statusNo).says("1 start, 1 heat cycle", "3.4 bar at 3000 rpm after 4 s, within limits", "34 psi at 800 rpm, within limits",
		"coolant temperature      not read", "4900 rpm: 400 hp, 429 lbf.ft", "DUE", "looked at cold (after 1 heat cycle)", "later, 0 of 800 km")
	// Bad: a power that the torque cannot make, a pressure that no engine has, an obligation of nobody.
	s.feed("job J1\nOUTPUT\n5000\n250 hp\n400 lbf.ft\nNO\n", "scan").ends(statusNo).says("That output is not stored")
	s.feed("job J1\nobligation valves\n", "scan").ends(statusNo)
	s.feed("job J1\nreading coolant\n88\nobligation cold-look\nDONE\nOK\n", "scan").ends(statusDone)
	var r runReport
	d := s.run("run", "J1", "--json").ends(statusDone)
	require.NoError(t, json.Unmarshal([]byte(d.out), &r))
	require.Equal(t, 1, r.HeatCycles)
	require.Zero(t, r.Open)
	require.Equal(t, "at least 1 bar", r.Readings[0].Reads[1].Limits)
	require.Equal(t, "both", r.Output[0].Read)
	require.NotEmpty(t, r.Obligations[1].Met)
	s.run("run", "J9").ends(statusUnknown).warns("there is no job J9")
}
