package sheet

import (
	"fmt"
	"strings"
	"time"

	"countback/labels/code"
	"countback/labels/page"
)

// Tally is what lies in one place or goes to somebody, with its counts, a
// column to count into, and lines to sign on: a filled tray, old parts that go
// back to who sold the new ones, the owner's property.
type Tally struct {
	Kind     string    // in the head: TRAY
	Code     code.Code // of what it is about, or of the job
	Job      string
	Engine   string
	Name     string   // "Tray 7"
	Notes    []string // "with Ole since 12 May"
	Count    string   // head of the column of counts: "in it"
	Back     string   // head of the column that is written into: "counted"
	Groups   []TallyPart
	Lists    []HandOverPart // behind the tables
	Sign     []string       // captions of the lines to sign on
	Date     time.Time
	Reprint  int
	Training bool
}

// TallyPart is one table.
type TallyPart struct {
	Name  string // empty: no heading
	Lines []SlipLine
	Sum   bool   // a last line has all pieces
	None  string // what is said where there is no line
}

// Draw makes the sheet. A count below zero is refused.
func (t Tally) Draw(s Settings) (page.Document, error) {
	d, err := s.dots()
	if err != nil {
		return page.Document{}, err
	}
	what := strings.ToLower(t.Kind)
	if _, err := code.Parse(string(t.Code)); err != nil {
		return page.Document{}, fmt.Errorf("%s: %w", what, err)
	}
	f := d.flow(head{t.Kind, words(t.Job, t.Engine), stamp(t.Reprint, t.Training)}, 1)
	top, err := d.item(Item{Code: t.Code, Name: t.Name, Notes: t.Notes}, f.width())
	if err != nil {
		return page.Document{}, fmt.Errorf("%s: %w", what, err)
	}
	f.add(top, 0)
	for _, g := range t.Groups {
		list, err := d.tallyPart(t, g, f.width())
		if err != nil {
			return page.Document{}, fmt.Errorf("%s: %w", what, err)
		}
		f.addAll(list)
	}
	for _, part := range t.Lists {
		list := []block{d.heading(part.Name, f.width())}
		for _, l := range part.Lines {
			list = append(list, d.tick(part.Shape, l, f.width()))
		}
		f.addAll(list)
	}
	var sign []block
	for _, c := range t.Sign {
		sign = append(sign, d.signature(c, f.width()))
	}
	f.addAll(sign)
	return f.document(strings.TrimSpace(what+" "+t.Job), t.Date, t.Reprint)
}

func (d dots) tallyPart(t Tally, g TallyPart, width int) ([]block, error) {
	var list []block
	if g.Name != "" {
		list = append(list, d.heading(g.Name, width))
	}
	if len(g.Lines) == 0 {
		return append(list, d.text(or1(g.None, "nothing"), d.style(2.4, page.Regular), width, 1, 0)), nil
	}
	list = append(list, d.tableOf(t.Count, "what", t.Back, width))
	total := 0
	for _, l := range g.Lines {
		if l.Count < 0 {
			return nil, fmt.Errorf("%s: %d pieces: a count is 0 or more", l.What, l.Count)
		}
		list, total = append(list, d.slipLine(l, width)), total+l.Count
	}
	if g.Sum {
		list = append(list, d.slipLine(SlipLine{What: "all pieces", Count: total}, width))
	}
	return list, nil
}

func or1(text, standard string) string {
	if text == "" {
		return standard
	}
	return text
}
