package plan

import "slices"

// toolsOf reads a list of tools. A plan does not list the shop's tools, so any
// id is taken; one that is no id, or named twice, is a fault.
func toolsOf(e *entry, list []ref) []string {
	var out []string
	for _, t := range list {
		switch {
		case !nameForm.MatchString(t.text):
			e.r.fault(t.line, CodeValue, "%s: tools: %q; letters, digits and dash are wanted, at most 64", e.what, t.text)
		case slices.Contains(out, t.text):
			e.r.fault(t.line, CodeDuplicate, "%s: tools: %s is named twice", e.what, t.text)
		default:
			out = append(out, t.text)
		}
	}
	return out
}

// ToolsFor lists the tools that a step needs, each once: its own, then those
// of the tightening lists of what it fastens, or loosens where it takes apart.
func (p *Plan) ToolsFor(i StepIndex) []string {
	step := &p.Steps[i]
	out := slices.Clone(step.Tools)
	turned := step.Fastens
	if step.Section.Apart() {
		turned = step.TakesOut
	}
	for t := range p.Tightening {
		list := &p.Tightening[t]
		if len(list.Tools) == 0 || list.Loosen != step.Section.Apart() || !list.turns(turned) {
			continue
		}
		for _, tool := range list.Tools {
			if !slices.Contains(out, tool) {
				out = append(out, tool)
			}
		}
	}
	return out
}

// turns reports whether a list has one of some holes.
func (t *Tightening) turns(seats []SeatIndex) bool {
	for g := range t.Groups {
		for _, s := range t.Groups[g].Holes {
			if slices.Contains(seats, s) {
				return true
			}
		}
	}
	return false
}
