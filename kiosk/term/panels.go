package term

import (
	"strconv"

	"countback/kiosk/panel"
)

func itoa(n int) string { return strconv.Itoa(n) }

// panel draws the panel: its title, its grid, its rows. A count that is going
// on has a border with its word.
func (c canvas) panel(f *Frame) {
	if c.h < 2 {
		return
	}
	if f.View.Mode != "" {
		word := f.View.Mode
		if f.Falls > 0 {
			word += ": drops in " + itoa(f.Falls) + " s, nothing is stored yet"
		}
		c = c.border(word, c.look.title())
	}
	p := &f.Panel
	s := c.look.title()
	c.rows(0, 1).fill(s)
	x := c.fit(1, 0, p.Title, s)
	c.fit(x+3, 0, p.Stand, s.Bold(false))
	body := c.rows(1, c.h-1)
	if len(p.Cells) == 0 {
		body.groups(p.Groups, f.Turned)
		return
	}
	body.grid(p, f.Turned)
}

// grid draws holes or positions, the key of the shapes, and what rows have
// room beside or below.
func (c canvas) grid(p *panel.Panel, turned int) {
	names := 1
	for i := range p.Cells {
		names = max(names, width(p.Cells[i].Name))
	}
	cell := names + 4
	gap := 1
	tall := c.h >= 14 && c.w >= 100
	if tall {
		cell = max(cell, 8)
	}
	area := c
	side := c.w >= 100 && len(p.Groups)+len(p.Key) > 0
	if side {
		area = c.part(0, 0, c.w*3/5, c.h)
	}
	columns := max(1, (area.w-1)/(cell+gap))
	arranged := *p
	arranged.Cells = append([]panel.Cell(nil), p.Cells...)
	arranged.Arrange(columns)
	used := area.cells(arranged.Cells, cell, gap, tall)
	if side {
		c.part(c.w*3/5+1, 0, c.w*2/5-1, c.h).beside(p, arranged.Cells, turned)
		area.note(p.Note, used)
		return
	}
	c.rows(used, c.h-used).beside(p, arranged.Cells, turned)
}

// cells draws each hole in its place: the number in the shape of its size, the
// mark of what is in it, and on a large screen its word below.
func (c canvas) cells(cells []panel.Cell, cell, gap int, tall bool) (rows int) {
	high := 1
	if tall {
		high = 3
	}
	for i := range cells {
		k := &cells[i]
		x, y := 1+k.Col*(cell+gap), k.Row*high
		rows = max(rows, y+high)
		open, end := bracket(k.Shape)
		shape, style := c.look.mark(k.Mark)
		number := c.look.base().Bold(true)
		if k.Ask {
			number = c.look.title()
		}
		name := c.cut(k.Name, cell-4)
		at := c.put(x, y, open, number)
		at = c.put(at, y, pad(name, cell-4), number)
		at = c.put(at, y, " ", number)
		at = c.put(at, y, shape, style)
		c.put(at, y, end, number)
		if tall {
			c.put(x+1, y+1, k.Mark.String(), style)
		}
	}
	return rows
}

func pad(text string, w int) string {
	for width(text) < w {
		text = " " + text
	}
	return text
}

func (c canvas) note(text string, y int) {
	if text != "" && y < c.h {
		c.fit(1, y, text, c.look.quiet())
	}
}

// beside writes the key of the shapes, then of the marks that are in the grid,
// then the rows.
func (c canvas) beside(p *panel.Panel, cells []panel.Cell, turned int) {
	y := c.key(p.Key, 0)
	y = c.legend(cells, y)
	c.rows(y, c.h-y).groups(p.Groups, turned)
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

// legend writes the word of each mark that is in the grid.
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

// rowLine is one line that groups are drawn as.
type rowLine struct {
	head string
	row  panel.Row
	more string // what clears it, on a line of its own
}

// groups writes rows under their headings, in two columns on a wide screen,
// one page of them; MORE turns the page.
func (c canvas) groups(groups []panel.Group, turned int) {
	columns, wide := 1, c.w
	if c.w >= 110 {
		columns, wide = 2, c.w/2
	}
	lines := c.rowLines(groups, wide)
	per := c.h * columns
	if c.h <= 0 || len(lines) == 0 {
		return
	}
	if len(lines) <= c.h {
		columns, wide = 1, c.w
		lines, per = c.rowLines(groups, wide), c.h
	}
	pages := (len(lines) + per - 1) / per
	if pages > 1 {
		per = max(1, per-1)
		pages = (len(lines) + per - 1) / per
	}
	page := turned % pages
	lines = lines[page*per : min(len(lines), (page+1)*per)]
	for i, l := range lines {
		col := c.part(i/c.h*wide, 0, wide-1, c.h)
		col.rowLine(i%c.h, l)
	}
	if pages > 1 {
		c.right(c.h-1, "page "+itoa(page+1)+" of "+itoa(pages)+": MORE", c.look.title())
	}
}

// rowLines breaks groups into lines: what clears a row stands behind it where
// there is room, and below it where there is not.
func (c canvas) rowLines(groups []panel.Group, wide int) []rowLine {
	var list []rowLine
	for _, g := range groups {
		if g.Head != "" {
			list = append(list, rowLine{head: g.Head})
		}
		for _, r := range g.Rows {
			if r.More == "" || markWide(r.Mark)+width(clean(r.Text))+width(clean(r.More))+6 <= wide {
				list = append(list, rowLine{row: r})
				continue
			}
			list = append(list, rowLine{row: panel.Row{Mark: r.Mark, Text: r.Text}}, rowLine{more: r.More})
		}
	}
	return list
}

func markWide(m panel.Mark) int { return 3 + width(m.String()) + 1 }

// rowLine writes one line: the mark's shape and word, the text, what clears it.
func (c canvas) rowLine(y int, l rowLine) {
	switch {
	case l.head != "":
		c.fit(1, y, l.head, c.look.base().Underline(true))
	case l.more != "":
		c.fit(c.put(5, y, c.arrow(), c.look.quiet())+1, y, l.more, c.look.base())
	default:
		shape, style := c.look.mark(l.row.Mark)
		x := c.put(1, y, shape, style)
		if word := l.row.Mark.String(); word != "" {
			x = c.put(x+1, y, word, style)
		}
		x = c.fit(x+1, y, l.row.Text, c.look.base())
		if l.row.More != "" {
			c.fit(c.put(x+1, y, c.arrow(), c.look.quiet())+1, y, l.row.More, c.look.quiet())
		}
	}
}

func (c canvas) arrow() string {
	if c.look.blocks {
		return "→"
	}
	return "->"
}
