package main

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestGuardTellsWhatStandsAgainstAnAct(t *testing.T) {
	s := sorrelShop(t)
	s.run("guard", "J1").ends(statusNo).says("what the maker says comes first", "Not yet: turn it over by hand", "Battery: not confirmed as off",
		"scan BATTERY OFF", "Not yet: crank it", "Fuel: not confirmed", "Not yet: flame or weld near it", "Sump holds oil: drain it, then scan cavity sump, DRAINED")
	s.feed("job J1\nBATTERY OFF\n", "scan")
	s.run("guard", "J1", "turning").ends(statusDone).says("Yes: turn it over by hand")
	s.feed("job J1\nloan crank-pin\nIN\n", "scan")
	var r guardReport
	d := s.run("guard", "J1", "turning", "--json").ends(statusNo)
	require.NoError(t, json.Unmarshal([]byte(d.out), &r))
	require.Len(t, r.Acts, 1)
	require.False(t, r.Acts[0].May)
	require.Equal(t, "scan loan crank-pin, OUT", r.Acts[0].Against[0].Scan)
	s.run("guard", "J1", "flying").ends(statusUsage).warns("nothing is known about flying")
	s.run("guard", "J9").ends(statusUnknown).warns("there is no job J9")
	s.run("guard").ends(statusUsage).warns("usage")
}
