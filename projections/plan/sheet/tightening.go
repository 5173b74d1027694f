package sheet

import (
	"regexp"
	"slices"
	"strings"
)

// Keys of a tightening row by where they stand in the plan file.
var (
	listKeys    = []string{"way", "member", "order", "rounds", "passes", "sets", "with", "pause", "hands", "cold", "tools", "note"}
	editionKeys = []string{"edition", "source"}
	stageKeys   = []string{"snug", "torque", "angle", "stretch", "press-depth", "height", "loosen", "again", "only", "never", "band", "needs", "due"}
)

// valueKeys are those that say what a stage is worth: such a cell may have a unit
// of its own, or a pair as manuals print it, 40 N.m (29.5 lbf.ft), and is read as
// a plan file is.
var valueKeys = stageKeys[:8]

// ownUnit is a cell that is written in another unit than the plan's, or in two,
// with points for decimal commas.
func ownUnit(cell string) (string, bool) {
	own := false
	for _, word := range strings.FieldsFunc(cell, func(r rune) bool {
		return strings.ContainsRune("0123456789.,() ", r) && r != '.' || r == '(' || r == ')'
	}) {
		if u, ok := unitOf(strings.Trim(word, ".")); ok && u.kept() {
			own = true
		}
	}
	if !own && !strings.Contains(cell, "(") || strings.Contains(cell, "/") {
		return "", false
	}
	return decimalComma.ReplaceAllString(cell, "$1.$2"), true
}

// kept reports whether a plan file has the unit beside its own: what is written in
// it stays so at the bench.
func (u *unit) kept() bool { return u.sort == "torque" && u.size != 1 || u.word == "in" }

// plainNumbers are a number or a range without a unit, as people write them; what
// has more decimals was converted, and is converted back.
var plainNumbers = regexp.MustCompile(`^\s*\d+([.,]\d{1,6})?\s*(\.\.\s*\d+([.,]\d{1,6})?\s*)?$`)

var decimalComma = regexp.MustCompile(`(\d),(\d)`)

// said is a value in a unit of its own as the cell has it: 45..55 lbf.ft.
func (w *writer) said(text, unit string) string {
	return w.spelledAll(strings.ReplaceAll(strings.TrimSuffix(text, " "+unit), " to ", "..")) + " " + unit
}

// spelledAll is numbers with .. between them, with decimal commas where the
// sheets have them.
func (w *writer) spelledAll(numbers string) string {
	list := strings.Split(numbers, "..")
	for i := range list {
		list[i] = w.spelled(list[i])
	}
	return strings.Join(list, "..")
}

func only(keys []string) func(*column) bool {
	return func(c *column) bool { return slices.Contains(keys, c.key) }
}

// tightening is tightening.csv: a row for each stage.
func (t *planText) tightening(g *grid) {
	if g == nil {
		return
	}
	t.line(origin{g, 0}, "tightening:")
	order, rows := g.grouped(0, nameOf)
	for _, id := range order {
		list := rows[id]
		keys := append([]string{"id: " + word(id)}, t.entry(g, list[0], only(listKeys))...)
		t.block(origin{g, list[0].n}, keys)
		for _, r := range list[1:] {
			for i, c := range g.t.columns {
				if slices.Contains(listKeys, c.key) && g.cell(r, i) != "" && g.cell(r, i) != g.cell(list[0], i) {
					t.f.at(g, r.n, i, c.head+" stands in the first row of "+id+", or is the same", "")
				}
			}
		}
		t.line(origin{g, list[0].n}, "    groups:")
		for _, group := range g.runs(list, "seats") {
			seats := t.entry(g, group[0], only([]string{"seats"}))
			t.groupOf(g, group, seats)
		}
	}
}

// groupOf is one group of seats with its editions.
func (t *planText) groupOf(g *grid, rows []*gridRow, seats []string) {
	lead := "      - "
	for _, s := range seats {
		t.line(origin{g, rows[0].n}, lead, s)
		lead = "        "
	}
	editions := g.runs(rows, "edition", "source")
	if len(editions) == 1 && len(t.entry(g, rows[0], only(editionKeys))) == 0 {
		t.stages(g, rows, lead, "          ")
		return
	}
	t.line(origin{g, rows[0].n}, lead, "editions:")
	for _, e := range editions {
		in := "          - "
		for _, k := range t.entry(g, e[0], only(editionKeys)) {
			t.line(origin{g, e[0].n}, in, k)
			in = "            "
		}
		t.stages(g, e, in, "              ")
	}
}

func (t *planText) stages(g *grid, rows []*gridRow, lead, in string) {
	t.line(origin{g, rows[0].n}, lead, "stages:")
	for _, r := range rows {
		t.line(origin{g, r.n}, in, "- ", flow(t.entry(g, r, only(stageKeys))))
	}
}

// runs splits rows where one of some columns changes.
func (g *grid) runs(rows []*gridRow, heads ...string) [][]*gridRow {
	var out [][]*gridRow
	for n, r := range rows {
		same := n > 0 && !slices.ContainsFunc(heads, func(h string) bool { return g.under(r, h) != g.under(rows[n-1], h) })
		if same {
			out[len(out)-1] = append(out[len(out)-1], r)
			continue
		}
		out = append(out, []*gridRow{r})
	}
	return out
}
