package engine

import (
	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// Case is one broken fastener, from discovery to a sound thread.
type Case struct {
	Code     events.Code
	Joint    events.Joint
	Hole     events.Hole
	Kind     events.Kind // what broke
	Stub     events.Stub
	StubMm   float64
	When     string
	Since    ledger.Fact
	Tries    []Try
	HotWork  ledger.Fact // cautions were confirmed; 0: not
	Cautions []string    // the ids of those that were, by the last confirmation
	OtherEnd string      // in-hand, not-found, found; empty: not asked
	Closed   ledger.Fact // the piece is out
	Hole1    events.HoleState

	seat  plan.SeatIndex // -1: the plan does not have it
	stub  ledger.AccountID
	nut   ledger.KindID // nut that went with the other end, 0 none
	other ledger.AccountID
}

// Try is one attempt.
type Try struct {
	events.ExtractionTried
	Fact ledger.Fact
}

// Cases lists all cases in the order in which they were found.
func (s *State) Cases() []*Case { return s.cases }

// Case finds one by its label.
func (s *State) Case(c events.Code) (*Case, bool) {
	for _, k := range s.cases {
		if k.Code == c {
			return k, true
		}
	}
	return nil, false
}

// Open says that the hole is not sound yet.
func (c *Case) Open() bool { return c.Closed == 0 }

// Failed is how many different methods failed, and how long all tries took.
func (c *Case) Failed() (methods, minutes int) {
	seen := map[string]bool{}
	for _, t := range c.Tries {
		minutes += t.Minutes
		if !seen[t.Method] && !t.Moved {
			seen[t.Method] = true
			methods++
		}
	}
	return methods, minutes
}

// HardPiece says that a tool broke in the hole.
func (c *Case) HardPiece() bool {
	for _, t := range c.Tries {
		if t.ToolBroken {
			return true
		}
	}
	return false
}

// fastenerBroken moves the broken piece to the stub account of its host and
// opens the question of the other end.
func (s *State) fastenerBroken(e *events.FastenerBroken) {
	c := &Case{Code: e.Case, Joint: e.Joint, Hole: e.Hole, Stub: e.Stub, StubMm: e.StubMm, When: e.When, Since: s.fact, seat: -1}
	s.cases = append(s.cases, c)
	ix, ok := s.lay.plan.Hole(e.Joint, e.Hole)
	if !ok {
		c.stub = s.book.Account(events.Place("stub/engine/" + string(e.Joint)))
		s.note(NoSuch, "hole "+string(e.Joint)+":"+string(e.Hole), "")
		s.toldOtherEnd(c, e.OtherEnd)
		return
	}
	c.seat = ix
	st, sl := &s.seats[ix], &s.lay.seats[ix]
	host := "engine"
	if h := s.lay.groups[sl.group].host; h >= 0 {
		host = string(s.hostName(h))
	}
	c.stub = s.book.Account(events.Place("stub/" + host + "/" + string(e.Joint)))
	was := st.in
	s.breakMembers(c, st, sl)
	s.studOut(ix, was&^st.in)
	st.broken = true
	s.logTurn(ix, turnOut, 0, false)
	st.stages, st.parked, st.unsure = 0, false, false
	s.setSeat(ix, plan.SeatEmpty)
	s.toldOtherEnd(c, e.OtherEnd)
	s.emptied([]plan.SeatIndex{ix})
}

// breakMembers takes the broken member to the stub account: the stud where
// there is one, else the outermost member. A nut on a broken stud goes with
// the other end.
func (s *State) breakMembers(c *Case, st *seat, sl *seatLayout) {
	broken := -1
	for i, m := range sl.members {
		if st.in&(1<<i) != 0 && (broken < 0 || !sl.members[broken].stays || m.stays) {
			if broken < 0 || !sl.members[broken].stays {
				broken = i
			}
		}
	}
	if broken < 0 {
		s.breakUnknown(c, sl)
		return
	}
	k := s.kinds[sl.members[broken].kind]
	if st.oddKind && 1<<broken == mainMember(sl) {
		k = s.book.Kind(s.odd[c.seat])
		st.oddKind = false
		delete(s.odd, c.seat)
	}
	c.Kind = s.book.KindName(k)
	g := s.group[sl.group]
	s.book.MoveKind(s.fact, k, 1, g, c.stub)
	st.in &^= 1 << broken
	for i, m := range sl.members {
		if st.in&(1<<i) != 0 && i > broken {
			c.nut = s.kinds[m.kind]
			s.book.MoveKind(s.fact, c.nut, 1, g, c.stub)
			st.in &^= 1 << i
		}
	}
}

// breakUnknown is a stub in a hole that the book thought empty: an over.
func (s *State) breakUnknown(c *Case, sl *seatLayout) {
	if len(sl.members) == 0 {
		return
	}
	k := s.kinds[sl.members[len(sl.members)-1].kind]
	c.Kind = s.book.KindName(k)
	s.book.Count(s.fact, events.CountedOpen, c.stub, ledger.OfKind(k), s.book.Balance(c.stub, ledger.OfKind(k))+1)
}

// toldOtherEnd settles where the other end is. Not found: it is somewhere, and
// that is a short of its own, as is the nut on it (rule R15).
func (s *State) toldOtherEnd(c *Case, how string) {
	switch how {
	case "in-hand":
		switch c.OtherEnd {
		case "not-found":
			c.OtherEnd = "found"
			s.otherEndFound(c)
			return
		case "found":
			return
		}
		c.OtherEnd = how
		if c.nut != 0 {
			s.book.MoveKind(s.fact, c.nut, 1, c.stub, s.scrap)
			c.nut = 0
		}
	case "not-found":
		if c.OtherEnd == how {
			return
		}
		c.OtherEnd = how
		lost := s.book.Account(events.Place("place/other end " + string(c.Code)))
		k := s.book.Kind("other end of " + c.Kind)
		s.book.MoveKind(s.fact, k, 1, s.arrived, lost)
		s.book.Count(s.fact, events.CountedOpen, lost, ledger.OfKind(k), 0)
		if c.nut != 0 {
			s.book.MoveKind(s.fact, c.nut, 1, c.stub, lost)
			s.book.Count(s.fact, events.CountedOpen, lost, ledger.OfKind(c.nut), 0)
			c.nut = 0
		}
	}
}

// otherEndFound ends what was missing of a case: its other end is in hand, with
// the nut that was on it, and both are scrap.
func (s *State) otherEndFound(c *Case) {
	lost, ok := s.book.Lookup(events.Place("place/other end " + string(c.Code)))
	for k := 1; ok && k <= s.book.Entries(); k++ {
		if en := s.book.Entry(ledger.EntryNo(k)); en.Place == lost && en.Open > 0 {
			s.book.Close(s.fact, en.No, events.Found, en.Open, s.scrap)
		}
	}
}

func (s *State) otherEndTold(e *events.OtherEndTold) {
	c, ok := s.Case(e.Case)
	if !ok {
		s.note(NoSuch, "case "+string(e.Case), "")
		return
	}
	if e.InHand {
		s.toldOtherEnd(c, "in-hand")
		return
	}
	s.toldOtherEnd(c, "not-found")
}

func (s *State) hotWorkConfirmed(e *events.HotWorkConfirmed) {
	if c, ok := s.Case(e.Case); ok {
		c.HotWork, c.Cautions = s.fact, e.Cautions
		return
	}
	s.note(NoSuch, "case "+string(e.Case), "")
}

func (s *State) extractionTried(e *events.ExtractionTried) {
	c, ok := s.Case(e.Case)
	if !ok {
		s.note(NoSuch, "case "+string(e.Case), "")
		return
	}
	c.Tries = append(c.Tries, Try{*e, s.fact})
}

// studExtracted ends a case: the stub is scrap, the hole is what it is now.
func (s *State) studExtracted(e *events.StudExtracted) {
	c, ok := s.Case(e.Case)
	if !ok {
		s.note(NoSuch, "case "+string(e.Case), "")
		return
	}
	for _, l := range s.contents(c.stub) {
		if l.Kind == c.Kind && c.Closed == 0 {
			s.book.MoveKind(s.fact, s.book.Kind(l.Kind), 1, c.stub, s.scrap)
			break
		}
	}
	if c.nut != 0 && c.Closed == 0 {
		s.book.MoveKind(s.fact, c.nut, 1, c.stub, s.scrap)
		c.nut = 0
	}
	c.Closed, c.Hole1 = s.fact, e.Hole
	if c.seat >= 0 {
		s.seats[c.seat].broken = false
		s.setHole(c.seat, Hole{e.Hole, e.DepthMm, e.Takes, s.fact})
		if s.seats[c.seat].in != s.lay.seats[c.seat].full {
			s.setSeat(c.seat, plan.SeatEmpty)
		}
	}
}

func (s *State) holeChanged(j events.Joint, h events.Hole, hole Hole) {
	ix, ok := s.lay.plan.Hole(j, h)
	if !ok {
		s.note(NoSuch, "hole "+string(j)+":"+string(h), "")
		return
	}
	s.setHole(ix, hole)
}

func (s *State) setHole(ix plan.SeatIndex, h Hole) {
	if s.holes == nil {
		s.holes = make(map[plan.SeatIndex]Hole)
	}
	s.holes[ix] = h
	s.book.Kind(h.Takes) // the book knows what the hole wants from now on
}

// HoleOf is what a hole became; false if it is as the plan says.
func (s *State) HoleOf(ix plan.SeatIndex) (Hole, bool) { h, ok := s.holes[ix]; return h, ok }
