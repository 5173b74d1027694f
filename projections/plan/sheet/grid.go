package sheet

import (
	"errors"
	"io/fs"
	"path"
	"slices"
	"strings"

	"countback/projections/plan"
)

// grid is one sheet as it was read: rows of cells under known columns.
type grid struct {
	t    *table
	file string
	cols []gridColumn // by column of the table
	rows []gridRow
}

// gridColumn is where a column of the table stands in the file.
type gridColumn struct {
	at   int // -1: not there
	head string
	unit *unit
}

type gridRow struct {
	n     int // as a spreadsheet counts
	cells []string
}

// cell is the text of a row under a column of the table.
func (g *grid) cell(r *gridRow, column int) string {
	at := g.cols[column].at
	if at < 0 || at >= len(r.cells) {
		return ""
	}
	return r.cells[at]
}

// under is cell by the head of the column.
func (g *grid) under(r *gridRow, head string) string { return g.cell(r, g.t.column(head)) }

// faults collects what is wrong.
type faults struct{ list []Fault }

func (f *faults) add(x Fault) {
	if len(f.list) < maxFaults {
		f.list = append(f.list, x)
	}
}

// at is a fault in a cell.
func (f *faults) at(g *grid, row, column int, text, near string) {
	x := Fault{Level: plan.Broken, Sheet: g.file, Row: row, Text: text, Nearest: near}
	if column >= 0 && g.cols[column].at >= 0 {
		x.Column, x.Head = letter(g.cols[column].at), g.cols[column].head
	}
	f.add(x)
}

// load reads the sheets of a folder.
func (f *faults) load(fsys fs.FS) map[string]*grid {
	out := map[string]*grid{}
	entries, err := fs.ReadDir(fsys, ".")
	if err != nil {
		f.add(Fault{Text: "the folder cannot be read: " + cause(err)})
		return out
	}
	for _, e := range entries {
		base, isCSV := strings.CutSuffix(strings.ToLower(e.Name()), ".csv")
		if e.IsDir() || !isCSV {
			continue
		}
		t, ok := tableOf(strings.ReplaceAll(plainHead(base), " ", "-"))
		if !ok {
			near := nearest(base, tableNames())
			if near != "" {
				near += ".csv"
			}
			f.add(Fault{Sheet: e.Name(), Text: "no sheet of a plan has this name; one of " + strings.Join(tableNames(), ", "), Nearest: near})
			continue
		}
		if out[t.file] != nil {
			f.add(Fault{Sheet: e.Name(), Text: "this sheet is there already as " + out[t.file].file})
			continue
		}
		src, err := fs.ReadFile(fsys, path.Clean(e.Name()))
		if err != nil {
			f.add(Fault{Sheet: e.Name(), Text: "cannot be read: " + cause(err)})
			continue
		}
		if g := f.grid(t, e.Name(), src); g != nil {
			out[t.file] = g
		}
	}
	if len(out) == 0 && len(f.list) == 0 {
		f.add(Fault{Text: "no sheets here: parts.csv, holes.csv, steps.csv and loans.csv are wanted"})
	}
	return out
}

// cause is an error of the file system less the path that the fault names.
func cause(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		err = p.Err
	}
	return err.Error()
}

// grid reads one sheet, or says why it cannot.
func (f *faults) grid(t *table, file string, src []byte) *grid {
	if len(src) > maxBytes {
		f.add(Fault{Sheet: file, Text: "larger than 4 MiB"})
		return nil
	}
	body, ok := clean(src)
	if !ok {
		f.add(Fault{Sheet: file, Text: "not in UTF-8; save it as CSV UTF-8"})
		return nil
	}
	rows, open := cells(body, separator(body))
	if open > 0 {
		f.add(Fault{Sheet: file, Row: open, Text: "a quotation mark that is never closed"})
		return nil
	}
	if len(rows) > maxRows {
		f.add(Fault{Sheet: file, Text: "more rows than any plan has"})
		return nil
	}
	g := &grid{t: t, file: file}
	for n, row := range rows {
		for i := range row {
			row[i] = strings.TrimSpace(row[i])
		}
		if !slices.ContainsFunc(row, func(c string) bool { return c != "" }) {
			continue
		}
		if g.cols == nil {
			if !f.heads(g, n+1, row) {
				return nil
			}
			continue
		}
		g.rows = append(g.rows, gridRow{n + 1, row})
		f.extent(g, n+1, row)
	}
	if g.cols == nil {
		f.add(Fault{Sheet: file, Text: "empty; the first row names the columns"})
		return nil
	}
	return g
}

// extent looks for cells that are too long or stand under no column.
func (f *faults) extent(g *grid, row int, cells []string) {
	for i, c := range cells {
		known := slices.ContainsFunc(g.cols, func(x gridColumn) bool { return x.at == i })
		switch {
		case len(c) > maxCell:
			f.add(Fault{Sheet: g.file, Row: row, Column: letter(i), Text: "more than 2000 letters"})
			cells[i] = ""
		case strings.ContainsFunc(c, func(r rune) bool { return r < ' ' && r != '\n' && r != '\t' }):
			f.add(Fault{Sheet: g.file, Row: row, Column: letter(i), Text: "a control character"})
			cells[i] = ""
		case c != "" && !known && i >= g.width():
			f.add(Fault{Sheet: g.file, Row: row, Column: letter(i), Text: "this column has no name in the first row"})
		}
	}
}

func (g *grid) width() int {
	w := 0
	for _, c := range g.cols {
		w = max(w, c.at+1)
	}
	return w
}

// heads finds the columns by the first row.
func (f *faults) heads(g *grid, row int, cells []string) bool {
	if len(cells) > maxColumns {
		f.add(Fault{Sheet: g.file, Row: row, Text: "more columns than any sheet has"})
		return false
	}
	g.cols = make([]gridColumn, len(g.t.columns))
	for i := range g.cols {
		g.cols[i].at = -1
	}
	for at, cell := range cells {
		if cell == "" {
			continue
		}
		f.head(g, row, at, cell)
	}
	ok := true
	for i, c := range g.t.columns {
		if c.must && g.cols[i].at < 0 {
			f.add(Fault{Sheet: g.file, Row: row, Text: "no column " + c.head})
			ok = false
		}
	}
	return ok
}

func (f *faults) head(g *grid, row, at int, cell string) {
	fault := func(text, near string) {
		f.add(Fault{Sheet: g.file, Row: row, Column: letter(at), Head: cell, Text: text, Nearest: near})
	}
	bare, unitWord := splitUnit(squeeze(cell))
	i := g.t.column(plainHead(bare))
	if i < 0 {
		fault("no column of "+g.t.file+" has this name", nearest(plainHead(bare), g.t.heads()))
		return
	}
	if g.cols[i].at >= 0 {
		fault("this column is there already", "")
		return
	}
	g.cols[i] = gridColumn{at: at, head: cell}
	u, ok := unitOf(unitWord)
	sort := g.t.columns[i].kind.measures()
	switch {
	case sort == "" && unitWord != "" && g.t.columns[i].kind != limit:
		fault("this column has no unit", "")
	case sort == "":
	case unitWord == "":
		fault("say the unit: "+bare+" ("+usualUnit[sort]+")", "")
	case !ok || u.sort != sort:
		fault("the unit is "+unitWord+"; "+strings.Join(unitWords(sort), ", ")+" are "+sort+"s", nearest(unitWord, unitWords(sort)))
	default:
		g.cols[i].unit = u
	}
}

// splitUnit takes the unit in brackets from behind a head.
func splitUnit(cell string) (head, unit string) {
	for _, pair := range []string{"()", "[]"} {
		if open := strings.LastIndexByte(cell, pair[0]); open > 0 && strings.HasSuffix(cell, pair[1:]) {
			return strings.TrimSpace(cell[:open]), strings.TrimSpace(cell[open+1 : len(cell)-1])
		}
	}
	return cell, ""
}
