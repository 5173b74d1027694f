package term

import (
	"strings"

	"countback/kiosk/panel"
)

// grid draws holes or positions, the key of the shapes, and what rows have
// room beside or below.
func (c canvas) grid(p *panel.Panel, turned int) {
	area, rest := c, c
	side := c.w >= 100 && len(p.Groups) > 0
	if side {
		area, rest = c.part(0, 0, c.w*3/5, c.h), c.part(c.w*3/5+1, 0, c.w*2/5-1, c.h)
	}
	used, words, placed := 0, false, false
	if p.Placed {
		used, words, placed = area.inPlace(p)
	}
	if !placed {
		g := area.layOut(p)
		used, words = area.cells(g), g.words
	}
	key := area.rows(used, area.h-used)
	end := key.key(p.Key, 0)
	if !words {
		end = key.legend(p.Cells, end)
	}
	end += key.rows(end, key.h-end).footNote(p, placed)
	used += end
	if !side {
		rest = c.rows(used, c.h-used)
	}
	rest.groups(p.Groups, turned)
}

// footNote says how the cells lie, and gives the rows that it took.
func (c canvas) footNote(p *panel.Panel, placed bool) int {
	note, x := p.Note, 1
	switch {
	case placed:
		x = c.edges(p, 0)
	case p.Placed:
		note = "no room here to draw them in place: in the order of their numbers"
	}
	if note == "" {
		return min(1, x-1)
	}
	rows := c.wrap(note, c.w-1-x, 1)
	if placed && c.h > 2 && width(clean(note)) > c.w-1-x {
		x, rows = 1, append([]string{""}, c.wrap(note, c.w-2, 2)...)
	}
	for i, r := range rows {
		c.fit(x, i, r, c.look.quiet())
	}
	return len(rows)
}

// layout is where the cells of a grid go.
type layout struct {
	cells []panel.Cell
	wide  int // columns of the screen from one cell to the next
	name  int // columns for the name
	high  int // rows of the screen from one cell to the next
	words bool
}

// layOut chooses how large the cells can be: with the word of what is in each
// hole below it where there is room for that.
func (c canvas) layOut(p *panel.Panel) layout {
	g := layout{name: 2, cells: append([]panel.Cell(nil), p.Cells...)}
	for i := range p.Cells {
		g.name = max(g.name, width(clean(p.Cells[i].Name)))
	}
	g.name = min(g.name, max(2, c.w-6))
	rows := 0
	for _, try := range []struct {
		wide, high int
		words      bool
	}{{10, 4, true}, {10, 3, true}, {7, 3, true}, {7, 2, true}, {7, 2, false}, {5, 1, false}} {
		g.wide, g.high, g.words = max(try.wide, g.name+5), try.high, try.words
		arranged := panel.Panel{Cells: g.cells}
		arranged.Arrange(max(1, (c.w-1)/g.wide))
		rows = 0
		for i := range g.cells {
			rows = max(rows, (g.cells[i].Row+1)*g.high)
		}
		if rows <= c.h-c.footRows(p) {
			break
		}
	}
	return g
}

// footRows is how many rows a panel needs below its grid.
func (c canvas) footRows(p *panel.Panel) int {
	rows := len(p.Groups)
	if len(p.Key) > 0 {
		rows++
	}
	if p.Note != "" {
		rows++
	}
	return rows
}

// cells draws each hole in its row and column.
func (c canvas) cells(g layout) (rows int) {
	for i := range g.cells {
		k := &g.cells[i]
		y := k.Row * g.high
		rows = max(rows, y+g.high)
		c.part(1+k.Col*g.wide, y, g.wide, c.h-y).hole(k, g.name, g.words)
	}
	return rows
}

// hole draws one hole: its number in the shape of its size, the mark of what is
// in it, and its word below.
func (c canvas) hole(k *panel.Cell, name int, words bool) {
	open, end := bracket(k.Shape)
	shape, style := c.look.mark(k.Mark)
	number := c.look.base().Bold(true)
	if k.Ask {
		number = c.look.title()
	}
	at := c.put(0, 0, open+pad(c.cut(k.Name, name), name)+c.pointer(k.Ask), number)
	at = c.put(at, 0, shape, style)
	c.put(at, 0, end, number)
	if words {
		c.fit(1, 1, k.Mark.String(), style)
	}
}

// pointer points at the hole that the sentence is about.
func (c canvas) pointer(at bool) string {
	switch {
	case !at:
		return " "
	case c.look.blocks:
		return "◄"
	}
	return "<"
}

func pad(text string, w int) string {
	return strings.Repeat(" ", max(0, w-width(text))) + text
}

// key writes which shape is which size, several in a row.
func (c canvas) key(key []panel.Key, y int) int {
	x := 1
	for _, k := range key {
		open, end := bracket(k.Shape)
		text := open + " " + end + " " + k.Text
		if x > 1 && x+width(text) > c.w {
			x, y = 1, y+1
		}
		x = c.fit(x, y, text, c.look.base()) + 3
	}
	if len(key) > 0 {
		y++
	}
	return y
}

// legend writes the word of each mark that is in the grid, and gives the row
// below it.
func (c canvas) legend(cells []panel.Cell, y int) int {
	x := 1
	any := false
	for m := panel.Plain + 1; m <= panel.Swapped; m++ {
		for i := range cells {
			if cells[i].Mark != m {
				continue
			}
			shape, style := c.look.mark(m)
			if x > 1 && x+2+width(m.String()) > c.w {
				x, y = 1, y+1
			}
			x = c.fit(c.put(x, y, shape, style)+1, y, m.String(), style) + 3
			any = true
			break
		}
	}
	if any {
		y++
	}
	return y
}
