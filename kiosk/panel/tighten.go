package panel

import (
	"strings"

	"countback/events"
	"countback/projections/engine"
	turning "countback/projections/fastener/stage"
)

// tightening is the matrix of a joint that was put together here: each stage,
// how far it is and where it is missing; which holes are next; what falls due
// later. A joint that nobody opened has none.
func (n names) tightening(id events.Joint) Group {
	g := Group{Head: "Tightening"}
	for _, t := range n.job.Tightened(id) {
		if !begunHere(&t) {
			continue
		}
		for i := range t.Rows {
			n.stageRow(&g, &t, &t.Rows[i])
		}
		if at := nextAt(&t); at != "" {
			if t.Member != "" {
				at = t.Member + ", " + at
			}
			g.add(Now, "Next: "+at, t.How)
		}
		if t.Disagree() {
			g.add(Look, "Its editions disagree: "+strings.Join(t.Editions, ", or "), "EDITION chooses one")
		}
	}
	return g
}

// pressing is how deep a part was pressed in here: each depth with the positions
// that lack it.
func (n names) pressing(noun string) Group {
	g := Group{Head: "Pressed in"}
	id, ok := strings.CutPrefix(noun, "part ")
	t, known := n.job.Pressed(events.Part(id))
	if !ok || !known || !begunHere(&t) {
		return g
	}
	for i := range t.Rows {
		n.stageRow(&g, &t, &t.Rows[i])
	}
	for _, x := range t.Next {
		if x.State == turning.Part {
			g.add(Look, "Position "+x.Name+": "+x.What, x.Why)
		}
	}
	return g
}

// begunHere reports whether something of an order was put in here.
func begunHere(t *engine.Tightened) bool {
	for _, s := range t.Spots {
		if s.Here {
			return true
		}
	}
	return false
}

// stageRow is one stage: "2 torque 40 N.m, 8 of 10", and where it is missing.
func (n names) stageRow(g *Group, t *engine.Tightened, row *engine.StageRow) {
	done, all := 0, 0
	var open, odd []string
	why := ""
	for i, c := range row.Cells {
		if !c.Is || t.Spots[i].Absent {
			continue
		}
		all++
		switch c.State {
		case turning.Done:
			done++
		case turning.Doubtful, turning.Over:
			odd = append(odd, t.Spots[i].Name)
			why = c.Why
		default:
			open = append(open, t.Spots[i].Name)
		}
	}
	text := itoa(row.Number) + " " + strings.Join(row.What, ", ")
	if t.Member != "" {
		text = capital(t.Member) + " " + text
	}
	if row.Due != "" {
		text += ", " + row.Due
	}
	text += ": " + itoa(done) + " of " + itoa(all)
	switch {
	case len(odd) > 0:
		g.add(Look, text+", look at "+strings.Join(odd, ", "), why)
	case done == all:
		g.add(Done, text, "")
	case row.Due != "":
		g.add(Carried, text, "")
	case done == 0:
		g.add(Waits, text, "")
	default:
		g.add(Begun, text, "missing at "+strings.Join(open, ", "))
	}
}

// nextAt are the holes that can be turned now, in their order.
func nextAt(t *engine.Tightened) string {
	if len(t.Next) == 0 {
		return ""
	}
	var list []string
	for _, x := range t.Next {
		if x.Number == t.Next[0].Number && x.What == t.Next[0].What {
			list = append(list, x.Name)
		}
	}
	return t.Next[0].What + " at " + strings.Join(list, ", ")
}
