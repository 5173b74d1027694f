package main

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/labels/code"
)

// The demo's head went out and came back one plug and one ring short.
func TestSlipsOfTheDemo(t *testing.T) {
	s := demoShopOf(t)
	s.run("slips", "4K7").ends(statusNo).says("SHTBR6K7, job 4K7 to", "head; back", "after 19 days", "1 LOOK")
	var r slipsReport
	require.NoError(t, json.Unmarshal([]byte(s.run("slips", "4K7", "--json").out), &r))
	require.Len(t, r.Slips, 1)
	one := r.Slips[0]
	require.Empty(t, one.Away)
	require.Empty(t, one.Unlooked)
	require.Equal(t, 19, one.DaysAway)
	lacks := 0
	for _, l := range one.Lines {
		require.Equal(t, l.Went, l.Came+l.Away+l.Missing, l.Kind)
		lacks += l.Missing
	}
	require.Equal(t, 2, lacks)
	s.run("slips", "J9").ends(statusUnknown)
	s.run("slips").ends(statusNo).says("All jobs. 1 slip", "SHTBR6K7, job 4K7")
	s.run("slips", "--at", "nobody").ends(statusDone).says("Nothing went to another shop")
	s.run("slips", "4K7", "J1").ends(statusUsage)
}

func TestSlipsOfAJobThatSentNothing(t *testing.T) {
	s, _ := benchShop(t)
	s.run("slips", "J1").ends(statusDone).says("Nothing went to another shop")
}

// The sheet that goes with the parts has the work, its limits and the day.
func TestSlipSheetHasTheWorkItsLimitsAndTheDay(t *testing.T) {
	s, bag := benchShop(t)
	issuer, err := code.NewIssuer(bag[1:3])
	require.NoError(t, err)
	c, _, ok := issuer.Next(code.Slip, 0)
	require.True(t, ok)
	slip := string(c)
	s.feed("job J1\npart cam-cover\nOFF\n", "scan", "--terminal", "bench-1")
	s.feed("job J1\npart cam-cover\n"+slip+"\nsupplier Bakke\nSEND\ntext weld\n"+slip+"\nWORK\ntext weld the crack; leave the gasket face alone\n"+slip+"\nPROMISED\n2099-12-14\n",
		"scan", "--terminal", "bench-1").ends(statusDone)
	s.run("slips", "J1").ends(statusDone).says("weld the crack", "leave the gasket face alone", "promised 2099-12-14")
	s.run("label", "slip", slip, "--to", "slip.pdf").ends(statusDone)
	if text, ok := pdfText(t, s.path("slip.pdf")); ok {
		for _, want := range []string{"weld the crack", "leave the gasket face alone", "14 Dec 2099", "Slip to Bakke"} {
			require.Contains(t, text, want)
		}
	}
}
