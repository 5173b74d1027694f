package sheet

import (
	"strconv"
	"strings"

	"countback/projections/plan"
)

// spots is the cells x and y of a row of holes as the pairs of a plan file;
// "" where they say nothing. The pairs stand where the column x does, so that
// the column y, and x where y is empty, say nothing of their own.
func (t *planText) spots(g *grid, r *gridRow, column int) string {
	x, y := g.t.column("x"), g.t.column("y")
	other := x
	if column == x {
		other = y
	}
	if g.cell(r, other) == "" {
		t.f.at(g, r.n, column, g.t.columns[column].head+" without "+g.t.columns[other].head+"; both are wanted, or neither", "")
		return ""
	}
	if column != x {
		return ""
	}
	xs, okX := t.row(g, r, x)
	ys, okY := t.row(g, r, y)
	switch {
	case !okX || !okY:
		return ""
	case len(xs) != len(ys):
		t.f.at(g, r.n, y, strconv.Itoa(len(xs))+" numbers under x and "+strconv.Itoa(len(ys))+" under y; one of each is wanted for each hole", "")
		return ""
	}
	pairs := make([]string, len(xs))
	for i := range xs {
		pairs[i] = list([]string{xs[i], ys[i]})
		if xs[i] == "unknown" && ys[i] == "unknown" {
			pairs[i] = "unknown"
		}
	}
	return list(pairs)
}

// row is the lengths of a cell, separated by semicolons; by blanks, or commas
// with a blank behind them, where what is between the semicolons is no length.
func (t *planText) row(g *grid, r *gridRow, column int) ([]string, bool) {
	var out []string
	for _, part := range strings.Split(g.cell(r, column), ";") {
		words := []string{part}
		if _, ok := quantity(part, g.unit(column)); !ok {
			words = strings.Fields(strings.ReplaceAll(part, ", ", " "))
		}
		for _, w := range words {
			v, ok := quantity(w, g.unit(column))
			if unknown(w) {
				v, ok = "unknown", true
			}
			if !ok {
				t.f.at(g, r.n, column, strconv.Quote(w)+" is no length, and not unknown", "")
				return nil, false
			}
			out = append(out, v)
		}
	}
	return out, true
}

// places are the cells x and y of a row of holes; empty where no place is
// known.
func (w *writer) places(list []plan.SeatIndex) (x, y string) {
	var xs, ys []string
	some := false
	for _, s := range list {
		at := w.p.Seats[s].XY
		some = some || at.Known
		if !at.Known {
			xs, ys = append(xs, "unknown"), append(ys, "unknown")
			continue
		}
		xs, ys = append(xs, w.number(at.X, w.length)), append(ys, w.number(at.Y, w.length))
	}
	if !some {
		return "", ""
	}
	return strings.Join(xs, "; "), strings.Join(ys, "; ")
}
