package stage

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"
)

// Record takes an act into its cell and says how the cell stands then. It never
// refuses: an act that the list has no cell for is kept in the history as a
// stray, and false comes back.
func (m *Matrix) Record(a Act) (Cell, bool) {
	e := Entry{What: "stage", Position: a.Position, Stage: a.Stage, Value: a.Value, Read: a.Read, Who: a.Who, Tool: a.Tool, At: a.At}
	old, ok := m.Cell(a.Position, a.Stage)
	e.Stray = !ok
	m.history = append(m.history, e)
	if !ok {
		return Cell{}, false
	}
	k, i := a.Stage-1, m.index[a.Position]
	c := &m.cells[k][i]
	why := m.obstacle(k, i)
	broken := m.breaks(k, i, a)
	c.Who, c.Tool, c.At, c.Accepted, c.Presumed, c.broke, c.told = a.Who, a.Tool, a.At, "", false, false, len(m.history)
	c.Early = m.early(k, i)
	c.weigh(m.list.Stages[k], old, a)
	if why == "" {
		why = a.Doubt
	}
	if why != "" && c.State != Over {
		c.State, c.Why = Doubtful, why
	}
	if broken != "" {
		m.breakOff(k, m.set[i], broken)
	}
	return *c, true
}

// Presume says that some stages of a position are done and all others of it are
// not, though nobody told them one by one: as it came, or told as a whole. Why
// says which.
func (m *Matrix) Presume(position string, stages []int, who string, at time.Time, why string) {
	i, ok := m.index[position]
	m.history = append(m.history, Entry{What: "presumed", Position: position, Name: why, Who: who, At: at, Stray: !ok})
	if !ok {
		return
	}
	m.empty(i, why)
	for k := range m.cells {
		if c := &m.cells[k][i]; c.Position != "" && slices.Contains(stages, k+1) {
			c.State, c.Why, c.Who, c.At, c.Presumed, c.told = Done, why, who, at, true, len(m.history)
		}
	}
}

// weigh holds the value of an act against the stage, on top of what the cell
// held.
func (c *Cell) weigh(s Stage, old Cell, a Act) {
	if old.State == Over {
		return // nothing but loosening takes back what was turned
	}
	c.Why = ""
	twice := s.Kind == Angle && old.State != Open && old.State != Part
	if a.Read && absurd(s.Kind, a.Value) {
		c.State, c.Why = Doubtful, fmt.Sprintf("%v %s cannot be read off: read it again", a.Value, s.Kind.Unit())
		return
	}
	if a.Read {
		c.Value, c.Read, c.As = a.Value, true, a.As
		if s.Kind == Angle && old.Read {
			c.Value, c.As = c.Value+old.Value, ""
		}
	}
	switch {
	case s.Kind.Measured() && !a.Read:
		c.State, c.Why = Part, "told without a reading: measure "+measures[s.Kind]
	case !a.Read || !s.Known:
		c.State = Done
	default:
		c.hold(s)
	}
	if twice && c.State == Done {
		c.State, c.Why = Doubtful, fmt.Sprintf("%s told a second time: it may have been turned twice; restart the stage, or accept it", s)
	}
}

// measures says what is read of a stage that is done by a reading.
var measures = map[Kind]string{Stretch: "its length", PressDepth: "its depth", Height: "its height"}

// absurd reports whether no tool gives such a value.
func absurd(k Kind, v float64) bool {
	return math.IsNaN(v) || math.IsInf(v, 0) || v < 0 || k == Angle && v > WholeTurn
}

// hold holds the cell's value against the range of the stage.
func (c *Cell) hold(s Stage) {
	// Sums of readings are off by less than a millionth of their size.
	hair := 1e-6 * max(1e-3, s.Max)
	if s.Band > 0 && !c.settled(s, hair) {
		return
	}
	read := fmt.Sprintf("%s of %s", c.read(s), s)
	switch {
	case s.Kind == Loosen && c.Value > s.Max+hair:
		c.State, c.Why = Part, read+": not loose yet"
	case s.Kind == Loosen:
		c.State = Done
	case c.Value < s.Min-hair:
		c.Short++
		c.State, c.Why = Part, read+": "+lessThan(s.Kind, c.Short)
	case c.Value > s.Max+hair && s.Kind == Height:
		c.State, c.Why = Part, read+": stands too high: turn it further in"
	case c.Value > s.Max+hair:
		c.State, c.Why = Over, read+": "+moreThan(s, c.Value, hair)
	default:
		c.State = Done
	}
}

// read is what was read, as it was where that is in the unit of the stage, and
// otherwise in that unit: a line has one.
func (c *Cell) read(s Stage) string {
	if strings.HasSuffix(c.As, " "+s.ReadIn()) {
		return c.As
	}
	return s.number(c.Value)
}

// settled reports whether what was read tells on which side of the limits it is
// (rule 9). Two readings near a limit count by their middle, three that do not
// agree by the one between; a reading that is clear of the limits counts alone.
func (c *Cell) settled(s Stage, hair float64) bool {
	v := c.Value
	if math.Abs(v-s.Min) > s.Band+hair && math.Abs(v-s.Max) > s.Band+hair {
		c.nears = 0
		return true
	}
	c.near[c.nears], c.nears = v, c.nears+1
	read := fmt.Sprintf("%s of %s", c.read(s), s)
	switch a, b := c.near[0], c.near[1]; {
	case c.nears == 1:
		c.State, c.Why = Part, read+" is within "+s.number(s.Band)+" "+s.ReadIn()+" of a limit: read it a second time"
		return false
	case c.nears == 2 && math.Abs(a-b) <= 2*s.Band+hair:
		c.Value = (a + b) / 2
	case c.nears == 2:
		c.State, c.Why = Part, fmt.Sprintf("%s and %s %s were read, which do not agree: read it a third time", s.number(a), s.number(b), s.ReadIn())
		return false
	default:
		list := c.near
		slices.Sort(list[:])
		c.Value = list[1]
	}
	c.nears = 0
	return true
}

func lessThan(k Kind, times int) string {
	switch k {
	case Stretch:
		if times > 1 {
			return "too little a second time: replace it, and look at what it is threaded into"
		}
		return "too little: loosen it with its neighbours, and do it again"
	case PressDepth:
		return "not deep enough: press it further"
	case Height:
		return "too deep in: turn it back"
	}
	return "not there yet: go on"
}

func moreThan(s Stage, value, hair float64) string {
	switch {
	case s.Kind == Stretch && (s.Never == 0 || value > s.Never+hair):
		return "stretched too far: replace it"
	case s.Kind == Stretch:
		return "too much, not yet spent: loosen it with its neighbours, and do it again"
	case s.Kind == PressDepth:
		return "too deep: out, and again"
	case s.Kind == Angle:
		return "turned too far: take it out and begin again, with a new one if it is good for one use"
	}
	return "too tight: loosen it and begin again, with a look at the fastener"
}

// obstacle is why a stage is not good at a position now: what should have come
// before it, a mark, or that it is not due yet. Empty: nothing.
func (m *Matrix) obstacle(k, i int) string {
	s := m.list.Stages[k]
	if m.later(k) {
		return fmt.Sprintf("%s is due %s, and that has not been: do it again then", s, s.Due)
	}
	for _, mark := range s.Needs {
		if !m.marks[mark] {
			return fmt.Sprintf("%s wants this first: %s; do that and the stage again, or accept it", s, mark)
		}
	}
	for _, j := range m.comes[k] {
		if m.later(j) {
			continue
		}
		if left := m.before(j, k, i); len(left) > 0 {
			return fmt.Sprintf("%s comes after %s, which is not done at %s: do it again in order, or accept it", s, m.list.Stages[j], names(left))
		}
	}
	return ""
}

// before are the positions at which stage j has to be done before stage k at
// position i, and is not.
func (m *Matrix) before(j, k, i int) []string {
	after := slices.Contains(m.list.Stages[k].After, j+1)
	var left []string
	for p, c := range m.cells[j] {
		if c.Position != "" && c.State != Done && !m.bare[p] && (after || m.set[p] == m.set[i]) {
			left = append(left, c.Position)
		}
	}
	return left
}

// early reports whether a position that comes before i in the order, of the
// same set, is still open in stage k.
func (m *Matrix) early(k, i int) bool {
	for _, p := range m.members[m.set[i]] {
		if p < i && m.cells[k][p].Position != "" && !m.bare[p] && m.cells[k][p].State == Open {
			return true
		}
	}
	return false
}
