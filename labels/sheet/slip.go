package sheet

import (
	"fmt"
	"image"
	"strconv"
	"time"

	"countback/labels/code"
	"countback/labels/page"
)

var noDate time.Time

// Slip is the sheet that goes with parts to another shop, and comes back with
// them.
type Slip struct {
	Code     code.Code
	Job      string
	Engine   string
	To       string // the other shop
	Work     string // what is asked for
	Lines    []SlipLine
	Notes    []string // "cam cover gasket face: do not touch"
	Sent     time.Time
	Due      time.Time
	Reprint  int
	Training bool
}

// SlipLine is pieces that go: the part, or what stays in it.
type SlipLine struct {
	What  string
	Count int
	Level int    // 0 a part, 1 what is in it, ...
	Note  string // "found: one thread damaged"
}

// Draw makes the slip: a table with a column to count into when it is back.
func (s Slip) Draw(set Settings) (page.Document, error) {
	d, err := set.dots()
	if err != nil {
		return page.Document{}, err
	}
	if s.Code.Type() != code.Slip {
		return page.Document{}, fmt.Errorf("slip: code %q is no slip's", s.Code)
	}
	if len(s.Lines) == 0 {
		return page.Document{}, fmt.Errorf("slip %s: nothing goes; give at least one line", s.Code)
	}
	f := d.flow(head{"SLIP", words(s.Job, s.Engine), stamp(s.Reprint, s.Training)}, 1)
	var notes []string
	if s.Work != "" {
		notes = append(notes, "work: "+s.Work)
	}
	if !s.Due.IsZero() {
		notes = append(notes, "due back: "+s.Due.Format("2 Jan 2006"))
	}
	top, err := d.item(Item{Code: s.Code, Name: "Slip to " + s.To, Notes: notes}, f.width())
	if err != nil {
		return page.Document{}, fmt.Errorf("slip: %w", err)
	}
	f.add(top, 0)
	list := []block{d.tableHead(f.width())}
	total := 0
	for _, l := range s.Lines {
		if l.Count < 0 {
			return page.Document{}, fmt.Errorf("slip %s: %s: %d pieces: a count is 0 or more", s.Code, l.What, l.Count)
		}
		list, total = append(list, d.slipLine(l, f.width())), total+l.Count
	}
	list = append(list, d.slipLine(SlipLine{What: "all pieces", Count: total}, f.width()))
	for _, n := range s.Notes {
		list = append(list, d.space(1.5), d.text("! "+n, d.style(2.4, page.Bold), f.width(), 4, 0))
	}
	for _, c := range []string{"handed over by, date", "taken by, date", "back: counted by, date"} {
		list = append(list, d.signature(c, f.width()))
	}
	f.addAll(list)
	return f.document("slip "+string(s.Code), s.Sent, s.Reprint)
}

// Columns of the table: count, what, back, in tenths of the width.
func (d dots) columns(area image.Rectangle) (count, what, back int) {
	return area.Min.X + area.Dx()/12, area.Min.X + area.Dx()/12 + d.mm(3), area.Max.X - area.Dx()/5
}

func (d dots) tableHead(width int) block { return d.tableOf("sent", "what", "back, count", width) }

// tableOf is the head of a table of counts, with a column to write into.
func (d dots) tableOf(counts, whats, backs string, width int) block {
	style := d.style(2, page.Bold)
	return block{height: style.Height() + d.mm(2), keep: true, draw: func(p *page.Page, area image.Rectangle) {
		count, what, back := d.columns(area)
		base := area.Min.Y + d.mm(1) + style.Ascent()
		fitted, small := d.Fonts.Fit(counts, style, count-area.Min.X, d.least())
		p.TextRight(count, base, fitted, small)
		p.Text(what, base, whats, style)
		fitted, small = d.Fonts.Fit(backs, style, area.Max.X-back, d.least())
		p.Text(back, base, fitted, small)
		p.Fill(image.Rect(area.Min.X, area.Max.Y-max(2, d.mm(0.4)), area.Max.X, area.Max.Y), page.Black)
	}}
}

func (d dots) slipLine(l SlipLine, width int) block {
	count, what, back := d.columns(image.Rect(0, 0, width, 1))
	indent := min(max(l.Level, 0), 6) * d.mm(4)
	weight := page.Bold
	if l.Level > 0 {
		weight = page.Regular
	}
	room := back - what - d.mm(2)
	name := d.text(l.What, d.style(2.4, weight), room, 2, indent)
	note := block{draw: func(*page.Page, image.Rectangle) {}}
	if l.Note != "" {
		note = d.text(l.Note, d.style(1.8, page.Regular), room, 2, indent)
	}
	style := d.style(2.6, page.Bold)
	high := max(name.height+note.height, style.Height()) + d.mm(1.5)
	return block{height: high, draw: func(p *page.Page, area image.Rectangle) {
		p.TextRight(area.Min.X+count, area.Min.Y+style.Ascent(), strconv.Itoa(l.Count), style)
		x := area.Min.X + what
		name.draw(p, image.Rect(x, area.Min.Y, x+room, area.Min.Y+name.height))
		note.draw(p, image.Rect(x, area.Min.Y+name.height, x+room, area.Min.Y+name.height+note.height))
		thin := max(1, d.mm(0.15))
		p.Fill(image.Rect(area.Min.X, area.Max.Y-thin, area.Max.X, area.Max.Y), page.Black)
		p.Fill(image.Rect(area.Min.X+back-d.mm(1.5), area.Min.Y, area.Min.X+back-d.mm(1.5)+thin, area.Max.Y), page.Black)
	}}
}
