package kiosk

import (
	"countback/kiosk/scan"
	"countback/projections/engine"
	"countback/projections/fastener/stage"
)

// nextTurn says which stage of a joint is next and where, or what holds it up.
func (t *turn) nextTurn(said *scan.Said) {
	joint := said.Joint()
	name := namesOf(t.job.State()).joint(joint)
	lists := t.job.Tightened(joint)
	if len(lists) == 0 {
		t.show(Plain, name+": the plan has no stages for it")
		t.view.Ask = "TORQUE? works out guidance; TORQUE CHOSEN stores what you choose"
		t.beep(Heard)
		return
	}
	n, ok := t.job.NextStage(joint, said.Holes())
	var list []string
	for _, l := range lists {
		list = append(list, TightLines(&l)...)
	}
	d, doubtful := t.job.DoubtBefore(&n, joint, said.Holes())
	switch {
	case doubtful:
		t.show(Stop, name+": "+d.Why)
		t.view.Ask = "RESTART, or ACCEPT with the reason"
		if d.Over {
			t.view.Ask = "LOOSE once it is loose, and begin again"
		}
		t.beep(Refusing)
	case !ok:
		t.show(Good, append([]string{name + ": every stage that is due is done"}, LooseLines(lists)...)...)
		t.view.Ask = "MORE"
		t.beep(Heard)
	case n.Wrong != "" && n.Due == "":
		t.show(Stop, "No: "+n.Wrong)
		t.view.Ask = "Clear that first; told all the same, it is stored as doubtful"
		t.beep(Refusing)
	default:
		if n.Member != "" {
			name += ", " + n.Member
		}
		t.show(Good, append([]string{name + ": " + n.What + " is next, stage " + itoa(n.Stage) + " of " + itoa(max(n.Stages, n.Stage))}, NextLines(lists, &n)...)...)
		t.view.Big, t.view.Ask = bigValue(&n), "STAGE when it is done"
		t.beep(Heard)
	}
	t.list = list
}

// NextLines are the holes of a stage in the order of turning, and where that
// order is from.
func NextLines(lists []engine.Tightened, n *engine.NextStage) []string {
	var lines []string
	for i := range lists {
		l := &lists[i]
		if l.Order != n.Order {
			continue
		}
		var at []string
		for _, row := range l.Rows {
			for k, c := range row.Cells {
				if row.Number == n.Stage && c.Is && l.Spots[k].In && (c.State == stage.Open || c.State == stage.Part) {
					at = append(at, l.Spots[k].Name)
				}
			}
		}
		if len(at) > 0 {
			lines = append(lines, "In this order: "+joinComma(at))
		}
		if l.How != "" {
			lines = append(lines, capital(l.How))
		}
		if l.Disagree() {
			lines = append(lines, "Editions disagree, and the last one is shown: EDITION chooses")
		}
	}
	return lines
}

// LooseLines say in which order a joint is loosened.
func LooseLines(lists []engine.Tightened) []string {
	var lines []string
	for _, l := range lists {
		if l.Member != "" {
			continue
		}
		text := "To loosen, in this order: " + joinComma(l.Loosen)
		if l.LoosenBy != "" {
			text += "; " + l.LoosenBy
		}
		if l.Cold {
			text += "; only while it is cold"
		}
		lines = append(lines, text)
	}
	return lines
}

// bigValue is the value of a stage for the largest letters.
func bigValue(n *engine.NextStage) string {
	if !n.Known || n.Kind == "" {
		return ""
	}
	return n.Value
}

// TightLines are the rows of a matrix as lines: each stage with the holes that
// have it and those that lack it, and what falls due later.
func TightLines(t *engine.Tightened) []string {
	var lines []string
	for _, row := range t.Rows {
		var done, open, odd []string
		for i, c := range row.Cells {
			switch {
			case !c.Is || t.Spots[i].Absent:
			case c.State == stage.Done:
				done = append(done, t.Spots[i].Name)
			case c.State == stage.Doubtful || c.State == stage.Over || c.State == stage.Part:
				odd = append(odd, t.Spots[i].Name+" "+c.State.String())
			default:
				open = append(open, t.Spots[i].Name)
			}
		}
		text := itoa(row.Number) + " " + joinComma(row.What)
		if t.Member != "" {
			text = t.Member + " " + text
		}
		if row.Due != "" {
			text += " " + row.Due
		}
		text += ": " + itoa(len(done)) + " done"
		if len(open) > 0 {
			text += ", missing at " + joinComma(open)
		}
		if len(odd) > 0 {
			text += ", " + joinComma(odd)
		}
		lines = append(lines, text)
	}
	return lines
}

// guidance says what a torque could be for the fastener of a hole, or of the
// first hole of a joint.
func (t *turn) guidance(said *scan.Said) {
	lines, kind := t.job.Guidance(said.Joint(), said.Holes())
	if kind == "" {
		t.no("Nothing is turned there by this plan", "Scan a joint and a hole")
		return
	}
	if len(lines) == 0 {
		t.no("The strength of "+string(kind)+" is not known", "Take the value from the maker")
		return
	}
	t.show(Plain, "Guidance only for "+string(kind)+": what the engine's maker says comes first")
	for _, l := range lines {
		t.list = append(t.list, l.Short())
	}
	t.view.Ask = "MORE, or TORQUE CHOSEN"
	t.beep(Heard)
}
