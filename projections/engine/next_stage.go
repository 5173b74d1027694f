package engine

import (
	"countback/events"
	"countback/projections/fastener/stage"
	"countback/projections/plan"
	"countback/projections/tightening"
)

// NextStage is what a stage card means for some holes of a joint now.
type NextStage struct {
	Order   string
	Member  string // "stud": of the studs, not of what goes onto them
	Stage   int    // from 1
	Stages  int
	What    string
	Kind    stage.Kind // empty: no list
	Unit    string     // of a value that is read
	Beside  string     // what it is worth in Unit, where the plan gives it in another one
	Known   bool       // its value is known
	Value   string     // the value alone: "40 N.m"
	Edition string
	Due     string        // it falls due later: when
	Holes   []events.Hole // nil: all of the joint
	Wrong   string        // why it is not in order now; empty: it is
	Why     string        // of a part that is pressed in: what is wrong with what was read

	least, most float64
}

// Range is what the value may be, in the unit of the kind; false where it is
// not known.
func (n *NextStage) Range() (least, most float64, ok bool) { return n.least, n.most, n.Known }

// NextStage finds the next stage of some holes of a joint, or of all: the first
// one that one of them lacks, and the holes that lack it. false: everything that
// is due now and later is recorded, or the plan does not have the joint.
func (j *Job) NextStage(joint events.Joint, holes []events.Hole) (NextStage, bool) {
	return j.State().nextStage(joint, holes, 0)
}

// StageOf is a stage by its number at some holes of a joint, whatever their
// turn. false: none of them has it.
func (j *Job) StageOf(joint events.Joint, holes []events.Hole, number int) (NextStage, bool) {
	return j.State().nextStage(joint, holes, number)
}

func (s *State) nextStage(joint events.Joint, holes []events.Hole, number int) (NextStage, bool) {
	ix, ok := s.lay.plan.Joint(joint)
	if !ok {
		return NextStage{}, false
	}
	if x, ok := s.nextStud(ix, holes); ok && number == 0 {
		return x, true
	}
	return s.nextTurned(ix, holes, number)
}

// nextTurned is the next stage of what is turned in some holes, whatever their
// studs owe.
func (s *State) nextTurned(ix plan.JointIndex, holes []events.Hole, number int) (NextStage, bool) {
	var list []candidate
	named := 0
	for _, seat := range s.lay.plan.Joints[ix].Seats {
		hole := s.lay.plan.Seats[seat].Hole
		if len(holes) > 0 && !contains(holes, hole) || len(s.lay.seats[seat].members) == 0 || s.now.Seat(seat) == plan.SeatAbsent {
			continue
		}
		named++
		li, spot := s.listAt(seat)
		n := 0
		if li >= 0 {
			n = s.lacks(li, spot, seat, number)
		} else if !s.holdsMain(seat) || number > 1 || s.seats[seat].stages > 0 {
			continue
		}
		if li < 0 || n > 0 {
			list = s.candidate(list, li, spot, n, hole)
		}
	}
	best := -1
	for i := range list {
		if best < 0 || list[i].before(&list[best]) {
			best = i
		}
	}
	if best < 0 {
		return NextStage{}, false
	}
	x := list[best].NextStage
	if len(x.Holes) == named && len(holes) == 0 && x.Due == "" {
		x.Holes = nil
	}
	return x, true
}

// candidate is a stage that some holes lack.
type candidate struct {
	NextStage
	list int32
}

// before reports whether a stage is offered before another: one that nothing
// holds up, of a list before none, the lower number.
func (c *candidate) before(o *candidate) bool {
	switch {
	case (c.Wrong == "") != (o.Wrong == ""):
		return c.Wrong == ""
	case (c.Kind == "") != (o.Kind == ""):
		return o.Kind == ""
	}
	return c.Stage < o.Stage
}

// candidate adds a hole to the stage that it lacks. A hole without a list is
// tightened once, by what a person says.
func (s *State) candidate(list []candidate, li int32, spot, n int, hole events.Hole) []candidate {
	x := candidate{NextStage{Stage: 1, Stages: 1, What: "torque that the plan does not give", Unit: s.job.TorqueUnit()}, li}
	if li >= 0 {
		x.NextStage = s.stageAt(li, spot, n)
	}
	for i := range list {
		if list[i].list == li && list[i].Stage == x.Stage && list[i].What == x.What {
			list[i].Holes = append(list[i].Holes, hole)
			return list
		}
	}
	if li >= 0 {
		x.Wrong = s.wrong(li, spot, n)
	}
	x.Holes = []events.Hole{hole}
	return append(list, x)
}

// stageAt is a stage of a list at a position.
func (s *State) stageAt(li int32, spot, n int) NextStage {
	l, ed := s.listOf(li), s.edition(li)
	st := &ed.List.Stages[n-1]
	x := NextStage{Order: l.ID, Stage: ed.Number(n), Stages: ed.Now(spot), What: st.String(), Kind: st.Kind, Unit: s.readIn(st), Beside: s.beside(st), Known: st.Known,
		Value: valueWords(*st), Due: st.Due, Edition: editionOf(l, ed), least: st.Min, most: st.Max}
	if st.Due != "" {
		x.Stages, x.What = x.Stage, st.String()+" "+st.Due
	}
	return x
}

// lacks is the first stage that a position lacks, or the one with a number; 0:
// none.
func (s *State) lacks(li int32, spot int, seat plan.SeatIndex, number int) int {
	ed, hard := s.edition(li), s.tight.lists[li].hard
	if number > 0 {
		return ed.Stage(spot, number)
	}
	for k := 1; k <= ed.All(spot); k++ {
		n := ed.Stage(spot, k)
		if n > 0 && (!hard && int(s.seats[seat].stages) < k || hard && s.cellLacks(li, spot, n)) {
			return n
		}
	}
	return 0
}

// editionOf is the name of the edition that a stage is told by; empty where the
// plan has only one.
func editionOf(l *tightening.List, ed *tightening.Edition) string {
	if len(l.Editions) < 2 {
		return ""
	}
	return ed.Label()
}

// cellLacks reports whether a cell is to be done: open, part done, or doubtful so
// that doing it again clears it.
func (s *State) cellLacks(li int32, spot, n int) bool {
	l, ed := s.listOf(li), s.edition(li)
	c, _ := s.matrix(li).Cell(l.Names[spot], n)
	return c.State == stage.Open || c.State == stage.Part || c.State == stage.Doubtful && ed.List.Stages[n-1].Kind != stage.Angle
}

// wrong is why a stage is not in order at a position now; what a person that is
// not known yet may break is not in it.
func (s *State) wrong(li int32, spot, n int) string {
	l, ed := s.listOf(li), s.edition(li)
	m := s.matrix(li).Clone()
	for i := range ed.List.Stages {
		for _, mark := range ed.List.Stages[i].Needs {
			m.Mark(mark, ed.Needs[i].Eval(s.now), "", m.At())
		}
		if d := ed.List.Stages[i].Due; d != "" {
			m.FallDue(d, "", m.At())
		}
	}
	if err := m.May(stage.Act{Position: l.Names[spot], Stage: n}); err != nil {
		return err.Error()
	}
	return ""
}
