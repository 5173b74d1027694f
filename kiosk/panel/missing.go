package panel

import (
	"strings"

	"countback/projections/engine"
)

// OfMissing is what is short before each step on, in the order of the steps:
// how many of which kind, where some may be, and what there is of it that may
// not go in.
func OfMissing(j *engine.Job) Panel {
	n := of(j)
	p := Panel{Name: "missing", Title: "Missing for steps on"}
	pieces, steps := 0, 0
	var g Group
	for _, m := range j.Missing() {
		if head := m.Name; head != g.Head || len(g.Rows) == 0 {
			p.with(g)
			g = Group{Head: head}
			steps++
		}
		if m.Missing == 0 {
			g.add(Begun, itoa(m.Need)+" "+n.size(m.Kind)+": takes "+itoa(m.RobsQty)+" from "+n.step(m.Robs), "")
			continue
		}
		pieces += m.Missing
		g.add(Look, itoa(m.Missing)+" of "+itoa(m.Need)+" "+n.size(m.Kind), missingMore(m))
	}
	p.with(g)
	if pieces == 0 {
		p.Stand = "nothing is missing"
		return p
	}
	p.Stand = plural(pieces, "piece") + " for " + plural(steps, "step")
	return p
}

func missingMore(m engine.Shortfall) string {
	switch {
	case len(m.Look) > 0:
		return "look in " + m.Look[0]
	case len(m.Why) > 0:
		return strings.Join(m.Why, "; ")
	}
	return "buy"
}
