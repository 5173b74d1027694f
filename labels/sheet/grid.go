package sheet

import (
	"errors"
	"fmt"
	"image"

	"countback/labels"
	"countback/labels/page"
)

// Grid is a sheet of labels as they are bought.
type Grid struct {
	Paper             Paper
	Columns, Rows     int
	WidthMm, HeightMm float64 // of one label
	LeftMm, TopMm     float64 // of the first label
	PitchXMm          float64 // from one label to the next; 0: as wide as a label
	PitchYMm          float64
	OffsetXMm         float64 // moves everything, for a printer that draws its paper askew
	OffsetYMm         float64
	First             int // how many labels of the first sheet are used up already
}

// Grids that are sold everywhere.
var (
	A4Grid24     = Grid{Paper: A4, Columns: 3, Rows: 8, WidthMm: 70, HeightMm: 36, TopMm: 4.5}
	A4Grid10     = Grid{Paper: A4, Columns: 2, Rows: 5, WidthMm: 105, HeightMm: 57, TopMm: 6}
	LetterGrid30 = Grid{Paper: Letter, Columns: 3, Rows: 10, WidthMm: 66.675, HeightMm: 25.4, LeftMm: 4.76, TopMm: 12.7, PitchXMm: 69.85}
)

// maxOffsetMm is how far askew a printer may draw its paper.
const maxOffsetMm = 5.0

// Check says what is wrong with a grid.
func (g Grid) Check() error {
	if g.Columns < 1 || g.Rows < 1 || g.Columns > 20 || g.Rows > 50 {
		return fmt.Errorf("label grid of %d x %d: want 1 to 20 columns and 1 to 50 rows", g.Columns, g.Rows)
	}
	if g.First < 0 || g.First >= g.Columns*g.Rows {
		return fmt.Errorf("label grid: %d labels used up: the sheet has %d", g.First, g.Columns*g.Rows)
	}
	x, y := or(g.PitchXMm, g.WidthMm), or(g.PitchYMm, g.HeightMm)
	if x < g.WidthMm-1e-6 || y < g.HeightMm-1e-6 {
		return fmt.Errorf("label grid: pitch %.4g x %.4g mm is less than a label, %.4g x %.4g mm", x, y, g.WidthMm, g.HeightMm)
	}
	for _, o := range []float64{g.OffsetXMm, g.OffsetYMm} {
		if !(o >= -maxOffsetMm && o <= maxOffsetMm) {
			return fmt.Errorf("label grid: offset %.4g mm: want %g to %g mm; take other paper", o, -maxOffsetMm, maxOffsetMm)
		}
	}
	left, top := g.LeftMm, g.TopMm
	right, bottom := left+x*float64(g.Columns-1)+g.WidthMm, top+y*float64(g.Rows-1)+g.HeightMm
	const nearly = 0.05
	if left < -nearly || top < -nearly || right > g.Paper.WidthMm+nearly || bottom > g.Paper.HeightMm+nearly {
		return fmt.Errorf("label grid: labels lie at %.1f to %.1f and %.1f to %.1f mm, the paper is %.4g x %.4g mm; check sizes and pitch",
			left, right, top, bottom, g.Paper.WidthMm, g.Paper.HeightMm)
	}
	return nil
}

// Labels puts labels on sheets, row by row. The media's width and height are
// those of the grid's labels; its margin keeps text and symbols off the edge
// where the paper is cut. All must be first prints, or reprints of one number.
func Labels(g Grid, m labels.Media, list []labels.Label) (page.Document, error) {
	if err := g.Check(); err != nil {
		return page.Document{}, err
	}
	if len(list) == 0 {
		return page.Document{}, errors.New("label grid: no label given")
	}
	about, err := labels.About(list)
	if err != nil {
		return page.Document{}, err
	}
	m.WidthMm, m.HeightMm = g.WidthMm, g.HeightMm
	var pages []*page.Page
	for i, l := range list {
		n := g.First + i
		if n%(g.Columns*g.Rows) == 0 || i == 0 {
			p, err := page.New(g.Paper.WidthMm, g.Paper.HeightMm, m.DPI, m.Fonts)
			if err != nil {
				return page.Document{}, fmt.Errorf("label grid: %w", err)
			}
			pages = append(pages, p)
		}
		one, err := labels.Page(l, m)
		if err != nil {
			return page.Document{}, err
		}
		if one.Width > m.DPI.Dots(g.WidthMm)+1 {
			return page.Document{}, fmt.Errorf("label grid: label %d is %.0f mm wide, the sheet's are %.4g mm; print strips on a roll", i+1, one.WidthMm(), g.WidthMm)
		}
		sheet := pages[len(pages)-1]
		sheet.Paste(one, g.corner(n%(g.Columns*g.Rows), sheet, one))
	}
	return page.Finish(about, pages...)
}

// corner is the left upper corner of a label, in whole dots on the paper. With
// an offset the edge of a label may come off the paper; what stands on it may
// not, see page.Finish.
func (g Grid) corner(n int, sheet, one *page.Page) image.Point {
	x := g.LeftMm + float64(n%g.Columns)*or(g.PitchXMm, g.WidthMm)
	y := g.TopMm + float64(n/g.Columns)*or(g.PitchYMm, g.HeightMm)
	return image.Pt(
		max(0, min(sheet.DPI.Dots(x), sheet.Width-one.Width)),
		max(0, min(sheet.DPI.Dots(y), sheet.Height-one.Height))).
		Add(image.Pt(sheet.DPI.Dots(g.OffsetXMm), sheet.DPI.Dots(g.OffsetYMm)))
}
