package scan

import (
	"strings"

	"countback/events"
	"countback/labels/code"
	"countback/projections/engine"
	"countback/projections/plan"
)

// Said is a sentence as far as it has been scanned.
type Said struct {
	Nouns   []Noun
	Verb    Word
	Lines   []events.Line // sizes and numbers that came before the verb
	Sizes   []events.Kind // sizes that have no number yet
	Number  int           // a number without a size, before the verb
	HasN    bool
	Replies []Reply

	Job   *engine.Job
	Dir   Directory
	Here  events.Terminal
	NextN uint32 // the n that this terminal's next fact will have
	Who   events.Badge
	Clock int64 // of the last scan, microseconds since 1970
}

// State is what the job comes to.
func (s *Said) State() *engine.State { return s.Job.State() }

// Plan is the job's own copy of its plan.
func (s *Said) Plan() *plan.Plan { return s.Job.State().Plan() }

// At is the i-th noun of a type, from 0; the zero Noun if there are fewer.
func (s *Said) At(i int, types ...Type) Noun {
	for _, n := range s.Nouns {
		for _, t := range types {
			if n.Type == t {
				if i == 0 {
					return n
				}
				i--
			}
		}
	}
	return Noun{}
}

// Has reports whether a noun of a type was said.
func (s *Said) Has(t Type) bool { return s.At(0, t).Type == t }

// Joint is the joint that the sentence is about, by its name or by a hole.
func (s *Said) Joint() events.Joint {
	if n := s.At(0, Joint); n.ID != "" {
		return events.Joint(n.ID)
	}
	if n := s.At(0, Hole); strings.Contains(n.ID, ":") {
		j, _ := events.Seat(n.ID).Split()
		return j
	}
	return ""
}

// Holes are the holes that were named, by their names within the joint.
func (s *Said) Holes() []events.Hole {
	var holes []events.Hole
	for _, n := range s.Nouns {
		if n.Type == Hole {
			holes = append(holes, last(n.ID))
		}
	}
	return holes
}

// Positions are the positions that were named, by their names within the part.
func (s *Said) Positions() []events.Hole {
	var list []events.Hole
	for _, n := range s.Nouns {
		if n.Type == Position {
			list = append(list, last(n.ID))
		}
	}
	return list
}

func last(id string) events.Hole {
	return events.Hole(id[strings.LastIndexByte(id, ':')+1:])
}

// Part is the part that the sentence is about, by its name or by a position.
func (s *Said) Part() events.Part {
	if n := s.At(0, Part); n.ID != "" {
		return events.Part(n.ID)
	}
	if n := s.At(0, Position); strings.Contains(n.ID, ":") {
		p, _ := events.Seat(n.ID).Split()
		return events.Part(p)
	}
	return ""
}

// Parts are all parts that were named.
func (s *Said) Parts() []events.Part {
	var list []events.Part
	for _, n := range s.Nouns {
		if n.Type == Part {
			list = append(list, events.Part(n.ID))
		}
	}
	return list
}

// Container is the i-th noun that pieces can be in, as a place; empty if
// there are fewer.
func (s *Said) Container(i int) events.Place {
	return PlaceOf(s.At(i, Bag, Rack, Place, Bench, Stock, TrayNoun))
}

// PlaceOf is the place that a noun names; empty if pieces cannot be in it.
func PlaceOf(n Noun) events.Place {
	switch n.Type {
	case Bag, Rack, Bench, Stock:
		return events.Place(string(n.Type) + "/" + n.ID)
	case Place:
		return events.Place("place/" + n.ID)
	case TrayNoun:
		return engine.TrayPlace(n.ID)
	}
	return ""
}

// Reply finds the answer to an Ask; the zero Reply if it was not asked.
func (s *Said) Reply(key string) Reply {
	for _, r := range s.Replies {
		if r.Key == key {
			return r
		}
	}
	return Reply{}
}

// Answered reports whether an Ask has its answer.
func (s *Said) Answered(key string) bool {
	for _, r := range s.Replies {
		if r.Key == key {
			return true
		}
	}
	return false
}

// AllLines are the lines of the sentence: those before the verb, and those of
// its answers.
func (s *Said) AllLines() []events.Line {
	lines := append([]events.Line(nil), s.Lines...)
	for _, r := range s.Replies {
		for _, l := range r.Lines {
			lines = addLine(lines, l)
		}
	}
	return lines
}

// addLine says a size once: what is said later about the same size stands.
func addLine(lines []events.Line, l events.Line) []events.Line {
	for i := range lines {
		if lines[i].Kind == l.Kind && lines[i].Cond == l.Cond {
			lines[i] = l
			return lines
		}
	}
	return append(lines, l)
}

// Fresh is an unused label of this terminal.
func (s *Said) Fresh(t code.Type) events.Code {
	c, _ := s.Dir.Fresh(t)
	return c
}

// Why is the reason that was given, in small letters if it was a card.
func (s *Said) Why(key string) string {
	r := s.Reply(key)
	if r.Word != "" {
		return strings.ToLower(string(r.Word))
	}
	return r.Text
}
