package main

import (
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestATraysSheetAndLabel(t *testing.T) {
	s, bag := benchShop(t)
	s.feed("job J1\ntray 7\nHOLDS\n6\njoint coils\ntray 7\n4\njoint flywheel\n"+bag+"\n8\n"+bag+"\ntray 7\ntray 7\nbench b2\ntray 7\nTAKEN\n", "scan", "--terminal", "bench-1")
	s.run("label", "tray", "J1", "7", "--to", "tray.pdf").ends(statusDone).says("1 page, 1 code drawn and read back")
	if text, ok := pdfText(t, s.path("tray.pdf")); ok {
		for _, want := range []string{"TRAY", "Tray 7", "takes 6 pieces", "M6x1.0x25 8.8 flange", "all pieces", bag, "Flywheel", "is on bench b2 now", "taken by, counted, date"} {
			require.Contains(t, text, want)
		}
		require.NotContains(t, text, "TOO MANY")
	}
	s.run("label", "tray", "J1", "tray 7", "--size", "100x60", "--to", "tray.png").ends(statusDone).says("1 code drawn and read back")
	s.feed("job J1\njoint throttle\ntray 7\n4\n", "scan", "--terminal", "bench-1")
	s.run("label", "tray", "J1", "7", "--to", "full.pdf").ends(statusDone)
	if text, ok := pdfText(t, s.path("full.pdf")); ok {
		require.Contains(t, text, "TOO MANY: tray 7 holds 8, and takes 6")
	}
	s.run("label", "tray", "J1", "9", "--to", "x.pdf").ends(statusUnknown).warns("nothing in a tray 9", "there are: 7")
	s.run("label", "tray", "J9", "7", "--to", "x.pdf").ends(statusUnknown).warns("there is no job J9")
	s.run("label", "tray", "J1", "7", "--size", "100x60", "--paper", "A4", "--to", "x.pdf").ends(statusUsage).warns("leave out --paper")
	s.run("label", "tray", "J1", "7", "--size", "20x10", "--to", "x.png").ends(statusUsage).warns("this would fit")
	s.run("label", "tray", "J1", "--to", "x.pdf").ends(statusUsage)
	require.NoFileExists(t, s.path("x.pdf"))
}

func TestLabelsOfTools(t *testing.T) {
	s, _ := benchShop(t)
	s.run("label", "tools", "--to", "none.pdf").ends(statusUnknown).warns("no tool is on the shop's register")
	s.feed("job J1\ntool lamp\nISSUED\ntext Inspection lamp\nOK\nOK\nOK\n", "scan", "--terminal", "bench-1")
	s.run("label", "tools", "--to", "none.pdf").ends(statusUnknown).warns("tool lamp has no label")
	out := s.run("label", "blank", "loans", "--terminal", "bench-1", "--count", "2", "--to", "blank.pdf").ends(statusDone).out
	tag := regexp.MustCompile(`\bT[A-Z0-9]{7}\b`).FindString(out)
	require.NotEmpty(t, tag, out)
	s.feed("job J1\ntool wrench-40-200\n"+tag+"\nISSUED\ntext Large wrench\ntext wrench\n40\n200\n2030-05-01\n", "scan", "--terminal", "bench-1").ends(statusDone)
	s.run("label", "tools", "--to", "tools.pdf").ends(statusDone).says("1 code drawn", "Tool lamp has no label; say at a terminal: tool lamp, a blank tool label, ISSUED (blank ones: countback label blank tools)")
	s.run("label", "blank", "tools", "--terminal", "bench-1", "--count", "2", "--to", "blanks.pdf").ends(statusDone)
	if text, ok := pdfText(t, s.path("tools.pdf")); ok {
		for _, want := range []string{"TOOL", "Large wrench", "wrench-40-200", "40 to 200 N.m", "Calibrated until: Wednesday 1 May 2030", tag} {
			require.Contains(t, text, want)
		}
	}
	s.run("label", "tools", "wrench-40-200", "--size", "57x32", "--to", "one.png").ends(statusDone)
	s.run("label", "tools", "wrench-40-200", "hammer", "--to", "x.pdf").ends(statusUnknown).warns("no tool hammer is on the shop's register")
}

func TestSheetsOfCoresAndOfTheOwnersThings(t *testing.T) {
	s, _ := benchShop(t)
	s.run("label", "cores", "J1", "--to", "x.pdf").ends(statusUnknown).warns("no old part of job J1 goes back")
	s.run("label", "owner", "J1", "--to", "x.pdf").ends(statusUnknown).warns("brought nothing and wants nothing")
	s.feed("job J1\npart head\nsupplier fjord\npart springs\nCORE\ntext 1200.50 EUR\n2030-06-02\nDO NOT STRIP\npart alternator\nsupplier Bakke\nCORE\ntext 120.00 EUR\nOK\nMAY BE STRIPPED\n"+
		"place shelf\npart water-pump\nOWNER BROUGHT\nNOT SEALED\npart water-pump\nOWNER WANTS\nSHOW IT\n", "scan", "--terminal", "bench-1")
	s.run("label", "cores", "J1", "--to", "cores.pdf").ends(statusDone)
	if text, ok := pdfText(t, s.path("cores.pdf")); ok {
		for _, want := range []string{"CORES GOING BACK", "To fjord", "To Bakke", "deposit 1200.50 EUR", "back by Sunday 2 June 2030", "DO NOT STRIP", "with it:", "deposits not credited yet: 1320.50 EUR"} {
			require.Contains(t, text, want)
		}
	}
	s.run("label", "cores", "J1", "--supplier", "BAKKE", "--to", "bakke.pdf").ends(statusDone)
	if text, ok := pdfText(t, s.path("bakke.pdf")); ok {
		require.NotContains(t, text, "fjord")
	}
	s.run("label", "cores", "J1", "--supplier", "nobody", "--to", "x.pdf").ends(statusUnknown).warns("goes back to nobody")
	s.run("label", "owner", "J1", "--paper", "Letter", "--to", "owner.pdf").ends(statusDone)
	if text, ok := pdfText(t, s.path("owner.pdf")); ok {
		for _, want := range []string{"OWNER'S PROPERTY", "Water pump", "OPENED when it came", "1 here in shelf", "the owner, date"} {
			require.Contains(t, text, want)
		}
	}
}
