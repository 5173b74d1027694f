package engine

import (
	"slices"

	"countback/events"
	"countback/projections/fastener/stage"
	"countback/projections/plan"
	"countback/projections/tightening"
)

// Due is a stage that falls due later, of holes of one joint that were tightened
// here and lack it.
type Due struct {
	Joint events.Joint
	Holes []events.Hole
	What  string // "torque 49 N.m after alignment in the vehicle"
	Stage int    // its number: behind the stages that were due before
	Order string // id of the list
}

// Dues lists the stages that fall due later and were not recorded, in the plan's
// order of its lists, one line for each joint and number. Holes that nobody
// opened here owe none.
func (s *State) Dues() []Due {
	var list []Due
	for li := range s.tight.lists {
		l, ed := s.listOf(int32(li)), s.edition(int32(li))
		for n := range ed.List.Stages {
			if ed.List.Stages[n].Due != "" {
				list = s.dueOf(list, int32(li), l, ed, n+1)
			}
		}
	}
	return list
}

// dueOf adds the holes that lack one stage of a list.
func (s *State) dueOf(list []Due, li int32, l *tightening.List, ed *tightening.Edition, n int) []Due {
	first := len(list)
	st := &ed.List.Stages[n-1]
	d := Due{What: st.String() + " " + st.Due, Stage: ed.Number(n), Order: l.ID}
	spots := slices.Clone(ed.Spots(n))
	slices.SortFunc(spots, func(a, b int) int { return int(l.Seats[a]) - int(l.Seats[b]) })
	for _, spot := range spots {
		ix := l.Seats[spot]
		if at, _ := s.listAt(ix); at == li && s.putInHere(ix) && !s.stageDone(li, spot, n, d.Stage) {
			list = s.addDue(list, first, d, ix)
		}
	}
	return list
}

// putInHere reports whether the piece in a hole was put in here.
func (s *State) putInHere(ix plan.SeatIndex) bool {
	st, sl := &s.seats[ix], &s.lay.seats[ix]
	return st.changed != 0 && sl.full != 0 && st.in == sl.full
}

// stageDone reports whether a stage of a list is done at a position.
func (s *State) stageDone(li int32, spot, n, number int) bool {
	if !s.tight.lists[li].hard {
		return int(s.seats[s.listOf(li).Seats[spot]].stages) >= number
	}
	c, _ := s.matrix(li).Cell(s.listOf(li).Names[spot], n)
	return c.State == stage.Done
}

func (s *State) addDue(list []Due, first int, d Due, ix plan.SeatIndex) []Due {
	st := &s.lay.plan.Seats[ix]
	d.Joint = s.lay.plan.Joints[st.Joint].ID
	for i := first; i < len(list); i++ {
		if list[i].Joint == d.Joint {
			list[i].Holes = append(list[i].Holes, st.Hole)
			return list
		}
	}
	d.Holes = []events.Hole{st.Hole}
	return append(list, d)
}
