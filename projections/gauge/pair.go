package gauge

import "fmt"

// Allows is what a neighbour can take of a part's value: the lift that a
// rocker pivot is good for, the gap that an ignition fires across.
type Allows struct {
	Neighbour string  // stock rocker pivot
	Range     Range   // what it takes
	About     Reading // how roughly that is known, to each side; no reading where it is exact
	Otherwise string  // what then: the pivots must change
}

// Fit is how a part goes with its neighbour.
type Fit struct {
	Of      string // valve lift
	Value   Reading
	Allows  Allows
	Verdict Verdict
}

// Take holds a value of one part against what its neighbour allows.
func (a Allows) Take(of string, value Reading) Fit {
	return Fit{Of: of, Value: value, Allows: a, Verdict: Limits{New: a.Range}.Judge(a.About, value)}
}

// Goes reports whether they go together for certain.
func (f Fit) Goes() bool { return f.Verdict.Place.Good() }

// Asks reports whether it is too near to say: ask whoever made the neighbour.
func (f Fit) Asks() bool { return !f.Goes() && f.Verdict.Place != Beyond }

// String says how they go together.
func (f Fit) String() string {
	about := ""
	if f.Allows.About.Known() {
		about = "about "
	}
	text := fmt.Sprintf("%s %s, %s allows %s%s: ", f.Of, f.Value, f.Allows.Neighbour, about, f.Allows.Range)
	switch f.Verdict.Place {
	case Beyond:
		side := "too much"
		if f.Value.Compare(f.Verdict.Limit) < 0 {
			side = "too little"
		}
		text += fmt.Sprintf("%s %s", f.Verdict.By, side)
		if f.Allows.Otherwise != "" {
			text += "; " + f.Allows.Otherwise
		}
	case ReadAgain:
		text += "too near to say: ask whoever made the " + f.Allows.Neighbour
	case AsNew, InService:
		text += "they go together"
	default:
		text += "cannot be said"
	}
	return text
}
