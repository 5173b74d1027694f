package page

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"time"

	"countback/labels/code"
	"countback/labels/symbol"
)

// Document is pages that were read back. Finish makes it; the zero value has
// no page.
type Document struct {
	title   string
	date    time.Time
	reprint int
	pages   []*Page
}

// About is what a document says of itself besides its pages.
type About struct {
	Title string
	Date  time.Time // of the PDF; zero: none
	// Reprint is 0 for a first print and counts further ones; the pages must
	// say so themselves.
	Reprint int
}

// Unreadable says that a symbol on a page cannot be read from its dots.
type Unreadable struct {
	Page   int // counted from 1
	Kind   symbol.Kind
	Code   code.Code
	Reason string
}

// Error says which symbol and why.
func (e *Unreadable) Error() string {
	return fmt.Sprintf("page %d: %s of %s: %s", e.Page, e.Kind, e.Code, e.Reason)
}

// Finish looks at every symbol of every page and makes a document of the pages
// if all of them can be read. The pages must not be changed afterwards.
func Finish(about About, pages ...*Page) (Document, error) {
	if len(pages) == 0 {
		return Document{}, errors.New("document: no page; give at least one")
	}
	for i, p := range pages {
		if err := p.readBack(i + 1); err != nil {
			return Document{}, err
		}
	}
	return Document{about.Title, about.Date, about.Reprint, pages}, nil
}

// Title is what the document says of itself.
func (d Document) Title() string { return d.title }

// Reprint is 0 for a first print.
func (d Document) Reprint() int { return d.reprint }

// Pages is how many pages there are.
func (d Document) Pages() int { return len(d.pages) }

// Page is one of the pages, counted from 0.
func (d Document) Page(i int) *Page { return d.pages[i] }

// Codes lists the codes of all symbols in the order in which they were drawn,
// each once.
func (d Document) Codes() []code.Code {
	var list []code.Code
	seen := map[code.Code]bool{}
	for _, p := range d.pages {
		for _, c := range p.symbols() {
			if !seen[c.s.Code] {
				seen[c.s.Code] = true
				list = append(list, c.s.Code)
			}
		}
	}
	return list
}

// PNG is one page as a picture; pages are counted from 0.
func (d Document) PNG(i int) ([]byte, error) {
	if i < 0 || i >= len(d.pages) {
		return nil, fmt.Errorf("page %d of %d: not there", i+1, len(d.pages))
	}
	var buf bytes.Buffer
	if err := d.pages[i].Draw().WritePNG(&buf, d.pages[i].DPI.PerMm()); err != nil {
		return nil, fmt.Errorf("png of page %d: %w", i+1, err)
	}
	return buf.Bytes(), nil
}

// PDF is all pages.
func (d Document) PDF() ([]byte, error) { return writePDF(d.title, d.date, d.pages) }

// Placed is a symbol where it stands on a page.
type Placed struct {
	Kind   symbol.Kind
	Code   code.Code
	Zone   image.Rectangle // with its quiet zone
	Module int             // dots a module
}

// Symbols lists the symbols of the page in the order in which they were drawn.
func (p *Page) Symbols() []Placed {
	var list []Placed
	for _, c := range p.symbols() {
		list = append(list, Placed{c.s.Kind, c.s.Code, c.bounds(), c.module})
	}
	return list
}

// symbols lists the symbols of a page where they really are.
func (p *Page) symbols() []drawn {
	var list []drawn
	for _, t := range p.things {
		t, by := unmoved(t)
		if c, ok := t.(drawn); ok {
			c.x, c.y = c.x+by.X, c.y+by.Y
			list = append(list, c)
		}
	}
	return list
}

// unmoved is what was pasted, and by how much it was moved.
func unmoved(t thing) (thing, image.Point) {
	by := image.Point{}
	for {
		m, ok := t.(moved)
		if !ok {
			return t, by
		}
		t, by = m.thing, by.Add(m.by)
	}
}

// Written is a line of text where it stands on a page.
type Written struct {
	Text  string
	Style Style
	Zone  image.Rectangle // with room for accents and tails
}

// Texts lists the lines of text of the page in the order in which they were
// written.
func (p *Page) Texts() []Written {
	var list []Written
	for _, t := range p.things {
		bare, _ := unmoved(t)
		if l, ok := bare.(line); ok {
			list = append(list, Written{l.text, l.style, t.bounds()})
		}
	}
	return list
}

// readBack checks the edges and every symbol of a page.
func (p *Page) readBack(number int) error {
	for _, t := range p.things {
		if !t.bounds().In(p.Bounds()) {
			return fmt.Errorf("page %d of %d x %d dots: %v runs over the edge", number, p.Width, p.Height, t)
		}
	}
	for _, c := range p.symbols() {
		if reason := p.look(c); reason != "" {
			return &Unreadable{number, c.s.Kind, c.s.Code, reason}
		}
	}
	return nil
}

// look says what keeps a symbol from being read; empty if nothing does.
func (p *Page) look(c drawn) string {
	zone := c.bounds()
	m := p.DrawPart(zone)
	want := NewBitmap(zone)
	c.draw(want, nil)
	if !bytes.Equal(m.bits, want.bits) {
		return "something else stands in it or in its quiet zone"
	}
	for _, part := range lookAt(c.s.Kind, zone) {
		got, err := symbol.Read(c.s.Kind, m.Region(part))
		if err != nil {
			return fmt.Sprintf("cannot be read back at %d dots a module: %v", c.module, err)
		}
		if got != string(c.s.Code) {
			return fmt.Sprintf("reads back as %q", got)
		}
	}
	return ""
}

// lookAt says which parts of a symbol must each be readable alone: the top,
// middle and bottom of bars, all of a matrix.
func lookAt(k symbol.Kind, zone image.Rectangle) []image.Rectangle {
	if k != symbol.Linear {
		return []image.Rectangle{zone}
	}
	high := max(1, zone.Dy()/8)
	strip := func(y int) image.Rectangle { return image.Rect(zone.Min.X, y, zone.Max.X, y+high) }
	return []image.Rectangle{strip(zone.Min.Y), strip(zone.Min.Y + zone.Dy()/2 - high/2), strip(zone.Max.Y - high)}
}
