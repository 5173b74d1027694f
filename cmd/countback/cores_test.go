package main

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
)

// The terms of a core, the credit that a hand voided, and what was paid back, in
// whole cents.
func TestCoresOfAJob(t *testing.T) {
	s, _ := benchShop(t)
	s.run("cores", "J1").ends(statusDone).says("No old part goes back")
	scan := func(lines string) {
		s.feed("job J1\n"+lines, "scan", "--terminal", "bench-1")
	}
	scan("part water-pump\nsupplier fjord\nCORE\ntext 120.50 EUR\n2020-01-02\nOK\nMAY BE STRIPPED\n")
	s.run("cores", "J1").ends(statusNo).says("Water pump to fjord, 120.50 EUR", "PAST its day")
	scan("part water-pump\nCREDITED\ntext 100 EUR\ntext 20.50 no pulley\nYES\n") // it was not sent by the book: asked
	s.run("cores", "J1").ends(statusDone).says("credited 100.00 EUR, less 20.50 EUR no pulley")
	var r coresReport
	require.NoError(t, json.Unmarshal([]byte(s.run("cores", "J1", "--json").out), &r))
	require.Equal(t, int64(12050), r.Cores[0].Deposit)
	require.Equal(t, int64(10000), r.Cores[0].Credit)
	require.Equal(t, []deductionRow{{2050, "no pulley"}}, r.Cores[0].Deductions)
	require.Zero(t, r.Cores[0].Unexplained)
	s.run("cores", "J9").ends(statusUnknown)
	s.run("cores").ends(statusUsage)
}

// What the owner brought and wants, and when it is settled.
func TestOwnersThings(t *testing.T) {
	s, bag := benchShop(t)
	s.run("owner", "J1").ends(statusDone).says("no old part is wanted")
	scan := func(lines string) {
		s.feed("job J1\n"+lines, "scan", "--terminal", "bench-1")
	}
	scan(bag + "\nsize M8x1.25x30\n2\nOWNER BROUGHT\nSEALED\npart water-pump\nOWNER WANTS\nGIVE IT BACK\n")
	s.run("owner", "J1").ends(statusNo).says("2 M8x1.25x30, sealed: 0 fitted, 2 here in bag", "old water pump: to be given back, if it is replaced")
	scan(bag + "\nGIVEN BACK\nsize M8x1.25x30\n2\n")
	var r ownerReport
	require.NoError(t, json.Unmarshal([]byte(s.run("owner", "J1", "--json").ends(statusDone).out), &r))
	require.True(t, r.Settled)
	require.Equal(t, 2, r.Items[0].In)
	require.Equal(t, 2, r.Items[0].Out)
	require.Zero(t, r.Items[0].Here)
	s.run("owner").ends(statusUsage)
}
