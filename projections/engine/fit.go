package engine

import (
	"math/bits"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// piecesFitted puts fasteners into holes.
func (s *State) piecesFitted(e *events.PiecesFitted) {
	j, ok := s.joint()
	if !ok {
		s.strangeIn(e)
		return
	}
	seats := s.meant.holes.seats
	if !s.meant.whole {
		s.scope(j, e.Joint, e.Holes)
	}
	var from ledger.AccountID
	if e.From != "" {
		from = s.placeOf(s.meant.from, e.From, string(e.Joint))
	}
	switch {
	case len(e.Lines) == 0 && s.allIn(s.meant.holes, from, e.Trial):
		return
	case len(e.Lines) == 0:
		s.inWhole(seats, from, e.Trial)
	case len(e.Holes) == 1 && len(e.Lines) == 1:
		s.inHole(seats, &e.Lines[0], from, e.Trial)
	default:
		s.inByCount(seats, e.Lines, from, e.Trial)
	}
	s.filled(seats)
}

// inWhole fills holes with all that belongs in them.
func (s *State) inWhole(seats []plan.SeatIndex, from ledger.AccountID, trial bool) {
	s.need = s.need[:0]
	var changed []plan.SeatIndex
	for _, ix := range seats {
		st, sl := &s.seats[ix], &s.lay.seats[ix]
		in := sl.full &^ st.in
		if in == 0 || st.broken {
			continue // nothing goes into a hole with a stub in it
		}
		if _, ok := s.takesOther(ix); ok && in&mainMember(sl) != 0 {
			changed = append(changed, ix)
			if in &^= mainMember(sl); in == 0 {
				continue
			}
		}
		s.want(sl, in)
		s.seatIn(ix, in, trial)
	}
	// need is used again below, by the notes on single-use pieces
	for i := 0; i < len(s.need); i++ {
		n := s.need[i]
		bad := s.supply(s.kinds[n.kind], n.n, s.lay.singleIn(seats, n), from, s.group[n.group])
		s.markBad(seats, n, bad, trial)
	}
	for i, ix := range changed {
		k, _ := s.takesOther(ix)
		s.inHole(changed[i:i+1], &events.Line{Kind: k, Qty: 1}, from, trial)
	}
}

// seatIn puts members into the fold's side of a hole. Parking and tightening
// belong to one fitting and start anew.
func (s *State) seatIn(ix plan.SeatIndex, in uint8, trial bool) {
	st, sl := &s.seats[ix], &s.lay.seats[ix]
	if st.stages != 0 {
		s.logTurn(ix, turnOut, 0, false) // it was tightened as far as it went in: what it is now is another fitting
	}
	if in&mainMember(sl) != 0 {
		s.logTurn(ix, turnIn, 0, false)
	}
	s.studIn(ix, in)
	st.in |= in
	st.fitting++
	st.stages, st.parked, st.unsure = 0, false, false
	st.byNumber, st.kept = false, false
	st.trial = trial
	st.byClaim = s.meant.known == events.Claimed
	st.changed = s.fact
	if st.in == sl.full {
		s.setSeat(ix, s.filledState(ix))
	}
}

// filledState is Filled, or Finished where the plan has no tightening list.
func (s *State) filledState(ix plan.SeatIndex) plan.SeatState {
	if s.owesStages(ix) {
		return plan.SeatFilled
	}
	return plan.SeatFinished
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
		left = s.inChanged(seats, l.Kind, left, from, trial)
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
			if sl.members[i].kind != kind || s.wantsOther(ix, i) {
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
		s.book.MoveKind(s.fact, s.book.Kind(e.Lines[i].Kind), int32(e.Lines[i].Qty), from, to)
	}
	if len(e.Lines) > 0 {
		return
	}
	for _, l := range s.contents(from) {
		s.book.MoveKind(s.fact, s.book.Kind(l.Kind), int32(l.Qty), from, to)
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
