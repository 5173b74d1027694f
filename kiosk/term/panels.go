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

// rowLine is one line that groups are drawn as.
type rowLine struct {
	head string
	row  panel.Row
	cont string // the text of the row above goes on
	more string // what clears it, on a line of its own

	scale scaleCols // of a row that is drawn as a scale
	table tableCols // of a row, or of heads, that are drawn as a table
	heads []string
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
	if len(pages) > 1 && c.w >= 110 && c.scalesFit(groups, c.w/2) {
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
	for n < len(lines) && (lines[n-1].head != "" || len(lines[n-1].heads) > 0) {
		n++
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
	for i := range groups {
		g := &groups[i]
		scale, table := c.scaleColumns(g, wide), c.tableColumns(g, wide)
		if g.Head != "" {
			list = append(list, rowLine{head: g.Head})
		}
		if len(g.Heads) > 0 && len(table.wide) > 0 {
			list = append(list, rowLine{heads: g.Heads, table: table})
		}
		for _, r := range g.Rows {
			if drawn := r.Scale != nil && scale.line > 0; drawn || len(r.Cells) > 0 && len(table.wide) > 0 {
				l := rowLine{row: r}
				if l.table = table; drawn {
					l.scale = scale
				}
				list = append(list, l)
				if !drawn || !scale.behind(r.More) {
					list = append(list, c.moreLines(r.More, wide)...)
				}
				continue
			}
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
			list = append(list, c.moreLines(r.More, wide)...)
		}
	}
	return list
}

// moreLines is what clears a row, below it.
func (c canvas) moreLines(more string, wide int) []rowLine {
	var list []rowLine
	for i, text := range c.wrap(more, wide-9, 3) {
		if i == 0 {
			list = append(list, rowLine{more: text})
		} else {
			list = append(list, rowLine{row: panel.Row{Mark: panel.Plain}, cont: "     " + text})
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
	case len(l.heads) > 0:
		c.tableRow(y, l.heads, l.table, true)
	case l.scale.line > 0:
		c.scaleRow(y, &l.row, l.scale)
	case len(l.row.Cells) > 0 && len(l.table.wide) > 0:
		c.markAt(y, l.row.Mark)
		c.tableRow(y, l.row.Cells, l.table, false)
	case l.cont != "":
		c.fit(markWide(l.row.Mark), y, l.cont, c.look.base())
	case l.more != "":
		c.fit(c.put(5, y, c.arrow(), c.look.quiet())+1, y, l.more, c.look.base())
	default:
		x := c.fit(c.markAt(y, l.row.Mark)+1, y, l.row.Text, c.look.base())
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
