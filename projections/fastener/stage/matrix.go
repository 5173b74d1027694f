package stage

import (
	"fmt"
	"slices"
	"time"
)

// State is how a cell stands.
type State uint8

// The states. The numbers are not stored.
const (
	Open     State = iota // nothing stands in it
	Part                  // begun: not at its least value yet
	Done                  // done as the list has it
	Doubtful              // recorded, but a person has to look: redo, restart or accept
	Over                  // beyond its most: out or loose, and again
)

var stateWords = [...]string{"open", "part done", "done", "doubtful", "over"}

// String is the state in a word or two.
func (s State) String() string {
	if int(s) < len(stateWords) {
		return stateWords[s]
	}
	return fmt.Sprintf("state %d", uint8(s))
}

// Act is what a person says was done: the stage was done at the position, with
// or without a value that was read.
type Act struct {
	Position string
	Stage    int     // from 1
	Value    float64 // in the unit of the stage
	Read     bool    // Value was read; otherwise the stage is told as done
	Who      string
	Tool     string
	At       time.Time // zero: not known
	As       string    // what was read, in its digits and its unit: "15 lbf.ft"; empty: in the unit of the kind
	Doubt    string    // what its caller knows against it: the fact, then the next action; empty: nothing
}

// Cell is one position of one stage.
type Cell struct {
	Position string
	Stage    int // from 1
	State    State
	Value    float64 // last read, of angles the sum
	Read     bool
	As       string // what was read last, in its digits and its unit; empty: Value says it
	Who      string // who did it last
	Tool     string
	At       time.Time
	Why      string // of a doubtful, over or part cell: the fact, then the next action; of an open one why it was emptied
	Accepted string // who accepted a doubtful one
	Emptied  int    // how often it was emptied
	Short    int    // how often it stayed below its least, over all fittings
	Presumed bool   // done, and nobody told this stage: as it came, or told as a whole
	Early    bool   // done while a position before it in the order was open

	near  [3]float64 // readings too near to a limit to tell, of this try
	nears int
	broke bool // doubtful because its stage was broken off
	told  int  // number in the history, from 1, of the act that told it last
}

// Entry is one line of the history.
type Entry struct {
	What     string // stage, loosened, out, in, presumed, restarted, accepted, mark, unmark, due
	Position string
	Stage    int // 0 where none is meant
	Name     string
	Value    float64
	Read     bool
	Who      string
	Tool     string
	At       time.Time
	Stray    bool // the list has no such position or stage: it has no cell
}

// Matrix is what has been done of a list. The zero value is of no use; New
// makes one. It is not safe for use by several goroutines.
type Matrix struct {
	list    List
	index   map[string]int
	set     []int      // by position
	members [][]int    // positions by set, in the order
	with    [][]int    // by position: those that come loose with it
	comes   [][]int    // by stage: the stages, from 0, that come before it
	cells   [][]Cell   // by stage, by position; no position: not in that stage
	broken  [][]bool   // by stage, by set: an angle stage that was broken off
	reason  [][]string // and why it was
	bare    []bool     // by position: nothing is in it
	marks   map[string]bool
	fallen  map[string]bool
	history []Entry
}

// New is the empty matrix of a list. The error is that of List.Check.
func New(l List) (*Matrix, error) {
	if err := l.Check(); err != nil {
		return nil, err
	}
	m := &Matrix{list: l, index: map[string]int{}, set: make([]int, len(l.Order)), bare: make([]bool, len(l.Order)), with: make([][]int, len(l.Order)),
		marks: map[string]bool{}, fallen: map[string]bool{}}
	for i, p := range l.Order {
		m.index[p] = i
	}
	m.members = make([][]int, max(1, len(l.Sets)))
	for s, set := range l.Sets {
		for _, p := range set {
			m.set[m.index[p]] = s
		}
	}
	for i, s := range m.set {
		m.members[s] = append(m.members[s], i)
	}
	for _, set := range l.Neighbour {
		m.join(set)
	}
	for k, s := range l.Stages {
		row := make([]Cell, len(l.Order))
		for i, p := range l.Order {
			if s.has(p) {
				row[i] = Cell{Position: p, Stage: k + 1}
			}
		}
		m.cells = append(m.cells, row)
		m.broken = append(m.broken, make([]bool, len(m.members)))
		m.reason = append(m.reason, make([]string, len(m.members)))
		var comes []int
		for j := range k {
			if slices.Contains(s.After, j+1) || m.share(j, k) {
				comes = append(comes, j)
			}
		}
		m.comes = append(m.comes, comes)
	}
	return m, nil
}

// join makes positions come loose with each other.
func (m *Matrix) join(set []string) {
	for _, p := range set {
		for _, q := range set {
			if i, j := m.index[p], m.index[q]; i != j && !slices.Contains(m.with[i], j) {
				m.with[i] = append(m.with[i], j)
			}
		}
	}
}

// share reports whether two stages have a position in common.
func (m *Matrix) share(j, k int) bool {
	for p := range m.cells[j] {
		if m.cells[j][p].Position != "" && m.cells[k][p].Position != "" {
			return true
		}
	}
	return false
}

// List is what is to be done.
func (m *Matrix) List() List { return m.list }

// Clone is a matrix of its own with the same cells and history.
func (m *Matrix) Clone() *Matrix {
	c := *m
	c.cells, c.broken, c.reason = cloneRows(m.cells), cloneRows(m.broken), cloneRows(m.reason)
	c.bare = slices.Clone(m.bare)
	c.marks, c.fallen = cloneSet(m.marks), cloneSet(m.fallen)
	c.history = slices.Clone(m.history)
	return &c
}

func cloneRows[T any](rows [][]T) [][]T {
	c := make([][]T, len(rows))
	for i, r := range rows {
		c[i] = slices.Clone(r)
	}
	return c
}

func cloneSet(set map[string]bool) map[string]bool {
	c := make(map[string]bool, len(set))
	for k, v := range set {
		c[k] = v
	}
	return c
}

// Cell is one cell; false where the list has no such position or stage, or the
// stage is not for that position.
func (m *Matrix) Cell(position string, stage int) (Cell, bool) {
	i, ok := m.index[position]
	if !ok || stage < 1 || stage > len(m.cells) {
		return Cell{}, false
	}
	c := m.cells[stage-1][i]
	return c, c.Position != ""
}

// Cells are all cells, stage by stage and in each in the order of the list.
func (m *Matrix) Cells() []Cell {
	var list []Cell
	for _, row := range m.cells {
		for _, c := range row {
			if c.Position != "" {
				list = append(list, c)
			}
		}
	}
	return list
}

// History is everything that was told, in the order in which it came.
func (m *Matrix) History() []Entry { return slices.Clone(m.history) }

// Count is how many cells stand how.
type Count struct {
	Cells, Open, Part, Done, Doubtful, Over int
	Later                                   int // of Cells: in stages that fall due later and have not yet
}

// Count counts the cells.
func (m *Matrix) Count() Count {
	var n Count
	for k, row := range m.cells {
		for _, c := range row {
			if c.Position == "" {
				continue
			}
			n.Cells++
			*[...]*int{&n.Open, &n.Part, &n.Done, &n.Doubtful, &n.Over}[c.State]++
			if m.later(k) {
				n.Later++
			}
		}
	}
	return n
}

// later reports whether a stage, from 0, falls due later and has not yet.
func (m *Matrix) later(k int) bool {
	due := m.list.Stages[k].Due
	return due != "" && !m.fallen[due]
}

// Stands reports whether a mark stands.
func (m *Matrix) Stands(name string) bool { return m.marks[name] }

// At is the time of the last thing that was told; zero where that is not known.
func (m *Matrix) At() time.Time {
	if n := len(m.history); n > 0 {
		return m.history[n-1].At
	}
	return time.Time{}
}

// Fallen reports whether the stages that wait for this have fallen due.
func (m *Matrix) Fallen(due string) bool { return m.fallen[due] }

// Mark says that a mark stands, or stands no more. Cells that were done while
// it stood keep their state.
func (m *Matrix) Mark(name string, stands bool, who string, at time.Time) {
	what := "mark"
	if !stands {
		what = "unmark"
	}
	m.marks[name] = stands
	m.history = append(m.history, Entry{What: what, Name: name, Who: who, At: at})
}

// FallDue says that the stages which wait for this fall due now.
func (m *Matrix) FallDue(due, who string, at time.Time) {
	m.fallen[due] = true
	m.history = append(m.history, Entry{What: "due", Name: due, Who: who, At: at})
}
