package main

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
)

// The demo's head went out and came back one plug and one ring short.
func TestSlipsOfTheDemo(t *testing.T) {
	s := demoShopOf(t)
	s.run("slips", "4K7").ends(statusNo).says("SHTBR6K7 to", "head; back", "after 19 days", "1 LOOK")
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
	s.run("slips").ends(statusUsage)
}

func TestSlipsOfAJobThatSentNothing(t *testing.T) {
	s, _ := benchShop(t)
	s.run("slips", "J1").ends(statusDone).says("Nothing went to another shop")
}
