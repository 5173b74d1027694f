package sheet

import (
	"fmt"
	"time"

	"countback/labels/code"
	"countback/labels/page"
)

// Buy is the buy list as a sheet: what to order of whom, each line with a box
// to tick.
type Buy struct {
	Code     code.Code // of the job
	Job      string
	Engine   string
	Notes    []string  // "14 pieces to buy, 3 on order"
	Groups   []BuyPart // by supplier
	Date     time.Time
	Reprint  int
	Training bool
}

// BuyPart is what one supplier brings.
type BuyPart struct {
	Name  string // "Fjord: order together by 15 May"
	Lines []BuyRow
}

// BuyRow is one kind: how many of what, and why, for what and by when below it.
type BuyRow struct {
	What  string
	Notes []string
	Done  bool // it is on order already: nothing to tick
}

// Draw makes the sheet.
func (b Buy) Draw(s Settings) (page.Document, error) {
	d, err := s.dots()
	if err != nil {
		return page.Document{}, err
	}
	if b.Code.Type() != code.Job {
		return page.Document{}, fmt.Errorf("buy list: code %q is no job's", b.Code)
	}
	f := d.flow(head{"BUY LIST", words(b.Job, b.Engine), stamp(b.Reprint, b.Training)}, 1)
	top, err := d.item(Item{Code: b.Code, Name: words(b.Job, b.Engine), Notes: b.Notes}, f.width())
	if err != nil {
		return page.Document{}, fmt.Errorf("buy list: %w", err)
	}
	f.add(top, 0)
	for _, g := range b.Groups {
		list := []block{d.heading(g.Name, f.width())}
		for _, l := range g.Lines {
			shape := page.Box
			if l.Done {
				shape = page.Disc
			}
			list = append(list, d.tick(shape, l.What, f.width()))
			for _, n := range l.Notes {
				list = append(list, d.text(n, d.style(1.9, page.Regular), f.width(), 2, d.style(2.4, page.Regular).Cap*2))
			}
		}
		f.addAll(list)
	}
	if len(b.Groups) == 0 {
		f.add(d.text("nothing has to come from outside", d.style(2.4, page.Regular), f.width(), 1, 0), 0)
	}
	f.addAll([]block{d.signature("ordered by, date", f.width())})
	return f.document("buy list "+b.Job, b.Date, b.Reprint)
}
