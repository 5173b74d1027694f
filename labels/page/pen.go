package page

import (
	"image"
	"image/draw"
	"slices"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// pen draws letters and shapes, and keeps the letters that it has drawn. It is
// used by one goroutine.
type pen struct {
	buf    sfnt.Buffer
	raster *vector.Rasterizer
	drawn  map[letter]*glyph
	xs     []float64
}

type letter struct {
	face *face
	id   sfnt.GlyphIndex
	size float64
}

// glyph is the black dots of a letter as runs, from its origin.
type glyph struct{ runs []dots }

type dots struct{ y, from, to int }

func newPen() *pen { return &pen{raster: vector.NewRasterizer(1, 1), drawn: map[letter]*glyph{}} }

// glyph draws a letter with its origin at a dot.
func (p *pen) glyph(m *Bitmap, f *face, id sfnt.GlyphIndex, size float64, x, y int, ink Ink) {
	key := letter{f, id, size}
	g, ok := p.drawn[key]
	if !ok {
		g = p.outline(f, id, size)
		p.drawn[key] = g
	}
	for _, r := range g.runs {
		m.Fill(image.Rect(x+r.from, y+r.y, x+r.to, y+r.y+1), ink)
	}
}

// outline turns a letter into dots: those that it covers at least half of.
func (p *pen) outline(f *face, id sfnt.GlyphIndex, size float64) *glyph {
	segments, err := f.font.LoadGlyph(&p.buf, id, fixed.Int26_6(size*64+0.5), nil)
	if err != nil || len(segments) == 0 {
		return &glyph{}
	}
	b := segments.Bounds()
	box := image.Rect(b.Min.X.Floor(), b.Min.Y.Floor(), b.Max.X.Ceil()+1, b.Max.Y.Ceil()+1)
	p.raster.Reset(box.Dx(), box.Dy())
	p.raster.DrawOp = draw.Src
	at := func(q fixed.Point26_6) (float32, float32) {
		return float32(q.X)/64 - float32(box.Min.X), float32(q.Y)/64 - float32(box.Min.Y)
	}
	for _, s := range segments {
		x0, y0 := at(s.Args[0])
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			p.raster.ClosePath()
			p.raster.MoveTo(x0, y0)
		case sfnt.SegmentOpLineTo:
			p.raster.LineTo(x0, y0)
		case sfnt.SegmentOpQuadTo:
			x1, y1 := at(s.Args[1])
			p.raster.QuadTo(x0, y0, x1, y1)
		case sfnt.SegmentOpCubeTo:
			x1, y1 := at(s.Args[1])
			x2, y2 := at(s.Args[2])
			p.raster.CubeTo(x0, y0, x1, y1, x2, y2)
		}
	}
	p.raster.ClosePath()
	mask := image.NewAlpha(image.Rect(0, 0, box.Dx(), box.Dy()))
	p.raster.Draw(mask, mask.Rect, image.Opaque, image.Point{})
	return runs(mask, box.Min)
}

func runs(mask *image.Alpha, origin image.Point) *glyph {
	g := &glyph{}
	for y := range mask.Rect.Dy() {
		row := mask.Pix[y*mask.Stride : y*mask.Stride+mask.Rect.Dx()]
		for x := 0; x < len(row); x++ {
			from := x
			for x < len(row) && row[x] >= 128 {
				x++
			}
			if x > from {
				g.runs = append(g.runs, dots{y + origin.Y, from + origin.X, x + origin.X})
			}
		}
	}
	return g
}

// crossings finds where the outlines cross a height, from left to right.
func (p *pen) crossings(outlines [][]Point, y float64) {
	p.xs = p.xs[:0]
	for _, o := range outlines {
		for i, a := range o {
			b := o[(i+1)%len(o)]
			if (a.Y <= y) != (b.Y <= y) {
				p.xs = append(p.xs, a.X+(y-a.Y)/(b.Y-a.Y)*(b.X-a.X))
			}
		}
	}
	slices.Sort(p.xs)
}
