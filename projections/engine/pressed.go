package engine

import (
	"countback/events"
	"countback/projections/fastener/stage"
	"countback/projections/plan"
	"countback/projections/tightening"
)

// Pressed is how a part that is pressed in stands: positions by stages; false
// where the plan reads no depth of it.
func (j *Job) Pressed(part events.Part) (Tightened, bool) {
	s := j.State()
	p, ok := s.lay.plan.Part(part)
	if !ok || s.lay.parts[p].press < 0 {
		return Tightened{}, false
	}
	return s.pressView(int(s.lay.parts[p].press)), true
}

// pressView is the view of one list. The matrix is read as it is now, on a copy.
func (s *State) pressView(li int) Tightened {
	x := &s.lay.presses[li]
	m := s.pressMatrix(li).Clone()
	for i := range x.List.Stages {
		for _, mark := range x.List.Stages[i].Needs {
			m.Mark(mark, x.Needs[i].Eval(s.now), "", m.At())
		}
	}
	t := Tightened{Order: x.ID, Edition: 1, Count: m.Count(), History: m.History(), s: s, li: -1}
	for spot := range x.Names {
		t.Spots = append(t.Spots, s.pressSpot(li, spot))
	}
	for spot, name := range x.Names {
		for n := 1; pressStage(x, spot, n) > 0; n++ {
			at := pressStage(x, spot, n)
			c, _ := m.Cell(string(name), at)
			t.cell(n, spot, &x.List.Stages[at-1], c)
		}
	}
	t.Next, t.Owed = s.pressTurns(&t, x, m.Next(), false), s.pressTurns(&t, x, m.Owed(), true)
	return t
}

// cell puts one cell of a part into the row of its number.
func (t *Tightened) cell(number, spot int, st *stage.Stage, c stage.Cell) {
	for len(t.Rows) < number {
		t.Rows = append(t.Rows, StageRow{Number: len(t.Rows) + 1, Cells: make([]Cell, len(t.Spots))})
	}
	row := &t.Rows[number-1]
	row.What = addOnce(row.What, st.String())
	for _, need := range st.Needs {
		row.Needs = addOnce(row.Needs, need)
	}
	row.Cells[spot] = Cell{Cell: c, Is: true, What: st.String(), Unit: st.Kind.Unit()}
}

func (s *State) pressSpot(li, spot int) Spot {
	x := &s.lay.presses[li]
	state := s.now.Part(x.Part)
	on := state == plan.PartOn || state == plan.PartPartly || state == plan.PartAway
	return Spot{Name: string(x.Names[spot]), Part: s.lay.plan.Parts[x.Part].ID, Hole: x.Names[spot], In: on && !s.pressBare(li, spot),
		Here: s.press.lists[li].told && on && !s.pressBare(li, spot), Absent: state == plan.PartAbsent}
}

// pressTurns are turns of a matrix as people tell them.
func (s *State) pressTurns(t *Tightened, x *tightening.Press, list []stage.Turn, all bool) []Turn {
	var out []Turn
	for _, m := range list {
		spot := x.Spot(events.Hole(m.Position))
		number, of := 0, 0
		for n := 1; pressStage(x, spot, n) > 0; n++ {
			if of = n; pressStage(x, spot, n) == m.Stage {
				number = n
			}
		}
		turn := Turn{Spot: t.Spots[spot], Number: number, Of: of, What: m.Do.String(), Value: valueWords(m.Do), Kind: m.Do.Kind, State: m.State, Why: m.Why}
		if turn.State == stage.Part {
			turn.Why = t.Rows[number-1].Cells[spot].Why
		}
		if !turn.In {
			if !all || turn.Absent {
				continue
			}
			turn.Why = "nothing is in it: press it in first"
		}
		out = append(out, turn)
	}
	return out
}

// NextPress finds the next depth of some positions of a part, or of all. A
// reading is of one piece: without positions it is that of the first one that
// lacks it. false: nothing is owed, or nothing is read of this part.
func (j *Job) NextPress(part events.Part, positions []events.Hole) (NextStage, bool) {
	return j.State().nextPress(part, positions, 0)
}

// PressOf is a depth by its number, whatever its turn.
func (j *Job) PressOf(part events.Part, positions []events.Hole, number int) (NextStage, bool) {
	return j.State().nextPress(part, positions, number)
}

func (s *State) nextPress(part events.Part, positions []events.Hole, number int) (NextStage, bool) {
	p, ok := s.lay.plan.Part(part)
	if !ok || s.lay.parts[p].press < 0 || s.now.Part(p) == plan.PartAbsent {
		return NextStage{}, false
	}
	li := int(s.lay.parts[p].press)
	x := &s.lay.presses[li]
	var next NextStage
	found := false
	for spot, name := range x.Names {
		if len(positions) > 0 && !contains(positions, name) {
			continue
		}
		n, of := s.pressLacks(li, spot, number)
		switch {
		case n == 0:
		case !found:
			next, found = s.pressAt(li, spot, n, of), true
		case len(positions) > 0 && next.Stage == n:
			next.Holes = append(next.Holes, name)
		}
	}
	return next, found
}

// pressLacks is the number of the first stage that a position lacks, or the one
// that is asked for; 0: none. Of: how many it has.
func (s *State) pressLacks(li, spot, number int) (lacks, of int) {
	x := &s.lay.presses[li]
	for pressStage(x, spot, of+1) > 0 {
		of++
	}
	if number > 0 {
		if number > of {
			return 0, of
		}
		return number, of
	}
	for n := 1; n <= of; n++ {
		c, _ := s.pressMatrix(li).Cell(string(x.Names[spot]), pressStage(x, spot, n))
		if c.State == stage.Open || c.State == stage.Part || c.State == stage.Doubtful {
			return n, of
		}
	}
	return 0, of
}

func (s *State) pressAt(li, spot, number, of int) NextStage {
	x := &s.lay.presses[li]
	at := pressStage(x, spot, number)
	st := &x.List.Stages[at-1]
	n := NextStage{Order: x.ID, Stage: number, Stages: of, What: st.String(), Kind: st.Kind, Unit: s.readIn(st), Beside: s.beside(st), Known: st.Known, Value: valueWords(*st),
		Holes: []events.Hole{x.Names[spot]}, least: st.Min, most: st.Max}
	m := s.pressMatrix(li)
	if c, _ := m.Cell(string(x.Names[spot]), at); c.State == stage.Part {
		n.Why = c.Why
	}
	m = m.Clone()
	for i := range x.List.Stages {
		for _, mark := range x.List.Stages[i].Needs {
			m.Mark(mark, x.Needs[i].Eval(s.now), "", m.At())
		}
	}
	if err := m.May(stage.Act{Position: string(x.Names[spot]), Stage: at}); err != nil {
		n.Wrong = err.Error()
	}
	return n
}

// AcceptDepth is a person's word for what is doubtful of a part that was pressed
// in (rule R49).
type AcceptDepth struct {
	Part      events.Part
	Positions []events.Hole
	Why       string
}

func (c AcceptDepth) decide(s *State) (events.Event, error) {
	if c.Why == "" {
		return nil, refuse(Malformed, "say why it is good", "nothing was accepted: no reason")
	}
	t, ok := s.job.Pressed(c.Part)
	if !ok {
		return nil, refuse(Unknown, "scan a part that is pressed in", "the plan reads no depth of %s", s.partWords(string(c.Part)))
	}
	for _, row := range t.Rows {
		for i, cell := range row.Cells {
			if len(c.Positions) > 0 && !contains(c.Positions, t.Spots[i].Hole) {
				continue
			}
			switch cell.State {
			case stage.Doubtful:
				return events.DepthAccepted{Part: c.Part, Positions: c.Positions, Stage: row.Number, Why: c.Why}, nil
			case stage.Over:
				return nil, refuse(Conflict, "press it out, scan it OFF, and press in a new one", "%s: %s", s.partWords(string(c.Part)), cell.Why)
			}
		}
	}
	return nil, refuse(Conflict, "scan STAGE with the depth that was read", "nothing is doubtful of %s", s.partWords(string(c.Part)))
}

// unpressed lists the depths that are owed of what is in, by part: of which
// positions, what, and why.
func (s *State) unpressed() []Unpressed {
	var list []Unpressed
	for li := range s.press.lists {
		if !s.press.lists[li].told {
			continue
		}
		t := s.pressView(li)
		for _, o := range t.Owed {
			if !o.In || o.State == stage.Doubtful || o.State == stage.Over {
				continue // the latter two are red lines of their own
			}
			if o.State == stage.Open {
				o.Why = "" // that it was out before
			}
			n := len(list)
			if n > 0 && list[n-1].Part == o.Part && list[n-1].What == o.What && list[n-1].Why == o.Why {
				list[n-1].Positions = append(list[n-1].Positions, o.Hole)
				continue
			}
			list = append(list, Unpressed{o.Part, []events.Hole{o.Hole}, o.What, o.Why})
		}
	}
	return list
}

// Unpressed is a depth that is owed of a part.
type Unpressed struct {
	Part      events.Part
	Positions []events.Hole
	What      string // "press-depth 0.5 to 1 mm"
	Why       string // what is wrong with what was read; empty: nothing was
}

// words are the fact, and the scan that clears it.
func (u *Unpressed) words(s *State) (text, scan string) {
	p, _ := s.lay.plan.Part(u.Part)
	scan = "scan part " + string(u.Part)
	at := s.pressedWords(u.Part, u.Positions)
	if len(s.lay.plan.Parts[p].Positions) > 1 {
		scan += ", position " + string(u.Positions[0])
	}
	if u.Why != "" {
		return at + ": " + u.Why, scan + ", STAGE"
	}
	return at + ": pressed in, and " + u.What + " was not read", scan + ", STAGE"
}

// presses lists what is doubtful or too deep of parts that are pressed in.
func (r *redList) presses() {
	for li := range r.s.press.lists {
		if !r.s.press.lists[li].told {
			continue
		}
		t := r.s.pressView(li)
		for _, row := range t.Rows {
			r.stagesOf(&t, &row)
		}
	}
}

// presses are the depths that are owed: the part looks finished and is not.
func (c *auditList) presses() {
	for _, u := range c.s.unpressed() {
		p, _ := c.s.lay.plan.Part(u.Part)
		text, scan := u.words(c.s)
		c.add(c.due(plan.SeatsFinished), RedSeat, c.s.parts[p].changed, text, scan)
	}
}

// pressedWords are positions of a part; a part with one place needs none.
func (s *State) pressedWords(part events.Part, at []events.Hole) string {
	if p, ok := s.lay.plan.Part(part); ok && len(s.lay.plan.Parts[p].Positions) == 1 {
		at = nil
	}
	return s.positionsWords(part, at...)
}

// tellsPress tells what was read of a part that was pressed in.
func (s *State) tellsPress(ev events.Event) string {
	switch e := ev.(type) {
	case events.PartPressed:
		text := s.pressedWords(e.Part, e.Positions) + ": " + e.What
		if e.Read {
			text += ", read " + numberWords(e.Value) + " " + e.Unit
		} else {
			text += ", pressed in and not measured"
		}
		if e.Tool != "" {
			text += ", with " + e.Tool
		}
		return text
	case events.DepthAccepted:
		return s.pressedWords(e.Part, e.Positions) + ": its depth accepted, " + e.Why
	}
	return ""
}
