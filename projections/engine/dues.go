package engine

import (
	"countback/events"
	"countback/projections/plan"
)

// Due is a stage that falls due later, of holes of one joint that were tightened
// here and lack it.
type Due struct {
	Joint events.Joint
	Holes []events.Hole
	What  string // "49 after alignment in the vehicle"
	Stage int    // its number: behind the stages that were due before
}

// Dues lists the stages that fall due later and were not recorded, in the plan's
// order of its lists, one line for each joint and number. Holes that nobody
// opened here owe none.
func (s *State) Dues() []Due {
	var list []Due
	for _, d := range s.lay.dues {
		first := len(list)
		for _, ix := range d.seats {
			st, sl := &s.seats[ix], &s.lay.seats[ix]
			if st.changed != 0 && sl.full != 0 && st.in == sl.full && st.stages <= sl.stages {
				list = s.addDue(list, first, d.what, ix)
			}
		}
	}
	return list
}

func (s *State) addDue(list []Due, first int, what string, ix plan.SeatIndex) []Due {
	st := &s.lay.plan.Seats[ix]
	joint, stage := s.lay.plan.Joints[st.Joint].ID, int(s.lay.seats[ix].stages)+1
	for i := first; i < len(list); i++ {
		if list[i].Joint == joint && list[i].Stage == stage {
			list[i].Holes = append(list[i].Holes, st.Hole)
			return list
		}
	}
	return append(list, Due{joint, []events.Hole{st.Hole}, what, stage})
}
