package engine

import (
	"countback/events"
	"countback/projections/plan"
)

// presumeBefore plays the steps that must have happened for a part to come
// off and that nobody recorded. Their fasteners lie on the bench, uncounted.
func (s *State) presumeBefore(p plan.PartIndex) {
	if s.now.Part(p) != plan.PartOn || s.now.Free(p) == nil {
		return
	}
	steps, _ := s.now.PresumedBefore(p)
	for _, st := range steps {
		s.presumeStep(st, s.lay.plan.Parts[p].ID)
	}
	s.presumeHeld(p)
}

// presumeBeforeStep plays what must have happened before a step that nobody
// said more of than its fasteners took off a part.
func (s *State) presumeBeforeStep(own plan.StepIndex, p plan.PartIndex) {
	steps, _ := s.now.PresumedBefore(p)
	for _, st := range steps {
		if st != own {
			s.presumeStep(st, s.lay.plan.Parts[p].ID)
		}
	}
}

// presumeHeld empties the holes that still clamp a part that is off.
func (s *State) presumeHeld(p plan.PartIndex) {
	for _, ix := range s.lay.parts[p].clamps {
		if s.seats[ix].in&^s.lay.seats[ix].stay != 0 && !s.seats[ix].broken {
			s.presumeJoint([]plan.SeatIndex{ix}, s.lay.plan.Parts[p].ID)
		}
	}
}

// presumeStep leaves the state that an off step leaves, as far as it is
// metal: fasteners out, parts off, fluids out, its marks.
func (s *State) presumeStep(ix plan.StepIndex, because events.Part) {
	st := &s.lay.plan.Steps[ix]
	s.presumeJoint(st.TakesOut, because)
	for _, p := range st.Removes {
		if s.now.Part(p) == plan.PartOn || s.now.Part(p) == plan.PartPartly {
			s.presumeHeld(p)
			s.presumeOff(p)
			if s.lay.plan.Parts[p].Count > 1 {
				s.uncount("", s.lay.plan.Parts[p].ID, because)
			}
		}
	}
	for _, c := range st.Drains {
		if s.now.Fluid(c) == plan.Filled {
			s.now.SetFluid(c, plan.Drained)
		}
	}
	for _, m := range st.Sets {
		s.now.SetMark(m, true)
	}
}

// presumeJoint empties holes that nobody counted: the pieces lie on the bench
// by presumption, and the joint stays a line until its bag is counted.
func (s *State) presumeJoint(seats []plan.SeatIndex, because events.Part) {
	for _, ix := range seats {
		st, sl := &s.seats[ix], &s.lay.seats[ix]
		out := st.in &^ sl.stay
		if out == 0 || st.broken || s.now.Seat(ix) == plan.SeatAbsent {
			continue
		}
		joint := s.lay.plan.Joints[s.lay.plan.Seats[ix].Joint].ID
		to := s.bench(s.rec.Terminal, string(joint))
		if st.oddKind {
			s.oddOut(ix, to)
			out = st.in &^ sl.stay
		}
		for i, m := range sl.members {
			if out&(1<<i) != 0 {
				s.book.MoveKind(s.fact, s.kinds[m.kind], 1, s.group[sl.group], to)
			}
		}
		s.seatOut(ix, out)
		st.byClaim = true
		s.uncount(joint, "", because)
	}
}

// presumeOff takes a part off without anybody saying so: its last fastener is
// out, or what it carried off with it is.
func (s *State) presumeOff(p plan.PartIndex) {
	s.takeOff(p, nil, "", s.benchOfPart(p))
}

func (s *State) uncount(joint events.Joint, part, because events.Part) {
	for i := range s.uncounted {
		u := &s.uncounted[i]
		if u.Joint == joint && u.Part == part && u.Cleared == 0 {
			return
		}
	}
	s.uncounted = append(s.uncounted, Uncounted{Joint: joint, Part: part, Because: because, Fact: s.fact})
}

func (s *State) clearUncounted(joint events.Joint, part events.Part) {
	for i := range s.uncounted {
		u := &s.uncounted[i]
		if u.Cleared == 0 && u.Joint == joint && u.Part == part {
			u.Cleared = s.fact
		}
	}
}

// Uncounted lists the joints and parts whose pieces came out by presumption
// and were not counted since.
func (s *State) Uncounted() []Uncounted {
	var open []Uncounted
	for _, u := range s.uncounted {
		if u.Cleared == 0 {
			open = append(open, u)
		}
	}
	return open
}

// caughtUp presumes all that comes before the deepest part that is off.
func (s *State) caughtUp(e *events.CaughtUp) {
	p, ok := s.lay.plan.Part(e.Deepest)
	if !ok {
		s.note(NoSuch, "part "+string(e.Deepest), "")
		return
	}
	s.presumeBefore(p)
	s.presumeHeld(p)
	if st := s.now.Part(p); st == plan.PartOn || st == plan.PartPartly {
		s.presumeOff(p)
	}
}
