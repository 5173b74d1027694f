package kiosk

import (
	"countback/kiosk/scan"
	"countback/projections/engine"
	"countback/projections/fastener/stage"
)

// nextDepth says which depth of a part is to be read and where.
func (t *turn) nextDepth(said *scan.Said) {
	part := said.Part()
	name := namesOf(t.job.State()).part(part)
	v, ok := t.job.Pressed(part)
	if !ok {
		t.no("The plan reads no depth of "+lower(name), "CAN I? goes with a step, a joint, or a part that is pressed in")
		return
	}
	t.list = TightLines(&v)
	n, ok := t.job.NextPress(part, said.Positions())
	switch {
	case !ok && doubtfulOf(&v) != "":
		t.show(Stop, name+": "+doubtfulOf(&v))
		t.view.Ask = "Press it out, scan it OFF, and press in a new one"
		t.beep(Refusing)
	case !ok:
		t.show(Good, name+": every depth is read")
		t.view.Ask = "Next: scan a noun"
		t.beep(Heard)
	case n.Wrong != "":
		t.show(Stop, "No: "+n.Wrong)
		t.view.Ask = "Clear that first; told all the same, it is stored as doubtful"
		t.beep(Refusing)
	default:
		lines := []string{name + ": " + n.What + " is next"}
		if n.Why != "" {
			lines = append(lines, capital(n.Why))
		}
		t.show(Good, lines...)
		t.view.Big, t.view.Ask = bigValue(&n), "STAGE and the depth"
		t.beep(Heard)
	}
}

// doubtfulOf is why something of a list is doubtful or too far; empty: nothing is.
func doubtfulOf(v *engine.Tightened) string {
	for _, row := range v.Rows {
		for _, c := range row.Cells {
			if c.State == stage.Doubtful || c.State == stage.Over {
				return c.Why
			}
		}
	}
	return ""
}
