package engine

import (
	"strings"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// namedWin corrects the fold's guess at which of several like holes a count
// had emptied. Rule R68: a hole that is named as coming out was still filled;
// another one of its kind, which nobody named, was empty instead. The ledger
// knows numbers only: it moves a piece where the two are in different hosts.
func (s *State) namedWin(j plan.JointIndex, named []plan.SeatIndex) {
	for _, ix := range named {
		st, sl := &s.seats[ix], &s.lay.seats[ix]
		if !st.byNumber || st.broken || st.in&^sl.stay != 0 {
			continue
		}
		for _, other := range s.lay.plan.Joints[j].Seats {
			if contains(named, other) || !s.interchanged(ix, other) {
				continue
			}
			out, stages, now := s.seats[other].in&^sl.stay, s.seats[other].stages, s.now.Seat(other)
			s.seatOut(other, out)
			s.seats[other].byNumber = true
			if from, to := s.group[s.lay.seats[other].group], s.group[sl.group]; from != to {
				for i, m := range sl.members {
					if out&(1<<i) != 0 {
						s.book.MoveKind(s.fact, s.kinds[m.kind], 1, from, to)
					}
				}
			}
			st.in |= out
			st.byNumber, st.unsure, st.kept, st.stages = false, false, true, stages
			s.setSeat(ix, now)
			break
		}
	}
}

// interchanged says whether a filled hole may be empty in place of another: both
// hold the same by the plan, and nobody has said since which of them is filled.
func (s *State) interchanged(empty, filled plan.SeatIndex) bool {
	a, b := &s.lay.seats[empty], &s.lay.seats[filled]
	st := &s.seats[filled]
	if a.full != b.full || a.stay != b.stay || st.in != b.full || st.broken || st.oddKind || st.changed != 0 && !st.kept {
		return false
	}
	for i := range a.members {
		if a.members[i].kind != b.members[i].kind {
			return false
		}
	}
	return true
}

// looseToo takes up what lies loose of a joint for holes that are named and
// were empty already: as much as they hold, and no more than there is.
func (s *State) looseToo(seats []plan.SeatIndex, about string, to ledger.AccountID) {
	for _, ix := range seats {
		for _, m := range s.lay.seats[ix].members {
			kind := ledger.OfKind(s.kinds[m.kind])
			for _, a := range s.looseOf(about) {
				if !m.stays && a != to && s.book.Balance(a, kind) > 0 {
					s.book.Move(s.fact, kind, 1, a, to)
					break
				}
			}
		}
	}
}

// racksHoles says whether what comes out lies in a rack by its holes: a rack
// that is not kept for anything else, and every hole known to be emptied, by
// name, by a word for all, or by a count that agrees with the book. Rule R69.
func (s *State) racksHoles(e *events.PiecesOut, seats []plan.SeatIndex) bool {
	if !strings.HasPrefix(string(e.To), "rack/") || !e.All && len(e.Holes) == 0 {
		return false
	}
	rack, pos := rackOf(e.To)
	if pos != "" {
		return false
	}
	if r, ok := s.racks[rack]; ok && (r.Part != "" || r.Lost != 0 || r.Joint != "" && r.Joint != e.Joint) {
		return false
	}
	want := make(map[int32]int)
	for _, ix := range seats {
		st, sl := &s.seats[ix], &s.lay.seats[ix]
		if st.oddKind || st.broken {
			return false
		}
		for i, m := range sl.members {
			if st.in&^sl.stay&(1<<i) != 0 {
				want[m.kind]++
			}
		}
	}
	if len(e.Lines) == 0 {
		return true
	}
	for i := range e.Lines {
		k, ok := s.kindIndex(e.Lines[i].Kind)
		if !ok || e.Lines[i].Cond != "" || want[k] != e.Lines[i].Qty {
			return false
		}
		delete(want, k)
	}
	return len(want) == 0
}

// outToRack empties holes into the positions of a rack that bear their names.
func (s *State) outToRack(seats []plan.SeatIndex, to events.Place, joint events.Joint) {
	s.rack(to).Joint = joint
	for _, ix := range seats {
		sl := &s.lay.seats[ix]
		out := s.seats[ix].in &^ sl.stay
		if out == 0 {
			continue
		}
		at := s.book.Account(to + "/" + events.Place(s.lay.plan.Seats[ix].Hole))
		for i, m := range sl.members {
			if out&(1<<i) != 0 {
				s.book.MoveKind(s.fact, s.kinds[m.kind], 1, s.group[sl.group], at)
			}
		}
		s.seatOut(ix, out)
		s.book.Saw(s.fact, s.known(), at)
	}
}
