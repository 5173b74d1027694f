package engine

import (
	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

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
		s.logTurn(ix, turnOut, 0, false)
		s.logTurn(ix, turnIn, 0, false)
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
		if s.studBare(ix) {
			s.logStud(ix, turnLoose, 0, false) // nothing is on it: the stud itself was loosened
			continue
		}
		s.logTurn(ix, turnLoose, 0, false)
		s.seats[ix].stages = 0
		if s.now.Seat(ix) == plan.SeatFinished {
			s.setSeat(ix, plan.SeatFilled)
		}
	}
}
