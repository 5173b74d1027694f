package engine

import (
	"time"

	"countback/events"
	"countback/projections/fastener/stage"
	"countback/projections/ledger"
	"countback/projections/plan"
	"countback/projections/tightening"
)

// pressing is what was told of parts that are pressed in: for each of them a
// matrix of positions by stages, made from the log when it is asked for. A cell
// belongs to one pressing in, and is void when the piece comes out (rule R48).
type pressing struct {
	log   []pressTurn
	lists []pressState // by list of the layout
}

// pressState is how one part stands.
type pressState struct {
	m    *stage.Matrix // nil until it is asked for
	upto int           // how much of the log it has
	bare []bool        // by position: nothing is in it; nil: all are in
	told bool          // something of it was told here
}

// pressTurn is one line of the log: what was told of one position.
type pressTurn struct {
	fact  ledger.Fact
	list  int16
	spot  int16
	what  turned
	stage uint8 // as told, from 1
	met   bool  // what the stage wants first was so
}

// beginPress forgets everything for the parts of a layout.
func (s *State) beginPress() {
	s.press = pressing{log: s.press.log[:0], lists: resize(s.press.lists, len(s.lay.presses))}
}

func (s *State) logPress(li, spot int, what turned, number int, met bool) {
	ls := &s.press.lists[li]
	if ls.told = true; ls.bare == nil {
		ls.bare = make([]bool, len(s.lay.presses[li].Names))
	}
	switch what {
	case turnOut:
		ls.bare[spot] = true
	case turnIn:
		ls.bare[spot] = false
	}
	s.press.log = append(s.press.log, pressTurn{s.fact, int16(li), int16(spot), what, uint8(min(max(number, 0), 250)), met})
}

// pressOut: a part, or some positions of it, came out.
func (s *State) pressOut(p plan.PartIndex, positions []events.Hole) {
	li := int(s.lay.parts[p].press)
	if li < 0 {
		return
	}
	for spot, name := range s.lay.presses[li].Names {
		if len(positions) == 0 || contains(positions, name) {
			s.logPress(li, spot, turnOut, 0, false)
		}
	}
}

// pressIn: so many pieces of a part went into positions; what is empty is filled
// first. Where a position was full by the book another piece is in it now.
func (s *State) pressIn(p plan.PartIndex, positions []plan.Position, pieces int32) {
	li := int(s.lay.parts[p].press)
	if li < 0 {
		return
	}
	for _, empty := range [...]bool{true, false} {
		for _, pos := range positions {
			spot := s.lay.presses[li].Spot(pos.Name)
			if spot < 0 || pieces <= 0 || s.pressBare(li, spot) != empty {
				continue
			}
			if pieces -= int32(pos.Count); !empty && s.pressInNow(li, spot) {
				continue // this very fact filled it
			}
			s.logPress(li, spot, turnOut, 0, false)
			s.logPress(li, spot, turnIn, 0, false)
		}
	}
}

func (s *State) pressBare(li, spot int) bool {
	bare := s.press.lists[li].bare
	return bare != nil && bare[spot]
}

// pressInNow reports whether the fact in hand put a piece into a position.
func (s *State) pressInNow(li, spot int) bool {
	for i := len(s.press.log) - 1; i >= 0 && s.press.log[i].fact == s.fact; i-- {
		if t := &s.press.log[i]; int(t.list) == li && int(t.spot) == spot && t.what == turnIn {
			return true
		}
	}
	return false
}

// partPressed records a depth. What was pressed is in: a part that is out by the
// book is on from then on, presumed.
func (s *State) partPressed(e *events.PartPressed) {
	p, ok := s.lay.plan.Part(e.Part)
	if !ok || s.lay.parts[p].press < 0 {
		s.note(NoSuch, "part "+string(e.Part), "")
		return
	}
	li := int(s.lay.parts[p].press)
	x := &s.lay.presses[li]
	for spot, name := range x.Names {
		if len(e.Positions) > 0 && !contains(e.Positions, name) {
			continue
		}
		if s.pressBare(li, spot) {
			s.putOn(p, s.positions(p, []events.Hole{name}), 0, "", 0)
			if s.pressBare(li, spot) { // no piece is known that it could be
				s.logPress(li, spot, turnIn, 0, false)
			}
		}
		met := true
		if n := pressStage(x, spot, e.Stage); n > 0 {
			met = x.Needs[n-1].Eval(s.now)
		}
		s.logPress(li, spot, turnStage, e.Stage, met)
	}
	for _, name := range e.Positions {
		if x.Spot(name) < 0 {
			s.note(NoSuch, "position "+string(e.Part)+":"+string(name), "")
		}
	}
}

// depthAccepted takes the word of a person for what is doubtful.
func (s *State) depthAccepted(e *events.DepthAccepted) {
	p, ok := s.lay.plan.Part(e.Part)
	if !ok || s.lay.parts[p].press < 0 {
		s.note(NoSuch, "part "+string(e.Part), "")
		return
	}
	li := int(s.lay.parts[p].press)
	for spot, name := range s.lay.presses[li].Names {
		if len(e.Positions) == 0 || contains(e.Positions, name) {
			s.logPress(li, spot, turnAccept, e.Stage, true)
		}
	}
}

// pressStage is the stage of a list, from 1, that is a number at a position; 0:
// none.
func pressStage(x *tightening.Press, spot, number int) int {
	for n := range x.List.Stages {
		if x.Has(spot, n+1) {
			if number--; number == 0 {
				return n + 1
			}
		}
	}
	return 0
}

// pressMatrix is the matrix of a part with all that was told so far.
func (s *State) pressMatrix(li int) *stage.Matrix {
	ls, x := &s.press.lists[li], &s.lay.presses[li]
	if ls.m == nil {
		m, err := stage.New(x.List)
		if err != nil {
			panic("unreachable: a list that was checked: " + err.Error())
		}
		all := make([]int, len(x.List.Stages))
		for i := range all {
			all[i] = i + 1
		}
		for _, name := range x.Names {
			m.Presume(string(name), all, "", time.Time{}, "as the engine came")
		}
		ls.m, ls.upto = m, 0
	}
	for ; ls.upto < len(s.press.log); ls.upto++ {
		if t := &s.press.log[ls.upto]; int(t.list) == li {
			s.replayPress(ls.m, x, t)
		}
	}
	return ls.m
}

// replayPress takes one line of the log into a matrix.
func (s *State) replayPress(m *stage.Matrix, x *tightening.Press, t *pressTurn) {
	name := string(x.Names[t.spot])
	r := s.Fact(t.fact)
	who, at := string(r.Operator), time.UnixMicro(r.At).UTC()
	n := pressStage(x, int(t.spot), int(t.stage))
	switch t.what {
	case turnIn:
		m.In(name, who, at)
	case turnOut:
		m.Out(name, who, at)
	case turnAccept:
		m.Accept(name, n, who, at)
	case turnStage:
		ev, _ := s.job.standing(t.fact)
		e, _ := ev.(events.PartPressed)
		a := stage.Act{Position: name, Stage: n, Who: who, Tool: e.Tool, At: at}
		if n > 0 {
			st := &x.List.Stages[n-1]
			for _, mark := range st.Needs {
				m.Mark(mark, t.met, who, at)
			}
			a.Doubt = readInto(&a, st, e.Value, e.Unit, e.Read)
		}
		m.Record(a)
	}
}

// readInto puts what was read into an act, in the unit of its stage; the answer
// is what is wrong with it, empty for nothing.
func readInto(a *stage.Act, st *stage.Stage, value float64, unit string, read bool) string {
	if !read {
		return ""
	}
	v, ok := inUnit(value, unit, st.Kind)
	if !ok {
		return numberWords(value) + " " + unit + " was read, and " + st.String() + " is none of that: read it again"
	}
	a.Value, a.Read = rounded(v, value, st), true
	if unit != "" && unit != st.Kind.Unit() {
		a.As = numberWords(value) + " " + unit
	}
	return ""
}

// carryPress takes what was told over to another edition of the job's plan: by
// the names of parts and positions.
func (s *State) carryPress(old *layout) {
	log := s.press.log
	s.press = pressing{lists: make([]pressState, len(s.lay.presses))}
	now := s.fact
	for _, t := range log {
		o := &old.presses[t.list]
		p, ok := s.lay.plan.Part(old.plan.Parts[o.Part].ID)
		if !ok || s.lay.parts[p].press < 0 {
			continue
		}
		li := int(s.lay.parts[p].press)
		if spot := s.lay.presses[li].Spot(o.Names[t.spot]); spot >= 0 {
			s.fact = t.fact
			s.logPress(li, spot, t.what, int(t.stage), t.met)
		}
	}
	s.fact = now
}
