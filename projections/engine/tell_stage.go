package engine

import (
	"countback/events"
	"countback/projections/fastener/stage"
	"countback/projections/plan"
	"countback/projections/tightening"
)

// stageRecorded records one stage on holes. A yield stage, and any stage on a
// single-use piece, makes new pieces used ones (rule R10).
func (s *State) stageRecorded(e *events.StageRecorded) {
	j, ok := s.joint()
	if !ok {
		s.note(NoSuch, "joint "+string(e.Joint), "")
		return
	}
	seats := s.meant.holes.seats
	if !s.meant.whole {
		s.scope(j, e.Joint, e.Holes) // notes what the plan does not know
	}
	if li := s.ofStuds(e.Order, seats); li >= 0 {
		s.studStage(li, seats, e)
		return
	}
	yield := s.meant.yield
	if e.Order == "" && s.allTold(s.meant.holes, e.Stage, e.Stage >= e.Stages, yield) {
		return
	}
	s.need = s.need[:0]
	told := s.tight.heap[:0]
	for _, ix := range seats {
		st, sl := &s.seats[ix], &s.lay.seats[ix]
		if letsGo(st.in, sl.stay&^sl.main, sl.main) {
			continue // nothing, or nothing to pull against, is in it
		}
		st.parked = false
		if li, _ := s.listAt(ix); li < 0 || e.Order == "" {
			s.toldWhole(ix, e)
		} else {
			told = append(told, ix)
		}
		if yield || sl.single {
			s.wantKind(sl.group, sl.members[len(sl.members)-1].kind)
		}
	}
	s.tight.heap = told
	s.toldByList(told, e)
	s.useUpTurned(s.need)
}

// useUpTurned makes pieces that were turned used ones, as far as new ones are
// among them.
func (s *State) useUpTurned(list []need) {
	for _, n := range list {
		m := s.newOf(s.kinds[n.kind])
		if have := min(n.n, s.book.Balance(s.group[n.group], m)); have > 0 {
			s.book.Turn(s.fact, m, events.Used, have, s.group[n.group])
		}
	}
}

// toldWhole is a stage that was told without a list: so many of so many.
func (s *State) toldWhole(ix plan.SeatIndex, e *events.StageRecorded) {
	due, most := s.stagesNowAndAll(ix)
	n, state := wholeStage(e.Stage, e.Stage >= e.Stages, due, most)
	st := &s.seats[ix]
	st.stages = n
	s.logTurn(ix, turnWhole, n, true)
	if st.in == s.lay.seats[ix].full {
		s.setSeat(ix, state)
	}
}

// wholeStage is how many stages of a hole with so many are done by a word for
// the whole, and what is in it then. last says that it was the last one.
func wholeStage(number int, last bool, due, most int) (uint8, plan.SeatState) {
	n, all := max(0, min(number, 250)), min(due, 250)
	if last {
		n = max(n, all)
	}
	if most > 0 {
		n = min(n, most)
	}
	state := plan.SeatFilled
	if last || all > 0 && n >= all {
		state = plan.SeatFinished
	}
	return uint8(n), state
}

// toldByList is a stage of the lists of some holes. What is in order is
// counted; everything else is for the matrix to weigh (rule R49).
func (s *State) toldByList(seats []plan.SeatIndex, e *events.StageRecorded) {
	for len(seats) > 0 {
		li, _ := s.listAt(seats[0])
		n := 1
		for n < len(seats) {
			if at, _ := s.listAt(seats[n]); at != li {
				break
			}
			n++
		}
		s.toldOf(li, seats[:n], e)
		seats = seats[n:]
	}
}

func (s *State) toldOf(li int32, seats []plan.SeatIndex, e *events.StageRecorded) {
	ls, ed := &s.tight.lists[li], s.edition(li)
	simple := !ls.hard && ed.Plain && !e.Read && s.doubts(li, e) == ""
	last, met := 0, true
	for _, ix := range seats {
		_, spot := s.listAt(ix)
		n := ed.Stage(spot, e.Stage)
		if n != last && n > 0 {
			last, met = n, ed.Needs[n-1].Eval(s.now)
			simple = simple && met && s.inOrder(li, ed, n)
		}
		bare := s.studLacks(ix) > 0
		simple = simple && n > 0 && !bare && s.isNext(ed, ix, n, e.Stage)
		s.tight.log = append(s.tight.log, turn{fact: s.fact, seat: ix, list: int16(li), what: turnStage, stage: uint8(min(max(e.Stage, 0), 250)), met: met, bare: bare})
	}
	if !simple {
		s.harden(li)
		return
	}
	for _, ix := range seats {
		st := &s.seats[ix]
		_, spot := s.listAt(ix)
		st.stages = max(st.stages, uint8(e.Stage))
		if st.in != s.lay.seats[ix].full {
			continue
		}
		state := plan.SeatFilled
		if int(st.stages) >= ed.Now(spot) {
			state = plan.SeatFinished
		}
		s.setSeat(ix, state)
	}
}

// inOrder reports whether what comes before a stage of a list is done wherever
// something is in, and nobody has begun it if it is an angle: that is for the
// matrix.
func (s *State) inOrder(li int32, ed *tightening.Edition, n int) bool {
	st, l := &ed.List.Stages[n-1], s.listOf(li)
	if st.Kind.Measured() {
		return false
	}
	for spot, number := range ed.Before(n) {
		ix := l.Seats[spot]
		if uint16(s.seats[ix].stages) < number && s.holdsMain(ix) {
			return false
		}
	}
	if st.Kind != stage.Angle {
		return true
	}
	for _, spot := range ed.Spots(n) {
		if ix := l.Seats[spot]; int(s.seats[ix].stages) >= ed.Number(n) && s.holdsMain(ix) {
			return false
		}
	}
	return true
}

// holdsMain reports whether the piece that is turned is in a hole.
func (s *State) holdsMain(ix plan.SeatIndex) bool {
	sl := &s.lay.seats[ix]
	return s.now.Seat(ix) != plan.SeatAbsent && s.seats[ix].in&mainMember(sl) != 0
}

// isNext reports whether a stage is the next one of a hole, or one that may be
// told again. A second stage that falls due later is for the matrix.
func (s *State) isNext(ed *tightening.Edition, ix plan.SeatIndex, n, number int) bool {
	_, spot := s.listAt(ix)
	have := int(s.seats[ix].stages)
	return number <= ed.Now(spot)+1 && (have == number-1 || have >= number && ed.List.Stages[n-1].Kind != stage.Angle)
}

// stageAgain begins a stage anew that was broken off: what was turned in it is
// loose (rule R51).
func (s *State) stageAgain(e *events.StageRestarted) {
	s.ofStage(e.Joint, e.Holes, e.Order, e.Stage, turnAgain)
}

// stageAccepted takes the word of a person for what is doubtful.
func (s *State) stageAccepted(e *events.StageAccepted) {
	s.ofStage(e.Joint, e.Holes, e.Order, e.Stage, turnAccept)
}

// ofStage writes a line for each set of the lists concerned.
func (s *State) ofStage(joint events.Joint, holes []events.Hole, order string, number int, what turned) {
	j, ok := s.lay.plan.Joint(joint)
	if !ok {
		s.note(NoSuch, "joint "+string(joint), "")
		return
	}
	seats := s.scope(j, joint, holes)
	if li := s.ofStuds(order, seats); li >= 0 {
		s.studAct(li, seats, number, what)
		return
	}
	type set struct {
		list int32
		n    int
	}
	var done []set
	for _, ix := range seats {
		li, spot := s.listAt(ix)
		if li < 0 || order != "" && s.listOf(li).ID != order || s.edition(li).Stage(spot, number) == 0 {
			continue
		}
		at := set{li, setOf(s.edition(li), s.listOf(li).Names[spot])}
		if contains(done, at) {
			continue
		}
		done = append(done, at)
		s.logTurn(ix, what, uint8(min(max(number, 0), 250)), true)
		s.harden(li)
	}
}

// setOf is the set that a position goes through the stages with; 0: all.
func setOf(ed *tightening.Edition, name string) int {
	for i, set := range ed.List.Sets {
		if contains(set, name) {
			return i
		}
	}
	return 0
}

// editionChosen lets an edition count (rule R52). What was told by another one
// is doubtful then.
func (s *State) editionChosen(e *events.EditionChosen) {
	known := false
	for i := range s.lay.lists {
		l := &s.lay.lists[i]
		if l.ID != e.Order || e.Choice < 1 || e.Choice > len(l.Editions) {
			continue
		}
		known = true
		ls := &s.tight.lists[i]
		ls.choice, ls.chose = int32(e.Choice), s.fact
		if ls.m = nil; s.toldOnce(int32(i)) {
			s.harden(int32(i))
			continue
		}
		s.recount(int32(i))
	}
	if !known {
		s.note(NoSuch, "tightening "+e.Order, "edition "+itoa(e.Choice))
	}
}

// toldOnce reports whether any stage of a list was told.
func (s *State) toldOnce(li int32) bool {
	for i := range s.tight.log {
		t := &s.tight.log[i]
		if int32(t.list) == li && t.what >= turnWhole {
			return true
		}
	}
	return false
}

// recount gives holes that are finished as they came the stages of the edition
// that counts now.
func (s *State) recount(li int32) {
	for _, ix := range s.listOf(li).Seats {
		if st := &s.seats[ix]; st.stages > 0 {
			st.stages = uint8(min(s.allStages(ix), 250))
		}
	}
}
