package engine

import (
	"countback/events"
	"countback/projections/plan"
)

// TakeOut tells that fasteners came out of a joint. Kinds lists what a count
// by size has to ask for; see State.SizesIn.
type TakeOut struct {
	Joint events.Joint
	Holes []events.Hole
	To    events.Place
	Lines []events.Line // counted by size
	All   bool
	Left  []events.Hole
	// OutOfTurn: told to have been loosened otherwise than the plan orders it.
	// Warm: while the engine was warm, though the plan wants it cold.
	OutOfTurn, Warm bool
}

func (c TakeOut) decide(s *State) (events.Event, error) {
	ev := events.PiecesOut{Joint: c.Joint, Holes: c.Holes, To: c.To, Lines: c.Lines, All: c.All, Left: c.Left, OutOfTurn: c.OutOfTurn, Warm: c.Warm}
	if err := malformed(ev); err != nil {
		return nil, err
	}
	j, ok := s.lay.plan.Joint(c.Joint)
	if !ok {
		if len(c.Lines) == 0 {
			return nil, refuse(Unknown, "count them by size: scan a size card, then a number", "the plan does not say what joint %s holds", c.Joint)
		}
		return ev, nil
	}
	if len(c.Lines) == 0 && !s.anyIn(s.lay.plan.Joints[j].Seats) && len(s.looseOf(string(c.Joint))) == 0 && len(c.Holes) == 0 {
		return nil, nil // out already, and nothing of it is loose
	}
	if s.allOutHere(&ev) {
		return nil, nil
	}
	for i := range ev.Lines {
		ev.Lines[i].Expected = s.expectOut(s.lay.plan.Joints[j].Seats, ev.Lines[i].Kind)
	}
	return ev, nil
}

// SizesIn lists the kinds that are in a joint by the book and come out of it,
// in the order of their first hole: what a count by size asks for. When the
// joint is out already but was never counted, it lists what is loose of it.
func (s *State) SizesIn(joint events.Joint) []events.Kind {
	j, ok := s.lay.plan.Joint(joint)
	if !ok {
		return nil
	}
	var kinds []events.Kind
	for _, ix := range s.lay.plan.Joints[j].Seats {
		sl := &s.lay.seats[ix]
		for i, m := range sl.members {
			if s.seats[ix].in&(1<<i) != 0 && !m.stays && !s.seats[ix].broken && !contains(kinds, s.lay.kinds[m.kind]) {
				kinds = append(kinds, s.lay.kinds[m.kind])
			}
		}
	}
	if len(kinds) > 0 {
		return kinds
	}
	for _, a := range s.looseOf(string(joint)) {
		for _, l := range s.contents(a) {
			if !contains(kinds, l.Kind) {
				kinds = append(kinds, l.Kind)
			}
		}
	}
	return kinds
}

func (s *State) expectOut(seats []plan.SeatIndex, k events.Kind) int {
	n := 0
	for _, ix := range seats {
		for i, m := range s.lay.seats[ix].members {
			if s.seats[ix].in&(1<<i) != 0 && !m.stays && s.lay.kinds[m.kind] == k {
				n++
			}
		}
	}
	return n
}
