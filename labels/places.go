package labels

import (
	"fmt"
	"image"

	"countback/labels/page"
	"countback/labels/symbol"
)

// places says where on a label everything goes, in dots.
type places struct {
	inner  image.Rectangle // the label without its margin
	head   image.Rectangle
	text   image.Rectangle
	foot   image.Rectangle // beside the symbols; empty: no room
	linear image.Rectangle // with quiet zone, bars only
	hri    image.Rectangle // the eight characters
	matrix image.Rectangle // with quiet zone
	bars   int             // height that the bars could still lose
}

// Sizes of parts of a label, in millimetres.
const (
	headCapMm = 2.4
	hriCapMm  = 2.4
	leastFoot = 14.0 // width that is worth writing in
	leastText = 12.0 // width of the text beside a Data Matrix
)

// places finds room for the symbols of a code; lacks says what there is no
// room for.
func (d dots) places(paper image.Rectangle, p pair) (places, string) {
	l := places{inner: paper.Inset(d.margin)}
	headCap := d.headCap(l.inner)
	l.head = image.Rectangle{Min: l.inner.Min, Max: image.Pt(l.inner.Max.X, l.inner.Min.Y+page.Style{Cap: headCap}.Height())}
	l.text = image.Rectangle{Min: image.Pt(l.inner.Min.X, l.head.Max.Y+d.gap), Max: l.inner.Max}
	switch {
	case d.Symbols == MatrixOnly:
		return l, d.placeMatrixAlone(&l, p)
	default:
		return l, d.placeLinear(&l, p)
	}
}

func (d dots) headCap(inner image.Rectangle) int {
	return max(d.least, min(d.mm(headCapMm), inner.Dy()/14))
}

// leastRow is the height of one row in the smallest capitals.
func (d dots) leastRow() int { return page.Style{Cap: d.least}.Height() }

// placeLinear puts the bars into the left lower corner and the matrix beside
// them, or above them if the label is narrow.
func (d dots) placeLinear(l *places, p pair) string {
	least := d.DPI.LeastBarHeight(p.linear.Columns, d.linear)
	bar := max(d.bar, least)
	size := page.SymbolSize(p.linear, d.linear, 0)
	if size.X > l.inner.Dx() {
		return fmt.Sprintf("Code 128 needs %.1f mm of width with its quiet zones at %.3f mm a module, there are %.1f mm between the margins",
			d.DPI.Mm(size.X), d.DPI.Mm(d.linear), d.DPI.Mm(l.inner.Dx()))
	}
	matrix := page.SymbolSize(p.matrix, d.matrix, 0)
	beside := l.inner.Dx() >= size.X+d.gap+matrix.X
	hri := page.Style{Cap: d.cap(hriCapMm)}.Height()
	above := d.leastRow()
	if d.Symbols == Both && !beside {
		if l.inner.Dx() < matrix.X+d.gap+d.mm(leastText) {
			return d.lacksWidth(matrix.X)
		}
		above = max(above, matrix.Y)
	}
	room := l.text.Dy() - above - d.gap - hri
	if d.Symbols == Both && beside {
		room = min(room, l.text.Dy()-above-d.gap-max(0, matrix.Y-least-hri)-hri)
	}
	if room < least {
		return fmt.Sprintf("head, one line and Code 128 with its characters need %.1f mm of height, there are %.1f mm between the margins",
			d.DPI.Mm(l.inner.Dy()-room+least), d.DPI.Mm(l.inner.Dy()))
	}
	bar = min(bar, room)
	l.bars = bar - least
	d.settle(l, size.X, bar, hri, matrix, beside)
	return ""
}

// settle places bars of a height, their characters and the matrix at the
// bottom, and gives the rest to text and foot.
func (d dots) settle(l *places, width, bar, hri int, matrix image.Point, beside bool) {
	left, bottom, right := l.inner.Min.X, l.inner.Max.Y, l.inner.Max.X
	l.hri = image.Rect(left, bottom-hri, left+width, bottom)
	l.linear = image.Rect(left, bottom-hri-bar, left+width, bottom-hri)
	top := l.linear.Min.Y
	switch {
	case d.Symbols != Both:
	case beside:
		l.matrix = image.Rectangle{Min: l.inner.Max.Sub(matrix), Max: l.inner.Max}
		top, right = min(top, l.matrix.Min.Y), l.matrix.Min.X
	default:
		corner := image.Pt(right, top-d.gap)
		l.matrix = image.Rectangle{Min: corner.Sub(matrix), Max: corner}
		l.text.Max.X = l.matrix.Min.X - d.gap
	}
	l.text.Max.Y = top - d.gap
	if l.foot = image.Rect(l.linear.Max.X+d.gap, top, right-d.gap, bottom); l.foot.Dx() < d.mm(leastFoot) {
		l.foot = image.Rectangle{}
	}
}

func (d dots) lacksWidth(matrix int) string {
	return fmt.Sprintf("Code 128 and the Data Matrix of %.1f mm have no room beside or above each other", d.DPI.Mm(matrix))
}

// placeMatrixAlone puts the matrix into the left lower corner, its characters
// below it.
func (d dots) placeMatrixAlone(l *places, p pair) string {
	matrix := page.SymbolSize(p.matrix, d.matrix, 0)
	style := page.Style{Cap: d.least, Weight: page.Bold}
	width := max(matrix.X, d.Fonts.Width(string(p.matrix.Code), style))
	high := matrix.Y + style.Height()
	if width > l.inner.Dx() {
		return fmt.Sprintf("the Data Matrix with its characters needs %.1f mm of width, there are %.1f mm between the margins",
			d.DPI.Mm(width), d.DPI.Mm(l.inner.Dx()))
	}
	if need := d.leastRow() + d.gap + high; need > l.text.Dy() {
		return fmt.Sprintf("head, one line and the Data Matrix with its characters need %.1f mm of height, there are %.1f mm between the margins",
			d.DPI.Mm(l.inner.Dy()-l.text.Dy()+need), d.DPI.Mm(l.inner.Dy()))
	}
	left, bottom := l.inner.Min.X, l.inner.Max.Y
	l.hri = image.Rect(left, bottom-style.Height(), left+width, bottom)
	l.matrix = image.Rectangle{Max: matrix}.Add(image.Pt(left+(width-matrix.X)/2, l.hri.Min.Y-matrix.Y))
	l.foot = image.Rect(left+width+d.gap, l.matrix.Min.Y, l.inner.Max.X, bottom)
	if l.foot.Dx() < d.mm(leastFoot) {
		l.foot = image.Rectangle{}
	}
	l.text.Max.Y = l.matrix.Min.Y - d.gap
	return ""
}

// shrink takes height from the bars and gives it to the text.
func (l places) shrink(by int) places {
	by = min(by, l.bars)
	if l.linear.Empty() || by <= 0 {
		return l
	}
	// The matrix may be what is in the way.
	if !l.matrix.Empty() && l.matrix.Min.X >= l.linear.Max.X {
		by = min(by, max(0, l.matrix.Min.Y-l.linear.Min.Y))
	} else if !l.matrix.Empty() {
		l.matrix = l.matrix.Add(image.Pt(0, by))
	}
	l.linear.Min.Y += by
	l.text.Max.Y += by
	if !l.foot.Empty() {
		l.foot.Min.Y += by
	}
	l.bars -= by
	return l
}

// module is the dots of a module of a symbol.
func (d dots) module(k symbol.Kind) int {
	if k == symbol.Linear {
		return d.linear
	}
	return d.matrix
}
