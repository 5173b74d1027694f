package sheet

import (
	"errors"
	"fmt"
	"image"

	"countback/labels/code"
	"countback/labels/page"
)

// Card is one card on the wall: a word, a shape and a code, so that it is
// known without colour.
type Card struct {
	Word  string // "ALL OUT", "17", "M8x1.25x30"
	Hint  string // a few words under it
	Shape page.Shape
	Code  code.Code
}

// Group is cards that hang together.
type Group struct {
	Name  string // "Verbs", "Numbers"
	Cards []Card
}

// Cards is wall cards: each group begins on a page of its own.
type Cards struct {
	Groups   []Group
	Columns  int // 3
	Rows     int // 7; less for larger words
	Training bool
}

// Draw makes the cards.
func (c Cards) Draw(s Settings) (page.Document, error) {
	d, err := s.dots()
	if err != nil {
		return page.Document{}, err
	}
	if c.Columns == 0 {
		c.Columns = 3
	}
	if c.Rows == 0 {
		c.Rows = 7
	}
	if c.Columns < 1 || c.Columns > 6 || c.Rows < 1 || c.Rows > 20 {
		return page.Document{}, fmt.Errorf("wall cards: %d x %d on a page: want 1 to 6 columns and 1 to 20 rows", c.Columns, c.Rows)
	}
	if len(c.Groups) == 0 {
		return page.Document{}, errors.New("wall cards: none given")
	}
	f := d.flow(head{kind: "CARDS", stamp: stamp(0, c.Training)}, 1)
	for _, g := range c.Groups {
		if err := c.group(f, g); err != nil {
			return page.Document{}, fmt.Errorf("wall cards: %w", err)
		}
	}
	return f.document("wall cards", noDate, 0)
}

// group draws the pages of one group. Each has the group's name at its top.
func (c Cards) group(f *flow, g Group) error {
	if len(g.Cards) == 0 {
		return fmt.Errorf("group %s: no card", g.Name)
	}
	for i, card := range g.Cards {
		if i%(c.Columns*c.Rows) == 0 {
			f.newPage()
			if f.err != nil {
				return f.err
			}
			p, top := f.page(), f.d.style(3, page.Bold)
			text, top := f.d.Fonts.Fit(g.Name, top, f.area().Dx(), f.d.least())
			p.Text(f.d.margin, f.area().Min.Y+top.Ascent(), text, top)
		}
		a := f.area()
		a.Min.Y += f.d.mm(6)
		w, h := a.Dx()/c.Columns, a.Dy()/c.Rows
		n := i % (c.Columns * c.Rows)
		at := image.Rect(0, 0, w, h).Add(a.Min).Add(image.Pt(n%c.Columns*w, n/c.Columns*h))
		if err := f.d.card(f.page(), card, at); err != nil {
			return fmt.Errorf("card %s: %w", card.Word, err)
		}
	}
	return nil
}

// card draws one card with its frame.
func (d dots) card(p *page.Page, c Card, area image.Rectangle) error {
	q, err := d.pair(c.Code)
	if err != nil {
		return err
	}
	p.Frame(area, max(1, d.mm(0.25)))
	in := area.Inset(d.mm(1.5))
	band := max(q.bars.Y, q.square.Y)
	if in.Dx() < q.bars.X+d.gap+q.square.X || in.Dy() < band+d.gap+d.mm(5) {
		return fmt.Errorf("its symbols need %.0f x %.0f mm, the card has %.0f x %.0f mm; take fewer columns and rows, or narrower modules",
			d.DPI.Mm(q.bars.X+d.gap+q.square.X), d.DPI.Mm(band+d.gap)+5, d.DPI.Mm(in.Dx()), d.DPI.Mm(in.Dy()))
	}
	d.drawBars(p, q, image.Pt(in.Min.X, in.Max.Y-q.bars.Y))
	d.drawSquare(p, q, in.Max.Sub(q.square))
	top := image.Rect(in.Min.X, in.Min.Y, in.Max.X, in.Max.Y-band-d.gap)
	if c.Hint != "" {
		hint := d.style(2, page.Regular)
		text, hint := d.Fonts.Fit(c.Hint, hint, top.Dx(), d.least())
		p.Text(top.Min.X, top.Max.Y-hint.Descent(), text, hint)
		top.Max.Y -= hint.Height()
	}
	size := min(d.mm(9), top.Dy()-d.mm(1))
	p.Shape(float64(top.Min.X)+float64(size)/2, float64(top.Min.Y+top.Max.Y)/2, c.Shape, float64(size)*0.85, page.Black)
	if c.Shape != page.NoShape {
		top.Min.X += size + d.mm(2)
	}
	d.word(p, c.Word, top)
	return nil
}

// word writes a word as large as it goes in one line or two.
func (d dots) word(p *page.Page, word string, area image.Rectangle) {
	var list []string
	var style page.Style
	for lines := 1; lines <= 2; lines++ {
		most := page.Style{Cap: min(d.mm(10), int(float64(area.Dy()/lines)/1.7)), Weight: page.Bold}
		l, s := d.Fonts.FitLines(word, most, area.Dx(), lines, d.least())
		if s.Cap > style.Cap {
			list, style = l, s
		}
	}
	y := (area.Min.Y + area.Max.Y - len(list)*style.Height()) / 2
	for _, t := range list {
		p.Text(area.Min.X, y+style.Ascent(), t, style)
		y += style.Height()
	}
}
