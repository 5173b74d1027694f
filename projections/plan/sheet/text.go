package sheet

import (
	"errors"
	"strings"
)

// origin is the row that a line of the plan's text came from.
type origin struct {
	g   *grid
	row int
}

// planText is the text of a plan with the origin of each of its lines.
type planText struct {
	f     *faults
	b     strings.Builder
	lines []origin
}

func (t *planText) line(o origin, parts ...string) {
	for _, p := range parts {
		t.b.WriteString(p)
	}
	t.b.WriteByte('\n')
	t.lines = append(t.lines, o)
}

// entry is the keys of a row as "key: value", in the order of the columns; use
// says which columns. Keys with a point are put together.
func (t *planText) entry(g *grid, r *gridRow, use func(*column) bool) []string {
	var out []string
	nested := map[string]int{}
	for i := range g.t.columns {
		c := &g.t.columns[i]
		cell := g.cell(r, i)
		if cell == "" || c.key == "" || (use != nil && !use(c)) {
			continue
		}
		if c.kind == across {
			if v := t.spots(g, r, i); v != "" {
				out = append(out, c.key+": "+v)
			}
			continue
		}
		v, err := c.value(cell, g.unit(i))
		if err != nil {
			var w *wrong
			near := ""
			if errors.As(err, &w) {
				near = w.near
			}
			t.f.at(g, r.n, i, err.Error(), near)
			continue
		}
		outer, inner, deep := strings.Cut(c.key, ".")
		if !deep {
			if v != "" {
				out = append(out, c.key+": "+v)
			}
			continue
		}
		at, ok := nested[outer]
		if !ok {
			at = len(out)
			nested[outer] = at
			out = append(out, outer+": {}")
		}
		if v != "" {
			out[at] = strings.TrimSuffix(strings.TrimSuffix(out[at], "}")+", "+inner+": "+v, ", ") + "}"
			out[at] = strings.Replace(out[at], "{, ", "{", 1)
		}
	}
	return out
}

// unit is the unit of a column; lengths in a stack are in that of the grip.
func (g *grid) unit(column int) *unit {
	if u := g.cols[column].unit; u != nil {
		return u
	}
	if g.t.columns[column].kind == stacked {
		if u := g.cols[g.t.column("grip")].unit; u != nil {
			return u
		}
		u, _ := unitOf("mm")
		return u
	}
	return nil
}

// demand says which cells are missing that every row needs.
func (t *planText) demand(g *grid) {
	for n := range g.rows {
		for i, c := range g.t.columns {
			if c.must && g.cell(&g.rows[n], i) == "" {
				t.f.at(g, g.rows[n].n, i, c.head+" is missing", "")
			}
		}
	}
}

func flow(keys []string) string { return "{" + strings.Join(keys, ", ") + "}" }
