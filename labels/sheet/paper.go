package sheet

import (
	"fmt"
	"image"
	"strings"

	"countback/labels"
	"countback/labels/code"
	"countback/labels/page"
	"countback/labels/symbol"
)

// Paper is a sheet's size in millimetres, upright.
type Paper struct{ WidthMm, HeightMm float64 }

// The papers that office printers hold.
var (
	A4     = Paper{210, 297}
	Letter = Paper{215.9, 279.4}
)

// PaperOf reads the name of a paper in either case.
func PaperOf(name string) (Paper, error) {
	switch strings.ToLower(name) {
	case "a4":
		return A4, nil
	case "letter":
		return Letter, nil
	}
	return Paper{}, fmt.Errorf("paper %q: want A4 or Letter", name)
}

// Settings is how sheets are printed. Fields that are zero have the value
// given beside them.
type Settings struct {
	Paper    Paper
	DPI      symbol.DPI
	MarginMm float64     // 8; office printers leave 4 to 6 mm white
	LinearMm float64     // module of the Code 128: 0.33, for a scanner at arm's length
	MatrixMm float64     // module of the Data Matrix: symbol.DefaultMatrixMm
	BarMm    float64     // 9
	Fonts    *page.Fonts // built-in
}

// dots is Settings in dots.
type dots struct {
	Settings
	margin, linear, matrix, bar, gap int
	media                            labels.Media
}

func (s Settings) dots() (dots, error) {
	if s.Paper == (Paper{}) {
		s.Paper = A4
	}
	if s.DPI == 0 {
		s.DPI = symbol.DPI600
	}
	s.MarginMm, s.LinearMm, s.MatrixMm, s.BarMm = or(s.MarginMm, 8), or(s.LinearMm, 0.33), or(s.MatrixMm, symbol.DefaultMatrixMm), or(s.BarMm, 9)
	if s.Fonts == nil {
		s.Fonts = page.BuiltIn()
	}
	d := dots{Settings: s}
	var err error
	if d.linear, err = s.DPI.Module(s.LinearMm); err != nil {
		return d, fmt.Errorf("sheet: Code 128: %w", err)
	}
	if d.matrix, err = s.DPI.Module(s.MatrixMm); err != nil {
		return d, fmt.Errorf("sheet: Data Matrix: %w", err)
	}
	if s.MarginMm < 0 || s.MarginMm > 40 {
		return d, fmt.Errorf("sheet: margin %.4g mm: want 0 to 40 mm", s.MarginMm)
	}
	if s.BarMm < 5 || s.BarMm > 60 {
		return d, fmt.Errorf("sheet: bar height %.4g mm: want 5 to 60 mm", s.BarMm)
	}
	d.margin, d.gap = d.mm(s.MarginMm), d.mm(1)
	d.bar = s.DPI.BarHeight(s.BarMm, symbol.MaxLinearColumns, d.linear)
	return d, nil
}

func or(v, standard float64) float64 {
	if v == 0 {
		return standard
	}
	return v
}

func (d dots) mm(mm float64) int { return d.DPI.Dots(mm) }

// style is capitals of so many millimetres.
func (d dots) style(capMm float64, w page.Weight) page.Style {
	return page.Style{Cap: max(5, d.mm(capMm)), Weight: w}
}

// leastCapMm is the height of the smallest capitals on a sheet.
const leastCapMm = 1.5

func (d dots) least() int { return max(5, d.mm(leastCapMm)) }

// pair is the symbols of a code and the room that they take.
type pair struct {
	linear, matrix symbol.Symbol
	hri            page.Style
	bars, square   image.Point // with quiet zones; bars with the characters below
}

func (d dots) pair(c code.Code) (pair, error) {
	l, err := symbol.New(symbol.Linear, c)
	if err != nil {
		return pair{}, err
	}
	m, err := symbol.New(symbol.Matrix, c)
	if err != nil {
		return pair{}, err
	}
	p := pair{linear: l, matrix: m, hri: d.style(2, page.Bold)}
	p.bars = page.SymbolSize(l, d.linear, d.bar).Add(image.Pt(0, p.hri.Height()))
	p.square = page.SymbolSize(m, d.matrix, 0)
	return p, nil
}

// drawBars draws the Code 128 with its characters below, its left upper corner
// at a point.
func (d dots) drawBars(p *page.Page, q pair, at image.Point) {
	p.Symbol(at.X, at.Y, q.linear, d.linear, d.bar)
	p.TextMiddle(at.X+q.bars.X/2, at.Y+q.bars.Y-q.hri.Descent(), string(q.linear.Code), q.hri)
}

func (d dots) drawSquare(p *page.Page, q pair, at image.Point) {
	p.Symbol(at.X, at.Y, q.matrix, d.matrix, 0)
}
