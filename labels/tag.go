package labels

import (
	"fmt"
	"strings"
	"time"

	"countback/labels/code"
	"countback/labels/page"
)

// Tag is the label of a thing that is not a bag: a part, one position of a
// rack, an engine, a job card, a place, a step. Its code says which. Empty
// fields are left out.
type Tag struct {
	Code     code.Code
	Job      string
	Engine   string
	Position string // drawn large where there is one: "2 E", "journal 3"
	Name     string // in words: "Connecting rod 2"
	Side     string
	WayRound string // "arrow to the front"
	From     string // where it came from: "head 1"
	Note     string
	Piece    int // which piece of how many; 0: not said
	Of       int
	Date     time.Time
	Initials string
	Reprint  int
	Training bool
}

func (t Tag) reprint() int { return t.Reprint }

// content puts the position first.
func (t Tag) content() (content, error) {
	if _, err := code.Parse(string(t.Code)); err != nil {
		return content{}, fmt.Errorf("tag: %w", err)
	}
	switch t.Code.Type() {
	case code.Verb, code.Answer, code.Number:
		return content{}, fmt.Errorf("tag: code %s is that of a %s card; print it as a card", t.Code, t.Code.Type())
	}
	c := content{code: t.Code, kind: strings.ToUpper(t.Code.Type().String()), stamps: stamps(t.Reprint, t.Training),
		head: jobWords(t.Job, t.Engine), corner: ofHowMany(t.Piece, t.Of)}
	name := row{text: t.Name, capMm: 3.6, weight: page.Bold, lines: 2, keep: true}
	if t.Position != "" {
		c.rows = append(c.rows, row{text: t.Position, capMm: 7, weight: page.Bold, keep: true})
		name.capMm = 2.8
	}
	c.rows = append(c.rows, name, row{text: t.Side, capMm: 2.8, weight: page.Bold, keep: true},
		labelled("Way round", t.WayRound), labelled("From", t.From), row{text: t.Note, capMm: 2, lines: 3})
	c.foot = []row{{text: joined("  ", dateWords(t.Date), t.Initials), capMm: 2.2, keep: true}}
	return c, nil
}

// JointTag is a blank joint tag, printed ahead on a roll for a job that starts
// without a plan.
type JointTag struct {
	Code     code.Code
	Shop     string
	Training bool
}

// content is what has to be written down when the joint is met.
func (t JointTag) content() (content, error) {
	c := content{code: t.Code, kind: "JOINT", stamps: stamps(0, t.Training), head: t.Shop}
	for _, caption := range []string{"Joint", "Side, end", "Holes", "Sizes", "Date, by"} {
		c.rows = append(c.rows, row{text: caption, capMm: 2.4, blank: true})
	}
	return c, typed(t.Code, code.Joint)
}

// blankRows are the lines to write on a blank tag, by the type of its code. A
// type that is not here is printed otherwise, or never ahead.
var blankRows = map[code.Type][]string{
	code.Badge:  {"Name", "Initials"},
	code.Rack:   {"Rack for", "Job", "Date, by"},
	code.Slip:   {"To", "Parts", "What is to be done", "Date, by"},
	code.Place:  {"Place"},
	code.Loan:   {"Loan or tool", "Out before", "Date, by"},
	code.Engine: {"Engine or part", "Owner", "Date, by"},
}

// BlankTag is a tag printed ahead: it is nothing until LABEL, or a sentence with
// it, says what it is on.
type BlankTag struct {
	Code     code.Code
	Shop     string
	Training bool
}

// content is what has to be written down when it is used.
func (t BlankTag) content() (content, error) {
	captions, ok := blankRows[t.Code.Type()]
	if _, err := code.Parse(string(t.Code)); err != nil || !ok {
		return content{}, fmt.Errorf("blank tag: code %s is none of a badge, rack, slip, place, loan or engine", t.Code)
	}
	c := content{code: t.Code, kind: strings.ToUpper(t.Code.Type().String()), stamps: stamps(0, t.Training), head: t.Shop}
	for _, caption := range captions {
		c.rows = append(c.rows, row{text: caption, capMm: 2.4, blank: true})
	}
	return c, nil
}

// LoanFlag is the flag of something that is in for a while and must come out.
type LoanFlag struct {
	Code      code.Code
	Job       string
	Engine    string
	Name      string   // "Tensioner lock pin"
	In        string   // where: "timing case"
	OutBefore []string // "Front cover on", "turning"
	Piece, Of int
	Since     time.Time
	Initials  string
	Reprint   int
	Training  bool
}

func (f LoanFlag) reprint() int { return f.Reprint }

// content says what it is, and what it must be out for.
func (f LoanFlag) content() (content, error) {
	c := content{code: f.Code, kind: "LOAN: TAKE OUT", stamps: stamps(f.Reprint, f.Training), head: jobWords(f.Job, f.Engine),
		corner: ofHowMany(f.Piece, f.Of)}
	c.rows = []row{{shape: page.Octagon, text: f.Name, capMm: 4.2, weight: page.Bold, lines: 2, keep: true}}
	if f.In != "" {
		c.rows = append(c.rows, row{text: "In: " + f.In, capMm: 2.4, lines: 2})
	}
	for i, o := range f.OutBefore {
		if i == 0 {
			o = "Out before: " + o
		}
		c.rows = append(c.rows, row{text: o, capMm: 2.6, weight: page.Bold, keep: i == 0})
	}
	c.foot = []row{{text: joined("  ", dateWords(f.Since), f.Initials), capMm: 2.2, keep: true}}
	return c, typed(f.Code, code.Loan)
}
