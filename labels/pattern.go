package labels

import (
	"image"
	"strings"

	"countback/labels/page"
)

// Spot is one hole of a joint on a drawing.
type Spot struct {
	Hole     string
	XMm, YMm float64 // from the left and from the top, as the joint is looked at
}

// Pattern is where the holes of a joint lie. Without coordinates the holes are
// drawn in their order, and the drawing says so.
type Pattern struct {
	Spots  []Spot
	Placed bool   // the coordinates are known
	Front  string // what is at the left edge: "front", "flywheel"; empty: not said
	Top    string // what is at the upper edge; empty: not said
	Star   string // what holes with a star belong to; empty: none has one
}

// note is what stands below a drawing: which way it lies.
func (t Pattern) note() string {
	var words []string
	if t.Star != "" {
		words = append(words, "* of "+t.Star)
	}
	if !t.Placed {
		return strings.Join(append(words, "in order, not in place"), "   ")
	}
	if t.Front != "" {
		words = append(words, "◀ "+t.Front)
	}
	if t.Top != "" {
		words = append(words, "▲ "+t.Top)
	}
	return strings.Join(words, "   ")
}

// patternArea is the part of the text's area that the drawing takes: none
// unless there are several sizes, the places of the holes are known and their
// numbers have room.
func (d dots) patternArea(p *page.Page, c content, text image.Rectangle) image.Rectangle {
	if !c.pattern.Placed || len(c.sizes) < 2 || text.Dx() < d.mm(60) || text.Dy() < d.mm(18) {
		return image.Rectangle{}
	}
	area := image.Rect(text.Max.X-text.Dx()*2/5, text.Min.Y, text.Max.X, text.Max.Y)
	try := *p
	if !DrawPattern(&try, area, c.pattern, nil, d.least) {
		return image.Rectangle{}
	}
	return area
}

// Shapes gives each hole the shape of its line: the first line's holes are
// page.ShapeOf(0).
func Shapes(lines []Line) map[string]page.Shape {
	shapes := map[string]page.Shape{}
	for i, l := range lines {
		for _, h := range l.Holes {
			shapes[h] = page.ShapeOf(i)
		}
	}
	return shapes
}

// DrawPattern draws a hole pattern into an area of a page: a shape for each
// hole, a ring for holes without one, and its number beside it in capitals of
// at least so many dots. It draws nothing and returns false if the numbers
// have no room.
func DrawPattern(p *page.Page, area image.Rectangle, pattern Pattern, shapes map[string]page.Shape, least int) bool {
	if len(pattern.Spots) == 0 {
		return false
	}
	note := pattern.note()
	if note != "" {
		style := page.Style{Cap: least}
		area.Max.Y -= style.Height()
		note = p.Fonts.Cut(p.Fonts.Visible(note), style, area.Dx())
		defer func() { p.Text(area.Min.X, area.Max.Y+style.Ascent(), note, style) }()
	}
	for size := min(least*3, area.Dy()/4); size >= least; size-- {
		if marks, ok := spread(p, area, pattern, size, max(least, size*2/3)); ok {
			for _, m := range marks {
				shape := shapes[m.hole]
				if shape == page.NoShape {
					shape = page.Ring
				}
				p.Shape(m.x, m.y, shape, float64(size), page.Black)
				p.Text(m.text.Min.X, m.base, m.hole, m.style)
			}
			return true
		}
	}
	note = ""
	return false
}

// mark is one hole on the drawing and its number.
type mark struct {
	hole  string
	x, y  float64
	text  image.Rectangle
	base  int
	style page.Style
}

// spread places the holes and finds a free place for each number.
func spread(p *page.Page, area image.Rectangle, pattern Pattern, size, cap int) ([]mark, bool) {
	style := page.Style{Cap: cap}
	marks := make([]mark, len(pattern.Spots))
	var taken []image.Rectangle
	points := pattern.points(area, size, style)
	if points == nil {
		return nil, false
	}
	for i, s := range pattern.Spots {
		marks[i] = mark{hole: p.Fonts.Visible(s.Hole), x: points[i].X, y: points[i].Y, style: style}
		hole := square(points[i], size)
		for _, t := range taken {
			if t.Overlaps(hole) {
				return nil, false
			}
		}
		taken = append(taken, hole)
	}
	for i := range marks {
		if !marks[i].number(p, area, size, taken) {
			return nil, false
		}
		taken = append(taken, marks[i].text)
	}
	return marks, true
}

func square(c page.Point, size int) image.Rectangle {
	half := float64(size)*0.7 + 1
	return image.Rect(int(c.X-half), int(c.Y-half), int(c.X+half)+1, int(c.Y+half)+1)
}

// number finds a place for the number: right, left, below, above.
func (m *mark) number(p *page.Page, area image.Rectangle, size int, taken []image.Rectangle) bool {
	w, h := p.Fonts.Width(m.hole, m.style), m.style.Height()
	own := square(page.Point{X: m.x, Y: m.y}, size)
	for _, at := range []image.Point{
		{own.Max.X, int(m.y) - h/2}, {own.Min.X - w, int(m.y) - h/2},
		{int(m.x) - w/2, own.Max.Y}, {int(m.x) - w/2, own.Min.Y - h},
	} {
		box := image.Rectangle{Max: image.Pt(w, h)}.Add(at)
		if box.In(area) && free(box, taken) {
			m.text, m.base = box, box.Min.Y+m.style.Ascent()
			return true
		}
	}
	return false
}

func free(r image.Rectangle, taken []image.Rectangle) bool {
	for _, t := range taken {
		if t.Overlaps(r) {
			return false
		}
	}
	return true
}

// points puts the holes into an area, to scale if their places are known, in
// rows if not; nil if there is no room.
func (t Pattern) points(area image.Rectangle, size int, style page.Style) []page.Point {
	side, top := size+style.Cap*2, size+2
	inner := image.Rect(area.Min.X+side, area.Min.Y+top, area.Max.X-side, area.Max.Y-top)
	if inner.Dx() <= 0 || inner.Dy() <= 0 {
		return nil
	}
	if !t.Placed {
		return t.inRows(area, size, style)
	}
	lowX, lowY, highX, highY := t.extent()
	scale := min(ratio(inner.Dx(), highX-lowX), ratio(inner.Dy(), highY-lowY))
	list := make([]page.Point, len(t.Spots))
	for i, s := range t.Spots {
		list[i] = page.Point{
			X: float64(inner.Min.X+inner.Max.X)/2 + (s.XMm-(lowX+highX)/2)*scale,
			Y: float64(inner.Min.Y+inner.Max.Y)/2 + (s.YMm-(lowY+highY)/2)*scale,
		}
	}
	return list
}

func ratio(dots int, mm float64) float64 {
	const aPoint = 1e9 // holes in one line have no extent across it
	if mm <= 0 {
		return aPoint
	}
	return float64(dots) / mm
}

func (t Pattern) extent() (lowX, lowY, highX, highY float64) {
	lowX, lowY = t.Spots[0].XMm, t.Spots[0].YMm
	highX, highY = lowX, lowY
	for _, s := range t.Spots {
		lowX, lowY = min(lowX, s.XMm), min(lowY, s.YMm)
		highX, highY = max(highX, s.XMm), max(highY, s.YMm)
	}
	return lowX, lowY, highX, highY
}

// inRows puts the holes side by side in their order.
func (t Pattern) inRows(area image.Rectangle, size int, style page.Style) []page.Point {
	across, down := size*2+style.Cap*4, max(size*2, style.Height()+2)
	columns := max(1, area.Dx()/across)
	rows := (len(t.Spots) + columns - 1) / columns
	if rows*down > area.Dy() || across > area.Dx() {
		return nil
	}
	list := make([]page.Point, len(t.Spots))
	for i := range t.Spots {
		list[i] = page.Point{X: float64(area.Min.X + i%columns*across + size), Y: float64(area.Min.Y+i/columns*down) + float64(down)/2}
	}
	return list
}
