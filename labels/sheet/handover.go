package sheet

import (
	"fmt"
	"image"
	"time"

	"countback/labels/code"
	"countback/labels/page"
)

// HandOver is the sheet of a shift change: what is done, what is open, what
// must not be forgotten.
type HandOver struct {
	Code     code.Code // of the job
	Job      string
	Engine   string
	From     string // who gives
	To       string // who takes; empty: to be written
	Date     time.Time
	Parts    []HandOverPart
	Reprint  int
	Training bool
}

// HandOverPart is one list: "In for a while", "Short", "Next".
type HandOverPart struct {
	Name  string
	Shape page.Shape // before each line; none: a square to tick
	Lines []string
}

// Draw makes the sheet. Every line has something to tick.
func (h HandOver) Draw(s Settings) (page.Document, error) {
	d, err := s.dots()
	if err != nil {
		return page.Document{}, err
	}
	if h.Code.Type() != code.Job {
		return page.Document{}, fmt.Errorf("hand-over: code %q is no job's", h.Code)
	}
	f := d.flow(head{"HAND-OVER", words(h.Job, h.Engine), stamp(h.Reprint, h.Training)}, 1)
	top, err := d.item(Item{Code: h.Code, Name: words(h.Job, h.Engine), Notes: []string{"from: " + h.From, "to: " + h.To}}, f.width())
	if err != nil {
		return page.Document{}, fmt.Errorf("hand-over: %w", err)
	}
	f.add(top, 0)
	for _, part := range h.Parts {
		list := []block{d.heading(part.Name, f.width())}
		if len(part.Lines) == 0 {
			list = append(list, d.text("nothing", d.style(2.4, page.Regular), f.width(), 1, 0))
		}
		for _, l := range part.Lines {
			list = append(list, d.tick(part.Shape, l, f.width()))
		}
		f.addAll(list)
	}
	f.addAll([]block{d.signature("given by, date", f.width()), d.signature("taken by, date", f.width())})
	return f.document("hand-over "+h.Job, h.Date, h.Reprint)
}

// tick is a line behind a shape.
func (d dots) tick(shape page.Shape, text string, width int) block {
	if shape == page.NoShape {
		shape = page.Box
	}
	style := d.style(2.4, page.Regular)
	words := d.text(text, style, width, 3, style.Cap*2)
	return block{height: words.height + d.mm(1), draw: func(p *page.Page, area image.Rectangle) {
		p.Shape(float64(area.Min.X)+float64(style.Cap)*0.8, float64(area.Min.Y+style.Ascent())-float64(style.Cap)/2, shape, float64(style.Cap)*1.3, page.Black)
		words.draw(p, area)
	}}
}
