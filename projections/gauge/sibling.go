package gauge

import (
	"fmt"
	"slices"
)

// Sibling is one of several parts of a kind, by name, and its reading.
type Sibling struct {
	Name    string
	Reading Reading
}

// Standout is a sibling that does not look like the others.
type Standout struct {
	Sibling
	Median Reading
	By     Reading // how far above the median, below zero under it
	Spread Reading // the usual distance from the median
}

// fewestSiblings is how many it takes to say what is usual.
const fewestSiblings = 4

// standsOut is how many spreads from the median a sibling stands out: the
// modified Z-score of Iglewicz and Hoaglin above 3.5 (as in NIST/SEMATECH
// e-Handbook 1.3.5.17, from memory). It is kept in tenths.
const standsOut = 35

// spreadOfMedian makes the median distance from the median a standard
// deviation: 1.4826 of it, in ten-thousandths.
const spreadOfMedian = 14826

// StandOuts are the siblings that stand out, in the order given: look here. The
// spread is that of the middle half of them, and never less than the guard band
// of the gauge or one of the coarsest last digit, which would make every digit
// stand out. Of fewer than four, and of readings that measure different things,
// none does.
func StandOuts(band Reading, list []Sibling) []Standout {
	if len(list) < fewestSiblings {
		return nil
	}
	least := band.Abs().base()
	for _, s := range list {
		if !s.Reading.Alike(list[0].Reading) {
			return nil
		}
		least = max(least, s.Reading.step())
	}
	if band.Known() && !band.Alike(list[0].Reading) {
		return nil
	}
	sizes := make([]int64, len(list))
	for i, s := range list {
		sizes[i] = s.Reading.base()
	}
	middle := median(sizes)
	for i, s := range list {
		sizes[i] = max(s.Reading.base()-middle, middle-s.Reading.base())
	}
	usual := max(median(sizes)*spreadOfMedian/10_000, least)
	var out []Standout
	for _, s := range list {
		off := s.Reading.base() - middle
		if max(off, -off)*10 <= usual*standsOut {
			continue
		}
		u, d := s.Reading.unit, s.Reading.decimals
		out = append(out, Standout{Sibling: s, Median: sized(middle, u, d+1), By: sized(off, u, d+1), Spread: sized(usual, u, d+1)})
	}
	return out
}

// median is the middle one, or the mean of the middle two.
func median(sizes []int64) int64 {
	s := slices.Sorted(slices.Values(sizes))
	n := len(s)
	if n%2 == 1 {
		return s[n/2]
	}
	return (s[n/2-1] + s[n/2]) / 2
}

// String points at it in words.
func (s Standout) String() string {
	side := "above"
	if s.By.base() < 0 {
		side = "below"
	}
	return fmt.Sprintf("%s: %s stands out, %s %s the middle of its siblings: look here", s.Name, s.Reading, s.By.Abs(), side)
}
