package term

import (
	"math"
	"slices"

	"countback/kiosk/panel"
)

// Cells of a screen are about twice as high as wide.
const cellRatio = 2

// box is where a hole goes on the screen: its left upper corner.
type box struct{ x, y int }

// drawing is holes in place: the box of each, the rows down to the lowest, and
// how many lie beside the place where they should.
type drawing struct {
	boxes       []box
	rows, moved int
}

// inPlace draws holes where they lie, to scale where they have room so, and
// else drawn apart; with the word of each below it where that moves none from
// its place. It draws nothing and returns false where they have no room at all.
func (c canvas) inPlace(p *panel.Panel) (rows int, words, ok bool) {
	name := 2
	for i := range p.Cells {
		name = max(name, width(clean(p.Cells[i].Name)))
	}
	name = min(name, max(2, c.w-6))
	high := c.h - c.footRows(p) - 1
	var best drawing
	wide, tall := 0, 0
	for _, words2 := range []bool{true, false} {
		w, t := name+5, 1
		if words2 {
			w, t = max(name+5, 8), 2
		}
		for _, stretch := range []bool{false, true} {
			d, found := spots(p.Cells, c.w-2, high, w, t, stretch)
			if found && (!ok || d.moved < best.moved) {
				best, words, ok, wide, tall = d, words2, true, w, t
			}
		}
	}
	for i, b := range best.boxes {
		c.part(1+b.x, b.y, wide, tall).hole(&p.Cells[i], name, words)
	}
	return best.rows, words, ok
}

// spots finds a place for each hole in an area of so many columns and rows,
// each as wide and tall as told. With stretch the drawing fills the area and is
// not to scale.
func spots(cells []panel.Cell, w, h, wide, tall int, stretch bool) (drawing, bool) {
	if w < wide || h < tall || len(cells)*wide*tall > w*h {
		return drawing{}, false
	}
	low, highest := cells[0], cells[0]
	for _, k := range cells {
		low.X, low.Y = min(low.X, k.X), min(low.Y, k.Y)
		highest.X, highest.Y = max(highest.X, k.X), max(highest.Y, k.Y)
	}
	perX, perY := perMm(w-wide, highest.X-low.X), perMm(h-tall, highest.Y-low.Y)
	if !stretch {
		perY = min(perY, perX/cellRatio)
		perX = perY * cellRatio
	}
	across := int(math.Round((highest.X - low.X) * perX))
	left := max(0, (w-wide-across)/2)
	if !stretch {
		left = min(left, 8)
	}
	want := make([]box, len(cells))
	for i, k := range cells {
		want[i] = box{left + int(math.Round((k.X-low.X)*perX)), int(math.Round((highest.Y - k.Y) * perY))}
	}
	return apart(want, w, h, wide, tall)
}

// perMm is how many columns or rows a millimetre gets.
func perMm(room int, mm float64) float64 {
	const most = 4 // holes in one line, or close together, are not torn apart for nothing
	if mm <= 0 {
		return most
	}
	return min(most, float64(room)/mm)
}

// apart moves boxes that lie on each other to the nearest free place, by one
// box at most.
func apart(want []box, w, h, wide, tall int) (drawing, bool) {
	order := make([]int, len(want))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		if want[a].y != want[b].y {
			return want[a].y - want[b].y
		}
		return want[a].x - want[b].x
	})
	d := drawing{boxes: make([]box, len(want))}
	var taken []box
	for _, i := range order {
		at, ok := nearestFree(want[i], taken, w, h, wide, tall)
		if !ok {
			return drawing{}, false
		}
		d.boxes[i] = at
		taken = append(taken, at)
		d.rows = max(d.rows, at.y+tall)
		if at.y != want[i].y || at.x < want[i].x-2 || at.x > want[i].x+2 {
			d.moved++
		}
	}
	return d, true
}

func nearestFree(want box, taken []box, w, h, wide, tall int) (box, bool) {
	best, least := box{}, math.MaxInt
	for dy := -tall; dy <= tall; dy++ {
		for dx := -wide; dx <= wide; dx++ {
			at := box{want.x + dx, want.y + dy}
			far := dx*dx + dy*dy*cellRatio*cellRatio*cellRatio
			if far >= least || at.x < 0 || at.y < 0 || at.x+wide > w || at.y+tall > h {
				continue
			}
			if slices.ContainsFunc(taken, func(o box) bool {
				return at.x < o.x+wide && o.x < at.x+wide && at.y < o.y+tall && o.y < at.y+tall
			}) {
				continue
			}
			best, least = at, far
		}
	}
	return best, least < math.MaxInt
}

// edges writes what lies at the edges of a drawing in place, each with an
// arrow that points there.
func (c canvas) edges(p *panel.Panel, y int) (x int) {
	x = 1
	left, up := "◄ ", "▲ "
	if !c.look.blocks {
		left, up = "<- ", "^ "
	}
	if p.Left != "" {
		x = c.fit(x, y, left+p.Left, c.look.base().Bold(true)) + 3
	}
	if p.Top != "" {
		x = c.fit(x, y, up+p.Top, c.look.base().Bold(true)) + 3
	}
	return x
}
