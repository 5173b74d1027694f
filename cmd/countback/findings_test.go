package main

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestFindingsListsWhatWasDecided(t *testing.T) {
	s := sorrelShop(t)
	s.run("findings", "J1").ends(statusDone).says("Nothing was found")
	s.feed("job J1\npart head\nFINDING\ntext cracked\nfinding 1\n180\nASK THE OWNER\ntext weld it?\n", "scan").ends(statusDone)
	s.run("findings", "J1").ends(statusNo).says("Head: cracked (waits for the owner)", "owner asked: weld it?; no answer yet", "costs 180", "scan finding f")
	s.feed("job J1\nfinding 1\nYES\ntext do it\nfinding 1\nsupplier Bakke\nSEND OUT\ntext weld\npart oil-pan\nOFF\npart oil-pan\nFINDING\ntext dented\nfinding 2\nREPLACE\nOK\n", "scan").ends(statusDone)
	s.run("findings", "J1").ends(statusNo).says("he said yes on ", "do it", "send-out to Bakke: weld", "slip: head", "to buy: 1 oil-pan", "2 findings, 2 open")

	var r findingsReport
	d := s.run("findings", "J1", "--json").ends(statusNo)
	require.NoError(t, json.Unmarshal([]byte(d.out), &r))
	require.Equal(t, 2, r.Open)
	require.Equal(t, "yes", r.Findings[0].Answer)
	require.NotEmpty(t, r.Findings[0].Answered)
	require.Equal(t, []string{"head"}, r.Findings[0].Send)
	require.Equal(t, []findingPart{{"oil-pan", 1}}, r.Findings[1].Buy)
	require.Contains(t, r.Findings[1].Holds, "pan-on")

	// It is work as a step is, with what ends it.
	s.run("now", "J1").ends(statusDone).says("Decided, and not done:", "is to be replaced since ", "dented", "to buy: 1 oil-pan", "holds: ", "pan-on", "a new one comes in: scan place shelf, RECEIVED", "Head is to be sent out")
	var n nowReport
	require.NoError(t, json.Unmarshal([]byte(s.run("now", "J1", "--json").ends(statusDone).out), &n))
	require.Len(t, n.Work, 2)
	require.Equal(t, "part oil-pan", n.Work[1].On)
	require.Contains(t, n.Work[1].Holds, "pan-on")
	require.Contains(t, n.Work[0].Clear, "DONE")

	// Bad: a decision about something that nobody raised.
	s.feed("job J1\nfinding 7\nUSE\n", "scan").ends(statusNo)
	s.feed("job J1\nfinding 1\nDONE\nOK\nfinding 2\nDONE\nOK\n", "scan").ends(statusDone)
	s.run("findings", "J1").ends(statusDone).says("2 findings, 0 open")
	d = s.run("now", "J1", "--json").ends(statusDone)
	require.Contains(t, d.out, `"work": []`)
	s.run("findings", "J9").ends(statusUnknown).warns("there is no job J9")
	s.run("findings").ends(statusUsage)
}
