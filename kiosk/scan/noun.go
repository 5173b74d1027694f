package scan

import (
	"countback/events"
	"countback/labels/code"
	"countback/projections/engine"
	"countback/projections/tool"
)

// Type is the kind of thing that a noun names. Its text is the word that a
// person types before the name ("joint front-cover").
type Type string

// The types of nouns.
const (
	JobNoun     Type = "job"
	Joint       Type = "joint"
	Hole        Type = "hole"
	Bag         Type = "bag"
	Rack        Type = "rack"
	Place       Type = "place"
	Bench       Type = "bench"
	Stock       Type = "stock"
	Part        Type = "part"
	Position    Type = "position"
	Size        Type = "size"
	Loan        Type = "loan"
	Cavity      Type = "cavity"
	Mark        Type = "mark"
	Step        Type = "step"
	Audit       Type = "audit"
	Case        Type = "case"
	Slip        Type = "slip"
	Short       Type = "short"
	Badge       Type = "badge"
	Kit         Type = "kit"
	Measurement Type = "measurement"
	Supplier    Type = "supplier"
	Layout      Type = "layout"
	Finding     Type = "finding"
	Hold        Type = "hold"
	Plan        Type = "plan"
	Engine      Type = "engine"
	Label       Type = "label"      // a label of this shop that is on nothing yet
	Range       Type = "range"      // the two letters of a terminal's labels
	Act         Type = "act"        // turning, cranking, heating
	GateNoun    Type = "gate"       // the second count of a step
	Share       Type = "share"      // the pieces that a blocked step keeps
	Gauge       Type = "gauge"      // what a reading is taken with
	Order       Type = "order"      // what was ordered outside
	RunReading  Type = "reading"    // of the running engine
	Obligation  Type = "obligation" // what falls due after a start
	// Beside is another repair that was set against one: its ID is the text of a
	// noun. Nobody scans it; it stands for the answer of AGAINST until DECIDED.
	Beside Type = "beside"
)

// Types lists the types in the order in which help shows them.
var Types = []Type{JobNoun, Joint, Hole, Bag, Rack, Place, Bench, Stock, Part, Position, Size, Loan, Cavity, Mark,
	Step, Audit, Case, Slip, Short, Badge, Kit, Measurement, Supplier, Layout, Finding, Hold, Plan, Engine, Label, Range, Act, GateNoun, Share, Gauge,
	Order, RunReading, Obligation}

// labelled says which type letter the label of a noun has; a noun that is not
// in it has none.
var labelled = map[code.Type]Type{
	code.Audit: Audit, code.Bag: Bag, code.Case: Case, code.Engine: Engine, code.Finding: Finding, code.Step: Step,
	code.Joint: Joint, code.Job: JobNoun, code.Kit: Kit, code.Mark: Mark, code.Badge: Badge, code.Part: Part,
	code.Position: Position, code.Rack: Rack, code.Slip: Slip, code.Loan: Loan, code.Hole: Hole, code.Place: Place,
	code.Size: Size,
}

// TypeOf is the type of noun that labels of a letter are on; empty for cards
// and letters that are on none.
func TypeOf(t code.Type) Type { return labelled[t] }

// LetterOf is the type letter for the labels of a noun; false if it has none.
// Cavities are places that a piece can be in, and share their letter; what is
// measured shares that of the marks.
func LetterOf(t Type) (code.Type, bool) {
	switch t {
	case Cavity:
		return code.Place, true
	case Measurement:
		return code.Mark, true
	}
	for l := code.Type('A'); l <= 'Z'; l++ {
		if labelled[l] == t && t != "" {
			return l, true
		}
	}
	return 0, false
}

// Noun is one thing that a sentence is about.
type Noun struct {
	Type Type
	// ID is its name within its type: "front-cover", "B2KCZ6EE". A hole is
	// joint:hole and a position part:position, or only the last word where
	// the sentence has to say of what.
	ID    string
	Code  events.Code // its label, empty if it was typed
	Blank bool        // the label is on nothing yet
	// Implied: nobody scanned it; the tag of a hole says its joint.
	Implied bool
	Short   events.ShortID
}

// Text is the noun as a tag holds it: "joint front-cover".
func (n Noun) Text() string { return string(n.Type) + " " + n.ID }

// Same reports whether two nouns are the same thing.
func (n Noun) Same(o Noun) bool { return n.Type == o.Type && n.ID == o.ID }

// LabelState says what a well-formed code of this shop is.
type LabelState uint8

// The states of a label.
const (
	NotIssued LabelState = iota // no terminal of this shop has that range, or has come so far
	Ours                        // on a noun of this job, or of the shop
	Blank                       // issued and on nothing yet
	Retired                     // taken out of use
	OtherJob                    // on a noun of another job
)

// Found is what the shop knows of a label.
type Found struct {
	State LabelState
	Noun  Noun
	Job   events.Job  // of another job: which
	Name  string      // of another job: what stands there
	Since int64       // retired: when, microseconds since 1970
	By    events.Code // retired: the label that replaced it
}

// Directory answers what a label is on and what people call by a name. It
// reads; it changes nothing.
type Directory interface {
	// Label says what a well-formed code is on.
	Label(c code.Code) Found
	// Named lists the nouns of a type that have this name, or of any type if
	// t is empty.
	Named(t Type, name string) []Noun
	// Near is the name of a type that is spelled most like a name which nothing
	// has; empty if none is near.
	Near(t Type, name string) string
	// Fresh is the next label of a type that this terminal has and nobody
	// used; false if it has none.
	Fresh(t code.Type) (events.Code, bool)
	// PlanText is the text of a plan that the shop keeps; empty if it has
	// none of that name.
	PlanText(name string) string
	// Tool is a tool of the shop by its id; false if nobody issued it and
	// nobody has taken it.
	Tool(id events.Tool) (tool.Tool, bool)
	// InTray is what the shop knows of a tray beside this job: how many pieces
	// it takes, and what other jobs have in it.
	InTray(tray events.Place) engine.TrayNow
	// Tools lists the tools of the shop.
	Tools() []tool.Tool
	// Untagged lists tags, on fresh labels, for all nouns of the job that
	// have none.
	Untagged() []events.Tag
}
