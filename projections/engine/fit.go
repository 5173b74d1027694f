package engine

import (
	"math/bits"
	"strings"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// piecesFitted puts fasteners into holes.
func (s *State) piecesFitted(e *events.PiecesFitted) {
	j, ok := s.lay.plan.Joint(e.Joint)
	if !ok {
		s.strangeIn(e)
		return
	}
	seats := s.scope(j, e.Joint, e.Holes)
	var from ledger.AccountID
	if e.From != "" {
		from = s.place(e.From, string(e.Joint))
	}
	switch {
	case len(e.Lines) == 0:
		s.inWhole(seats, from, e.Trial)
	case len(e.Holes) == 1 && len(e.Lines) == 1:
		s.inHole(seats, &e.Lines[0], from, e.Trial)
	default:
		s.inByCount(seats, e.Lines, from, e.Trial)
	}
	s.filled(seats)
}

// inWhole fills holes with all that the plan wants in them.
func (s *State) inWhole(seats []plan.SeatIndex, from ledger.AccountID, trial bool) {
	s.need = s.need[:0]
	for _, ix := range seats {
		st, sl := &s.seats[ix], &s.lay.seats[ix]
		in := sl.full &^ st.in
		if in == 0 || st.broken {
			continue // nothing goes into a hole with a stub in it
		}
		s.want(sl, in)
		s.seatIn(ix, in, trial)
	}
	// need is used again below, by the notes on single-use pieces
	for i := 0; i < len(s.need); i++ {
		n := s.need[i]
		bad := s.supply(s.kinds[n.kind], n.n, s.single(seats, n), from, s.group[n.group])
		s.markBad(seats, n, bad, trial)
	}
}

// seatIn puts members into the fold's side of a hole. Parking and tightening
// belong to one fitting and start anew.
func (s *State) seatIn(ix plan.SeatIndex, in uint8, trial bool) {
	st, sl := &s.seats[ix], &s.lay.seats[ix]
	st.in |= in
	st.fitting++
	st.stages, st.parked, st.unsure = 0, false, false
	st.trial = trial
	st.byClaim = s.rec.Known == events.Claimed
	st.bench = s.rec.Terminal
	st.changed = s.fact
	if st.in == sl.full {
		s.setSeat(ix, s.filledState(ix))
	}
}

// filledState is Filled, or Finished where the plan has no tightening list.
func (s *State) filledState(ix plan.SeatIndex) plan.SeatState {
	if s.lay.seats[ix].stages == 0 {
		return plan.SeatFinished
	}
	return plan.SeatFilled
}

func (s *State) single(seats []plan.SeatIndex, n need) bool {
	for _, ix := range seats {
		sl := &s.lay.seats[ix]
		if sl.group != n.group {
			continue
		}
		for _, m := range sl.members {
			if m.kind == n.kind {
				return m.single
			}
		}
	}
	return false
}

// wish says how gladly a piece in a condition is taken, the least first.
func wish(c events.Condition, single bool) int {
	if single && c == events.New {
		return -1
	}
	switch c {
	case events.AsFound:
		return 2
	case events.MeasuredGood:
		if single {
			return 1
		}
		return 3
	case events.Used:
		return 4
	case events.New:
		return 5
	case events.Condemned:
		return 6
	}
	return 7
}

// bad counts pieces that should not have gone in.
type bad struct{ reused, condemned int32 }

// supply moves pieces of a kind into a group, the fitting ones first, and says
// how many of them should not have gone in. from 0: wherever this job has
// them, its bench first.
func (s *State) supply(k ledger.KindID, n int32, single bool, from, to ledger.AccountID) (b bad) {
	if from == 0 {
		from = s.source(k, n, single, to)
	}
	var room [8]piece
	for _, p := range s.piecesOf(room[:0], k, from, single) {
		have := min(p.n, n)
		if have == 0 || from == to {
			break
		}
		s.book.Move(s.fact, ledger.Exactly(p.item), have, from, to)
		n -= have
		switch c := s.book.Cond(p.item); {
		case c == events.Condemned || c == events.Sample:
			b.condemned += have
		case single && c != events.New:
			b.reused += have
		}
	}
	if n > 0 {
		s.book.Move(s.fact, ledger.OfKind(k), n, from, to)
		if single {
			b.reused += n // not known to be new
		}
	}
	return b
}

// piece is what an account holds of one item.
type piece struct {
	item ledger.ItemID
	n    int32
}

// piecesOf lists what an account holds of a kind, in the order in which a hand
// would take it, then by item.
func (s *State) piecesOf(list []piece, k ledger.KindID, from ledger.AccountID, single bool) []piece {
	for it, n := range s.book.At(from) {
		if n <= 0 || s.book.KindOf(it) != k {
			continue
		}
		w := wish(s.book.Cond(it), single)
		i := len(list)
		list = append(list, piece{it, n})
		for ; i > 0 && wish(s.book.Cond(list[i-1].item), single) > w; i-- {
			list[i], list[i-1] = list[i-1], list[i]
		}
	}
	return list
}

// source finds the account that most likely gave pieces of a kind: the one that
// can give the most of them, what is kept for the same joint or part before
// others, then by account order; new ones for a single-use piece.
func (s *State) source(k ledger.KindID, n int32, single bool, to ledger.AccountID) ledger.AccountID {
	best, bestHas, bestOwn := ledger.AccountID(0), int32(0), false
	m := ledger.OfKind(k)
	if single {
		m = s.newOf(k)
	}
	for _, a := range s.book.Holders(k) {
		if a == to || !usable(s.book.Class(a)) {
			continue
		}
		has := s.book.Balance(a, m)
		has = min(has, n)
		if has < bestHas || (has == bestHas && bestOwn) {
			continue
		}
		own := s.keptWith(a, to)
		if has > bestHas || own {
			best, bestHas, bestOwn = a, has, own
		}
	}
	if best != 0 {
		return best
	}
	if single {
		return s.source(k, n, false, to)
	}
	return s.bench(s.rec.Terminal, "")
}

// keptWith says whether an account is kept for the joint or part whose pieces
// are fitted in another.
func (s *State) keptWith(a, fitted ledger.AccountID) bool {
	_, which, name := cutPlace(s.book.Path(fitted))
	word, code, about := cutPlace(s.book.Path(a))
	switch word {
	case "bag":
		b, ok := s.bags[events.Code(code)]
		return ok && name != "" && (string(b.Joint) == name || string(b.Part) == name)
	case "bench":
		return which != "" && name != "" && (about == name || about == noun("part", name))
	case "rack":
		r, ok := s.racks[events.Place("rack/"+code)]
		return ok && name != "" && (string(r.Joint) == name || string(r.Part) == name)
	}
	return false
}

func usable(c ledger.Class) bool {
	switch c {
	case ledger.Bench, ledger.Bag, ledger.Rack, ledger.Placed, ledger.Stock:
		return true
	}
	return false
}

// markBad flags the holes that got pieces which should not have gone in. Which
// of several like holes got them is not known: the last ones are shown.
func (s *State) markBad(seats []plan.SeatIndex, n need, b bad, trial bool) {
	for i := len(seats) - 1; i >= 0 && (b.reused > 0 || b.condemned > 0); i-- {
		sl, st := &s.lay.seats[seats[i]], &s.seats[seats[i]]
		if sl.group != n.group || !sl.has(n.kind) {
			continue
		}
		if b.condemned > 0 {
			st.badPiece = true
			b.condemned--
		} else if b.reused > 0 {
			st.reused = !trial
			b.reused--
		}
	}
}

func (sl *seatLayout) has(kind int32) bool {
	for _, m := range sl.members {
		if m.kind == kind {
			return true
		}
	}
	return false
}

// inHole puts one named kind into one hole, also one that the plan does not
// want there: then the hole says so.
func (s *State) inHole(seats []plan.SeatIndex, l *events.Line, from ledger.AccountID, trial bool) {
	if len(seats) == 0 {
		return
	}
	ix := seats[0]
	sl := &s.lay.seats[ix]
	if s.seats[ix].broken {
		s.surplus(seats, l.Kind, int32(max(1, l.Qty)), from)
		return
	}
	kind, ok := s.kindIndex(l.Kind)
	if ok && sl.has(kind) {
		for i, m := range sl.members {
			if m.kind == kind && s.seats[ix].in&(1<<i) == 0 {
				s.seatIn(ix, 1<<i, trial)
				s.markBad(seats, need{sl.group, kind, 1}, s.supply(s.kinds[kind], 1, m.single, from, s.group[sl.group]), trial)
				return
			}
		}
	}
	main := mainMember(sl)
	if main == 0 || s.seats[ix].in&main != 0 {
		s.surplus(seats, l.Kind, int32(max(1, l.Qty)), from)
		return
	}
	s.seatIn(ix, main, trial)
	s.seats[ix].oddKind = true
	if s.odd == nil {
		s.odd = make(map[plan.SeatIndex]events.Kind)
	}
	s.odd[ix] = l.Kind
	s.supply(s.book.Kind(l.Kind), 1, false, from, s.group[sl.group])
}

// surplus takes in pieces that went in where the plan has no hole for them.
func (s *State) surplus(seats []plan.SeatIndex, k events.Kind, n int32, from ledger.AccountID) {
	joint := s.lay.groupsName(seats)
	s.note(FoundOdd, "joint "+joint, itoa(int(n))+" "+string(k)+" more went in than it has holes")
	s.supply(s.book.Kind(k), n, false, from, s.book.Account(events.Place("fitted/elsewhere/"+joint)))
}

// oddOut takes out a piece that is not of the plan's kind.
func (s *State) oddOut(ix plan.SeatIndex, to ledger.AccountID) {
	sl := &s.lay.seats[ix]
	s.book.Move(s.fact, ledger.OfKind(s.book.Kind(s.odd[ix])), 1, s.group[sl.group], to)
	delete(s.odd, ix)
	s.seatOut(ix, mainMember(sl))
}

// Odd is the kind in a hole that is not the plan's, empty if it is.
func (s *State) Odd(ix plan.SeatIndex) events.Kind { return s.odd[ix] }

// mainMember is the bit of the outermost member: the bolt or the nut.
func mainMember(sl *seatLayout) uint8 {
	if len(sl.members) == 0 {
		return 0
	}
	return 1 << (len(sl.members) - 1)
}

// inByCount fills holes with what was counted by size.
func (s *State) inByCount(seats []plan.SeatIndex, lines []events.Line, from ledger.AccountID, trial bool) {
	for i := range lines {
		l := &lines[i]
		kind, ok := s.kindIndex(l.Kind)
		left := int32(l.Qty)
		if ok {
			left = s.inOfKind(seats, kind, left, from, trial)
		}
		if left > 0 && len(seats) > 0 {
			s.surplus(seats, l.Kind, left, from)
		}
	}
}

func (s *State) inOfKind(seats []plan.SeatIndex, kind, left int32, from ledger.AccountID, trial bool) int32 {
	s.need = s.need[:0]
	single := false
	for _, ix := range seats {
		st, sl := &s.seats[ix], &s.lay.seats[ix]
		if st.broken {
			continue
		}
		for m := sl.full &^ st.in; m != 0 && left > 0; m &= m - 1 {
			i := bits.TrailingZeros8(m)
			if sl.members[i].kind != kind {
				continue
			}
			single = sl.members[i].single
			s.wantKind(sl.group, kind)
			s.seatIn(ix, 1<<i, trial)
			left--
		}
	}
	for i := 0; i < len(s.need); i++ {
		n := s.need[i]
		s.markBad(seats, n, s.supply(s.kinds[n.kind], n.n, single, from, s.group[n.group]), trial)
	}
	return left
}

func (s *State) strangeIn(e *events.PiecesFitted) {
	to := s.book.Account(events.Place("fitted/engine/" + string(e.Joint)))
	from := s.place(e.From, string(e.Joint))
	for i := range e.Lines {
		s.book.Move(s.fact, ledger.OfKind(s.book.Kind(e.Lines[i].Kind)), int32(e.Lines[i].Qty), from, to)
	}
	if len(e.Lines) > 0 {
		return
	}
	for _, l := range s.contents(from) {
		s.book.Move(s.fact, ledger.OfKind(s.book.Kind(l.Kind)), int32(l.Qty), from, to)
	}
}

// filled puts on what the filled holes clamp: a bolt cannot be in without the
// part under its head (rule R9). When all of an on step's holes are filled,
// what else it fits is on too, if its pieces are known.
func (s *State) filled(seats []plan.SeatIndex) {
	last := plan.StepIndex(-1)
	for _, ix := range seats {
		if s.now.Seat(ix) < plan.SeatParked {
			continue
		}
		for _, p := range s.lay.plan.Seats[ix].Clamps {
			if st := s.now.Part(p); st == plan.PartOff || st == plan.PartPartly {
				s.presumeOn(p)
			}
		}
		for _, st := range s.lay.seats[ix].in {
			if st != last {
				last = st
				s.onByFasteners(st)
			}
		}
	}
}

func (s *State) onByFasteners(ix plan.StepIndex) {
	st := &s.lay.plan.Steps[ix]
	if len(st.Fits) == 0 {
		return
	}
	for _, seat := range st.Fastens {
		if n := s.now.Seat(seat); n < plan.SeatFilled {
			return
		}
	}
	for _, p := range st.Fits {
		if s.now.Part(p) == plan.PartOff && s.suits(p) {
			s.presumeOn(p)
		}
	}
}

// piecesParked puts fasteners back finger-tight, to be kept there.
func (s *State) piecesParked(e *events.PiecesParked) {
	j, ok := s.lay.plan.Joint(e.Joint)
	if !ok {
		s.note(NoSuch, "joint "+string(e.Joint), "")
		return
	}
	seats := s.scope(j, e.Joint, e.Holes)
	var from ledger.AccountID
	if e.From != "" {
		from = s.place(e.From, string(e.Joint))
	}
	s.inWhole(seats, from, false)
	for _, ix := range seats {
		st := &s.seats[ix]
		if st.in == 0 || s.lay.seats[ix].full == 0 {
			continue
		}
		st.parked, st.stages = true, 0
		s.setSeat(ix, plan.SeatParked)
	}
	s.emptied(seats)
}

// piecesLoosened makes tightened fasteners loose in their holes.
func (s *State) piecesLoosened(e *events.PiecesLoosened) {
	j, ok := s.lay.plan.Joint(e.Joint)
	if !ok {
		s.note(NoSuch, "joint "+string(e.Joint), "")
		return
	}
	for _, ix := range s.scope(j, e.Joint, e.Holes) {
		st := &s.seats[ix]
		st.stages = 0
		if s.now.Seat(ix) == plan.SeatFinished {
			s.setSeat(ix, plan.SeatFilled)
		}
	}
}

// stageRecorded records one stage on holes. A yield stage, and any stage on a
// single-use piece, makes new pieces used ones (rule R10).
func (s *State) stageRecorded(e *events.StageRecorded) {
	j, ok := s.lay.plan.Joint(e.Joint)
	if !ok {
		s.note(NoSuch, "joint "+string(e.Joint), "")
		return
	}
	seats := s.scope(j, e.Joint, e.Holes)
	yield := strings.HasPrefix(e.What, "angle") || strings.HasPrefix(e.What, "stretch")
	s.need = s.need[:0]
	for _, ix := range seats {
		st, sl := &s.seats[ix], &s.lay.seats[ix]
		if len(sl.members) == 0 || st.in&mainMember(sl) == 0 {
			continue
		}
		st.parked = false
		st.stages = uint8(min(e.Stage, 250))
		state := plan.SeatFilled
		if e.Stage >= e.Stages {
			state = plan.SeatFinished
		}
		if st.in == sl.full {
			s.setSeat(ix, state)
		}
		if m := sl.members[len(sl.members)-1]; yield || m.single {
			s.wantKind(sl.group, m.kind)
		}
	}
	for _, n := range s.need {
		m := s.newOf(s.kinds[n.kind])
		if have := min(n.n, s.book.Balance(s.group[n.group], m)); have > 0 {
			s.book.Turn(s.fact, m, events.Used, have, s.group[n.group])
		}
	}
}
