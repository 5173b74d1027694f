package stage

import (
	"fmt"
	"slices"
	"time"
)

// breaks says why an act breaks an angle stage off, or why it was broken off
// before; empty if neither.
func (m *Matrix) breaks(k, i int, a Act) string {
	s := m.set[i]
	if m.list.Stages[k].Kind != Angle {
		return ""
	}
	begun, open := m.round(k, s)
	if m.broken[k][s] {
		return "broken off before"
	}
	if begun.Position == "" || !open {
		return ""
	}
	switch {
	case !m.list.AnyHands && begun.Who != "" && a.Who != "" && begun.Who != a.Who:
		return fmt.Sprintf("begun by %s and gone on with by %s", begun.Who, a.Who)
	case m.list.Pause > 0 && !begun.At.IsZero() && !a.At.IsZero() && a.At.Sub(begun.At) > m.list.Pause:
		return "gone on with after " + pauseWords(a.At.Sub(begun.At))
	}
	return ""
}

// round is the cell of a stage and set that was told last, and whether the
// stage is not yet done at all its positions.
func (m *Matrix) round(k, set int) (last Cell, open bool) {
	for _, p := range m.members[set] {
		c := m.cells[k][p]
		if c.Position == "" {
			continue
		}
		if c.State != Done && !m.bare[p] {
			open = true
		}
		if c.State != Open && c.told > last.told {
			last = c
		}
	}
	return last, open
}

// breakOff makes every position that was turned in a stage of a set doubtful,
// for the reason for which it was broken off first.
func (m *Matrix) breakOff(k, set int, why string) {
	if !m.broken[k][set] {
		m.reason[k][set] = why
	}
	m.broken[k][set] = true
	var turned []string
	for _, p := range m.members[set] {
		if c := m.cells[k][p]; c.Position != "" && c.State != Open {
			turned = append(turned, c.Position)
		}
	}
	text := fmt.Sprintf("%s was %s: restart it, loosening %s, or accept it", m.list.Stages[k], m.reason[k][set], names(turned))
	for _, p := range m.members[set] {
		c := &m.cells[k][p]
		if c.Position == "" || c.State == Open || c.State == Over || c.State == Doubtful && c.Why != "" && !c.broke {
			continue
		}
		c.State, c.Why, c.broke = Doubtful, text, true
	}
}

func pauseWords(d time.Duration) string {
	if h := int(d.Hours()); h > 0 {
		return fmt.Sprintf("%d h %d min", h, int(d.Minutes())%60)
	}
	return fmt.Sprintf("%d min", int(d.Minutes()))
}

// Loosened says that a position was loosened. Where the list has a loosening
// there, with all before it done, that stage is done. Otherwise the position
// loses all its cells, and with it those that may not be loosened without it,
// which are named. A position that the list does not have is kept as a stray.
func (m *Matrix) Loosened(position, who string, at time.Time) []string {
	if k, ok := m.planned(position); ok {
		m.Record(Act{Position: position, Stage: k, Who: who, At: at})
		return nil
	}
	return m.lose("loosened", position, who, at)
}

// planned is the loosening, from 1, that comes next at a position.
func (m *Matrix) planned(position string) (int, bool) {
	i, ok := m.index[position]
	if !ok {
		return 0, false
	}
	for k := range m.cells {
		if c := m.cells[k][i]; c.Position != "" && c.State != Done && !m.later(k) {
			return k + 1, m.list.Stages[k].Kind == Loosen
		}
	}
	return 0, false
}

// Out says that the fastener of a position came out: its cells belonged to that
// fitting, and it loses them, as by Loosened.
func (m *Matrix) Out(position, who string, at time.Time) []string {
	if i, ok := m.index[position]; ok {
		m.bare[i] = true
	}
	return m.lose(whyOut, position, who, at)
}

// In says that a fastener went into a position. Until then nobody waits for
// one that came out: what is not in cannot be tightened.
func (m *Matrix) In(position, who string, at time.Time) {
	i, ok := m.index[position]
	m.history = append(m.history, Entry{What: "in", Position: position, Who: who, At: at, Stray: !ok})
	if !ok {
		return
	}
	m.bare[i] = false
	for k := range m.cells {
		if c := &m.cells[k][i]; c.Position != "" && c.State == Open && c.Why == whyOut {
			c.Why = "fitted anew"
		}
	}
}

// whyOut is why the cells of a position that came out are open, until something
// goes in again.
const whyOut = "out"

// Bare reports whether nothing is in a position.
func (m *Matrix) Bare(position string) bool {
	i, ok := m.index[position]
	return ok && m.bare[i]
}

func (m *Matrix) lose(what, position, who string, at time.Time) []string {
	i, ok := m.index[position]
	m.history = append(m.history, Entry{What: what, Position: position, Who: who, At: at, Stray: !ok})
	if !ok {
		return nil
	}
	m.empty(i, what)
	var also []string
	for _, j := range m.with[i] {
		m.empty(j, fmt.Sprintf("%s was %s: not without this one", position, what))
		also = append(also, m.list.Order[j])
	}
	return also
}

// empty empties all cells of a position.
func (m *Matrix) empty(i int, why string) {
	for k := range m.cells {
		c := &m.cells[k][i]
		if c.Position == "" || c.State == Open {
			continue
		}
		*c = Cell{Position: c.Position, Stage: c.Stage, Why: why, Emptied: c.Emptied + 1, Short: c.Short}
	}
	for k := range m.cells {
		m.mend(k, m.set[i])
	}
}

// mend ends a broken stage when nothing doubtful is left of it.
func (m *Matrix) mend(k, set int) {
	for _, p := range m.members[set] {
		if c := m.cells[k][p]; c.Position != "" && c.State == Doubtful {
			return
		}
	}
	m.broken[k][set] = false
}

// Restart says that a stage is begun again at the set of a position: everything
// that was turned in it there is loosened first and loses all its cells. It
// names those positions.
func (m *Matrix) Restart(position string, stage int, who string, at time.Time) []string {
	c, ok := m.Cell(position, stage)
	m.history = append(m.history, Entry{What: "restarted", Position: position, Stage: stage, Who: who, At: at, Stray: !ok})
	if !ok {
		return nil
	}
	var loose []int
	set := m.set[m.index[c.Position]]
	for _, p := range m.members[set] {
		if c := m.cells[stage-1][p]; c.Position == "" || c.State == Open {
			continue
		}
		for _, q := range append([]int{p}, m.with[p]...) {
			if !slices.Contains(loose, q) {
				loose = append(loose, q)
			}
		}
	}
	slices.Sort(loose)
	var list []string
	for _, p := range loose {
		m.empty(p, "restarted")
		list = append(list, m.list.Order[p])
	}
	m.mend(stage-1, set)
	return list
}

// Accept says that a person answers for what is doubtful in a stage at the set
// of a position: those cells are done, with the name of who accepted them. What
// is over or part done stays so. It names the positions.
func (m *Matrix) Accept(position string, stage int, who string, at time.Time) []string {
	c, ok := m.Cell(position, stage)
	m.history = append(m.history, Entry{What: "accepted", Position: position, Stage: stage, Who: who, At: at, Stray: !ok})
	if !ok {
		return nil
	}
	var list []string
	set := m.set[m.index[c.Position]]
	for _, p := range m.members[set] {
		if c := &m.cells[stage-1][p]; c.Position != "" && c.State == Doubtful {
			c.State, c.Accepted = Done, who
			list = append(list, c.Position)
		}
	}
	m.mend(stage-1, set)
	return list
}
