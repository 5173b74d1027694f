package main

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestBoltNamesTheHolesThatCouldWantIt(t *testing.T) {
	s := sorrelShop(t)
	s.feed("job J1\njoint front-cover\n1\n7\n4\n5\n4\n", "scan")
	s.run("bolt", "J1", "7.85x1.25x30").ends(statusDone).says("Front cover to block, which is short of 1", "1 short; 8 want one, 7 kept for them")
	s.run("bolt", "J1", "M8x1.25", "--length", "45").ends(statusDone).says("Front cover to block: M8x1.25x45 8.8 flange")
	s.run("bolt", "J1", "7.85", "--pitch", "1.25", "--length", "30", "--head", "flange", "--class", "8.8").ends(statusDone).says("7.85 mm, pitch 1.25, 30 mm long, 8.8, flange")
	s.run("bolt", "J1", "M8", "--pitch", "1.0", "--length", "30").ends(statusNo).says("No hole of this engine takes M8x1.0x30")
	s.run("bolt", "J1", "M30x3.5").ends(statusNo).says("No hole of this engine takes M30x3.5")

	var r boltReport
	d := s.run("bolt", "J1", "M8x1.25x30", "--json").ends(statusDone)
	require.NoError(t, json.Unmarshal([]byte(d.out), &r))
	require.Equal(t, "front-cover", r.Homes[0].Joint)
	require.Equal(t, 1, r.Homes[0].Short)
	require.Len(t, r.Homes[0].Holes, 8)
	require.Empty(t, r.Near)

	for _, row := range []struct {
		args []string
		want status
		why  string
	}{
		{[]string{"bolt"}, statusUsage, "usage"},
		{[]string{"bolt", "J9", "M8"}, statusUnknown, "there is no job J9"},
		{[]string{"bolt", "J1", "blue"}, statusUsage, "blue"},
		{[]string{"bolt", "J1", "7.85x18"}, statusUsage, "18tpi"},
		{[]string{"bolt", "J1", "M8x1.25x30", "--length", "30"}, statusUsage, "length twice"},
		{[]string{"bolt", "J1", "M8x1.25", "--pitch", "1.25"}, statusUsage, "pitch twice"},
	} {
		s.run(row.args...).ends(row.want).warns(row.why)
	}
}
