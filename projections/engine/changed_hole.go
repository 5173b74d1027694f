package engine

import (
	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// takesOther is what a hole takes since it was changed, where that is not what
// the plan has for it.
func (s *State) takesOther(ix plan.SeatIndex) (events.Kind, bool) {
	if len(s.holes) == 0 {
		return "", false
	}
	h, ok := s.holes[ix]
	st := &s.lay.plan.Seats[ix]
	if m := turnedMember(st); !ok || h.Takes == "" || m < 0 || m != len(st.Members)-1 || h.Takes == st.Members[m].Kind {
		return "", false
	}
	return h.Takes, true
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
	s.book.MoveKind(s.fact, s.book.Kind(s.odd[ix]), 1, s.group[sl.group], to)
	delete(s.odd, ix)
	s.seatOut(ix, mainMember(sl))
}

// Odd is the kind in a hole that is not the plan's, empty if it is.
func (s *State) Odd(ix plan.SeatIndex) events.Kind { return s.odd[ix] }

// mainMember is the bit of the outermost member: the bolt or the nut.
func mainMember(sl *seatLayout) uint8 { return sl.main }

// wantsOther says that a member of a hole is not what the hole takes since it
// was changed.
func (s *State) wantsOther(ix plan.SeatIndex, m int) bool {
	_, ok := s.takesOther(ix)
	return ok && m == len(s.lay.seats[ix].members)-1
}

// inChanged fills holes that were changed and take this kind now, and gives how
// many pieces are left.
func (s *State) inChanged(seats []plan.SeatIndex, k events.Kind, left int32, from ledger.AccountID, trial bool) int32 {
	if len(s.holes) == 0 {
		return left
	}
	for i, ix := range seats {
		if takes, ok := s.takesOther(ix); ok && left > 0 && takes == k && s.seats[ix].in&mainMember(&s.lay.seats[ix]) == 0 && !s.seats[ix].broken {
			s.inHole(seats[i:i+1], &events.Line{Kind: k, Qty: 1}, from, trial)
			left--
		}
	}
	return left
}
