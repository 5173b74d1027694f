package sheet

import (
	"io/fs"
	"slices"
	"strings"

	"countback/projections/plan"
)

// Read reads the sheets of a folder into a plan. id is what the plan is called
// where plan.csv does not say. The faults are all that is wrong, in the order
// of the sheets; the plan is nil where there is one.
func Read(fsys fs.FS, id string) (*plan.Plan, []Fault) {
	p, t := read(fsys, id)
	return p, t.f.sorted()
}

// Check is Read, and then what plan.Check finds, by sheet and row. The plan is
// nil where it cannot be read; else Fault.Level tells whether it can be used.
func Check(fsys fs.FS, id string) (*plan.Plan, []Fault) {
	p, t := read(fsys, id)
	if p == nil {
		return nil, t.f.sorted()
	}
	for _, x := range plan.CheckSource("", []byte(t.b.String())) {
		t.f.add(t.place(x))
	}
	return p, t.f.sorted()
}

func read(fsys fs.FS, id string) (*plan.Plan, *planText) {
	t := &planText{f: &faults{}}
	grids := t.f.load(fsys)
	t.write(grids, id)
	own := slices.Clone(t.f.list)
	_, err := plan.Parse("sheets", []byte(t.b.String()))
	if list, ok := err.(plan.Faults); ok {
		for _, x := range list {
			// What is missing in a row that could not be read follows from that.
			at := t.place(x)
			follows := x.Code == plan.CodeMissing && slices.ContainsFunc(own, func(o Fault) bool { return o.Row > 0 && o.Sheet == at.Sheet && o.Row == at.Row })
			if !follows {
				t.f.add(at)
			}
		}
	}
	if len(t.f.list) > 0 {
		return nil, t
	}
	// The text that the plan keeps is the house layout.
	first, err := plan.Parse("sheets", []byte(t.b.String()))
	if err != nil {
		panic("unreachable: it was read before: " + err.Error())
	}
	p, err := plan.Parse(first.ID+".yaml", plan.Write(first))
	if err != nil {
		panic("unreachable: what was read is written so that it can be read: " + err.Error())
	}
	return p, t
}

// write is the text of the plan.
func (t *planText) write(grids map[string]*grid, id string) {
	for i := range tables {
		if g := grids[tables[i].file]; g != nil {
			t.demand(g)
		}
	}
	t.header(grids["plan"], id)
	for i := range tables {
		if g := grids[tables[i].file]; g != nil && tables[i].section != "" && tables[i].file != "joints" {
			t.simple(g)
		}
	}
	t.joints(grids["joints"], grids["holes"])
	t.variants(grids["variants"])
	t.steps(grids["steps"])
	t.tightening(grids["tightening"])
	t.kits(grids["kits"])
}

// simple is a section whose rows are its entries.
func (t *planText) simple(g *grid) {
	t.line(origin{g, 0}, g.t.section, ":")
	for n := range g.rows {
		t.line(origin{g, g.rows[n].n}, "  - ", flow(t.entry(g, &g.rows[n], nil)))
	}
}

var planKeys = []string{"id", "family", "edition", "demo data", "left right", "fasteners", "seats", "parts", "pieces", "hiding places", "start evidence"}

// header is plan.csv.
func (t *planText) header(g *grid, id string) {
	at := map[string]string{"id": word(nameOf(id))}
	rows := map[string]int{}
	if g == nil {
		at["family"] = quote(id)
	} else {
		for n := range g.rows {
			t.headerRow(g, &g.rows[n], at, rows)
		}
	}
	keys := func(names ...string) []string {
		var out []string
		for _, k := range names {
			if v := at[k]; v != "" {
				out = append(out, strings.ReplaceAll(k, " ", "-")+": "+v)
			}
		}
		return out
	}
	t.line(origin{g, rows["id"]}, "plan: ", flow(keys("id", "family", "edition", "demo data", "left right")))
	if totals := keys("fasteners", "seats", "parts", "pieces"); totals != nil {
		t.line(origin{g, rows["fasteners"]}, "totals: ", flow(totals))
	}
	if v := at["hiding places"]; v != "" {
		t.line(origin{g, rows["hiding places"]}, "hiding-places: ", v)
	}
	if v := at["start evidence"]; v != "" {
		t.line(origin{g, rows["start evidence"]}, "start-evidence: ", v)
	}
}

func (t *planText) headerRow(g *grid, r *gridRow, at map[string]string, rows map[string]int) {
	key, cell := plainHead(g.cell(r, 0)), g.cell(r, 1)
	kinds := map[string]kind{"id": name, "edition": number, "demo data": flag, "left right": text, "fasteners": number, "seats": number, "parts": number, "pieces": number, "hiding places": texts, "start evidence": ids}
	switch {
	case key == "":
		return
	case !slices.Contains(planKeys, key):
		t.f.at(g, r.n, 0, "plan.csv has no key "+key, nearest(key, planKeys))
		return
	case rows[key] != 0:
		t.f.at(g, r.n, 0, key+" is there already", "")
		return
	}
	rows[key] = r.n
	c := column{kind: kinds[key]}
	v, err := c.value(cell, nil)
	if err != nil {
		t.f.at(g, r.n, 1, err.Error(), "")
		return
	}
	if cell != "" {
		at[key] = v
	}
}

// grouped is rows that belong together, by the first text of a column, in the
// order in which they first come.
func (g *grid) grouped(column int, id func(string) string) (names []string, rows map[string][]*gridRow) {
	rows = map[string][]*gridRow{}
	for n := range g.rows {
		k := id(g.cell(&g.rows[n], column))
		if k == "" {
			continue
		}
		if rows[k] == nil {
			names = append(names, k)
		}
		rows[k] = append(rows[k], &g.rows[n])
	}
	return names, rows
}

// joints is joints.csv and, under each joint, its rows of holes.csv.
func (t *planText) joints(joints, holes *grid) {
	if joints == nil && holes == nil {
		return
	}
	t.line(origin{}, "joints:")
	var order []string
	rows := map[string][]*gridRow{}
	if holes != nil {
		order, rows = holes.grouped(0, nameOf)
	}
	under := func(id string) {
		if len(rows[id]) > 0 {
			t.line(origin{holes, rows[id][0].n}, "    holes:")
		}
		for _, r := range rows[id] {
			t.line(origin{holes, r.n}, "      - ", flow(t.entry(holes, r, nil)))
		}
	}
	said := map[string]bool{}
	if joints != nil {
		for n := range joints.rows {
			r := &joints.rows[n]
			t.block(origin{joints, r.n}, t.entry(joints, r, nil))
			if id := nameOf(joints.cell(r, 0)); !said[id] {
				said[id] = true
				under(id)
			}
		}
	}
	for _, id := range order {
		if !said[id] {
			t.block(origin{holes, rows[id][0].n}, []string{"id: " + word(id)})
			under(id)
		}
	}
}

// block is an entry in block layout, for keys to follow it.
func (t *planText) block(o origin, keys []string) {
	if keys == nil {
		keys = []string{"id: \"\""}
	}
	for i, k := range keys {
		lead := "    "
		if i == 0 {
			lead = "  - "
		}
		t.line(o, lead, k)
	}
}

func (t *planText) variants(g *grid) {
	if g == nil {
		return
	}
	t.line(origin{g, 0}, "variants:")
	order, rows := g.grouped(0, nameOf)
	for _, id := range order {
		var layouts []string
		first := ""
		for _, r := range rows[id] {
			layout := word(nameOf(g.under(r, "layout")))
			layouts = append(layouts, layout+": "+flow(t.entry(g, r, nil)))
			if oneOf(g.under(r, "default"), yes) {
				first = layout
			}
		}
		if first == "" {
			first = word(nameOf(g.under(rows[id][0], "layout")))
		}
		t.line(origin{g, rows[id][0].n}, "  - {id: ", word(id), ", one-of: ", flow(layouts), ", default: ", first, "}")
	}
}

// steps is steps.csv, by its sections.
func (t *planText) steps(g *grid) {
	if g == nil {
		return
	}
	t.line(origin{g, 0}, "steps:")
	sections := []string{"off", "bench", "on"}
	at := g.t.column("section")
	for n := range g.rows {
		if s := strings.ToLower(g.cell(&g.rows[n], at)); s != "" && !slices.Contains(sections, s) {
			t.f.at(g, g.rows[n].n, at, "section is "+s+"; off, bench or on is wanted", nearest(s, sections))
		}
	}
	for _, section := range sections {
		t.line(origin{g, 0}, "  ", section, ":")
		for n := range g.rows {
			if r := &g.rows[n]; strings.EqualFold(g.cell(r, at), section) {
				t.line(origin{g, r.n}, "    - ", flow(t.entry(g, r, nil)))
			}
		}
	}
}

func (t *planText) kits(g *grid) {
	if g == nil {
		return
	}
	t.line(origin{g, 0}, "kits:")
	order, rows := g.grouped(0, nameOf)
	for _, id := range order {
		t.line(origin{g, rows[id][0].n}, "  - id: ", word(id))
		t.line(origin{g, rows[id][0].n}, "    lines:")
		for _, r := range rows[id] {
			t.line(origin{g, r.n}, "      - ", flow(t.entry(g, r, nil)))
		}
	}
}
