package engine

import (
	"countback/events"
	"countback/projections/fastener/stage"
	"countback/projections/fastener/torque"
	"countback/projections/ledger"
	"countback/projections/plan"
	"countback/projections/tightening"
)

// carryTight takes what was told of tightened holes over to another edition of
// the job's plan: by the names of holes and lists. What it drops is forgotten.
func (s *State) carryTight(old *layout) {
	t := &s.tight
	var kept []turn
	for _, x := range t.log {
		for _, seat := range s.seatsOf(old, &x) {
			if ix, ok := s.lay.plan.Seat(old.plan.Seats[seat].ID); ok {
				x.span, x.seat = 0, ix
				kept = append(kept, x)
			}
		}
	}
	t.log = kept
	lists := make([]listState, len(s.lay.lists))
	for i := range lists {
		for o := range old.lists {
			if old.lists[o].ID == s.lay.lists[i].ID && t.lists[o].choice > 0 {
				lists[i].choice, lists[i].chose = t.lists[o].choice, t.lists[o].chose
			}
		}
	}
	own := t.own
	t.lists, t.own, t.ownAt, t.dirty = lists, nil, nil, t.dirty[:0]
	for i := range own {
		o := &own[i]
		var seats []plan.SeatIndex
		for _, x := range o.list.Seats {
			if ix, ok := s.lay.plan.Seat(old.plan.Seats[x].ID); ok {
				seats = append(seats, ix)
			}
		}
		if len(seats) > 0 {
			s.ownTorque(seats, o.list.Editions[0].List.Stages[0], o.fact, 0)
		}
	}
	for i := range t.log {
		li, _ := s.listAt(t.log[i].seat)
		t.log[i].list = int16(li)
	}
}

// hardenTold lets the matrices weigh again what was told under the former
// edition of the plan: its stages may be others.
func (s *State) hardenTold() {
	for li := range s.tight.lists {
		if s.toldOnce(int32(li)) {
			s.harden(int32(li))
		}
	}
}

// torqueChosen makes a list of one stage of a torque that a person chose where
// the plan has none (rule R53).
func (s *State) torqueChosen(e *events.TorqueChosen) {
	j, ok := s.lay.plan.Joint(e.Joint)
	if !ok {
		s.note(NoSuch, "joint "+string(e.Joint), "")
		return
	}
	nm, ok := inUnit(e.Value, e.Unit, stage.Torque)
	if !ok || nm <= 0 {
		s.note(NoSuch, "joint "+string(e.Joint), numberWords(e.Value)+" "+e.Unit+" is no torque")
		return
	}
	var seats []plan.SeatIndex
	for _, ix := range s.scope(j, e.Joint, e.Holes) {
		if s.lay.seats[ix].full != 0 && !s.planTorque(ix) && !contains(seats, ix) {
			seats = append(seats, ix)
		}
	}
	if len(seats) == 0 {
		return
	}
	s.ownTorque(seats, stage.Stage{Kind: stage.Torque, Min: nm, Max: nm, Known: true}, s.fact, len(s.tight.log))
	for _, ix := range seats {
		st := &s.seats[ix]
		if st.in&mainMember(&s.lay.seats[ix]) == 0 {
			s.logTurn(ix, turnOut, 0, false)
			continue
		}
		if st.changed == 0 {
			s.logTurn(ix, turnCame, 0, false)
			st.stages = 1
			continue
		}
		st.stages = 0
		if s.now.Seat(ix) == plan.SeatFinished {
			s.setSeat(ix, plan.SeatFilled)
		}
	}
}

// planTorque reports whether the plan itself says how a hole is tightened.
func (s *State) planTorque(ix plan.SeatIndex) bool {
	li := s.lay.seats[ix].list
	if li < 0 {
		return false
	}
	l, spot := &s.lay.lists[li], int(s.lay.seats[ix].spot)
	ed := l.Edition(int(s.tight.lists[li].choice))
	for k := 1; k <= ed.Now(spot); k++ {
		if n := ed.Stage(spot, k); n > 0 {
			if st := &ed.List.Stages[n-1]; !st.Known && st.Text == "unknown" {
				return false
			}
		}
	}
	return true
}

// ownTorque adds a list of one stage for some holes.
func (s *State) ownTorque(seats []plan.SeatIndex, st stage.Stage, fact ledger.Fact, from int) {
	l := tightening.OfOne(s.lay.plan, seats, st)
	li := int32(len(s.tight.lists))
	s.tight.own = append(s.tight.own, ownList{l, from, fact})
	s.tight.lists = append(s.tight.lists, listState{})
	if s.tight.ownAt == nil {
		s.tight.ownAt = map[plan.SeatIndex]int32{}
	}
	for _, ix := range seats {
		s.tight.ownAt[ix] = li
	}
}

// InUnit is a value in the unit of a kind of stage; false where it is of another
// sort. Units: N.m, lbf.ft, lbf.in, kgf.m, deg, mm, in.
func InUnit(v float64, unit string, k stage.Kind) (float64, bool) { return inUnit(v, unit, k) }

// inUnit is a value in the unit of a kind of stage; false where it is of another
// sort.
func inUnit(v float64, unit string, k stage.Kind) (float64, bool) {
	switch {
	case unit == "" || unit == k.Unit():
		return v, true
	case k.Unit() == "N.m":
		for _, u := range [...]torque.Unit{torque.PoundFoot, torque.PoundInch, torque.KilopondMetre} {
			if unit == u.String() {
				return v * u.Nm(), true
			}
		}
	case k.Unit() == "mm" && unit == "in":
		return v * 25.4, true
	}
	return 0, false
}
