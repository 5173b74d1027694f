package engine

import (
	"sort"
	"strings"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// place finds the account that a fact names. Empty is loose on the bench of
// the fact's terminal, under the joint or part that it is about.
func (s *State) place(p events.Place, about string) ledger.AccountID {
	if p == "" {
		return s.bench(s.rec.Terminal, about)
	}
	if id, ok := s.book.Lookup(p); ok && s.book.Class(id) != ledger.Unexplained {
		return id
	}
	if ledger.ClassOf(p) == ledger.Unexplained {
		return s.bench(s.rec.Terminal, about) // nobody's place
	}
	word, rest, _ := strings.Cut(string(p), "/")
	if word == "bag" {
		return s.bag(events.Code(rest)).account
	}
	id := s.book.Account(p)
	if s.book.Class(id) == ledger.Bench {
		t, about, _ := strings.Cut(rest, "/")
		s.loosen(looseAt{id, events.Terminal(t), about}, false)
	}
	return id
}

// bag finds a bag, new when its label had not been met.
func (s *State) bag(c events.Code) *Bag {
	if b, ok := s.bags[c]; ok {
		return b
	}
	return s.newBag(c, "bag/"+events.Place(c))
}

func (s *State) newBag(c events.Code, path events.Place) *Bag {
	if s.bags == nil {
		s.bags = make(map[events.Code]*Bag)
	}
	b := &s.bagRoom.take(1, 16)[0]
	*b = Bag{Code: c, Since: s.fact, account: s.book.Account(path)}
	s.bags[c] = b
	s.bagList = append(s.bagList, b)
	return b
}

// Bags lists the bags of this job in the order in which they were met.
func (s *State) Bags() []*Bag {
	return s.bagList[:len(s.bagList):len(s.bagList)]
}

// Bag finds one bag.
func (s *State) Bag(c events.Code) (*Bag, bool) { b, ok := s.bags[c]; return b, ok }

// Place is a bag's account path.
func (b *Bag) Place() events.Place { return events.Place("bag/" + string(b.Code)) }

func (s *State) kindIndex(k events.Kind) (int32, bool) {
	return s.lay.kindAt.Get(k)
}

// kindOrNone is kindIndex, -1 for a kind that is not of the plan.
func (s *State) kindOrNone(k events.Kind) int32 {
	if i, ok := s.kindIndex(k); ok {
		return i
	}
	return -1
}

func (s *State) setSeat(ix plan.SeatIndex, st plan.SeatState) {
	if s.now.ChangeSeat(ix, st) {
		s.stirred = s.stirred || s.lay.seats[ix].waited
		for _, c := range s.lay.seats[ix].cavities {
			s.cavity(c)
		}
	}
}

// setSeats is setSeat for all holes of a set. What they open or close is looked
// at when all of them are told.
func (s *State) setSeats(hs *holeSet, seats []plan.SeatIndex, st plan.SeatState) {
	if !s.now.ChangeSeats(seats, st) {
		return
	}
	s.stirred = s.stirred || hs.waited
	for _, c := range hs.cavities {
		s.cavity(c)
	}
}

func (s *State) setPart(ix plan.PartIndex, st plan.PartState) {
	if s.now.Part(ix) == st {
		return
	}
	s.now.SetPart(ix, st)
	s.parts[ix].changed = s.fact
	s.stirred = s.stirred || s.lay.parts[ix].waited
	for _, c := range s.lay.parts[ix].cavities {
		s.cavity(c)
	}
}

// cavity notes when a cavity opens or closes.
func (s *State) cavity(c plan.CavityIndex) {
	open := s.now.Open(c)
	if open != s.caveOpen[c] {
		s.caveOpen[c] = open
		s.turns = append(s.turns, cavityTurn{s.fact, c, open})
	}
}

func (s *State) note(what NoteKind, on, text string) {
	s.notes = append(s.notes, Note{s.fact, what, on, text})
}

// Notes lists what the fold noticed, in the order of the facts.
func (s *State) Notes() []Note { return s.notes }

// groupsName is the joint that a list of holes belongs to.
func (l *layout) groupsName(seats []plan.SeatIndex) string {
	if len(seats) == 0 {
		return ""
	}
	return string(l.plan.Joints[l.plan.Seats[seats[0]].Joint].ID)
}

// contents lists what an account holds, one line for each item, in a fixed
// order.
func (s *State) contents(a ledger.AccountID) []events.Line {
	var lines []events.Line
	for it, n := range s.book.At(a) {
		if n > 0 {
			lines = append(lines, s.line(it, int(n)))
		}
	}
	sort.SliceStable(lines, func(i, j int) bool { return lines[i].Kind < lines[j].Kind })
	return lines
}

// At lists what a place holds by the book.
func (s *State) At(p events.Place) []events.Line {
	a, ok := s.book.Lookup(p)
	if !ok {
		return nil
	}
	return s.contents(a)
}

func (s *State) line(it ledger.ItemID, n int) events.Line {
	name := s.book.ItemName(it)
	return events.Line{Kind: name.Kind, Qty: n, Cond: name.Cond, Lot: name.Lot, Origin: name.Origin}
}

// matchOf is match for a line whose kind is known by number, -1 if it is not of
// the plan.
func (s *State) matchOf(l *events.Line, kind int32) ledger.Match {
	if kind >= 0 && l.Cond == "" && l.Lot == "" && l.Origin == "" {
		return ledger.OfKind(s.kinds[kind])
	}
	return s.match(l)
}

// match says which items a line is about: what it says, as far as it says it.
func (s *State) match(l *events.Line) ledger.Match {
	return s.book.Like(ledger.Item{Kind: l.Kind, Cond: l.Cond, Lot: l.Lot, Origin: l.Origin})
}
