package engine

import (
	"countback/events"
	"countback/projections/ledger"
)

// RetireBag asks to tear up a bag's label. It is refused while the book has
// pieces in the bag.
type RetireBag struct {
	Bag events.Code
	Why string
}

func (c RetireBag) decide(s *State) (events.Event, error) {
	b, ok := s.bags[c.Bag]
	if !ok {
		return nil, refuse(Unknown, "scan a bag of this job", "this job has no bag %s", c.Bag)
	}
	if b.Retired != 0 {
		return nil, nil
	}
	if lines := s.contents(b.account); len(lines) > 0 {
		return nil, refuse(Conflict, "scan it EMPTY, or count it", "bag %s still holds %s by the book", c.Bag, s.linesWords(lines))
	}
	return events.BagRetired{Bag: c.Bag, Why: c.Why}, nil
}

// MergeBags asks to tip one bag into another. It is refused where old and new
// pieces of a kind would lie in one bag (rule R11).
type MergeBags struct {
	From, Into events.Code
}

func (c MergeBags) decide(s *State) (events.Event, error) {
	if c.From == c.Into {
		return nil, refuse(Malformed, "scan the other bag", "bag %s twice", c.From)
	}
	from, ok := s.bags[c.From]
	if !ok {
		return nil, refuse(Unknown, "scan a bag of this job", "this job has no bag %s", c.From)
	}
	if from.Retired != 0 {
		return nil, nil
	}
	into, ok := s.bags[c.Into]
	if ok && into.Retired != 0 {
		return nil, refuse(Conflict, "take a new bag", "bag %s is retired since %s", c.Into, s.day(into.Retired))
	}
	if ok {
		if err := s.wouldMix(into.account, into.Place(), s.contents(from.account)); err != nil {
			return nil, err
		}
	}
	return events.BagsMerged{From: c.From, Into: c.Into}, nil
}

// PutIn asks to put pieces into a container. It is refused where old and new
// pieces of a kind would lie in it together (rule R11). Without a condition in
// the lines the pieces are what the place that they come from says.
type PutIn struct {
	To    events.Place
	From  events.Place // empty: loose on the terminal's bench, or wherever this job has them
	Lines []events.Line
	Tray  TrayNow // of a tray: what the shop knows of it
}

func (c PutIn) decide(s *State) (events.Event, error) {
	ev := events.PiecesMoved{From: c.From, To: c.To, Lines: c.Lines}
	if err := malformed(ev); err != nil {
		return nil, err
	}
	if c.To == "" || c.To == c.From {
		return nil, refuse(Malformed, "scan where it goes", "pieces without a place to go to")
	}
	word, which, _ := cutPlace(c.To)
	if b, ok := s.bags[events.Code(which)]; ok && word == "bag" && b.Retired != 0 {
		return nil, refuse(Conflict, "take a new bag", "bag %s is retired since %s", b.Code, s.day(b.Retired))
	}
	if err := s.refuseTray(c.To, c.Tray); err != nil {
		return nil, err
	}
	lines := c.Lines
	if len(lines) == 0 {
		lines = s.At(c.From)
	}
	if len(lines) == 0 {
		return nil, refuse(Conflict, "count it", "%s is empty by the book", s.placeWords(c.From))
	}
	if a, ok := s.book.Lookup(c.To); ok && (s.book.Class(a) == ledger.Bag || s.book.Class(a) == ledger.Rack) {
		if err := s.wouldMix(a, c.To, s.asAt(c.From, lines)); err != nil {
			return nil, err
		}
	}
	return ev, nil
}

// asAt gives lines the conditions that their pieces have where they come from.
func (s *State) asAt(from events.Place, lines []events.Line) []events.Line {
	var out []events.Line
	held := s.At(from)
	for _, l := range lines {
		if l.Cond != "" {
			out = append(out, l)
			continue
		}
		known := false
		for _, h := range held {
			if h.Kind == l.Kind {
				out = append(out, h)
				known = true
			}
		}
		if !known {
			out = append(out, l)
		}
	}
	return out
}

// wouldMix refuses new pieces beside old ones of the same kind.
func (s *State) wouldMix(a ledger.AccountID, to events.Place, lines []events.Line) error {
	for _, l := range lines {
		for it, n := range s.book.At(a) {
			name := s.book.ItemName(it)
			if n <= 0 || name.Kind != l.Kind || (name.Cond == events.New) == (l.Cond == events.New) {
				continue
			}
			old, fresh := "old", "new"
			if name.Cond == events.New {
				old, fresh = fresh, old
			}
			return refuse(Conflict, "take another bag", "%s holds %s %s, and these are %s", s.placeWords(to), old, s.kindWords(l.Kind), fresh)
		}
	}
	return nil
}
