package term

import (
	"math"
	"strings"

	"countback/kiosk/panel"
)

// leastLine is the fewest columns that a line of a scale makes sense in, and
// mostLine the most that it gets.
const (
	leastLine = 16
	mostLine  = 64
)

// scaleCols is how wide the parts of a group's scales are, so that the lines of
// all of them stand below each other. more is for what is short enough to stand
// behind the value.
type scaleCols struct{ mark, name, left, line, right, value, more int }

// shortMore is how long what is behind a value may be at most.
const shortMore = 21

// scaleColumns shares out the width of a screen; line is 0 where there is no
// room for one.
func (c canvas) scaleColumns(g *panel.Group, wide int) scaleCols {
	var k scaleCols
	for i := range g.Rows {
		s := g.Rows[i].Scale
		if s == nil {
			continue
		}
		k.mark = max(k.mark, markWide(g.Rows[i].Mark))
		k.name = max(k.name, width(clean(s.Name)))
		k.left = max(k.left, width(clean(s.Min.Text)))
		k.right = max(k.right, width(clean(s.Max.Text)))
		k.value = max(k.value, width(clean(s.Value)))
		if w := width(clean(g.Rows[i].More)); w <= shortMore {
			k.more = max(k.more, w)
		}
	}
	k.name, k.value = min(k.name, wide/3), min(k.value, wide/3)
	k.left, k.right = min(k.left, 9), min(k.right, 9)
	room := wide - k.mark - k.name - k.left - k.right - k.value - 6
	if k.more > 0 && room-k.more-2 < leastLine+8 {
		k.more = 0
	}
	if k.more > 0 {
		room -= k.more + 2
	}
	if k.line = min(mostLine, room); k.line < leastLine {
		k.line = 0
	}
	return k
}

// scaleRow draws one scale: what it is, the lower limit, the line, the upper
// limit, what was read.
func (c canvas) scaleRow(y int, r *panel.Row, k scaleCols) {
	s := r.Scale
	c.markAt(y, r.Mark)
	x := k.mark
	c.part(0, y, x+k.name, 1).fit(x, 0, s.Name, c.look.base())
	x += k.name + 1
	c.put(x+k.left-width(s.Min.Text), y, c.cut(s.Min.Text, k.left), c.look.quiet())
	x += k.left + 1
	c.part(x, y, k.line, 1).scaleLine(s, r.Mark)
	x += k.line + 1
	c.put(x, y, c.cut(s.Max.Text, k.right), c.look.quiet())
	x += k.right + 2
	c.part(0, y, x+k.value, 1).fit(x, 0, s.Value, c.look.base().Bold(true))
	if k.behind(r.More) {
		c.fit(x+k.value+2, y, r.More, c.look.quiet())
	}
}

// behind reports whether what is said of a row stands behind its value.
func (k *scaleCols) behind(more string) bool { return more != "" && width(clean(more)) <= k.more }

// scalesFit reports whether all scales of groups can be drawn in a width.
func (c canvas) scalesFit(groups []panel.Group, wide int) bool {
	for i := range groups {
		for r := range groups[i].Rows {
			if groups[i].Rows[r].Scale != nil && c.scaleColumns(&groups[i], wide).line == 0 {
				return false
			}
		}
	}
	return true
}

func (c canvas) markAt(y int, m panel.Mark) int {
	shape, style := c.look.mark(m)
	x := c.put(1, y, shape, style)
	if word := m.String(); word != "" {
		x = c.put(x+1, y, word, style)
	}
	return x
}

// scaleMarks are what a line is drawn with: outside and inside the limits, the
// band of the gauge, a limit, one for new parts, what counts, other readings,
// and what lies beyond either end.
type scaleMarks struct{ off, in, band, limit, fresh, dot, beside, under, over string }

var (
	blockScale = scaleMarks{"·", "━", "▒", "┃", "╎", "●", "○", "◄", "►"}
	plainScale = scaleMarks{".", "=", "%", "|", ":", "O", "o", "<", ">"}
)

// scaleLine is the line with its limits and readings; it fills the canvas.
func (c canvas) scaleLine(s *panel.Scale, m panel.Mark) {
	marks := &plainScale
	if c.look.blocks {
		marks = &blockScale
	}
	if c.w < 2 || !(s.High > s.Low) {
		return
	}
	per := (s.High - s.Low) / float64(c.w-1)
	for i := range c.w {
		v := s.Low + float64(i)*per
		r := marks.in
		style := c.look.base()
		switch {
		case s.Band > 0 && (s.Min.Known && math.Abs(v-s.Min.At) <= s.Band || s.Max.Known && math.Abs(v-s.Max.At) <= s.Band):
			r = marks.band
		case s.Min.Known && v < s.Min.At || s.Max.Known && v > s.Max.At:
			r, style = marks.off, c.look.quiet()
		}
		c.put(i, 0, r, style)
	}
	at := func(v float64) int { return int(math.Round((v - s.Low) / per)) }
	for _, e := range s.New {
		if e.Known {
			c.put(at(e.At), 0, marks.fresh, c.look.base())
		}
	}
	for _, e := range [...]panel.End{s.Min, s.Max} {
		if e.Known {
			c.put(at(e.At), 0, marks.limit, c.look.base().Bold(true))
		}
	}
	dot := func(v float64, r string, bold bool) {
		_, style := c.look.mark(m)
		x := at(v)
		switch {
		case !(x >= 0):
			x, r = 0, marks.under
		case x >= c.w:
			x, r = c.w-1, marks.over
		}
		c.put(x, 0, r, style.Bold(bold))
	}
	for _, v := range s.Beside {
		dot(v, marks.beside, false)
	}
	if s.Known {
		dot(s.At, marks.dot, true)
	}
}

// tableCols is how wide the columns of a table are; none where it has no room.
type tableCols struct {
	mark int
	wide []int
}

// tableColumns gives each column what its longest cell needs; where that is
// too much the widest gives way.
func (c canvas) tableColumns(g *panel.Group, wide int) tableCols {
	var k tableCols
	cells := append([][]string{g.Heads}, nil...)
	for i := range g.Rows {
		if len(g.Rows[i].Cells) > 0 {
			k.mark = max(k.mark, markWide(g.Rows[i].Mark))
			cells = append(cells, g.Rows[i].Cells)
		}
	}
	for _, row := range cells {
		for i, text := range row {
			if i >= len(k.wide) {
				k.wide = append(k.wide, 0)
			}
			k.wide[i] = max(k.wide[i], width(clean(text)))
		}
	}
	if len(k.wide) == 0 {
		return k
	}
	used := k.mark + 1
	for _, w := range k.wide {
		used += w + 2
	}
	for used > wide {
		widest := 0
		for i, w := range k.wide {
			if w > k.wide[widest] {
				widest = i
			}
		}
		if k.wide[widest] <= 10 {
			break
		}
		k.wide[widest]--
		used--
	}
	if used > wide {
		k.wide = nil
	}
	return k
}

// tableRow writes cells below each other; numbers stand at the right of their
// column.
func (c canvas) tableRow(y int, cells []string, k tableCols, head bool) {
	x := k.mark
	style := c.look.base()
	if head {
		style = style.Underline(true)
	}
	for i, text := range cells {
		if i >= len(k.wide) {
			return
		}
		text = c.cut(text, k.wide[i])
		at := x
		if i > 0 && (head || number(text)) && k.number(i) {
			at = x + k.wide[i] - width(text)
		}
		c.put(at, y, text, style)
		x += k.wide[i] + 2
	}
}

// number reports whether a column is narrow enough to be one of numbers.
func (k *tableCols) number(i int) bool { return k.wide[i] <= 9 }

func number(text string) bool { return text != "" && strings.Trim(text, "0123456789.-") == "" }
