package panel

import (
	"countback/events"
	"countback/projections/engine"
)

// Panel is what a screen shows below its first lines.
type Panel struct {
	Name   string   // which screen: "bench", "joint", ...
	Title  string   // what it is about, in words
	Stand  string   // how that stands, in one line
	Next   []string // what to do next, for the largest letters where nothing else is asked, the longest first
	Cells  []Cell   // holes or positions, laid out on a grid; none: no grid
	Placed bool     // the cells lie in place: by X and Y, not by Row and Col
	Left   string   // what lies at the left edge of cells in place; empty: not said
	Top    string   // what lies at their upper edge; empty: not said
	Note   string   // about the grid
	Key    []Key    // which shape is which size
	Groups []Group  // rows below or beside the grid
}

// Group is rows under one heading.
type Group struct {
	Head  string
	Heads []string // of the columns of a table; none: rows of text
	Rows  []Row
}

// Row is one line: what is so, and what clears it or where to look. Where it
// has a scale or cells it is drawn by them, and Text stands for them where
// there is no room.
type Row struct {
	Mark  Mark
	Text  string
	More  string   // empty: nothing to add
	Scale *Scale   // nil: none
	Cells []string // under the heads of the group; none: a line of text
}

// Cell is one hole or position. Its place on the grid is counted from 0.
type Cell struct {
	Name  string
	Shape Shape
	Mark  Mark
	Row   int
	Col   int
	X, Y  float64 // in place: millimetres to the right and up
	Ask   bool    // it is what the sentence on the screen is about
}

// Key says what a shape stands for.
type Key struct {
	Shape Shape
	Text  string
}

// Mark says how one thing stands. Each has a word of its own.
type Mark uint8

// The marks.
const (
	Plain   Mark = iota
	Done         // finished, signed, in order
	Now          // can be done now
	Begun        // part done
	Waits        // blocked
	Look         // short, over, red: not as it should be
	Hidden       // there is a number, and it is not shown before the count
	Counted      // counted, and the number is shown
	Hot          // flame or weld
	Failed       // tried, without success
	Stop         // no further without a second person
	Carried      // falls due later
	Open         // of a bag
	Shut         // of a bag

	// Of holes and positions.
	Out     // empty
	Parked  // finger-tight, to be kept: looks finished and is not
	In      // in, not tightened to the end
	Tight   // in and finished
	Broken  // a stub is in it
	Lent    // a loan is in it
	None    // this engine has no such hole
	Unsure  // came out or not: nobody has said
	Full    // of a position of a rack
	Empty   // of a position of a rack
	Swapped // holds a piece that belongs elsewhere
	markEnd
)

var markWords = [markEnd]string{"", "done", "now", "begun", "waits", "LOOK", "count it", "counted", "HOT", "failed", "STOP", "later", "open", "closed",
	"out", "parked", "in", "tight", "BROKEN", "loan", "none", "unsure", "full", "empty", "SWAPPED"}

// String is the mark's word; it is in capitals where something is not as it
// should be.
func (m Mark) String() string {
	if m >= markEnd {
		return ""
	}
	return markWords[m]
}

// Shape tells sizes apart without colour. The order is that of the shapes on
// bag labels.
type Shape uint8

// Shapes is how many shapes there are; sizes past the last one share it.
const Shapes = 8

// NoShape is a cell of no size.
const NoShape Shape = 255

func shapeOf(i int) Shape { return Shape(min(i, Shapes-1)) }

// MaxRows is how many rows a group has at most; the last one says how many
// more there are.
const MaxRows = 200

func (g *Group) add(m Mark, text, more string) {
	g.Rows = append(g.Rows, Row{Mark: m, Text: text, More: more})
}

// with adds a group that has rows.
func (p *Panel) with(g Group) {
	if n := len(g.Rows); n > MaxRows {
		g.Rows = append(g.Rows[:MaxRows:MaxRows], Row{Text: itoa(n-MaxRows) + " more"})
	}
	if len(g.Rows) > 0 {
		p.Groups = append(p.Groups, g)
	}
}

// WithoutJob is the panel of a terminal that has no job on its screen.
func WithoutJob() Panel {
	return Panel{Name: "bench", Title: "No job on the screen", Groups: []Group{{Rows: []Row{
		{Mark: Now, Text: "Scan the card of a job, or type: job 4K7"},
		{Mark: Now, Text: "A new engine: type job 5A2, engine Sorrel of the mill, then OPEN JOB"},
	}}}}
}

// names gives people's words for the ids of one job.
type names struct {
	job *engine.Job
	st  *engine.State
}

func of(j *engine.Job) names { return names{j, j.State()} }

func (n names) joint(id events.Joint) string {
	if j, ok := n.st.Plan().Joint(id); ok {
		return n.st.Plan().Joints[j].Name
	}
	for _, l := range n.st.LearnedJoints() {
		if l.Joint == id && l.Name != "" {
			return l.Name
		}
	}
	return string(id)
}

func (n names) part(id events.Part) string {
	if p, ok := n.st.Plan().Part(id); ok {
		return n.st.Plan().Parts[p].Name
	}
	return string(id)
}

func (n names) step(id events.Step) string {
	if s, ok := n.st.Plan().Step(id); ok && n.st.Plan().Steps[s].Name != "" {
		return n.st.Plan().Steps[s].Name
	}
	return string(id)
}

func (n names) loan(id events.Loan) string {
	if l, ok := n.st.Plan().Loan(id); ok {
		return n.st.Plan().Loans[l].Name
	}
	return string(id)
}

// about names a joint or part that pieces are kept for, as bench accounts do.
func (n names) about(id string) string {
	if _, ok := n.st.Plan().Joint(events.Joint(id)); !ok {
		if _, ok := n.st.Plan().Part(events.Part(id)); ok {
			return n.part(events.Part(id))
		}
	}
	return n.joint(events.Joint(id))
}
