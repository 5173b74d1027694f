package engine

import (
	"strings"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// counted sets a place by an observation. The place may be a joint, as
// joint/<id>: what was counted in its holes.
func (s *State) counted(e *events.Counted) {
	if s.meant.where == inJoint {
		s.countedJoint(events.Joint(strings.TrimPrefix(string(e.Place), "joint/")), e.Lines, e.All)
		return
	}
	a := s.placeOf(s.meant.to, e.Place, "")
	if s.overtaken(a) {
		s.testify(a, e.Lines, e.All)
		return
	}
	if len(s.uncounted) > 0 && s.meant.where == inBag {
		if b, ok := s.bags[events.Code(strings.TrimPrefix(string(e.Place), "bag/"))]; ok {
			s.lateCount(b, e.Lines, e.All)
		}
	}
	s.countPlace(a, e.Lines, s.linesMeant(), e.All)
}

// countPlace sets what a place holds. meant are the lines.
func (s *State) countPlace(a ledger.AccountID, lines []events.Line, meant []lineMeant, all bool) {
	if all && s.countsAsBook(a, meant) {
		return
	}
	var room [8]ledger.Number
	rows := room[:0]
	for i := range lines {
		rows = append(rows, ledger.Number{Match: s.matchOf(&lines[i], meant[i].kind), N: int32(lines[i].Qty)})
	}
	s.book.CountAll(s.fact, s.known(), a, rows, all)
}

// countsAsBook is a complete count that agrees with the book, as most do; false,
// and nothing is done, where it does not, or more is said than kinds and numbers.
func (s *State) countsAsBook(a ledger.AccountID, meant []lineMeant) bool {
	var room [8]ledger.Pieces
	rows := room[:0]
	for i := range meant {
		if !meant[i].plain || len(rows) == len(room) {
			return false
		}
		rows = append(rows, ledger.Pieces{Kind: s.kinds[meant[i].kind], N: meant[i].qty})
	}
	return s.book.CountedAsBook(s.fact, s.known(), a, rows)
}

// countedJoint compares what is in the holes of a joint with the book.
func (s *State) countedJoint(id events.Joint, lines []events.Line, all bool) {
	j, ok := s.lay.plan.Joint(id)
	if !ok {
		s.countPlace(s.book.Account(events.Place("fitted/engine/"+string(id))), lines, s.linesMeant(), all)
		return
	}
	seats := s.lay.plan.Joints[j].Seats
	for i := range lines {
		if kind, ok := s.kindIndex(lines[i].Kind); ok {
			s.countHoles(seats, kind, int32(lines[i].Qty))
		}
	}
	if all && len(lines) == 0 {
		s.leftBehind(seats)
	}
}

// countHoles sets how many holes of a joint hold a kind.
func (s *State) countHoles(seats []plan.SeatIndex, kind, n int32) {
	has := int32(0)
	s.need = s.need[:0]
	for _, ix := range seats {
		st, sl := &s.seats[ix], &s.lay.seats[ix]
		for i, m := range sl.members {
			if m.kind != kind || m.stays {
				continue
			}
			bit := uint8(1) << i
			switch {
			case s.planned(ix)&bit != 0 && has < n:
				has++
			case s.planned(ix)&bit != 0:
				s.wantKind(sl.group, kind)
				s.seatOut(ix, bit)
				st.unsure, st.byNumber = true, true
			}
		}
	}
	for _, w := range s.need {
		g, m := s.group[w.group], ledger.OfKind(s.kinds[kind])
		s.book.Count(s.fact, s.known(), g, m, max(0, s.book.Balance(g, m)-w.n))
	}
	for _, ix := range seats {
		st, sl := &s.seats[ix], &s.lay.seats[ix]
		for i, m := range sl.members {
			if m.kind == kind && !m.stays && st.in&(1<<i) == 0 && has < n && !st.broken {
				has++
				g, mt := s.group[sl.group], ledger.OfKind(s.kinds[kind])
				s.seatIn(ix, 1<<i, false)
				st.kept = true
				s.book.Count(s.fact, s.known(), g, mt, s.book.Balance(g, mt)+1)
			}
		}
	}
}

// transfer moves lines, or everything, from one place to another.
func (s *State) transfer(from, to events.Place, lines []events.Line) {
	a, b := s.place(from, ""), s.place(to, "")
	s.move(a, b, lines)
}

func (s *State) move(a, b ledger.AccountID, lines []events.Line) {
	if len(lines) == 0 {
		lines = s.contents(a)
	}
	for i := range lines {
		l := &lines[i]
		n := int32(l.Qty)
		if l.Cond == "" && l.Origin == "" && l.Lot == "" {
			s.spread(s.book.Kind(l.Kind), n, a, b)
			continue
		}
		s.book.Move(s.fact, s.match(l), n, a, b)
	}
}

// spread moves pieces of a kind whose condition was not said.
func (s *State) spread(k ledger.KindID, n int32, a, b ledger.AccountID) {
	s.book.MoveKind(s.fact, k, n, a, b)
}

func (s *State) piecesMoved(e *events.PiecesMoved) {
	a, b := s.place(e.From, ""), s.place(e.To, "")
	s.move(a, b, e.Lines)
	s.mixed(b, e.To)
	s.partsMoved(e.Lines, b)
}

// mixed notes old and new of one kind in one container (rule R11).
func (s *State) mixed(a ledger.AccountID, p events.Place) {
	if c := s.book.Class(a); c != ledger.Bag && c != ledger.Rack {
		return
	}
	var kind ledger.KindID
	for it, n := range s.book.At(a) {
		if n <= 0 || s.book.Cond(it) != events.New {
			continue
		}
		kind = s.book.KindOf(it)
		if s.book.Balance(a, ledger.OfKind(kind)) > s.book.Balance(a, s.newOf(kind)) {
			s.note(Mixed, string(p), string(s.book.KindName(kind)))
			return
		}
	}
}

// bagClosed closes a bag. The last open bag of a joint that is all out counts
// the joint's loose pieces on the benches to zero (rule R12).
func (s *State) bagClosed(e *events.BagClosed) {
	b := s.bagOf(s.meant.to, e.Bag)
	if len(e.Lines) > 0 {
		s.countPlace(b.account, e.Lines, s.linesMeant(), true)
	}
	s.closeBag(b)
}

// closeBag closes the bag of the fact in hand.
func (s *State) closeBag(b *Bag) {
	b.Closed = true
	if j, ok := s.jointOfBag(&s.spots[s.meant.to], b.Joint); ok && s.loose[j] != 0 && s.allOut(j) && !s.anyOpen(b.Joint) {
		s.sweepJoint(j)
	}
}

// jointOfBag is the joint of the plan that the bag at a spot is kept for.
func (s *State) jointOfBag(at *spot, name events.Joint) (plan.JointIndex, bool) {
	if at.jointBy != s.lay || at.jointName != name {
		at.jointBy, at.jointName, at.joint = s.lay, name, number(s.lay.jointOf.Get(name))
	}
	return plan.JointIndex(at.joint), at.joint != plan.None
}

// anyOpen says whether any bag of a joint is open.
func (s *State) anyOpen(j events.Joint) bool {
	for _, b := range s.bagList {
		if !b.Closed && b.Retired == 0 && b.Joint == j {
			return true
		}
	}
	return false
}

func (s *State) allOut(j plan.JointIndex) bool {
	for _, ix := range s.lay.plan.Joints[j].Seats {
		if s.seats[ix].in&^s.lay.seats[ix].stay != 0 {
			return false
		}
	}
	return true
}

// keepFor says what a bag without a joint or part is for: what first went into
// it.
func (s *State) keepFor(n spotNo, p events.Place, j events.Joint, part events.Part) {
	if b := s.bagOf(n, events.Code(strings.TrimPrefix(string(p), "bag/"))); b.Joint == "" && b.Part == "" {
		b.Joint, b.Part = j, part
	}
}

func (s *State) bagsMerged(e *events.BagsMerged) {
	from, into := s.bag(e.From), s.bag(e.Into)
	s.move(from.account, into.account, nil)
	s.book.CountAll(s.fact, s.known(), from.account, nil, true)
	if into.Joint == "" {
		into.Joint, into.Part = from.Joint, from.Part
	}
	from.Retired = s.fact
	s.mixed(into.account, into.Place())
}

func (s *State) bagSplit(e *events.BagSplit) {
	from, into := s.bag(e.From), s.bag(e.Into)
	if into.Joint == "" {
		into.Joint, into.Part = from.Joint, from.Part
	}
	s.move(from.account, into.account, e.Lines)
}

func (s *State) piecesKept(e *events.PiecesKept) {
	s.partsGone(e.From, e.Lines)
	from := s.place(e.From, "")
	for i := range e.Lines {
		l := &e.Lines[i]
		s.book.Turn(s.fact, s.match(l), events.Sample, int32(l.Qty), from)
		m := s.book.Like(ledger.Item{Kind: l.Kind, Cond: events.Sample})
		s.book.Move(s.fact, m, int32(l.Qty), from, s.kept)
	}
}

func (s *State) conditionChanged(e *events.ConditionChanged) {
	a := s.place(e.Place, "")
	for i := range e.Lines {
		l := &e.Lines[i]
		s.book.Turn(s.fact, s.match(l), e.Cond, int32(l.Qty), a)
	}
}

// cameIn is the condition of what came in from outside and says none itself.
func cameIn(asFound bool) events.Condition {
	if asFound {
		return events.AsFound
	}
	return events.New
}

// received takes in new hardware; pieces of a lot keep it.
func (s *State) received(from, to events.Place, lot events.Lot, lines []events.Line, cond events.Condition) {
	a, b := s.place(from, ""), s.place(to, "")
	for i := range lines {
		l := &lines[i]
		c := cond
		if l.Cond != "" {
			c = l.Cond
		}
		if l.Lot != "" {
			lot = l.Lot
		}
		it := s.book.Item(ledger.Item{Kind: l.Kind, Cond: c, Lot: lot})
		if s.book.Class(a) != ledger.Outside {
			s.book.MoveKind(s.fact, s.book.Kind(l.Kind), int32(l.Qty), a, b)
			continue
		}
		s.book.Move(s.fact, ledger.Exactly(it), int32(l.Qty), a, b)
	}
	s.mixed(b, to)
}
