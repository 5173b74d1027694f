package labels

import (
	"image"
	"strconv"

	"countback/labels/page"
)

// laid is one row in its place: texts from its left upper corner.
type laid struct {
	height int
	parts  []part
}

type part struct {
	x, y  int // left end of the baseline
	text  string
	style page.Style
	shape page.Shape
	rule  int // length of a line to write on, 0: none
}

// Room between rows and words, in capital heights.
const (
	between = 0.35
	apart   = 1.2
)

// lay finds out how a row stands in a width, in capitals of at most so many
// dots; oneLine says that both texts of it fit side by side.
func (d dots) lay(r row, width, cap int, oneLine bool) laid {
	style := page.Style{Cap: cap, Weight: r.weight}
	if r.blank {
		return d.layBlank(r, width, style)
	}
	indent := r.indent(cap)
	var l laid
	if r.shape != page.NoShape {
		l.parts = append(l.parts, part{x: int(float64(cap) * 0.7), y: style.Ascent() - cap/2, shape: r.shape, style: style})
	}
	if r.right != "" && oneLine {
		right := d.Fonts.Visible(r.right)
		l.parts = append(l.parts, part{x: indent, y: style.Ascent(), text: d.Fonts.Visible(r.text), style: style},
			part{x: width - d.Fonts.Width(right, style), y: style.Ascent(), text: right, style: style})
		l.height = style.Height()
		return l
	}
	lines, fit := d.Fonts.FitLines(r.text, style, width-indent, max(1, r.lines), d.least)
	l = d.stack(l, lines, fit, indent)
	if r.right != "" {
		lines, fit := d.Fonts.FitLines(r.right, style, width-2*indent, 2, d.least)
		l = d.stack(l, lines, fit, 2*indent)
	}
	if r.shape != page.NoShape {
		l.height = max(l.height, style.Height()) // though not a letter fits beside it
	}
	return l
}

// indent is the room that a row's shape takes before its text.
func (r row) indent(cap int) int {
	if r.shape == page.NoShape {
		return 0
	}
	return int(float64(cap) * 1.8)
}

// stack adds lines below what is there.
func (d dots) stack(l laid, lines []string, style page.Style, x int) laid {
	for _, t := range lines {
		l.parts = append(l.parts, part{x: x, y: l.height + style.Ascent(), text: t, style: style})
		l.height += style.Height()
	}
	return l
}

// listSize is the capitals in which all rows of the list are written: as large
// as scale allows and every row, with its second text beside it, fits its
// line; not much smaller than that, or else the second text stands below and
// only the first must fit.
func (d dots) listSize(rows []row, width int, scale float64) (cap int, oneLine bool) {
	most := 0
	for _, r := range rows {
		if r.list {
			most = max(most, d.cap(r.capMm*scale))
		}
	}
	for cap = most; cap > 0 && cap >= max(d.least, most*7/10); cap-- {
		if d.listFits(rows, width, cap, true) {
			return cap, true
		}
	}
	for cap = most; cap > d.least && !d.listFits(rows, width, cap, false); {
		cap--
	}
	return cap, false
}

func (d dots) listFits(rows []row, width, cap int, oneLine bool) bool {
	for _, r := range rows {
		if !r.list {
			continue
		}
		style := page.Style{Cap: cap, Weight: r.weight}
		need := r.indent(cap) + d.Fonts.Width(d.Fonts.Visible(r.text), style)
		if oneLine && r.right != "" {
			need += int(float64(cap)*apart) + d.Fonts.Width(d.Fonts.Visible(r.right), style)
		}
		if need > width {
			return false
		}
	}
	return true
}

// layBlank is a caption and a line to write on.
func (d dots) layBlank(r row, width int, style page.Style) laid {
	text, style := d.Fonts.Fit(r.text, style, width/2, d.least)
	high := max(style.Height(), d.mm(4.5))
	base := high - style.Descent()
	from := d.Fonts.Width(text, style) + style.Cap/2
	return laid{height: high, parts: []part{{y: base, text: text, style: style}, {x: from, y: base + style.Descent()/2, rule: width - from, style: style}}}
}

// fill lays rows below each other into an area. It returns false if they do
// not fit.
func (d dots) fill(rows []row, area image.Rectangle, scale float64) ([]part, bool) {
	var parts []part
	y := area.Min.Y
	listCap, oneLine := d.listSize(rows, area.Dx(), scale)
	for _, r := range rows {
		cap := d.cap(r.capMm * scale)
		if r.list {
			cap = listCap
		}
		l := d.lay(r, area.Dx(), cap, r.list && oneLine)
		if y+l.height > area.Max.Y {
			return nil, false
		}
		for _, p := range l.parts {
			p.x, p.y = p.x+area.Min.X, p.y+y
			parts = append(parts, p)
		}
		y += l.height + int(between*float64(cap))/2
	}
	return parts, true
}

// scales are tried from large to small; the last one is the smallest capitals.
var scales = func() []float64 {
	var list []float64
	for s := 1.6; s > 0.35; s *= 0.93 {
		list = append(list, s)
	}
	return append(list, 0)
}()

// squeeze drops rows from the bottom up until the rest fits in the smallest
// capitals, and says how many went.
func (d dots) squeeze(rows []row, area image.Rectangle) []part {
	rows = append([]row(nil), rows...)
	for dropped := 0; ; {
		last := rows
		if dropped > 0 {
			last = append(append([]row(nil), rows...), row{text: page.Ellipsis + " " + more(dropped), capMm: 0})
		}
		if parts, ok := d.fill(last, area, 0); ok {
			return parts
		}
		at := lastLoose(rows)
		if at < 0 {
			parts, _ := d.fill([]row{{text: rows[0].text, shape: rows[0].shape, weight: rows[0].weight}}, area, 0)
			return parts
		}
		rows = append(rows[:at], rows[at+1:]...)
		dropped++
	}
}

func more(n int) string {
	if n == 1 {
		return "1 line more"
	}
	return strconv.Itoa(n) + " lines more"
}

// lastLoose is the last row that may go: one that need not be kept, or else
// the last one but the first; -1 if only the first is left.
func lastLoose(rows []row) int {
	for i := len(rows) - 1; i > 0; i-- {
		if !rows[i].keep {
			return i
		}
	}
	if len(rows) > 1 {
		return len(rows) - 1
	}
	return -1
}
