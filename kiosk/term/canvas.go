package term

import (
	"strings"
	"unicode"

	"github.com/gdamore/tcell/v2"
	"github.com/rivo/uniseg"
)

// canvas is a rectangle of a screen that nothing is drawn outside of.
type canvas struct {
	screen     tcell.Screen
	x, y, w, h int
	look       look
}

// part is a rectangle of a canvas, cut to it.
func (c canvas) part(x, y, w, h int) canvas {
	x, y = min(max(x, 0), c.w), min(max(y, 0), c.h)
	p := c
	p.x, p.y = c.x+x, c.y+y
	p.w, p.h = min(max(w, 0), c.w-x), min(max(h, 0), c.h-y)
	return p
}

// rows is the canvas from row y, h rows high.
func (c canvas) rows(y, h int) canvas { return c.part(0, y, c.w, h) }

func (c canvas) fill(s tcell.Style) {
	for y := range c.h {
		for x := range c.w {
			c.screen.SetContent(c.x+x, c.y+y, ' ', nil, s)
		}
	}
}

// put writes a text from a column on one row and gives the column behind it.
// What does not fit is not drawn; cut and fit say so visibly.
func (c canvas) put(x, y int, text string, s tcell.Style) int {
	if y < 0 || y >= c.h {
		return x
	}
	state := -1
	for len(text) > 0 {
		var cluster string
		var width int
		cluster, text, width, state = uniseg.FirstGraphemeClusterInString(text, state)
		runes := []rune(cluster)
		if width == 0 || unicode.IsControl(runes[0]) {
			continue
		}
		if x >= 0 && x+width <= c.w {
			c.screen.SetContent(c.x+x, c.y+y, runes[0], runes[1:], s)
		}
		x += width
	}
	return x
}

// fit writes a text and shortens it visibly where it has no room.
func (c canvas) fit(x, y int, text string, s tcell.Style) int {
	return c.put(x, y, c.cut(text, c.w-x), s)
}

// right writes a text so that it ends at the right edge.
func (c canvas) right(y int, text string, s tcell.Style) { c.put(c.w-width(text), y, text, s) }

// cut shortens a text to a width, with a mark that something is left out.
func (c canvas) cut(text string, w int) string {
	text = clean(text)
	if width(text) <= w {
		return text
	}
	dots := "…"
	if !c.look.blocks {
		dots = "..."
	}
	for w < width(dots) {
		if w <= 0 {
			return ""
		}
		dots = dots[:len(dots)-1]
		if c.look.blocks {
			return ""
		}
	}
	head, _ := splitAt(text, w-width(dots))
	return head + dots
}

// splitAt cuts a text where it is no wider than w.
func splitAt(text string, w int) (head, rest string) {
	state, used := -1, 0
	rest = text
	for len(rest) > 0 {
		cluster, next, wide, st := uniseg.FirstGraphemeClusterInString(rest, state)
		if used+wide > w {
			break
		}
		head += cluster
		rest, state, used = next, st, used+wide
	}
	return head, rest
}

func width(text string) int { return uniseg.StringWidth(text) }

// clean leaves out what no screen shows: control characters and broken text.
func clean(text string) string {
	return strings.Map(func(r rune) rune {
		if r == '\t' || r == '\n' {
			return ' '
		}
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) && r != '\u200d' {
			return -1
		}
		return r
	}, strings.ToValidUTF8(text, "?"))
}

// wrap breaks a text into rows no wider than w, at blanks where it can; at
// most so many rows, the last one shortened visibly.
func (c canvas) wrap(text string, w, most int) []string {
	if w <= 0 || most <= 0 {
		return nil
	}
	var list []string
	rest := strings.TrimSpace(clean(text))
	for rest != "" && len(list) < most {
		if len(list) == most-1 {
			return append(list, c.cut(rest, w))
		}
		head, tail := splitAt(rest, w)
		if tail != "" && tail[0] != ' ' {
			if i := strings.LastIndexByte(head, ' '); i > 0 {
				head, tail = head[:i], head[i:]+tail
			}
		}
		if head == "" {
			return list // one character is wider than the row
		}
		list = append(list, head)
		rest = strings.TrimSpace(tail)
	}
	return list
}

// line draws a line along a row.
func (c canvas) line(y int, s tcell.Style) {
	r := "─"
	if !c.look.blocks {
		r = "-"
	}
	c.put(0, y, strings.Repeat(r, max(0, c.w)), s)
}

// border draws a border with a word in its upper edge and gives what is inside.
func (c canvas) border(word string, s tcell.Style) canvas {
	if c.w < 4 || c.h < 3 {
		return c
	}
	h, v := "═", "║"
	corners := [4]string{"╔", "╗", "╚", "╝"}
	if !c.look.blocks {
		h, v, corners = "=", "|", [4]string{"+", "+", "+", "+"}
	}
	c.put(0, 0, corners[0]+strings.Repeat(h, c.w-2)+corners[1], s)
	c.put(0, c.h-1, corners[2]+strings.Repeat(h, c.w-2)+corners[3], s)
	for y := 1; y < c.h-1; y++ {
		c.put(0, y, v, s)
		c.put(c.w-1, y, v, s)
	}
	if word = c.cut(word, c.w-6); word != "" {
		c.put(2, 0, " "+word+" ", s.Bold(true))
	}
	return c.part(1, 1, c.w-2, c.h-2)
}
