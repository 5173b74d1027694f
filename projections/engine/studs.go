package engine

import (
	"countback/events"
	"countback/projections/fastener/stage"
	"countback/projections/plan"
)

// studView is how one list of studs stands.
func (s *State) studView(li int) Tightened {
	l := &s.lay.studs[li]
	ed := l.Edition(0)
	m := s.studMatrix(li).Clone()
	for i := range ed.List.Stages {
		for _, mark := range ed.List.Stages[i].Needs {
			m.Mark(mark, ed.Needs[i].Eval(s.now), "", m.At())
		}
	}
	t := Tightened{Order: l.ID, Member: "stud", How: l.How, Guided: l.Guided, Edition: len(l.Editions), Loosen: l.Loosen, Count: m.Count(), History: m.History(), s: s, li: -1}
	for _, j := range l.Joints {
		t.Joints = append(t.Joints, s.lay.plan.Joints[j].ID)
	}
	for i, ix := range l.Seats {
		t.Spots = append(t.Spots, s.studSpot(l.Names[i], ix))
	}
	t.rows(m, l, ed)
	t.Next = t.studTurns(s.turnsOf(l, ed, m.Next(), true), false)
	t.Owed = t.studTurns(s.turnsOf(l, ed, m.Owed(), true), true)
	t.Later = t.studTurns(s.turnsOf(l, ed, m.Later(), true), true)
	return t
}

// studSpot is a stud in its hole.
func (s *State) studSpot(name string, ix plan.SeatIndex) Spot {
	p := s.spot(name, ix)
	sl := &s.lay.seats[ix]
	p.In = !p.Absent && s.seats[ix].in&sl.studBit != 0
	p.Here = p.In && s.studs.lists[sl.stud].told && s.seats[ix].changed != 0
	return p
}

// studTurns are turns as people tell them, of the studs and not of the nuts on
// them. What is not in can be set by nobody; where all are wanted it says so.
func (t *Tightened) studTurns(list []Turn, all bool) []Turn {
	var out []Turn
	for _, x := range list {
		for _, p := range t.Spots {
			if p.Name != x.Name {
				continue
			}
			x.Spot = p
			if c := t.cellOf(x.Number, p.Name); p.In {
				x.Why = c.Why
				if c.State == stage.Open {
					x.Why = ""
				}
			} else {
				x.Why = "no stud is in it: set it first"
			}
		}
		if x.In || all && !x.Absent {
			out = append(out, x)
		}
	}
	return out
}

func (t *Tightened) cellOf(number int, name string) Cell {
	for _, row := range t.Rows {
		for i, p := range t.Spots {
			if row.Number == number && p.Name == name {
				return row.Cells[i]
			}
		}
	}
	return Cell{}
}

// StudsBy reports whether a tightening list of the plan is about studs that
// something else goes onto.
func (s *State) StudsBy(order string) bool {
	for i := range s.lay.studs {
		if s.lay.studs[i].ID == order {
			return true
		}
	}
	return false
}

// studsOf lists the lists of studs of a joint.
func (s *State) studsOf(joint plan.JointIndex) []int {
	var list []int
	for _, ix := range s.lay.plan.Joints[joint].Seats {
		if li := s.lay.seats[ix].stud; li >= 0 && !contains(list, int(li)) {
			list = append(list, int(li))
		}
	}
	return list
}

// unset lists the studs that were set in here and owe a stage of their own, by
// joint and stage.
func (s *State) unset() []Unset {
	var list []Unset
	for i := range s.seats {
		ix := plan.SeatIndex(i)
		what := s.studOwes(ix)
		if what == "" {
			continue
		}
		seat := &s.lay.plan.Seats[ix]
		joint := s.lay.plan.Joints[seat.Joint].ID
		if n := len(list); n > 0 && list[n-1].Joint == joint && list[n-1].What == what {
			list[n-1].Holes = append(list[n-1].Holes, seat.Hole)
			continue
		}
		list = append(list, Unset{joint, []events.Hole{seat.Hole}, what})
	}
	return list
}

// Unset are studs that owe a stage of their own.
type Unset struct {
	Joint events.Joint
	Holes []events.Hole
	What  string // "snug 10 N.m"
}

// words are the fact, and the scan that clears it.
func (u *Unset) words(s *State) (text, scan string) {
	scan = "scan joint " + string(u.Joint)
	for _, h := range u.Holes {
		scan += ", hole " + string(h)
	}
	return s.holesWords(u.Joint, u.Holes) + ": the stud is in, and was not set: " + u.What, scan + ", STAGE"
}

// studs are what the studs owe, beside what the nuts do.
func (c *auditList) studs() {
	for _, u := range c.s.unset() {
		text, scan := u.words(c.s)
		since := c.s.spotSince(Spot{Joint: u.Joint, Hole: u.Holes[0]})
		c.add(c.due(plan.SeatsFinished), RedSeat, since, text, scan)
	}
}

// studs lists what is doubtful or too far of studs.
func (r *redList) studs() {
	for li := range r.s.studs.lists {
		if !r.s.studs.lists[li].told {
			continue
		}
		t := r.s.studView(li)
		for _, row := range t.Rows {
			r.stagesOf(&t, &row)
		}
	}
}
