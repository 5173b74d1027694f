package panel

import (
	"slices"
	"strings"

	"countback/events"
	"countback/projections/engine"
)

// OfCompare is two repairs side by side: what each takes, uses up and costs,
// when the engine is back, and what is risky about it. The columns are as wide
// as what stands in them, so that they can be read down.
func OfCompare(j *engine.Job, ask engine.ScopeAsk) Panel {
	p := Panel{Name: "compare", Title: "One repair against another"}
	a, err := j.Scope(ask)
	if err != nil {
		p.Stand = err.Error()
		return p
	}
	ways := a.Ways
	if len(ways) == 0 {
		p.Stand = "off already"
		return p
	}
	p.Title = capital(a.Name) + " against " + ways[len(ways)-1].Name
	p.Stand = "not decided"
	for _, goals := range [][]string{ask.Goals, ask.Against} {
		if d := j.State().ScopeChosen(goals); d != nil && (len(d.Beside) > 0 || d.Open()) {
			p.Stand = "decided " + since(j.State(), d.Fact) + " by " + string(d.By) + ", " + d.Why
		}
	}
	p.with(columns(ways, a.Today))
	for i := range ways {
		p.with(wayRisks("Risks of way "+itoa(i+1)+", "+ways[i].Name, &ways[i]))
	}
	for i := range ways {
		p.with(wayUses("Way "+itoa(i+1)+" uses up", &ways[i]))
	}
	for i := range ways {
		p.with(waySteps("Way "+itoa(i+1)+", there", Now, ways[i].Steps))
		p.with(waySteps("Undone by way "+itoa(i+1), Look, ways[i].Again))
	}
	return p
}

// widest is how wide a column of a comparison may be; what is longer stands out
// of it.
const widest = 22

// columns is a row for each kind of cost, the ways from left to right.
func columns(ways []engine.ScopeWay, today events.Day) Group {
	rows := deciding(engine.WayRows(ways, today))
	head := engine.WayRow{What: "Way"}
	for i := range ways {
		text := itoa(i+1) + " " + ways[i].Name
		if len(ways[i].After) > 0 {
			text += " later"
		}
		head.Cells = append(head.Cells, text)
	}
	wide := make([]int, 1+len(ways))
	lines := [][]string{append([]string{head.What}, head.Cells...)}
	for _, r := range rows {
		lines = append(lines, append([]string{capital(shortCost(r.What))}, r.Cells...))
	}
	for _, l := range lines {
		for i, cell := range l {
			wide[i] = max(wide[i], min(len([]rune(cell)), widest))
		}
	}
	g := Group{Head: "  " + row(lines[0], wide)}
	for _, l := range lines[1:] {
		g.add(Plain, row(l, wide), "")
	}
	return g
}

// row is cells in columns.
func row(cells []string, wide []int) string {
	text := ""
	for i, c := range cells {
		if i > 0 {
			text += " | "
		}
		text += pad(c, wide[i])
	}
	return strings.TrimRight(text, " ")
}

func pad(text string, wide int) string {
	for n := len([]rune(text)); n < wide; n++ {
		text += " "
	}
	return text
}

// shortCosts are kinds of cost in few words, for columns.
var shortCosts = map[string]string{
	"gaskets, seals and other single-use parts used up": "new seals",
	"single-use fasteners used up":                      "new bolts",
	"single-use pieces cost":                            "pieces cost",
	"steps to be done again":                            "steps undone",
	"of these to buy":                                   "to buy",
	"back at the earliest":                              "back",
	"hours there and back":                              "hours",
	"planned finish moves to":                           "finish",
	"waiting besides":                                   "waiting",
}

// decides are the kinds of cost that decide, in the order in which a person asks
// for them: they fit on the first page of a small screen.
var decides = []string{"together", "back at the earliest", "hours there and back", "risks", "steps there", "steps to be done again", "of these to buy"}

// deciding puts the rows that decide before the others.
func deciding(rows []engine.WayRow) []engine.WayRow {
	at := func(r engine.WayRow) int {
		if i := slices.Index(decides, r.What); i >= 0 {
			return i
		}
		return len(decides)
	}
	out := slices.Clone(rows)
	slices.SortStableFunc(out, func(a, b engine.WayRow) int { return at(a) - at(b) })
	return out
}

func shortCost(what string) string {
	if s, ok := shortCosts[what]; ok {
		return s
	}
	return what
}

// wayRisks lists what is risky about a way.
func wayRisks(head string, w *engine.ScopeWay) Group {
	g := Group{Head: head}
	for i := range w.Risks {
		g.add(Look, w.Risks[i].Text, "")
	}
	for _, text := range w.NoDay {
		g.add(Waits, "nobody has said when: "+text, "")
	}
	return g
}
