package page

import (
	"fmt"
	"image"
	"math"

	"countback/labels/symbol"
)

// box is a filled rectangle.
type box struct {
	r   image.Rectangle
	ink Ink
}

func (b box) bounds() image.Rectangle { return b.r }
func (b box) draw(m *Bitmap, _ *pen)  { m.Fill(b.r, b.ink) }
func (b box) pdf(d *pdf)              { d.ink(b.ink); d.rectangle(b.r, 0); d.raw("f\n") }
func (b box) String() string          { return fmt.Sprintf("a box at %v", b.r) }

// line is one line of text.
type line struct {
	x, y  int // left end of the baseline
	text  string
	style Style
	fonts *Fonts
	width int
}

func (l line) bounds() image.Rectangle {
	return image.Rect(l.x, l.y-l.style.Ascent(), l.x+l.width, l.y+l.style.Descent())
}

func (l line) draw(m *Bitmap, p *pen) {
	size := em(float64(l.style.Cap))
	x := float64(l.x)
	for _, r := range visual(l.text) {
		s := l.fonts.find(r)
		if w := l.style.Weight; s.face[w] >= 0 {
			p.glyph(m, l.fonts.faces[s.face[w]], s.glyph[w], size, int(math.Round(x)), l.y, l.style.Ink)
			x += s.width[w] * size
		}
	}
}

func (l line) pdf(d *pdf) { d.text(l) }

func (l line) String() string { return fmt.Sprintf("%q at %v", l.text, l.bounds()) }

// drawn is a symbol with its quiet zone.
type drawn struct {
	x, y   int
	s      symbol.Symbol
	module int
	height int
}

func (c drawn) bounds() image.Rectangle {
	return image.Rectangle{Max: SymbolSize(c.s, c.module, c.height)}.Add(image.Pt(c.x, c.y))
}

// rectangles lists the dark runs in dots.
func (c drawn) rectangles() []image.Rectangle {
	var list []image.Rectangle
	q := c.s.Kind.Quiet() * c.module
	for _, r := range c.s.Runs() {
		one := image.Rect(c.x+q+r.From*c.module, c.y, c.x+q+r.To*c.module, c.y+c.height)
		if c.s.Kind == symbol.Matrix {
			one.Min.Y = c.y + q + r.Row*c.module
			one.Max.Y = one.Min.Y + c.module
		}
		list = append(list, one)
	}
	return list
}

func (c drawn) draw(m *Bitmap, _ *pen) {
	for _, r := range c.rectangles() {
		m.Fill(r, Black)
	}
}

func (c drawn) pdf(d *pdf) {
	d.ink(Black)
	for _, r := range c.rectangles() {
		d.rectangle(r, inset)
	}
	d.raw("f\n")
}

func (c drawn) String() string { return fmt.Sprintf("%s of %s at %v", c.s.Kind, c.s.Code, c.bounds()) }

// Point is a place on a page in dots, not always whole ones.
type Point struct{ X, Y float64 }

// path is the inside of closed outlines, even-odd.
type path struct {
	outlines [][]Point
	ink      Ink
}

// Path inks the inside of closed outlines. What lies inside of two of them
// stays as it is.
func (p *Page) Path(ink Ink, outlines ...[]Point) {
	p.things = append(p.things, path{outlines, ink})
}

func (t path) bounds() image.Rectangle {
	low, high := Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for _, o := range t.outlines {
		for _, q := range o {
			low = Point{min(low.X, q.X), min(low.Y, q.Y)}
			high = Point{max(high.X, q.X), max(high.Y, q.Y)}
		}
	}
	if low.X > high.X {
		return image.Rectangle{}
	}
	return image.Rect(int(math.Floor(low.X)), int(math.Floor(low.Y)), int(math.Ceil(high.X)), int(math.Ceil(high.Y)))
}

// draw inks the dots whose middle is inside.
func (t path) draw(m *Bitmap, p *pen) {
	r := t.bounds().Intersect(m.Rect)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		p.crossings(t.outlines, float64(y)+0.5)
		for i := 0; i+1 < len(p.xs); i += 2 {
			from, to := int(math.Ceil(p.xs[i]-0.5)), int(math.Ceil(p.xs[i+1]-0.5))
			m.Fill(image.Rect(from, y, to, y+1), t.ink)
		}
	}
}

func (t path) pdf(d *pdf) {
	d.ink(t.ink)
	for _, o := range t.outlines {
		d.outline(o)
	}
	d.raw("f*\n")
}

func (t path) String() string { return fmt.Sprintf("a shape at %v", t.bounds()) }

// moved is a thing of another page.
type moved struct {
	thing
	by image.Point
}

func (t moved) bounds() image.Rectangle { return t.thing.bounds().Add(t.by) }

func (t moved) draw(m *Bitmap, p *pen) {
	shifted := *m
	shifted.Rect = m.Rect.Sub(t.by)
	t.thing.draw(&shifted, p)
}

func (t moved) pdf(d *pdf) {
	d.at = d.at.Add(t.by)
	t.thing.pdf(d)
	d.at = d.at.Sub(t.by)
}

func (t moved) String() string { return fmt.Sprintf("%v moved by %v", t.thing, t.by) }
