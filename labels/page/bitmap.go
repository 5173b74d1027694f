package page

import (
	"image"
	"image/color"

	"countback/labels/symbol"
)

// Ink is black or white.
type Ink uint8

// The inks.
const (
	Black Ink = iota
	White
)

// Bitmap is dots, one bit each. Its Rect says which dots of a page it shows.
type Bitmap struct {
	Rect   image.Rectangle
	stride int
	bits   []byte // rows of whole bytes, leftmost dot in the highest bit, 1 is white
}

// NewBitmap is a white bitmap.
func NewBitmap(r image.Rectangle) *Bitmap {
	b := &Bitmap{Rect: r, stride: (r.Dx() + 7) / 8}
	b.bits = make([]byte, b.stride*r.Dy())
	for i := range b.bits {
		b.bits[i] = 0xff
	}
	return b
}

// Black reports whether a dot is black; outside of the bitmap none is.
func (b *Bitmap) Black(x, y int) bool {
	if !(image.Pt(x, y).In(b.Rect)) {
		return false
	}
	x, y = x-b.Rect.Min.X, y-b.Rect.Min.Y
	return b.bits[y*b.stride+x>>3]&(0x80>>(x&7)) == 0
}

// Set inks one dot, if the bitmap has it.
func (b *Bitmap) Set(x, y int, ink Ink) {
	if image.Pt(x, y).In(b.Rect) {
		b.span(x, x+1, y, ink)
	}
}

// Fill inks a rectangle, as far as the bitmap shows it.
func (b *Bitmap) Fill(r image.Rectangle, ink Ink) {
	r = r.Intersect(b.Rect)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		b.span(r.Min.X, r.Max.X, y, ink)
	}
}

// span inks the dots from x0 to x1-1 of a row, all of them in the bitmap.
func (b *Bitmap) span(x0, x1, y int, ink Ink) {
	if x0 >= x1 {
		return
	}
	x0, x1 = x0-b.Rect.Min.X, x1-b.Rect.Min.X
	row := b.bits[(y-b.Rect.Min.Y)*b.stride:]
	first, last := x0>>3, (x1-1)>>3
	for i := first; i <= last; i++ {
		mask := byte(0xff)
		if i == first {
			mask &= 0xff >> (x0 & 7)
		}
		if i == last {
			mask &= 0xff << (7 - (x1-1)&7)
		}
		if ink == Black {
			row[i] &^= mask
		} else {
			row[i] |= mask
		}
	}
}

// Bounds is Rect.
func (b *Bitmap) Bounds() image.Rectangle { return b.Rect }

// ColorModel is grey.
func (b *Bitmap) ColorModel() color.Model { return color.GrayModel }

// At is black or white.
func (b *Bitmap) At(x, y int) color.Color {
	if b.Black(x, y) {
		return color.Gray{}
	}
	return color.Gray{Y: 255}
}

// Region shows a part of the bitmap to a decoder.
func (b *Bitmap) Region(r image.Rectangle) symbol.Picture { return region{b, r.Intersect(b.Rect)} }

type region struct {
	b *Bitmap
	r image.Rectangle
}

// Size is the region's width and height.
func (g region) Size() (width, height int) { return g.r.Dx(), g.r.Dy() }

// Row is one row of the region.
func (g region) Row(y int, row []byte) {
	for x := range row {
		row[x] = 255
		if g.b.Black(g.r.Min.X+x, g.r.Min.Y+y) {
			row[x] = 0
		}
	}
}

// Grey shows a part of any picture to a decoder, in shades of grey.
func Grey(m image.Image, r image.Rectangle) symbol.Picture {
	return grey{m, r.Intersect(m.Bounds())}
}

type grey struct {
	m image.Image
	r image.Rectangle
}

// Size is the part's width and height.
func (g grey) Size() (width, height int) { return g.r.Dx(), g.r.Dy() }

// Row is one row of the part.
func (g grey) Row(y int, row []byte) {
	for x := range row {
		row[x] = color.GrayModel.Convert(g.m.At(g.r.Min.X+x, g.r.Min.Y+y)).(color.Gray).Y
	}
}
