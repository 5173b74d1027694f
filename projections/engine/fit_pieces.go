package engine

import (
	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// Fit tells that fasteners went into a joint. Without holes it means those of
// the step that stands next, which the event then names: a cover's bolts that
// also hold a bracket come with the bracket.
type Fit struct {
	Joint events.Joint
	Holes []events.Hole
	From  events.Place
	Lines []events.Line
	All   bool
	Trial bool
}

func (c Fit) decide(s *State) (events.Event, error) {
	ev := events.PiecesFitted{Joint: c.Joint, Holes: c.Holes, From: c.From, Lines: c.Lines, All: c.All, Trial: c.Trial}
	if err := malformed(ev); err != nil {
		return nil, err
	}
	j, ok := s.lay.plan.Joint(c.Joint)
	if !ok {
		return c.strange(s, ev)
	}
	if len(c.Holes) > 0 {
		return ev, nil
	}
	seats := s.NextHoles(j, c.Trial)
	if len(seats) == 0 {
		return nil, nil // every hole is filled
	}
	if len(seats) < len(s.lay.plan.Joints[j].Seats) {
		for _, ix := range seats {
			ev.Holes = append(ev.Holes, s.holeName(c.Joint, ix))
		}
	}
	return ev, nil
}

// strange is a joint that no plan knows. By word alone it takes what came out of it
// and lies where it is said to come from, which the event then names; where nothing
// does it has to be counted.
func (c Fit) strange(s *State, ev events.PiecesFitted) (events.Event, error) {
	if len(c.Lines) > 0 {
		return ev, nil
	}
	from := s.looseOf(string(c.Joint))
	if c.From != "" {
		from = nil
		if a, ok := s.book.Lookup(c.From); ok {
			from = append(from, a)
		}
	}
	for i := range s.learned.joints {
		if j := &s.learned.joints[i]; j.Joint == c.Joint {
			missing := s.missingIn(j)
			if len(missing) == 0 && len(j.Lines) > 0 {
				return nil, nil
			}
			for _, l := range missing {
				have := int32(0)
				for _, a := range from {
					have += max(0, s.book.Balance(a, ledger.OfKind(s.book.Kind(l.Kind))))
				}
				if n := min(l.Qty, int(have)); n > 0 {
					ev.Lines = append(ev.Lines, events.Line{Kind: l.Kind, Qty: n})
				}
			}
		}
	}
	if len(ev.Lines) == 0 {
		return nil, refuse(Unknown, "count them by size: scan a size card and a number before ALL IN", "the book does not say what of joint %s is there", c.Joint)
	}
	return ev, nil
}

// holeName names a hole within a joint. A shared hole goes by its own name
// where that is unique in the joint.
func (s *State) holeName(joint events.Joint, ix plan.SeatIndex) events.Hole {
	return s.lay.plan.Seats[ix].Hole
}

// NextHoles are the holes of a joint that are filled next: those of its empty
// holes that the first step on with all its parts in reach fastens.
func (s *State) NextHoles(j plan.JointIndex, trial bool) []plan.SeatIndex {
	var empty []plan.SeatIndex
	for _, ix := range s.lay.plan.Joints[j].Seats {
		if sl, st := &s.lay.seats[ix], &s.seats[ix]; sl.full != 0 && st.in != sl.full && !st.broken && s.now.Seat(ix) != plan.SeatAbsent {
			empty = append(empty, ix)
		}
	}
	best, score := empty, -1
	for i := range s.lay.plan.Steps {
		step := &s.lay.plan.Steps[i]
		list := step.Fastens
		if trial {
			list = step.Trial
		}
		if step.Section.Apart() {
			continue
		}
		var mine []plan.SeatIndex
		for _, ix := range empty {
			if contains(list, ix) {
				mine = append(mine, ix)
			}
		}
		if len(mine) == 0 {
			continue
		}
		sc := 1
		if s.now.Can(plan.StepIndex(i)) {
			sc = 2
		}
		if sc > score {
			best, score = mine, sc
		}
	}
	return best
}

// SizesOut lists the kinds that the next holes of a joint want, in the order
// of their first hole.
func (s *State) SizesOut(joint events.Joint) []events.Kind {
	j, ok := s.lay.plan.Joint(joint)
	if !ok {
		return nil
	}
	var kinds []events.Kind
	for _, ix := range s.NextHoles(j, false) {
		for i := range s.lay.seats[ix].members {
			if k := s.wantedKind(ix, i); s.seats[ix].in&(1<<i) == 0 && !contains(kinds, k) {
				kinds = append(kinds, k)
			}
		}
	}
	return kinds
}
