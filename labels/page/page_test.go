package page

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"image/png"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/labels/code"
	"countback/labels/symbol"
)

var resolutions = []symbol.DPI{symbol.DPI203, symbol.DPI300, symbol.DPI600}

func bag(t testing.TB, n uint32) code.Code {
	t.Helper()
	i, err := code.NewIssuer("HT")
	require.NoError(t, err)
	c, _, ok := i.Next(code.Bag, n)
	require.True(t, ok)
	return c
}

func blank(t testing.TB, dpi symbol.DPI) *Page {
	t.Helper()
	p, err := New(100, 60, dpi, nil)
	require.NoError(t, err)
	return p
}

// both puts the two symbols of a code on a page.
func both(t testing.TB, p *Page, c code.Code, linearMm, matrixMm float64) {
	t.Helper()
	l, err := symbol.New(symbol.Linear, c)
	require.NoError(t, err)
	m, err := symbol.New(symbol.Matrix, c)
	require.NoError(t, err)
	lx, err := p.DPI.Module(linearMm)
	require.NoError(t, err)
	mx, err := p.DPI.Module(matrixMm)
	require.NoError(t, err)
	p.Symbol(p.DPI.Dots(3), p.DPI.Dots(30), l, lx, p.DPI.Dots(10))
	p.Symbol(p.DPI.Dots(80), p.DPI.Dots(30), m, mx, 0)
}

// Every bar and gap, row by row and column by column, is a whole number of
// modules wide: nothing was resampled.
func TestModulesAreWholeDots(t *testing.T) {
	for _, dpi := range resolutions {
		for _, mm := range []float64{0.19, 0.25, 0.28, 0.33} {
			if dpi == symbol.DPI203 && mm == 0.19 {
				mm = 0.2
			}
			p := blank(t, dpi)
			both(t, p, bag(t, 7), mm, 2*mm)
			m := p.Draw()
			for _, s := range p.Symbols() {
				wholeRuns(t, m, s, false)
				if s.Kind == symbol.Matrix {
					wholeRuns(t, m, s, true)
				}
			}
		}
	}
}

func wholeRuns(t *testing.T, m *Bitmap, s Placed, down bool) {
	t.Helper()
	r := s.Zone
	long, across := r.Dx(), r.Dy()
	at := func(i, j int) bool { return m.Black(r.Min.X+i, r.Min.Y+j) }
	if down {
		long, across = across, long
		at = func(i, j int) bool { return m.Black(r.Min.X+j, r.Min.Y+i) }
	}
	black := 0
	for j := range across {
		from := 0
		for i := 1; i <= long; i++ {
			if i < long && at(i, j) == at(i-1, j) {
				continue
			}
			if (i-from)%s.Module != 0 {
				t.Fatalf("%s: a run of %d dots with modules of %d", s.Kind, i-from, s.Module)
			}
			from = i
			black++
		}
	}
	require.Greater(t, black, across)
}

func TestPagesAreMeasuredInDots(t *testing.T) {
	for dpi, want := range map[symbol.DPI]image.Point{203: {800, 480}, 300: {1181, 708}, 600: {2362, 1417}} {
		p := blank(t, dpi)
		require.Equal(t, image.Rectangle{Max: want}, p.Bounds())
		require.InDelta(t, 100, p.WidthMm(), 0.13)
		require.InDelta(t, 60, p.HeightMm(), 0.13)
	}
	for _, row := range []struct {
		w, h float64
		dpi  symbol.DPI
		why  string
	}{{0, 10, 203, "paper 0 x 10 mm: want 5 to 1200"}, {10, 1300, 203, "want 5 to 1200"}, {10, 10, 50, "resolution 50 dpi"}} {
		_, err := New(row.w, row.h, row.dpi, nil)
		require.ErrorContains(t, err, row.why)
	}
}

func TestFinishReadsBack(t *testing.T) {
	for _, dpi := range resolutions {
		p := blank(t, dpi)
		both(t, p, bag(t, 7), 0.25, 0.5)
		p.Text(20, 60, "Front cover", Style{Cap: 20})
		d, err := Finish(About{Title: "bag", Reprint: 2}, p, p)
		require.NoError(t, err)
		require.Equal(t, []code.Code{bag(t, 7)}, d.Codes())
		require.Equal(t, "bag", d.Title())
		require.Equal(t, 2, d.Reprint())
		require.Equal(t, 2, d.Pages())
	}
	_, err := Finish(About{})
	require.ErrorContains(t, err, "no page")
}

// What covers a symbol or its quiet zone is found, even where error correction
// would still read it.
func TestFinishRefusesWhatSpoilsASymbol(t *testing.T) {
	zone := func(p *Page, k symbol.Kind) image.Rectangle {
		for _, s := range p.Symbols() {
			if s.Kind == k {
				return s.Zone
			}
		}
		t.Fatal("no symbol")
		return image.Rectangle{}
	}
	for name, spoil := range map[string]func(p *Page){
		"one black dot in the quiet zone": func(p *Page) {
			z := zone(p, symbol.Linear)
			p.Fill(image.Rect(z.Min.X, z.Min.Y+3, z.Min.X+1, z.Min.Y+4), Black)
		},
		"a white line through the bars": func(p *Page) {
			z := zone(p, symbol.Linear)
			p.Fill(image.Rect(z.Min.X, z.Min.Y+9, z.Max.X, z.Min.Y+10), White)
		},
		"text over the matrix": func(p *Page) {
			z := zone(p, symbol.Matrix)
			p.Text(z.Min.X, z.Max.Y, "x", Style{Cap: 10})
		},
		"a shape over the matrix": func(p *Page) {
			z := zone(p, symbol.Matrix)
			p.Shape(float64(z.Min.X+20), float64(z.Min.Y+20), Disc, 8, White)
		},
	} {
		p := blank(t, 203)
		both(t, p, bag(t, 7), 0.25, 0.5)
		spoil(p)
		_, err := Finish(About{}, blank(t, 203), p)
		var bad *Unreadable
		require.ErrorAs(t, err, &bad, name)
		require.Equal(t, bag(t, 7), bad.Code)
		require.Equal(t, 2, bad.Page)
		require.ErrorContains(t, err, "something else stands in it or in its quiet zone", name)
	}
}

func TestFinishRefusesWhatRunsOverTheEdge(t *testing.T) {
	for name, spill := range map[string]func(p *Page){
		"text":   func(p *Page) { p.Text(p.Width-10, 100, "Front", Style{Cap: 20}) },
		"accent": func(p *Page) { p.Text(10, 20, "É", Style{Cap: 20}) },
		"box":    func(p *Page) { p.Fill(image.Rect(0, 0, p.Width+1, 5), Black) },
		"shape":  func(p *Page) { p.Shape(0, 0, Star, 20, Black) },
		"symbol": func(p *Page) {
			s, err := symbol.New(symbol.Matrix, bag(t, 7))
			require.NoError(t, err)
			p.Symbol(p.Width-10, 0, s, 4, 0)
		},
	} {
		p := blank(t, 203)
		spill(p)
		_, err := Finish(About{}, p)
		require.ErrorContains(t, err, "runs over the edge", name)
		require.NotEmpty(t, p.Overlaps(), name)
	}
}

func TestOverlaps(t *testing.T) {
	p := blank(t, 203)
	p.Text(10, 100, "Front", Style{Cap: 20})
	p.Text(10, 140, "cover", Style{Cap: 20})
	p.Fill(image.Rect(0, 60, 300, 160), Black) // a box may lie over text: white on black
	require.Empty(t, p.Overlaps())
	p.Text(50, 110, "block", Style{Cap: 20})
	require.Len(t, p.Overlaps(), 2)
	q := blank(t, 203)
	q.Paste(p, image.Pt(3, 5))
	require.Len(t, q.Overlaps(), 2)
}

func TestPastedPagesReadBackWhereTheyAre(t *testing.T) {
	small, err := New(60, 25, 203, nil)
	require.NoError(t, err)
	s, err := symbol.New(symbol.Linear, bag(t, 9))
	require.NoError(t, err)
	small.Symbol(8, 30, s, 2, 80)
	small.Text(8, 150, "bag", Style{Cap: 16})
	p := blank(t, 203)
	p.Paste(small, image.Pt(17, 231))
	d, err := Finish(About{}, p)
	require.NoError(t, err)
	require.Equal(t, []code.Code{bag(t, 9)}, d.Codes())
	require.Equal(t, image.Pt(25, 261), p.Symbols()[0].Zone.Min)
	whole, part := p.Draw(), small.Draw()
	for y := range small.Height {
		for x := range small.Width {
			if part.Black(x, y) != whole.Black(x+17, y+231) {
				t.Fatalf("dot %d %d", x, y)
			}
		}
	}
}

// A part of a page shows the same dots as the whole.
func TestPartsAreThatOfTheWhole(t *testing.T) {
	p := blank(t, 203)
	both(t, p, bag(t, 7), 0.25, 0.5)
	p.Text(50, 100, "Füße Ωя 8 × M8", Style{Cap: 31, Weight: Bold})
	p.Shape(300, 150, OpenStar, 61, Black)
	whole := p.Draw()
	rapid.Check(t, func(t *rapid.T) {
		x, y := rapid.IntRange(0, 799).Draw(t, "x"), rapid.IntRange(0, 479).Draw(t, "y")
		r := image.Rect(x, y, x+rapid.IntRange(1, 90).Draw(t, "w"), y+rapid.IntRange(1, 90).Draw(t, "h"))
		part := p.DrawPart(r)
		for y := r.Min.Y; y < r.Max.Y; y++ {
			for x := r.Min.X; x < r.Max.X; x++ {
				if whole.Black(x, y) != part.Black(x, y) {
					t.Fatalf("dot %d %d", x, y)
				}
			}
		}
	})
}

// Filling dot by dot is the slow way to the same bits.
func TestFillAgainstDotByDot(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rect := image.Rect(-3, 5, -3+rapid.IntRange(1, 40).Draw(t, "w"), 5+rapid.IntRange(1, 12).Draw(t, "h"))
		b := NewBitmap(rect)
		slow := map[image.Point]bool{}
		for range rapid.IntRange(1, 6).Draw(t, "boxes") {
			x, y := rapid.IntRange(-8, 45).Draw(t, "x"), rapid.IntRange(0, 20).Draw(t, "y")
			r := image.Rect(x, y, x+rapid.IntRange(0, 30).Draw(t, "bw"), y+rapid.IntRange(0, 9).Draw(t, "bh"))
			ink := Ink(rapid.IntRange(0, 1).Draw(t, "ink"))
			b.Fill(r, ink)
			for y := r.Min.Y; y < r.Max.Y; y++ {
				for x := r.Min.X; x < r.Max.X; x++ {
					if image.Pt(x, y).In(rect) {
						slow[image.Pt(x, y)] = ink == Black
					}
				}
			}
		}
		for y := -5; y < 25; y++ {
			for x := -10; x < 50; x++ {
				if slow[image.Pt(x, y)] != b.Black(x, y) {
					t.Fatalf("dot %d %d", x, y)
				}
			}
		}
	})
}

// A dot is inside of an outline if a line from it to the left crosses the
// outline an odd number of times: computed for every dot on its own.
func TestShapesAgainstPointInPolygon(t *testing.T) {
	inside := func(o []Point, x, y float64) bool {
		odd := false
		for i, a := range o {
			b := o[(i+1)%len(o)]
			if (a.Y > y) != (b.Y > y) && x >= (b.X-a.X)*(y-a.Y)/(b.Y-a.Y)+a.X {
				odd = !odd
			}
		}
		return odd
	}
	for s := Disc; s < lastShape; s++ {
		p := blank(t, 203)
		p.Shape(101.3, 99.7, s, 75, Black)
		m := p.Draw()
		base, open := s.filled()
		outer, inner := outline(base, 101.3, 99.7, 75.0/2), outline(base, 101.3, 99.7, 75.0/2*0.6)
		black := 0
		for y := 40; y < 160; y++ {
			for x := 40; x < 160; x++ {
				want := inside(outer, float64(x)+.5, float64(y)+.5) && !(open && inside(inner, float64(x)+.5, float64(y)+.5))
				if want != m.Black(x, y) {
					t.Fatalf("%s at %d %d", s, x, y)
				}
				if want {
					black++
				}
			}
		}
		require.Greater(t, black, 600, s.String())
		require.NotEqual(t, "shape", s.String())
	}
	require.Equal(t, Disc, ShapeOf(0))
	require.Equal(t, Disc, ShapeOf(15))
	require.Equal(t, OpenStar, ShapeOf(-1))
	none := blank(t, 203)
	none.Shape(50, 50, NoShape, 30, Black)
	none.Shape(50, 50, lastShape, 30, Black)
	require.NotContains(t, string(none.Draw().bits), "\x00")
}

func TestPNGHoldsTheDotsAndTheirSize(t *testing.T) {
	for dpi, perMetre := range map[symbol.DPI]uint32{203: 8000, 300: 11811, 600: 23622} {
		p := blank(t, dpi)
		both(t, p, bag(t, 7), 0.25, 0.5)
		p.Text(33, 77, "Front cover", Style{Cap: 20})
		d, err := Finish(About{}, p)
		require.NoError(t, err)
		b, err := d.PNG(0)
		require.NoError(t, err)
		m, err := png.Decode(bytes.NewReader(b))
		require.NoError(t, err)
		drawn := p.Draw()
		require.Equal(t, p.Bounds(), m.Bounds())
		for y := range p.Height {
			for x := range p.Width {
				if r, _, _, _ := m.At(x, y).RGBA(); drawn.Black(x, y) != (r == 0) {
					t.Fatalf("dot %d %d at %d dpi", x, y, dpi)
				}
			}
		}
		at := bytes.Index(b, []byte("pHYs"))
		require.Equal(t, perMetre, binary.BigEndian.Uint32(b[at+4:]))
		require.Equal(t, perMetre, binary.BigEndian.Uint32(b[at+8:]))
		require.Equal(t, byte(1), b[at+12])
		_, err = d.PNG(1)
		require.ErrorContains(t, err, "page 2 of 1: not there")
	}
	require.ErrorIs(t, NewBitmap(image.Rect(0, 0, 9, 9)).WritePNG(closed{}, 8), errClosed)
}

var errClosed = fmt.Errorf("closed")

type closed struct{}

func (closed) Write([]byte) (int, error) { return 0, errClosed }

func TestFrame(t *testing.T) {
	p := blank(t, 203)
	p.Frame(image.Rect(10, 10, 30, 20), 2)
	var b strings.Builder
	m := p.DrawPart(image.Rect(9, 9, 31, 21))
	for y := 9; y < 21; y++ {
		for x := 9; x < 31; x++ {
			b.WriteString(map[bool]string{true: "#", false: "."}[m.Black(x, y)])
		}
		b.WriteByte('\n')
	}
	require.Equal(t, 2*20*2+2*2*6, strings.Count(b.String(), "#"), b.String())
}
