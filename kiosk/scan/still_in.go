package scan

import (
	"slices"
	"strings"

	"countback/events"
	"countback/projections/engine"
)

// mostWhich is how many holes STILL IN asks for at most, one after the other.
const mostWhich = 8

// whichHoles asks for each piece of a short in which of several like holes it
// still is, until OK.
func whichHoles() []Ask {
	var asks []Ask
	for i := range mostWhich {
		asks = append(asks, Ask{Key: "hole" + itoa(i), Kind: AskNoun, Types: []Type{Hole}, Prompts: stillInPrompt, Fits: isStillIn, Skip: true, When: func(s *Said) bool {
			if i >= s.shortQty() || i > 0 && (!s.Answered("hole"+itoa(i-1)) || s.Reply("hole"+itoa(i-1)).None) {
				return false
			}
			return len(s.stillInWhich()) > 0
		}})
	}
	return asks
}

// shortQty is how many pieces the end of a short is about.
func (s *Said) shortQty() int {
	if s.HasN {
		return s.Number
	}
	st := s.State()
	return int(st.Book().Entry(st.Short(s.At(0, Short).Short)).Open)
}

func (s *Said) stillInWhich() []events.Seat {
	st := s.State()
	return st.StillInWhich(st.Short(s.At(0, Short).Short), s.shortQty())
}

// saidHoles are the holes that were answered, by their names in the joint.
func (s *Said) saidHoles() []events.Hole {
	var list []events.Hole
	for i := range mostWhich {
		if r := s.Reply("hole" + itoa(i)); r.Noun.ID != "" {
			list = append(list, last(r.Noun.ID))
		}
	}
	return list
}

func stillInPrompt(s *Said) string {
	said := s.saidHoles()
	var names []string
	for _, seat := range s.stillInWhich() {
		if _, hole := seat.Split(); !slices.Contains(said, hole) {
			names = append(names, string(hole))
		}
	}
	text := "In which hole is it"
	if len(said) > 0 {
		text = "And in which is the next"
	}
	if len(names) > 12 {
		names = append(names[:11], "...")
	}
	return text + ": " + strings.Join(names, ", ") + "? Scan it; OK: not known"
}

// isStillIn: the hole is one of those, and was not named yet.
func isStillIn(s *Said, n Noun) bool {
	if slices.Contains(s.saidHoles(), last(n.ID)) {
		return false
	}
	return slices.ContainsFunc(s.stillInWhich(), func(seat events.Seat) bool { _, hole := seat.Split(); return hole == last(n.ID) })
}

// buildStillIn names the holes that were said.
func buildStillIn(s *Said) (engine.Command, error) {
	e := events.ShortEnded{Short: s.At(0, Short).Short, How: events.StillIn, Holes: s.saidHoles()}
	if s.HasN {
		e.Qty = s.Number
	}
	return engine.Tell{Event: e}, nil
}
