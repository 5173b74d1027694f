package gauge

import (
	"fmt"
	"math"
)

// How much a metal grows, in parts of its length for one kelvin (common
// handbook values, from memory).
const (
	CastIron  = 10.5e-6
	Steel     = 11.5e-6
	Aluminium = 23e-6
)

// Growth is by how much a size grows when it is warmed by so many kelvin.
func Growth(size Reading, perKelvin, kelvin float64) Reading {
	if size.unit.Dimension() != Length {
		return Reading{}
	}
	return exact(int64(math.Round(float64(size.base())*perKelvin*kelvin)), size.unit, 0)
}

// QuestionWarm doubts two sizes that are to be compared and were read at
// different temperatures in degrees Celsius, where the larger of them grows by
// more than the guard band in between. Temperatures that are no numbers are
// not known, and not doubted.
func QuestionWarm(bore, journal, band Reading, perKelvin, boreC, journalC float64) (Question, bool) {
	between := math.Abs(boreC - journalC)
	if math.IsNaN(between) || !bore.Alike(journal) || !bore.Alike(band) {
		return Question{}, false
	}
	grows := Growth(greater(bore, journal), perKelvin, between)
	if grows.Abs().Compare(band.Abs()) <= 0 {
		return Question{}, false
	}
	shown := grows.In(grows.unit, int(band.decimals)+1)
	return Question{Reading: bore, Why: fmt.Sprintf("read at %.0f °C and the other at %.0f °C, which alone makes %s; let both come to one temperature", boreC, journalC, shown)}, true
}
