package sheet

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"countback/projections/plan"
)

var lineWord = regexp.MustCompile(`\bline (\d+)`)

// place brings a fault of the plan's text back to the row that it came from,
// and to the column where its words name a key.
func (t *planText) place(x plan.Fault) Fault {
	out := Fault{Level: x.Level, Text: x.Text, Nearest: x.Nearest}
	out.Text = lineWord.ReplaceAllStringFunc(out.Text, func(s string) string {
		n, _ := strconv.Atoi(strings.TrimPrefix(s, "line "))
		if o := t.origin(n); o.g != nil && o.row > 0 {
			return o.g.file + " row " + strconv.Itoa(o.row)
		}
		return s
	})
	o := t.origin(x.Line)
	if o.g == nil {
		return out
	}
	out.Sheet, out.Row = o.g.file, o.row
	if c := columnOf(o.g, x.Text); c >= 0 && o.row > 0 {
		out.Column, out.Head = letter(o.g.cols[c].at), o.g.cols[c].head
	}
	return out
}

func (t *planText) origin(line int) origin {
	if line < 1 || line > len(t.lines) {
		return origin{}
	}
	return t.lines[line-1]
}

// columnOf is the column whose key the words of a fault name first, or -1.
func columnOf(g *grid, words string) int {
	best, at := -1, len(words)
	for i, c := range g.t.columns {
		if g.cols[i].at < 0 {
			continue
		}
		for _, key := range strings.Split(c.key, ".") {
			if key == "" {
				continue
			}
			for _, form := range []string{": " + key + ":", ": " + key + " is ", ": " + key + " "} {
				if n := strings.Index(words, form); n >= 0 && n < at {
					best, at = i, n
				}
			}
		}
	}
	return best
}

// sorted puts faults in the order of the sheets, rows and columns, each once.
func (f *faults) sorted() []Fault {
	sheet := func(x *Fault) int {
		name := strings.TrimSuffix(strings.ToLower(x.Sheet), ".csv")
		return slices.IndexFunc(tables, func(t table) bool { return t.file == name })
	}
	slices.SortStableFunc(f.list, func(a, b Fault) int {
		switch {
		case a.Sheet != b.Sheet && sheet(&a) != sheet(&b):
			return sheet(&a) - sheet(&b)
		case a.Sheet != b.Sheet:
			return strings.Compare(a.Sheet, b.Sheet)
		case a.Row != b.Row:
			return a.Row - b.Row
		case len(a.Column) != len(b.Column):
			return len(a.Column) - len(b.Column)
		}
		return strings.Compare(a.Column, b.Column)
	})
	return slices.Compact(f.list)
}
