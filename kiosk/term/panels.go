package term

import (
	"strconv"
	"strings"

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

// rowLine is one line that groups are drawn as.
type rowLine struct {
	head string
	row  panel.Row
	cont string // the text of the row above goes on
	more string // what clears it, on a line of its own
}

// goesOn reports whether a line belongs to the one above it.
func (l *rowLine) goesOn() bool { return l.cont != "" || l.more != "" }

// groups writes rows under their headings, in two columns on a wide screen,
// one page of them; MORE turns the page.
func (c canvas) groups(groups []panel.Group, turned int) {
	if c.h <= 0 || len(groups) == 0 {
		return
	}
	wide := c.w
	pages := paged(c.rowLines(groups, wide), c.h, 1)
	if len(pages) > 1 && c.w >= 110 {
		wide = c.w / 2
		pages = paged(c.rowLines(groups, wide), c.h, 2)
	}
	if len(pages) > 1 {
		pages = paged(c.rowLines(groups, wide), c.h-1, c.w/wide)
	}
	page := turned % len(pages)
	for i, column := range pages[page] {
		col := c.part(i*wide, 0, wide-1, c.h)
		for y, l := range column {
			col.rowLine(y, l)
		}
	}
	if len(pages) > 1 {
		c.right(c.h-1, " page "+itoa(page+1)+" of "+itoa(len(pages))+": MORE ", c.look.title())
	}
}

// paged breaks lines into columns of a height and those into pages. What
// belongs together stays in one column, where a column can hold it.
func paged(lines []rowLine, high, columns int) [][][]rowLine {
	high = max(1, high)
	all := [][]rowLine{nil}
	for len(lines) > 0 {
		n := together(lines)
		last := len(all) - 1
		if len(all[last]) > 0 && len(all[last])+min(n, high) > high {
			all = append(all, nil)
			last++
		}
		n = min(n, high-len(all[last]))
		all[last] = append(all[last], lines[:n]...)
		lines = lines[n:]
	}
	var pages [][][]rowLine
	for len(all) > 0 {
		n := min(columns, len(all))
		pages = append(pages, all[:n])
		all = all[n:]
	}
	return pages
}

// together is how many lines from the first on belong together: a heading with
// its first row, and a row with all that goes on below it.
func together(lines []rowLine) int {
	n := 1
	if lines[0].head != "" && len(lines) > 1 {
		n = 2
	}
	for n < len(lines) && lines[n].goesOn() {
		n++
	}
	return n
}

// rowLines breaks groups into lines: a long text goes on below, and what clears
// a row stands behind it where there is room, and below it where there is not.
func (c canvas) rowLines(groups []panel.Group, wide int) []rowLine {
	var list []rowLine
	for _, g := range groups {
		if g.Head != "" {
			list = append(list, rowLine{head: g.Head})
		}
		for _, r := range g.Rows {
			if markWide(r.Mark)+width(clean(r.Text))+width(clean(r.More))+6 <= wide {
				list = append(list, rowLine{row: r})
				continue
			}
			for i, text := range c.wrap(r.Text, wide-2-markWide(r.Mark), 3) {
				if i == 0 {
					list = append(list, rowLine{row: panel.Row{Mark: r.Mark, Text: text}})
				} else {
					list = append(list, rowLine{row: panel.Row{Mark: r.Mark}, cont: text})
				}
			}
			for i, text := range c.wrap(r.More, wide-9, 2) {
				if i == 0 {
					list = append(list, rowLine{more: text})
				} else {
					list = append(list, rowLine{row: panel.Row{Mark: panel.Plain}, cont: "     " + text})
				}
			}
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
	case l.cont != "":
		c.fit(markWide(l.row.Mark), y, l.cont, c.look.base())
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
