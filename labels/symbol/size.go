package symbol

import (
	"fmt"
	"math"
)

// DPI is a printer's resolution in dots to the inch, as it is sold.
type DPI int

// Resolutions of common print heads and office printers.
const (
	DPI203 DPI = 203 // really 8 dots to the millimetre
	DPI300 DPI = 300
	DPI600 DPI = 600
)

// Limits of a resolution that makes sense on paper.
const (
	minDPI DPI = 150
	maxDPI DPI = 1200
)

// Check says what is wrong with a resolution.
func (d DPI) Check() error {
	if d < minDPI || d > maxDPI {
		return fmt.Errorf("resolution %d dpi: want %d to %d, most often 203, 300 or 600", int(d), int(minDPI), int(maxDPI))
	}
	return nil
}

// PerMm is dots to the millimetre: 8 for a head sold as 203 dpi, else the
// resolution over 25.4.
func (d DPI) PerMm() float64 {
	if d == DPI203 {
		return 8
	}
	return float64(d) / 25.4
}

// Dots is a length in millimetres in dots, rounded to the nearest whole one.
func (d DPI) Dots(mm float64) int { return int(math.Round(mm * d.PerMm())) }

// Mm is a length of whole dots in millimetres.
func (d DPI) Mm(dots int) float64 { return float64(dots) / d.PerMm() }

// Module widths in millimetres.
const (
	// MinModuleMm is the narrowest module that is drawn: 7.5 thousandths of an
	// inch, which common hand scanners still read (common practice).
	MinModuleMm = 0.19
	// DefaultLinearMm is the width of a Code 128 module unless set: the least
	// that GS1 allows inside a house (from memory).
	DefaultLinearMm = 0.25
	// DefaultMatrixMm is the width of a Data Matrix cell unless set: more than
	// 1.5 times DefaultLinearMm, since bags are stained.
	DefaultMatrixMm = 0.5
	maxModuleMm     = 5
)

// Module is a module width in whole dots: the wanted width in millimetres
// rounded up. It refuses less than MinModuleMm and less than two dots, since
// one dot of dot gain closes the gap between two bars.
func (d DPI) Module(mm float64) (dots int, err error) {
	if err := d.Check(); err != nil {
		return 0, err
	}
	if math.IsNaN(mm) || mm < MinModuleMm || mm > maxModuleMm {
		return 0, fmt.Errorf("module width %.3g mm: want %.2f to %d mm, most often 0.25 or more", mm, MinModuleMm, maxModuleMm)
	}
	dots = int(math.Ceil(mm*d.PerMm() - 1e-9))
	if dots < 2 {
		return 0, fmt.Errorf("module width %.3g mm at %d dpi: one dot wide; at least 2 dots are needed, %.3f mm", mm, int(d), d.Mm(2))
	}
	return dots, nil
}

// BarHeight is how high the bars are in dots: wanted millimetres, but never
// less than LeastBarHeight.
func (d DPI) BarHeight(mm float64, columns, module int) int {
	return max(d.Dots(mm), d.LeastBarHeight(columns, module))
}

// LeastBarHeight is the least height of a Code 128 in dots: 5 mm or 15 % of
// its width without quiet zones, whichever is more (ISO/IEC 15417, from
// memory).
func (d DPI) LeastBarHeight(columns, module int) int {
	return max(int(math.Ceil(5*d.PerMm()-1e-9)), (columns*module*15+99)/100)
}
