package stage

import "fmt"

// Turn is one cell that is to be done, and how.
type Turn struct {
	Position string
	Stage    int // from 1
	Do       Stage
	State    State
	Why      string // what holds it up, is wrong with it, or emptied it
}

// String is the turn as it is said at the bench.
func (t Turn) String() string {
	text := fmt.Sprintf("%s: %s", t.Position, t.Do)
	if t.Why != "" {
		text += "; " + t.Why
	}
	return text
}

// Owed are all cells that are not done, of the stages that are due, stage by
// stage and in each in the order of the list.
func (m *Matrix) Owed() []Turn { return m.listed(false) }

// Later are the cells of the stages that fall due later, with what they wait
// for.
func (m *Matrix) Later() []Turn { return m.listed(true) }

func (m *Matrix) listed(later bool) []Turn {
	var list []Turn
	for k, row := range m.cells {
		if m.later(k) != later {
			continue
		}
		for i, c := range row {
			if c.Position == "" || c.State == Done {
				continue
			}
			t := Turn{Position: c.Position, Stage: k + 1, Do: m.list.Stages[k], State: c.State, Why: c.Why}
			switch {
			case later:
				t.Why = "due " + t.Do.Due
			case c.State == Open || c.State == Part:
				if why := m.hold(k, i); why != "" {
					t.Why = why
				}
			}
			list = append(list, t)
		}
	}
	return list
}

// Finished reports whether nothing is owed: every cell of every stage that is
// due is done.
func (m *Matrix) Finished() bool { return len(m.Owed()) == 0 }

// Next are the turns that can be done now, in the order of the list: of each
// set the open and part done cells of the first stage that has any and that
// nothing holds up.
func (m *Matrix) Next() []Turn {
	var list []Turn
	for set := range m.members {
		list = append(list, m.nextOf(set)...)
	}
	return list
}

func (m *Matrix) nextOf(set int) []Turn {
	var list []Turn
	for k := range m.cells {
		for _, p := range m.members[set] {
			c := m.cells[k][p]
			if c.Position != "" && (c.State == Open || c.State == Part) && m.hold(k, p) == "" {
				list = append(list, Turn{Position: c.Position, Stage: k + 1, Do: m.list.Stages[k], State: c.State})
			}
		}
		if len(list) > 0 {
			return list
		}
	}
	return nil
}

// hold is why a cell may not be done now; empty if it may.
func (m *Matrix) hold(k, i int) string {
	if why := m.obstacle(k, i); why != "" {
		return why
	}
	if m.broken[k][m.set[i]] {
		return fmt.Sprintf("%s was broken off: restart it or accept what was done of it", m.list.Stages[k])
	}
	return ""
}

// Refusal is a no to a question: the fact, then the next action.
type Refusal struct {
	Position string
	Stage    int
	Text     string
}

// Error is the text.
func (r *Refusal) Error() string { return r.Text }

// May answers whether an act may be done now. The answer is no, as a *Refusal,
// where the list has no such cell, where an earlier stage, a mark or a date is
// missing, where it is done already, and where other hands or a pause would
// break an angle stage off.
func (m *Matrix) May(a Act) error {
	no := func(text string) error { return &Refusal{a.Position, a.Stage, text} }
	c, ok := m.Cell(a.Position, a.Stage)
	if !ok {
		return no(fmt.Sprintf("stage %d at %s: the list %s has none; it has %d stages", a.Stage, a.Position, m.list.ID, len(m.cells)))
	}
	k, i := a.Stage-1, m.index[a.Position]
	s := m.list.Stages[k]
	switch {
	case c.State == Done:
		return no(fmt.Sprintf("%s at %s is done: go on with the next", s, c.Position))
	case c.State == Over || c.State == Doubtful && s.Kind == Angle:
		return no(fmt.Sprintf("%s at %s is %s: %s", s, c.Position, c.State, c.Why))
	}
	if why := m.hold(k, i); why != "" {
		return no(why)
	}
	if why := m.breaks(k, i, a); why != "" {
		return no(fmt.Sprintf("%s would be %s: restart it from its first stage", s, why))
	}
	return nil
}
