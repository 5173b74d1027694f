package engine

import (
	"strings"
	"time"

	"countback/events"
	"countback/projections/fastener/stage"
	"countback/projections/ledger"
	"countback/projections/plan"
	"countback/projections/tightening"
)

// studding is what was told of studs that are set by a list of their own, beside
// that of the nuts which go onto them: a matrix for each list, made from the log
// when it is asked for. A cell belongs to one stud in its hole, and is void when
// that comes out (rule R73).
type studding struct {
	log   []studTurn
	lists []studState // by stud list of the layout
}

// studState is how one list stands.
type studState struct {
	m    *stage.Matrix
	upto int
	told bool // something of it was told here
}

// studTurn is one line of the log: what was told of one stud.
type studTurn struct {
	fact  ledger.Fact
	seat  plan.SeatIndex
	list  int16
	spot  int16
	what  turned
	stage uint8
	met   bool
}

// beginStuds forgets everything for the lists of a layout.
func (s *State) beginStuds() {
	s.studs = studding{log: s.studs.log[:0], lists: resize(s.studs.lists, len(s.lay.studs))}
}

// logStud writes a line for the stud of a hole, if it has a list.
func (s *State) logStud(ix plan.SeatIndex, what turned, number int, met bool) {
	sl := &s.lay.seats[ix]
	if sl.stud < 0 {
		return
	}
	s.studs.lists[sl.stud].told = true
	s.studs.log = append(s.studs.log, studTurn{s.fact, ix, sl.stud, sl.studSpot, what, uint8(min(max(number, 0), 250)), met})
}

// studIn: members went into a hole, the stud perhaps among them.
func (s *State) studIn(ix plan.SeatIndex, in uint8) {
	if sl := &s.lay.seats[ix]; sl.stud >= 0 && in&sl.studBit != 0 {
		s.logStud(ix, turnOut, 0, false)
		s.logStud(ix, turnIn, 0, false)
	}
}

// studOut: members came out of a hole, the stud perhaps among them.
func (s *State) studOut(ix plan.SeatIndex, out uint8) {
	if sl := &s.lay.seats[ix]; sl.stud >= 0 && out&sl.studBit != 0 {
		s.logStud(ix, turnOut, 0, false)
	}
}

// bareStud reports whether a stud with a list of its own is in a hole, and nothing
// on it.
func bareStud(st *seat, sl *seatLayout) bool {
	return sl.stud >= 0 && st.in&sl.studBit != 0 && st.in&mainMember(sl) == 0
}

// studless reports whether a stud is out of a hole, and what goes onto it is in by
// the book.
func studless(st *seat, sl *seatLayout) bool {
	return !st.broken && sl.main&^sl.stay&st.in != 0 && sl.stay&^st.in != 0
}

func (s *State) studBare(ix plan.SeatIndex) bool { return bareStud(&s.seats[ix], &s.lay.seats[ix]) }

// ofStuds is the list of studs that has a name and holes of a joint; -1: none.
func (s *State) ofStuds(order string, seats []plan.SeatIndex) int {
	if order == "" || len(s.lay.studs) == 0 {
		return -1
	}
	for _, ix := range seats {
		if li := s.lay.seats[ix].stud; li >= 0 && s.lay.studs[li].ID == order {
			return int(li)
		}
	}
	return -1
}

// studStage records one stage on the studs of some holes. One that is single-use
// is used by it.
func (s *State) studStage(li int, seats []plan.SeatIndex, e *events.StageRecorded) {
	ed := s.lay.studs[li].Edition(0)
	s.need = s.need[:0]
	for _, ix := range seats {
		sl := &s.lay.seats[ix]
		if int(sl.stud) != li || s.seats[ix].in&sl.studBit == 0 || s.now.Seat(ix) == plan.SeatAbsent {
			continue
		}
		met := true
		if n := ed.Stage(int(sl.studSpot), e.Stage); n > 0 {
			met = ed.Needs[n-1].Eval(s.now)
		}
		s.logStud(ix, turnStage, e.Stage, met)
		for i, m := range sl.members {
			if sl.studBit == 1<<i && (m.single || strings.HasPrefix(e.What, "angle") || strings.HasPrefix(e.What, "stretch")) {
				s.wantKind(sl.group, m.kind)
			}
		}
	}
	s.useUpTurned(s.need)
}

// studAct begins a stage of studs anew, or takes the word of a person for it.
func (s *State) studAct(li int, seats []plan.SeatIndex, number int, what turned) {
	for _, ix := range seats {
		if sl := &s.lay.seats[ix]; int(sl.stud) == li && s.lay.studs[li].Edition(0).Stage(int(sl.studSpot), number) > 0 {
			s.logStud(ix, what, number, true)
		}
	}
}

// studMatrix is the matrix of a list of studs with all that was told so far.
func (s *State) studMatrix(li int) *stage.Matrix {
	ls, l := &s.studs.lists[li], &s.lay.studs[li]
	ed := l.Edition(0)
	if ls.m == nil {
		list := ed.List
		list.Pause, _ = s.pauseOf(ed)
		m, err := stage.New(list)
		if err != nil {
			panic("unreachable: a list that was checked: " + err.Error())
		}
		for _, name := range l.Names {
			m.Presume(name, everyStage(ed), "", time.Time{}, "as the engine came")
		}
		ls.m, ls.upto = m, 0
	}
	for ; ls.upto < len(s.studs.log); ls.upto++ {
		if t := &s.studs.log[ls.upto]; int(t.list) == li {
			s.replayStud(ls.m, l, ed, t)
		}
	}
	return ls.m
}

func (s *State) replayStud(m *stage.Matrix, l *tightening.List, ed *tightening.Edition, t *studTurn) {
	name := l.Names[t.spot]
	r := s.Fact(t.fact)
	who, at := string(r.Operator), time.UnixMicro(r.At).UTC()
	n := ed.Stage(int(t.spot), int(t.stage))
	switch t.what {
	case turnIn:
		m.In(name, who, at)
	case turnOut:
		m.Out(name, who, at)
	case turnLoose:
		m.Loosened(name, who, at)
	case turnAgain:
		m.Restart(name, n, who, at)
	case turnAccept:
		m.Accept(name, n, who, at)
	case turnStage:
		ev, _ := s.job.standing(t.fact)
		e, _ := ev.(events.StageRecorded)
		a := stage.Act{Position: name, Stage: n, Who: who, Tool: e.Tool, At: at}
		if n > 0 {
			st := &ed.List.Stages[n-1]
			for _, mark := range st.Needs {
				m.Mark(mark, t.met, who, at)
			}
			if st.Due != "" && !m.Fallen(st.Due) {
				m.FallDue(st.Due, who, at)
			}
			a.Doubt = readInto(&a, st, e.Value, e.Unit, e.Read)
		}
		m.Record(a)
	}
}

// studLacks is the stage, from 1 of its list, that the stud of a hole lacks first:
// a stud that was set in here and not turned to its own end. 0: none.
func (s *State) studLacks(ix plan.SeatIndex) int {
	sl := &s.lay.seats[ix]
	if sl.stud < 0 || !s.studs.lists[sl.stud].told || s.seats[ix].in&sl.studBit == 0 || s.now.Seat(ix) == plan.SeatAbsent {
		return 0
	}
	l, spot := &s.lay.studs[sl.stud], int(sl.studSpot)
	ed := l.Edition(0)
	for k := 1; k <= ed.Now(spot); k++ {
		n := ed.Stage(spot, k)
		if n == 0 {
			continue
		}
		c, _ := s.studMatrix(int(sl.stud)).Cell(l.Names[spot], n)
		if c.State == stage.Open || c.State == stage.Part || c.State == stage.Doubtful && ed.List.Stages[n-1].Kind != stage.Angle {
			return n
		}
	}
	return 0
}

// studOwes is what the stud of a hole owes, in words; empty: nothing.
func (s *State) studOwes(ix plan.SeatIndex) string {
	n := s.studLacks(ix)
	if n == 0 {
		return ""
	}
	return s.lay.studs[s.lay.seats[ix].stud].Edition(0).List.Stages[n-1].String()
}

// nextStud is the next stage of the studs of some holes of a joint: it comes
// before the nuts.
func (s *State) nextStud(joint plan.JointIndex, holes []events.Hole) (NextStage, bool) {
	var x NextStage
	found := false
	li, at := int16(-1), 0
	for _, ix := range s.lay.plan.Joints[joint].Seats {
		hole := s.lay.plan.Seats[ix].Hole
		if len(holes) > 0 && !contains(holes, hole) {
			continue
		}
		n := s.studLacks(ix)
		switch sl := &s.lay.seats[ix]; {
		case n == 0:
		case !found:
			l := &s.lay.studs[sl.stud]
			ed := l.Edition(0)
			st := &ed.List.Stages[n-1]
			x = NextStage{Order: l.ID, Member: "stud", Stage: ed.Number(n), Stages: ed.Now(int(sl.studSpot)), What: st.String(), Kind: st.Kind, Unit: st.Kind.Unit(),
				Known: st.Known, Value: valueWords(*st), Edition: editionOf(l, ed), Holes: []events.Hole{hole}, least: st.Min, most: st.Max, Wrong: s.studWrong(int(sl.stud), int(sl.studSpot), n)}
			found, li, at = true, sl.stud, n
		case sl.stud == li && n == at:
			x.Holes = append(x.Holes, hole)
		}
	}
	return x, found
}

// studWrong is why a stage of a stud is not in order now; empty: it is.
func (s *State) studWrong(li, spot, n int) string {
	l := &s.lay.studs[li]
	ed := l.Edition(0)
	m := s.studMatrix(li).Clone()
	for i := range ed.List.Stages {
		for _, mark := range ed.List.Stages[i].Needs {
			m.Mark(mark, ed.Needs[i].Eval(s.now), "", m.At())
		}
	}
	if err := m.May(stage.Act{Position: l.Names[spot], Stage: n}); err != nil {
		return err.Error()
	}
	return ""
}

// carryStuds takes what was told over to another edition of the job's plan: by the
// names of holes.
func (s *State) carryStuds(old *layout) {
	log := s.studs.log
	s.studs = studding{lists: make([]studState, len(s.lay.studs))}
	now := s.fact
	for _, t := range log {
		if ix, ok := s.lay.plan.Seat(old.plan.Seats[t.seat].ID); ok {
			s.fact = t.fact
			s.logStud(ix, t.what, int(t.stage), t.met)
		}
	}
	s.fact = now
}
