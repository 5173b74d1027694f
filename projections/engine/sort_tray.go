package engine

import (
	"strings"

	"countback/events"
)

// SortTray tells that what lay mixed in a place was put back as Job.Sort says.
// It is refused where the place is empty by the book, where nothing in it has
// another place, and where the state has changed since it was shown.
type SortTray struct {
	From  events.Place
	Here  events.Terminal
	Shown []string // what was confirmed, the piles first; nil: it is not checked
}

func (c SortTray) decide(s *State) (events.Event, error) {
	if c.From == "" {
		return nil, refuse(Malformed, "scan the bag or tray that they lie in", "sorted, and nothing to sort")
	}
	a, ok := s.book.Lookup(c.From)
	if !ok || len(s.contents(a)) == 0 {
		return nil, refuse(Conflict, "count it by size: scan it, then COUNT", "%s is empty by the book", s.placeWords(c.From))
	}
	so := s.job.Sort(c.From, c.Here)
	if len(so.Into) == 0 {
		return nil, refuse(Conflict, "keep it apart, or ask whose it is: scan a size, then WHOSE?", "nothing in %s belongs anywhere else", s.placeWords(c.From))
	}
	ev := events.TraySorted{From: c.From}
	for i, p := range so.Into {
		if c.Shown != nil && (i >= len(c.Shown) || c.Shown[i] != s.PileWords(p)) {
			return nil, refuse(Conflict, "say SORT again", "what lies in %s has changed meanwhile", s.placeWords(c.From))
		}
		ev.Into = append(ev.Into, events.Sorting{To: p.To, Lines: p.Lines})
	}
	return ev, nil
}

// PileWords says where a pile goes: "8 M8x1.25x30 flange, 5 M10x1.5x50 into bag
// B2KCZ6EE (front cover)".
func (s *State) PileWords(p Pile) string {
	text := s.linesWords(p.Lines)
	switch {
	case p.Fresh:
		text += ", into a bag of its own for " + p.Name
	case p.To == "":
		text += ": " + p.Why
	case p.Name != "":
		text += " into " + s.placeWords(p.To) + " (" + p.Name + ")"
	default:
		text += " into " + s.placeWords(p.To)
	}
	return text
}

// SortWords lists what a hand has to do, a line for each pile, and then what will
// still be missing, what stays, and what to tell apart by eye.
func (s *State) SortWords(so *Sorted) (piles, rest []string) {
	for _, p := range so.Into {
		piles = append(piles, s.PileWords(p))
	}
	for _, l := range so.Lacks {
		text := "still missing: " + s.nOf(l.Qty, l.Kind) + " of " + l.Name
		if len(l.Or) > 0 {
			text += ", or of " + strings.Join(l.Or, ", or of ") + ": they are equal"
		}
		rest = append(rest, text)
	}
	for _, p := range so.Stays {
		if p.To == "" {
			rest = append(rest, s.linesWords(p.Lines)+": "+p.Why)
		}
	}
	for _, k := range so.Mixed {
		rest = append(rest, "old and new "+s.kindWords(k)+" lie together and some are missing: tell them apart by eye")
	}
	return piles, rest
}

// traySorted moves the piles. What was said exactly goes first, so that pieces
// of which nothing was said are what is left.
func (s *State) traySorted(e *events.TraySorted) {
	from := s.place(e.From, "")
	for _, exact := range []bool{true, false} {
		for i := range e.Into {
			to := s.place(e.Into[i].To, "")
			if to == from {
				continue
			}
			for _, l := range e.Into[i].Lines {
				if exact == (l.Cond != "" || l.Lot != "" || l.Origin != "") && l.Qty > 0 {
					s.move(from, to, []events.Line{l})
				}
			}
		}
	}
	for i := range e.Into {
		to := s.place(e.Into[i].To, "")
		s.mixed(to, e.Into[i].To)
		s.partsMoved(e.Into[i].Lines, to)
	}
}
