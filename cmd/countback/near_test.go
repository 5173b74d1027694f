package main

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
)

// A name that nothing has is answered with the one that is spelled most like it,
// by every command that takes one; a hole that is not there is not found.
func TestTheNearestNameIsSaid(t *testing.T) {
	s := demoShopOf(t)
	for _, row := range []struct {
		args []string
		near string
	}{
		{[]string{"scope", "4K7", "cam-intak"}, "the nearest is cam-intake"},
		{[]string{"measure", "4K7", "cluarance-intake"}, "the nearest is clearance-intake"},
		{[]string{"tighten", "4K7", "haed"}, "the nearest is head"},
		{[]string{"now", "4K7", "cover-onn"}, "the nearest is cover-on"},
		{[]string{"audit", "4K7", "relased"}, "the nearest is released"},
		{[]string{"where", "part", "hed"}, "the nearest is head"},
		{[]string{"where", "hole", "oil-pn:7"}, "the nearest is oil-pan:7"},
		{[]string{"where", "hole", "front-cover:99"}, "the nearest is front-cover:"},
		{[]string{"where", "front-cuver"}, "the nearest is front-cover"},
		{[]string{"missing", "4K8"}, "the nearest is 4K7"},
	} {
		s.run(row.args...).ends(statusUnknown).warns(row.near)
	}
	s.run("where", "part", "zzzz").ends(statusUnknown).warns("no job has met part zzzz; name it")

	// At the bench a kit of the plan that is misspelt is no new kit; another one is.
	b := sorrelShop(t)
	b.feed("job J1\nkit bolt-sett\n", "scan").ends(statusNo).says("no kit here is called bolt-sett; the nearest is bolt-set")
	b.feed("job J1\nkit bolt-set-2\nHELP\n", "scan").says("OPENED", "Left open at the end: kit bolt-set-2")
}

// What was put right stands in the losses by the kind of fact, and never by
// person; where fasteners broke by hole.
func TestLossesSayWhatWasPutRight(t *testing.T) {
	s, _ := benchShop(t)
	scan := func(lines string) { s.feed("job J1\n"+lines, "scan", "--terminal", "bench-1") }
	scan("loan rag\nIN\n2\nUNDO\nloan rag\nIN\n3\nloan crank-pin\nIN\nmark checked-in\nDONE\njoint exhaust\nhole 3\nBROKEN\nPROUD\nYES\n")
	d := s.run("losses").ends(statusDone)
	d.says("put right", "loan-in", "1 of 3 told, 33.3 %", "exhaust:3", "1 broken, 0 missed on 1 engine")
	var r lossesReport
	out := s.run("losses", "--json").ends(statusDone).out
	require.NoError(t, json.Unmarshal([]byte(out), &r))
	require.Len(t, r.Corrections, 1)
	require.Equal(t, "loan-in", r.Corrections[0].Kind)
	require.Equal(t, 3, r.Corrections[0].Told)
	require.Equal(t, 1, r.Corrections[0].Corrected)
	require.InDelta(t, 100.0/3, r.Corrections[0].Percent, 1e-9)
	require.Equal(t, []lossHole{{"Sorrel I4-20", "exhaust:3", 1, 0, 1}}, r.Holes)
}
