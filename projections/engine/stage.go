package engine

import (
	"strings"

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
	j, ok := s.joint()
	if !ok {
		s.note(NoSuch, "joint "+string(e.Joint), "")
		return
	}
	seats := s.meant.seats
	if !s.meant.whole {
		s.scope(j, e.Joint, e.Holes)
	}
	yield := strings.HasPrefix(e.What, "angle") || strings.HasPrefix(e.What, "stretch")
	s.need = s.need[:0]
	for _, ix := range seats {
		st, sl := &s.seats[ix], &s.lay.seats[ix]
		if st.in&mainMember(sl) == 0 {
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
