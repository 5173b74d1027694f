package main

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestTraysTellWhoHasThem(t *testing.T) {
	s := sorrelShop(t)
	s.run("trays", "J1").ends(statusDone).says("0 trays")
	s.feed("job J1\ntray 7\nHOLDS\n3\njoint coils\ntray 7\n4\ntray 7\nplace shelf-3\n", "scan")
	s.run("trays", "J1").ends(statusNo).says("tray 7       4 M6x1.0x25 8.8 flange", "tray 7 is in shelf-3", "TOO MANY: tray 7 holds 4, and takes 3")
	s.feed("job J1\ntray 7\nHOLDS\n30\n", "scan")
	s.run("trays", "J1").ends(statusDone)
	s.run("where", "part", "coils").ends(statusDone)

	s.run("job", "open", "--plan", sorrel(t), "--engine", "Twin").ends(statusDone)
	s.feed("job J2\njoint coils\ntray 7\n4\n", "scan")
	d := s.run("trays", "J2", "--json").ends(statusNo)
	var r traysReport
	require.NoError(t, json.Unmarshal([]byte(d.out), &r))
	require.Equal(t, []string{"J1"}, r.Trays[0].Others)

	s.run("trays", "J1", "tray", "7").says("sorted:", "into a bag of its own for Coils")
	s.run("trays", "J1", "shelf").ends(statusUsage).warns("name it by its noun")
	s.run("trays", "J1", "place", "nowhere").ends(statusUnknown).warns("holds nothing")
	s.run("trays", "J9").ends(statusUnknown).warns("there is no job J9")
	s.run("trays").ends(statusUsage).warns("usage")
}

func TestBatchesAreCountedOff(t *testing.T) {
	s := sorrelShop(t)
	s.run("batches", "J1").ends(statusDone).says("Nothing was washed or painted")
	s.feed("job J1\nbatch paint-1\npart front-cover\nOPEN\nPAINT\n6\n", "scan")
	s.run("batches", "J1").ends(statusNo).says("paint-1    paint: front-cover; on 6 masking plug", "OPEN: count the plugs and masks off", "mask or take off:")
	s.feed("job J1\nbatch paint-1\nCLOSE\n5\n24\n", "scan")
	d := s.run("batches", "J1", "--json").ends(statusDone)
	var r batchesReport
	require.NoError(t, json.Unmarshal([]byte(d.out), &r))
	require.Len(t, r.Batches, 1)
	require.True(t, r.Batches[0].Curing)
	require.NotEmpty(t, r.Batches[0].Closed)
	s.run("batches", "J1").ends(statusDone).says("CURES until")
	s.run("batches", "J9").ends(statusUnknown).warns("there is no job J9")
	s.run("batches").ends(statusUsage).warns("usage")
}
