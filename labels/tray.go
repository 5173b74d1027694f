package labels

import (
	"fmt"
	"strconv"
	"time"

	"countback/labels/code"
	"countback/labels/page"
)

// Tray is the label of a filled tray: what is in it with counts, and who has
// it. Empty fields are left out.
type Tray struct {
	Code     code.Code // of the tray, or of the job whose pieces are in it
	Job      string
	Engine   string
	Name     string // "Tray 7"
	Lines    []Line
	Bags     []string // in it: "BHTTG2Z5 Flywheel"
	Custody  string   // "with Ole since 12 May", "on bench b2 since 12 May"
	Holds    int      // how many pieces it takes; 0: not said
	Date     time.Time
	Initials string
	Reprint  int
	Training bool
}

func (t Tray) reprint() int { return t.Reprint }

// content puts the tray first, then who has it, then what is in it.
func (t Tray) content() (content, error) {
	if _, err := code.Parse(string(t.Code)); err != nil {
		return content{}, fmt.Errorf("tray: %w", err)
	}
	c := content{code: t.Code, kind: "TRAY", stamps: stamps(t.Reprint, t.Training), head: jobWords(t.Job, t.Engine)}
	c.rows = append(c.rows, row{text: t.Name, capMm: 4.2, weight: page.Bold, lines: 2, keep: true},
		row{text: t.Custody, capMm: 2.6, weight: page.Bold, lines: 2, keep: true})
	total := 0
	for _, l := range t.Lines {
		if l.Count < 0 {
			return c, fmt.Errorf("tray %s: %s: %d pieces: a count is 0 or more", t.Name, l.Spec, l.Count)
		}
		c.rows = append(c.rows, row{text: counted(l) + " × " + l.Spec, right: holeWords(l.Holes), capMm: 2.4, list: true})
		total += l.Count
	}
	for _, b := range t.Bags {
		c.rows = append(c.rows, row{text: "Bag " + b, capMm: 2.4, list: true})
	}
	words := strconv.Itoa(total) + pieces(total)
	if t.Holds > 0 {
		words += " of " + strconv.Itoa(t.Holds) + " that it takes"
	}
	c.foot = []row{{text: words, capMm: 3, weight: page.Bold, keep: true}, {text: joined("  ", dateWords(t.Date), t.Initials), capMm: 2.2, keep: true}}
	return c, nil
}

// ToolTag is the label of a tool of the shop.
type ToolTag struct {
	Code     code.Code
	Shop     string
	Name     string // "Large wrench"
	ID       string // as it is typed: "wrench-40-200"
	Range    string // "40 to 200 N.m"
	Due      string // last day of its calibration, in words
	Training bool
}

// content is what the tool is, what it covers, and until when it may be used.
func (t ToolTag) content() (content, error) {
	if err := typed(t.Code, code.Loan); err != nil {
		return content{}, err
	}
	c := content{code: t.Code, kind: "TOOL", stamps: stamps(0, t.Training), head: t.Shop}
	c.rows = append(c.rows, row{text: t.Name, capMm: 4.2, weight: page.Bold, lines: 2, keep: true}, row{text: t.ID, capMm: 2.4},
		row{text: t.Range, capMm: 3.2, weight: page.Bold, keep: true}, labelled("Calibrated until", t.Due))
	return c, nil
}
