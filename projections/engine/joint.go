package engine

import (
	"math/bits"
	"slices"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// known is how a count is known. A plain statement about a number is a count.
func (s *State) known() events.Known {
	if s.meant.known == events.Told {
		return events.CountedOpen
	}
	return s.meant.known
}

// scope lists the holes that a fact is about: those named, or all of the joint.
// A hole that the plan does not know leaves a note.
func (s *State) scope(j plan.JointIndex, joint events.Joint, holes []events.Hole) []plan.SeatIndex {
	if len(holes) == 0 {
		return s.lay.plan.Joints[j].Seats
	}
	seats := make([]plan.SeatIndex, 0, len(holes))
	for _, h := range holes {
		if ix, ok := s.lay.hole(j, h); ok {
			seats = append(seats, ix)
		} else {
			s.note(NoSuch, "hole "+string(joint)+":"+string(h), "")
		}
	}
	return seats
}

// piecesOut takes fasteners out of their holes.
func (s *State) piecesOut(e *events.PiecesOut) {
	j, ok := s.joint()
	if !ok {
		s.strangeOut(e)
		return
	}
	seats := s.meant.holes.seats
	if !s.meant.whole {
		s.scope(j, e.Joint, e.Holes)
		s.scope(j, e.Joint, e.Left)
	}
	if len(e.Holes) > 0 {
		s.namedWin(j, seats)
	}
	to := s.placeOf(s.meant.to, e.To, string(e.Joint))
	if s.meant.where == inBag {
		s.keepFor(s.meant.to, e.To, e.Joint, "")
	}
	switch {
	case !s.anyIn(seats) && len(e.Holes) > 0 && len(e.Lines) == 0:
		s.looseToo(seats, string(e.Joint), to)
	case !s.anyIn(seats) && !(len(e.Holes) > 0 && s.stayIn(seats, s.linesMeant())):
		s.offBench(string(e.Joint), e.Lines, e.All, to)
	case s.meant.where == inRack && s.racksHoles(e, seats):
		s.outToRack(seats, e.To, e.Joint)
	case len(e.Lines) > 0:
		s.outByCount(seats, to, e.All)
	default:
		s.outWhole(seats, to)
	}
	s.afterOut(j, e.All)
}

// afterOut looks at what follows when pieces came out of holes.
func (s *State) afterOut(j plan.JointIndex, all bool) {
	if len(s.uncounted) > 0 && (all || s.meant.byName) {
		s.clearUncounted(s.lay.plan.Joints[j].ID, "")
	}
	s.opensSeals(j)
	steps := s.lay.joints[j].out
	if s.meant.part {
		steps = s.meant.holes.steps
	}
	for _, st := range steps {
		s.offByFasteners(st, true)
	}
}

// outWhole empties holes of all that does not stay in them, by a word or hole
// by hole.
func (s *State) outWhole(seats []plan.SeatIndex, to ledger.AccountID) {
	s.need = s.need[:0]
	for _, ix := range seats {
		st, sl := &s.seats[ix], &s.lay.seats[ix]
		out := st.in &^ sl.stay
		if out == 0 || st.broken {
			continue
		}
		if st.oddKind {
			s.oddOut(ix, to)
			if out = st.in &^ sl.stay; out == 0 {
				continue
			}
		}
		s.want(sl, out)
		s.seatOut(ix, out)
	}
	for _, n := range s.need {
		s.book.MoveKind(s.fact, s.kinds[n.kind], n.n, s.group[n.group], to)
	}
}

// want adds the members of a mask to what the fact moves.
func (s *State) want(sl *seatLayout, mask uint8) {
	for m := mask; m != 0; m &= m - 1 {
		k := sl.members[bits.TrailingZeros8(m)].kind
		s.wantKind(sl.group, k)
	}
}

func (s *State) wantKind(group, kind int32) {
	for i := len(s.need) - 1; i >= 0; i-- {
		if s.need[i].group == group && s.need[i].kind == kind {
			s.need[i].n++
			return
		}
	}
	s.need = append(s.need, need{group, kind, 1})
}

// seatOut takes members out of the fold's side of a hole.
func (s *State) seatOut(ix plan.SeatIndex, out uint8) {
	st, sl := &s.seats[ix], &s.lay.seats[ix]
	if st.stages != 0 || out&mainMember(sl) != 0 {
		s.logTurn(ix, turnOut, 0, false)
	}
	s.studOut(ix, out&st.in)
	st.in &^= out
	st.stages, st.parked, st.trial, st.reused, st.oddKind, st.badPiece = 0, false, false, false, false, false
	st.byClaim = s.meant.known == events.Claimed || s.meant.known == events.Presumed
	st.unsure, st.byNumber, st.kept = false, false, false
	st.changed = s.fact
	if letsGo(st.in, sl.stay, sl.main) {
		s.setSeat(ix, plan.SeatEmpty)
	}
}

// letsGo reports whether what is in a hole holds nothing in it: its outermost
// piece is out, or the stud under that.
func letsGo(in, stay, main uint8) bool {
	return in&^stay == 0 || in&main == 0 || stay&^in != 0
}

// outByCount takes out what was counted by size. With complete, sizes that
// are still in by the book and were not counted are short: rule R6. What is
// above the book came with the engine, if nobody had counted there before,
// and is an over otherwise: rule R7.
func (s *State) outByCount(seats []plan.SeatIndex, to ledger.AccountID, complete bool) {
	fresh := s.holdsNothing(to)
	whole := 0
	lines := s.linesMeant()
	for i := range lines {
		if s.allOfKind(s.meant.holes, &lines[i], i, to) {
			whole++
			continue
		}
		l := &s.linesOut()[i]
		if left := s.outOfKind(seats, l, lines[i].kind, to); left > 0 {
			s.moreThanBook(seats, l, int32(left), to)
		}
	}
	if complete && whole < len(s.meant.holes.outs) {
		s.leftBehind(seats)
	}
	if fresh {
		s.book.Saw(s.fact, s.known(), to) // what was counted out is all that is in it
	}
}

func (s *State) holdsNothing(a ledger.AccountID) bool {
	for _, n := range s.book.At(a) {
		if n != 0 {
			return false
		}
	}
	return true
}

// outOfKind empties holes that hold a kind, as many as were counted, and
// gives how many were counted beyond those.
func (s *State) outOfKind(seats []plan.SeatIndex, l *events.Line, kind int32, to ledger.AccountID) int {
	left := s.oddOfKind(seats, l, to)
	if kind < 0 {
		return left
	}
	s.need = s.need[:0]
	lays := s.lay.seats
	for _, ix := range seats {
		if left == 0 {
			break
		}
		st, sl := &s.seats[ix], &lays[ix]
		out := s.planned(ix) &^ sl.stay
		if out == 0 || st.broken {
			continue
		}
		for i := range sl.members {
			if bit := uint8(1) << i; out&bit != 0 && sl.members[i].kind == kind && left > 0 {
				s.wantKind(sl.group, kind)
				s.seatOut(ix, bit)
				st.byNumber = true
				left--
			}
		}
	}
	if left > 0 {
		left = s.outThatStays(seats, kind, left)
	}
	for _, n := range s.need {
		s.moveKind(l, s.kinds[kind], n.n, s.group[n.group], to)
	}
	return left
}

// stayIn reports whether what was counted is in holes, though it stays in them when
// the joint is opened.
func (s *State) stayIn(seats []plan.SeatIndex, lines []lineMeant) bool {
	for _, ix := range seats {
		sl := &s.lay.seats[ix]
		for i := range sl.members {
			if s.seats[ix].in&sl.stay&(1<<i) != 0 && slices.ContainsFunc(lines, func(l lineMeant) bool { return l.kind == sl.members[i].kind }) {
				return true
			}
		}
	}
	return false
}

// outThatStays empties what stays in its hole when the joint is opened and came out
// all the same, as counted: a stud that came with its nut.
func (s *State) outThatStays(seats []plan.SeatIndex, kind int32, left int) int {
	for _, ix := range seats {
		st, sl := &s.seats[ix], &s.lay.seats[ix]
		for i := range sl.members {
			if bit := uint8(1) << i; left > 0 && st.in&sl.stay&bit != 0 && sl.members[i].kind == kind && !st.broken {
				s.wantKind(sl.group, kind)
				s.seatOut(ix, bit)
				st.byNumber = true
				left--
			}
		}
	}
	return left
}

// planned is the mask of the members in a hole that are of the plan's kind.
func (s *State) planned(ix plan.SeatIndex) uint8 {
	if s.seats[ix].oddKind {
		return s.seats[ix].in &^ mainMember(&s.lay.seats[ix])
	}
	return s.seats[ix].in
}

// oddOfKind takes out counted pieces that were in holes against the plan.
func (s *State) oddOfKind(seats []plan.SeatIndex, l *events.Line, to ledger.AccountID) int {
	left := l.Qty
	if len(s.odd) == 0 {
		return left
	}
	for _, ix := range seats {
		if left > 0 && s.seats[ix].oddKind && s.odd[ix] == l.Kind {
			s.oddOut(ix, to)
			left--
		}
	}
	return left
}

// moveKind moves pieces out of holes. A condition that was said with them is
// what they are found to be now, not which ones came out.
func (s *State) moveKind(l *events.Line, k ledger.KindID, n int32, from, to ledger.AccountID) {
	m := ledger.OfKind(k)
	s.book.Move(s.fact, m, n, from, to)
	if l.Cond != "" {
		s.book.Turn(s.fact, m, l.Cond, n, to)
	}
}

// moreThanBook takes in what was counted above the book: it came with the
// engine if nobody had counted there before, else where it went holds an over.
func (s *State) moreThanBook(seats []plan.SeatIndex, l *events.Line, n int32, to ledger.AccountID) {
	m := ledger.OfKind(s.book.Kind(l.Kind))
	g := s.arrived
	if len(seats) > 0 {
		g = s.group[s.lay.seats[seats[0]].group]
	}
	if s.book.LastCountOf(g, s.book.Plain(m)).Fact == 0 {
		s.note(FoundOdd, "joint "+s.lay.groupsName(seats), itoa(int(n))+" "+string(l.Kind)+" more than the plan")
		s.book.Move(s.fact, m, n, s.arrived, to)
		return
	}
	s.book.Count(s.fact, s.known(), to, m, s.book.Balance(to, m)+n)
}

// leftBehind opens shorts for what the book still has in holes that were
// counted empty. Which of several like holes it is cannot be known: the holes
// count as empty and unsure until somebody says STILL IN.
func (s *State) leftBehind(seats []plan.SeatIndex) {
	s.need = s.need[:0]
	for _, ix := range seats {
		st, sl := &s.seats[ix], &s.lay.seats[ix]
		out := s.planned(ix) &^ sl.stay
		if out == 0 || st.broken {
			continue
		}
		s.want(sl, out)
		odd := st.oddKind
		s.seatOut(ix, out)
		st.unsure, st.oddKind, st.byNumber = true, odd, true
	}
	for _, n := range s.need {
		g := s.group[n.group]
		m := ledger.OfKind(s.kinds[n.kind])
		s.book.Count(s.fact, s.known(), g, m, max(0, s.book.Balance(g, m)-n.n))
	}
}

// strangeOut takes pieces out of a joint that the plan does not have: what it
// held is defined by what came out of it.
func (s *State) strangeOut(e *events.PiecesOut) {
	to := s.place(e.To, string(e.Joint))
	learned := s.learned.out(e, s.fact)
	from := s.book.Account(events.Place("fitted/engine/" + string(e.Joint)))
	for i := range e.Lines {
		l := &e.Lines[i]
		m := ledger.OfKind(s.book.Kind(l.Kind))
		have := min(s.book.Balance(from, m), int32(l.Qty))
		s.book.Move(s.fact, m, have, from, to)
		s.book.Move(s.fact, m, int32(l.Qty)-have, s.arrived, to)
		if more := l.Qty - int(have); more > 0 {
			learned.add(events.Line{Kind: l.Kind, Qty: more})
		}
	}
	if len(e.Lines) == 0 {
		s.note(NoSuch, "joint "+string(e.Joint), "no size was counted")
	}
}

// opensSeals uses up the new-only seals of a joint that was opened.
func (s *State) opensSeals(j plan.JointIndex) {
	for _, p := range s.lay.joints[j].seals {
		pl := &s.lay.parts[p]
		if pl.single {
			s.useUp(s.group[pl.group], s.kinds[pl.kind])
		}
	}
}

// newOf matches the new pieces of a kind.
func (s *State) newOf(k ledger.KindID) ledger.Match {
	return s.book.InCond(k, events.New)
}

// useUp makes new pieces used ones: tightened once, or opened once.
func (s *State) useUp(a ledger.AccountID, k ledger.KindID) {
	m := s.newOf(k)
	if n := s.book.Balance(a, m); n > 0 {
		s.book.Turn(s.fact, m, events.Used, n, a)
	}
}

// emptied looks whether an off step has lost its last fastener: then the parts
// that it takes off are off, presumed (rule R8). A fastener that broke or never
// was there says nothing of what lies over those.
func (s *State) emptied(seats []plan.SeatIndex) {
	for _, st := range s.lay.outOf(seats) {
		s.offByFasteners(st, false)
	}
}

// offByFasteners takes off what a step removes when the last of its fasteners is
// out. Where a hand took them out, what lay before is off as well (rule R5).
func (s *State) offByFasteners(ix plan.StepIndex, byHand bool) {
	st := &s.lay.plan.Steps[ix]
	if len(st.TakesOut) == 0 || len(st.Removes) == 0 {
		return
	}
	for _, seat := range st.TakesOut {
		if s.now.Seat(seat) > plan.SeatLoan && s.now.Seat(seat) != plan.SeatAbsent {
			return
		}
	}
	s.liftOff(st.Removes)
	for _, p := range st.Removes {
		if s.now.Part(p) != plan.PartOn || s.heldBySeats(p) != 0 {
			continue
		}
		if byHand {
			s.presumeBeforeStep(ix, p)
		}
		if s.now.Part(p) == plan.PartOn {
			s.presumeOff(p)
		}
	}
}

// liftOff takes off those of some parts over which nothing lies any more, one
// after the other: the caps, then the cam under them.
func (s *State) liftOff(parts []plan.PartIndex) {
	for again := true; again; {
		again = false
		for _, p := range parts {
			if s.now.Part(p) == plan.PartOn && s.now.Lifts(p) && s.heldBySeats(p) == 0 {
				s.presumeOff(p)
				again = true
			}
		}
	}
}

// heldBySeats is how many holes still clamp a part.
func (s *State) heldBySeats(p plan.PartIndex) int {
	n := 0
	for _, ix := range s.lay.parts[p].clamps {
		if st := s.now.Seat(ix); st > plan.SeatLoan && st != plan.SeatAbsent {
			n++
		}
	}
	return n
}

func contains[T comparable](list []T, x T) bool {
	for _, y := range list {
		if x == y {
			return true
		}
	}
	return false
}
