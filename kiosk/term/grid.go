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
	g := area.layOut(p)
	used := area.cells(g)
	key := area.rows(used, area.h-used)
	end := key.key(p.Key, 0)
	if !g.words {
		end = key.legend(g.cells, end)
	}
	if p.Note != "" {
		key.fit(1, end, p.Note, c.look.quiet())
		end++
	}
	used += end
	if !side {
		rest = c.rows(used, c.h-used)
	}
	rest.groups(p.Groups, turned)
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

// cells draws each hole in its place: the number in the shape of its size, the
// mark of what is in it, and its word below.
func (c canvas) cells(g layout) (rows int) {
	for i := range g.cells {
		k := &g.cells[i]
		x, y := 1+k.Col*g.wide, k.Row*g.high
		rows = max(rows, y+g.high)
		open, end := bracket(k.Shape)
		shape, style := c.look.mark(k.Mark)
		number := c.look.base().Bold(true)
		if k.Ask {
			number = c.look.title()
		}
		at := c.put(x, y, open+pad(c.cut(k.Name, g.name), g.name)+c.pointer(k.Ask), number)
		at = c.put(at, y, shape, style)
		c.put(at, y, end, number)
		if g.words {
			c.part(x, y+1, g.wide, 1).fit(1, 0, k.Mark.String(), style)
		}
	}
	return rows
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
