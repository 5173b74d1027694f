package labels

import (
	"fmt"

	"countback/labels/page"
	"countback/labels/symbol"
)

// Symbols says which symbols a label has.
type Symbols uint8

// The choices.
const (
	Both Symbols = iota
	LinearOnly
	MatrixOnly // for scanners with a camera, where Code 128 has no room
)

var symbolWords = [...]string{"both", "linear", "matrix"}

// String is the word of a choice: both, linear, matrix.
func (s Symbols) String() string {
	if int(s) >= len(symbolWords) {
		return fmt.Sprintf("symbols %d", uint8(s))
	}
	return symbolWords[s]
}

// SymbolsOf reads the word of a choice.
func SymbolsOf(word string) (Symbols, error) {
	for i, w := range symbolWords {
		if w == word {
			return Symbols(i), nil
		}
	}
	return Both, fmt.Errorf("symbols %q: want both, linear or matrix", word)
}

// Media is what a label is printed on. Fields that are zero have the value
// given beside them; width, height and resolution must be given.
type Media struct {
	WidthMm, HeightMm float64
	DPI               symbol.DPI
	MarginMm          float64 // 1.5
	LinearMm          float64 // module of the Code 128: symbol.DefaultLinearMm
	MatrixMm          float64 // module of the Data Matrix: symbol.DefaultMatrixMm
	BarMm             float64 // height of the bars where there is room: 10
	LeastCapMm        float64 // height of the smallest capitals: 1.5
	Symbols           Symbols
	Fonts             *page.Fonts // built-in
}

func or(v, standard float64) float64 {
	if v == 0 {
		return standard
	}
	return v
}

// dots is a Media in dots.
type dots struct {
	Media
	margin, linear, matrix, bar, least, gap int
}

// dots checks a media and turns it into dots.
func (m Media) dots() (dots, error) {
	m.MarginMm, m.BarMm, m.LeastCapMm = or(m.MarginMm, 1.5), or(m.BarMm, 10), or(m.LeastCapMm, 1.5)
	m.LinearMm, m.MatrixMm = or(m.LinearMm, symbol.DefaultLinearMm), or(m.MatrixMm, symbol.DefaultMatrixMm)
	if m.Fonts == nil {
		m.Fonts = page.BuiltIn()
	}
	d := dots{Media: m}
	var err error
	if d.linear, err = m.DPI.Module(m.LinearMm); err != nil {
		return dots{}, fmt.Errorf("media: Code 128: %w", err)
	}
	if d.matrix, err = m.DPI.Module(m.MatrixMm); err != nil {
		return dots{}, fmt.Errorf("media: Data Matrix: %w", err)
	}
	for _, v := range []struct {
		name         string
		mm, from, to float64
	}{
		{"margin", m.MarginMm, 0.5, 20},
		{"bar height", m.BarMm, 5, 100},
		{"smallest capitals", m.LeastCapMm, 0.8, 20},
	} {
		if !(v.mm >= v.from && v.mm <= v.to) {
			return dots{}, fmt.Errorf("media: %s %.4g mm: want %.4g to %.4g mm", v.name, v.mm, v.from, v.to)
		}
	}
	if m.Symbols > MatrixOnly {
		return dots{}, fmt.Errorf("media: %s: want both, linear or matrix", m.Symbols)
	}
	d.margin, d.bar, d.least = m.DPI.Dots(m.MarginMm), m.DPI.Dots(m.BarMm), max(5, m.DPI.Dots(m.LeastCapMm))
	d.gap = m.DPI.Dots(0.8)
	return d, nil
}

// mm is a length in millimetres in dots.
func (d dots) mm(mm float64) int { return d.DPI.Dots(mm) }

// cap is a height of capitals, never below the least.
func (d dots) cap(mm float64) int { return max(d.least, d.mm(mm)) }
