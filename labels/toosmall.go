package labels

import (
	"fmt"
	"image"
	"strings"

	"countback/labels/code"
	"countback/labels/symbol"
)

// TooSmall says that a label cannot hold its symbols.
type TooSmall struct {
	Code              code.Code
	WidthMm, HeightMm float64
	DPI               symbol.DPI
	Lacks             string   // "Code 128 needs 35.8 mm of width with its quiet zones at 0.250 mm a module, there are 27.0 mm"
	Fits              []string // what would fit, best first; empty: nothing was found
}

// Error is the fact, and what would fit.
func (e *TooSmall) Error() string {
	text := fmt.Sprintf("label of %s, %.4g x %.4g mm at %d dpi: %s", e.Code, e.WidthMm, e.HeightMm, int(e.DPI), e.Lacks)
	if len(e.Fits) > 0 {
		text += "; this would fit: " + strings.Join(e.Fits, ", or ")
	}
	return text
}

// tooSmall looks for what would fit: a larger label, the Data Matrix alone,
// smaller modules.
func (d dots) tooSmall(c code.Code, lacks string) *TooSmall {
	e := &TooSmall{Code: c, WidthMm: d.WidthMm, HeightMm: d.HeightMm, DPI: d.DPI, Lacks: lacks}
	pair, err := symbols(c)
	if err != nil {
		return e
	}
	fits := func(m Media) bool {
		n, err := m.dots()
		if err != nil {
			return false
		}
		_, lacks := n.places(n.paper(), pair)
		return lacks == ""
	}
	if w, h, ok := d.larger(fits); ok {
		e.Fits = append(e.Fits, fmt.Sprintf("a label of %.4g x %.4g mm", w, h))
	}
	if alone := d.Media; d.Symbols != MatrixOnly {
		alone.Symbols = MatrixOnly
		if fits(alone) {
			e.Fits = append(e.Fits, "the Data Matrix alone")
		}
	}
	for _, dpi := range []symbol.DPI{d.DPI, symbol.DPI300, symbol.DPI600} {
		if text, ok := d.finer(dpi, fits); ok && dpi >= d.DPI {
			e.Fits = append(e.Fits, text)
			break
		}
	}
	return e
}

// larger looks for the smallest label that would do, first the width and then
// the height.
func (d dots) larger(fits func(Media) bool) (widthMm, heightMm float64, ok bool) {
	const most = 200
	try := d.Media
	for try.HeightMm = max(d.HeightMm, most); !fits(try); try.WidthMm++ {
		if try.WidthMm > most {
			return 0, 0, false
		}
	}
	for try.HeightMm = d.HeightMm; !fits(try); try.HeightMm++ {
		if try.HeightMm > most {
			return 0, 0, false
		}
	}
	return try.WidthMm, try.HeightMm, true
}

// finer tries modules of fewer dots.
func (d dots) finer(dpi symbol.DPI, fits func(Media) bool) (string, bool) {
	for module := dpi.Dots(d.LinearMm); module >= 2; module-- {
		try := d.Media
		try.DPI, try.LinearMm = dpi, dpi.Mm(module)
		if try.LinearMm > d.LinearMm || try.LinearMm < symbol.MinModuleMm {
			continue
		}
		try.MatrixMm = min(d.MatrixMm, 1.5*try.LinearMm)
		if fits(try) {
			return fmt.Sprintf("modules of %.3f mm for Code 128 and %.3f mm for Data Matrix at %d dpi", try.LinearMm, try.MatrixMm, int(dpi)), true
		}
	}
	return "", false
}

// pair is the two symbols of a code.
type pair struct{ linear, matrix symbol.Symbol }

func symbols(c code.Code) (pair, error) {
	l, err := symbol.New(symbol.Linear, c)
	if err != nil {
		return pair{}, err
	}
	m, err := symbol.New(symbol.Matrix, c)
	return pair{l, m}, err
}

// paper is the label in dots.
func (d dots) paper() image.Rectangle {
	return image.Rect(0, 0, int(d.WidthMm*d.DPI.PerMm()+1e-6), int(d.HeightMm*d.DPI.PerMm()+1e-6))
}
