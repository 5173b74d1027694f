package page

import (
	"fmt"
	"image"

	"countback/labels/symbol"
)

// Page is one label or sheet. All coordinates are whole dots from its left
// upper corner. A Page is filled by one goroutine.
type Page struct {
	Width, Height int
	DPI           symbol.DPI
	Fonts         *Fonts
	things        []thing
}

// thing is one thing on a page.
type thing interface {
	bounds() image.Rectangle
	draw(*Bitmap, *pen)
	pdf(*pdf)
}

// New is an empty page: as many whole dots as a paper of millimetres holds.
func New(widthMm, heightMm float64, dpi symbol.DPI, fonts *Fonts) (*Page, error) {
	if err := dpi.Check(); err != nil {
		return nil, err
	}
	if !(widthMm >= minMm && widthMm <= maxMm && heightMm >= minMm && heightMm <= maxMm) {
		return nil, fmt.Errorf("paper %.4g x %.4g mm: want %d to %d mm a side", widthMm, heightMm, minMm, maxMm)
	}
	if fonts == nil {
		fonts = BuiltIn()
	}
	const nearly = 1e-6
	return &Page{Width: int(widthMm*dpi.PerMm() + nearly), Height: int(heightMm*dpi.PerMm() + nearly), DPI: dpi, Fonts: fonts}, nil
}

// The smallest and largest side of a paper in millimetres: a roll holds long
// strips.
const (
	minMm = 5
	maxMm = 1200
)

// Bounds is the page.
func (p *Page) Bounds() image.Rectangle { return image.Rect(0, 0, p.Width, p.Height) }

// WidthMm is the page's width on paper.
func (p *Page) WidthMm() float64 { return p.DPI.Mm(p.Width) }

// HeightMm is the page's height on paper.
func (p *Page) HeightMm() float64 { return p.DPI.Mm(p.Height) }

// Fill inks a rectangle.
func (p *Page) Fill(r image.Rectangle, ink Ink) {
	if !r.Empty() {
		p.things = append(p.things, box{r, ink})
	}
}

// Frame draws the inside edge of a rectangle, so many dots thick.
func (p *Page) Frame(r image.Rectangle, thick int) {
	p.Fill(image.Rect(r.Min.X, r.Min.Y, r.Max.X, r.Min.Y+thick), Black)
	p.Fill(image.Rect(r.Min.X, r.Max.Y-thick, r.Max.X, r.Max.Y), Black)
	p.Fill(image.Rect(r.Min.X, r.Min.Y+thick, r.Min.X+thick, r.Max.Y-thick), Black)
	p.Fill(image.Rect(r.Max.X-thick, r.Min.Y+thick, r.Max.X, r.Max.Y-thick), Black)
}

// Text writes a text with its left end at x, as it stands if it is visible:
// see Fonts.Fit for making it fit.
func (p *Page) Text(x, baseline int, text string, style Style) {
	if text = p.Fonts.Visible(text); text != "" {
		p.things = append(p.things, line{x, baseline, text, style, p.Fonts, p.Fonts.Width(text, style)})
	}
}

// TextRight writes a text that ends before x.
func (p *Page) TextRight(x, baseline int, text string, style Style) {
	text = p.Fonts.Visible(text)
	p.Text(x-p.Fonts.Width(text, style), baseline, text, style)
}

// TextMiddle writes a text with its middle at x.
func (p *Page) TextMiddle(x, baseline int, text string, style Style) {
	text = p.Fonts.Visible(text)
	p.Text(x-p.Fonts.Width(text, style)/2, baseline, text, style)
}

// Symbol draws a symbol with the left upper corner of its quiet zone at a
// point, module dots a module; height is that of the bars of a Linear.
func (p *Page) Symbol(x, y int, s symbol.Symbol, module, height int) {
	p.things = append(p.things, drawn{x, y, s, module, height})
}

// SymbolSize is the dots that a symbol takes with its quiet zones.
func SymbolSize(s symbol.Symbol, module, height int) image.Point {
	q := 2 * s.Kind.Quiet()
	if s.Kind == symbol.Linear {
		return image.Pt((s.Columns+q)*module, height)
	}
	return image.Pt((s.Columns+q)*module, (s.Rows+q)*module)
}

// Paste puts everything of another page of the same resolution on this one,
// moved so that its left upper corner comes to a point.
func (p *Page) Paste(o *Page, at image.Point) {
	for _, t := range o.things {
		p.things = append(p.things, moved{t, at})
	}
}

// Draw is the dots of the page.
func (p *Page) Draw() *Bitmap { return p.DrawPart(p.Bounds()) }

// DrawPart is the dots of a part of the page.
func (p *Page) DrawPart(r image.Rectangle) *Bitmap {
	b := NewBitmap(r)
	pen := newPen()
	for _, t := range p.things {
		if t.bounds().Overlaps(r) {
			t.draw(b, pen)
		}
	}
	return b
}

// Overlaps says which texts and symbols lie over each other or over the edge.
func (p *Page) Overlaps() []string {
	var list []string
	for i, a := range p.things {
		if !a.bounds().In(p.Bounds()) {
			list = append(list, fmt.Sprintf("%v runs over the edge", a))
		}
		if !solid(a) {
			continue
		}
		for _, b := range p.things[:i] {
			if solid(b) && a.bounds().Overlaps(b.bounds()) {
				list = append(list, fmt.Sprintf("%v lies over %v", a, b))
			}
		}
	}
	return list
}

// solid reports whether nothing else may lie over a thing.
func solid(t thing) bool {
	switch t := t.(type) {
	case line, drawn:
		return true
	case moved:
		return solid(t.thing)
	}
	return false
}
