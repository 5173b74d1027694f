package sheet

import (
	"fmt"
	"image"
	"time"

	"countback/labels/code"
	"countback/labels/page"
)

// Scope is the sheet of what must come off after all: the ways beside each
// other, then lists to tick.
type Scope struct {
	Code     code.Code // of the job
	Job      string
	Engine   string
	Name     string   // what must come off
	Notes    []string // "decided 12 May by Marit: lobe 3 is scored"
	Heads    []string // of the ways: "1 now", "4 after cover-on"
	Rows     []ScopeRow
	Parts    []HandOverPart // "Way 1, there", "To buy"
	Date     time.Time
	Reprint  int
	Training bool
}

// ScopeRow is one line of the table: what, and a cell for each way.
type ScopeRow struct {
	What  string
	Cells []string
}

// maxWays is how many ways fit beside each other on a page.
const maxWays = 6

// Draw makes the sheet. A row with another number of cells than there are ways
// is refused.
func (s Scope) Draw(set Settings) (page.Document, error) {
	d, err := set.dots()
	if err != nil {
		return page.Document{}, err
	}
	switch {
	case s.Code.Type() != code.Job:
		return page.Document{}, fmt.Errorf("scope: code %q is no job's", s.Code)
	case len(s.Heads) == 0 || len(s.Heads) > maxWays:
		return page.Document{}, fmt.Errorf("scope of %s: %d ways; 1 to %d fit beside each other", s.Name, len(s.Heads), maxWays)
	}
	f := d.flow(head{"MUST COME OFF", words(s.Job, s.Engine), stamp(s.Reprint, s.Training)}, 1)
	top, err := d.item(Item{Code: s.Code, Name: s.Name, Notes: s.Notes}, f.width())
	if err != nil {
		return page.Document{}, fmt.Errorf("scope: %w", err)
	}
	f.add(top, 0)
	list := []block{d.wayRow(ScopeRow{"way", s.Heads}, page.Bold, f.width())}
	for _, r := range s.Rows {
		if len(r.Cells) != len(s.Heads) {
			return page.Document{}, fmt.Errorf("scope of %s: %s: %d cells for %d ways", s.Name, r.What, len(r.Cells), len(s.Heads))
		}
		list = append(list, d.wayRow(r, page.Regular, f.width()))
	}
	f.addAll(list)
	for _, part := range s.Parts {
		list := []block{d.heading(part.Name, f.width())}
		for _, l := range part.Lines {
			list = append(list, d.tick(part.Shape, l, f.width()))
		}
		if len(part.Lines) == 0 {
			list = append(list, d.text("nothing", d.style(2.4, page.Regular), f.width(), 1, 0))
		}
		f.addAll(list)
	}
	f.addAll([]block{d.signature("decided by, date", f.width()), d.signature("because", f.width())})
	return f.document("must come off "+s.Job, s.Date, s.Reprint)
}

// wayRow is a line of the table: the words on the left, the cells in columns of
// equal width on the right.
func (d dots) wayRow(r ScopeRow, weight page.Weight, width int) block {
	left := width * 2 / 5
	column := (width - left) / len(r.Cells)
	gap := d.mm(2)
	what := d.text(r.What, d.style(2.2, page.Bold), left-gap, 2, 0)
	cells := make([]block, len(r.Cells))
	high := what.height
	for i, c := range r.Cells {
		cells[i] = d.text(c, d.style(2.2, weight), column-gap, 3, 0)
		high = max(high, cells[i].height)
	}
	return block{height: high + d.mm(1.5), keep: weight == page.Bold, draw: func(p *page.Page, area image.Rectangle) {
		what.draw(p, area)
		for i := range cells {
			x := area.Min.X + left + i*column
			cells[i].draw(p, image.Rect(x, area.Min.Y, x+column-gap, area.Max.Y))
		}
		p.Fill(image.Rect(area.Min.X, area.Max.Y-max(1, d.mm(0.15)), area.Max.X, area.Max.Y), page.Black)
	}}
}
