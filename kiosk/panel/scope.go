package panel

import (
	"strings"

	"countback/events"
	"countback/kiosk"
	"countback/kiosk/scan"
	"countback/projections/engine"
)

// OfScope is what it takes for something to come off after all: each way under
// its number with what it costs, early against late line by line, then the
// least way step by step and what it uses up.
func OfScope(j *engine.Job, ask engine.ScopeAsk) Panel {
	if len(ask.Against) > 0 {
		return OfCompare(j, ask)
	}
	p := Panel{Name: "scope", Title: "Must come off?"}
	a, err := j.Scope(ask)
	if err != nil {
		p.Stand = err.Error()
		return p
	}
	p.Title = capital(a.Name) + ": must come off?"
	if len(a.Ways) == 0 {
		p.Stand = "off already"
		return p
	}
	p.Stand = a.Ways[0].Verdict
	if d := j.State().ScopeChosen(ask.Goals); d != nil {
		p.Stand += "; decided " + since(j.State(), d.Fact) + " by " + string(d.By) + ", " + d.Why
	}
	p.with(besides(a.Ways, a.Today))
	w := &a.Ways[0]
	p.with(wayUses("Uses up", w))
	p.with(wayRisks("Risks", w))
	if g := (Group{Head: "Slips"}); len(w.Slips) > 0 {
		for _, sl := range w.Slips {
			g.add(Look, sl.Text, "")
		}
		p.with(g)
	}
	p.with(waySteps("Way 1, there", Now, w.Steps))
	p.with(waySteps("To be done again", Look, w.Again))
	back := waySteps("Way 1, back: "+w.BackVerdict, Plain, w.Back)
	for _, l := range w.Lacks {
		back.add(Look, "No step of the plan: "+l, "")
	}
	p.with(back)
	return p
}

// besides puts the ways beside each other: a row for each kind of cost, the
// ways from left to right.
func besides(ways []engine.ScopeWay, today events.Day) Group {
	g := Group{Head: "Way: " + wayHeads(ways)}
	for _, r := range engine.WayRows(ways, today) {
		g.add(Plain, capital(r.What)+": "+strings.Join(r.Cells, " | "), "")
	}
	return g
}

func wayHeads(ways []engine.ScopeWay) string {
	list := make([]string, len(ways))
	for i := range ways {
		list[i] = itoa(i+1) + " now"
		if len(ways[i].After) > 0 {
			list[i] = itoa(i+1) + " after " + string(ways[i].After[len(ways[i].After)-1])
		}
	}
	return strings.Join(list, " | ")
}

func wayUses(head string, w *engine.ScopeWay) Group {
	g := Group{Head: head}
	for i := range w.Uses {
		mark := Plain
		if w.Uses[i].Buy > 0 {
			mark = Look
		}
		g.add(mark, kiosk.UseText(&w.Uses[i]), "")
	}
	return g
}

func waySteps(head string, mark Mark, steps []engine.ScopeStep) Group {
	g := Group{Head: head}
	for _, s := range steps {
		more := ""
		if s.Minutes > 0 {
			more = itoa(s.Minutes) + " min"
		}
		g.add(mark, s.Name, more)
	}
	return g
}

// scopeOf is the question that a topic holds as text: the nouns, divided by
// line ends.
func scopeOf(id string) engine.ScopeAsk {
	var nouns []scan.Noun
	for _, line := range strings.Split(id, "\n") {
		typ, name, _ := strings.Cut(line, " ")
		nouns = append(nouns, scan.Noun{Type: scan.Type(typ), ID: name})
	}
	return scan.ScopeOf(nouns)
}

// scopeID is the nouns of a question as a topic holds them.
func scopeID(nouns []scan.Noun) string {
	list := make([]string, len(nouns))
	for i, n := range nouns {
		list[i] = n.Text()
	}
	return strings.Join(list, "\n")
}

// decided is the group of what was decided and is not done: what is to come off,
// and the work that findings added, with what ends it.
func decided(j *engine.Job) Group {
	st := j.State()
	n := of(j)
	g := Group{Head: "Decided"}
	for _, c := range st.ScopeChoices() {
		if !c.Open() {
			continue
		}
		more := ""
		if next, ok := st.ScopeNext(c); ok {
			more = "next: " + n.step(next)
		}
		g.add(Look, st.Tells(c.ScopeDecided), more)
	}
	for _, f := range j.FindingWork() {
		mark := Begun
		if len(f.Holds) > 0 {
			mark = Look
		}
		more := f.Next
		if len(f.Holds) > 0 {
			more += "; " + plural(len(f.Holds), "step") + map[bool]string{true: " waits", false: " wait"}[len(f.Holds) == 1] + " for it"
		}
		g.add(mark, f.Work, more)
	}
	return g
}
