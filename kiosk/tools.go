package kiosk

import (
	"strings"

	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/tool"
)

// toolJob is the job that a tool comes back from: this one, or the one that
// the register says has it.
func toolJob(id events.Job, said *scan.Said) events.Job {
	name := events.Tool(said.At(0, scan.Tool).ID)
	for _, o := range said.State().ToolsOut() {
		if o.Tool == name {
			return id
		}
	}
	if t, ok := said.Dir.Tool(name); ok && t.Out {
		return t.Job
	}
	return id
}

// toolNotes says what else there is to know about a tool that is taken: who
// had it, that it is overdue, and that it does not cover its step.
func (t *turn) toolNotes(f *flight) []string {
	if f.row == nil || f.said == nil || f.row.Event != "tool-taken" {
		return nil
	}
	have, ok := t.dir.Tool(events.Tool(f.said.At(0, scan.Tool).ID))
	if !ok {
		return []string{"Nobody put it on the register: tool, ISSUED"}
	}
	var notes []string
	if have.Out {
		notes = append(notes, "Look: it was "+have.Holder())
	}
	torques := t.job.StepTorques(events.Step(f.said.At(0, scan.Step).ID))
	for _, nm := range append(torques, 0) {
		for _, why := range have.Fits(nm, f.said.Today()) {
			if why = "Look: " + why; len(notes) == 0 || notes[len(notes)-1] != why {
				notes = append(notes, why)
			}
		}
	}
	return notes[:min(len(notes), 3)]
}

// toolIs says who has a tool, what it covers, whether it is inside, and which
// steps wait for it.
func (t *turn) toolIs(said *scan.Said) {
	id := events.Tool(said.At(0, scan.Tool).ID)
	have, ok := t.dir.Tool(id)
	if !ok {
		t.no("No tool "+string(id)+" is on the shop's register", "Put it there: tool "+string(id)+", a blank label, ISSUED")
		return
	}
	lines := []string{t.toolStand(id)}
	if have.Torque() {
		lines = append(lines, "Covers "+have.Range())
	}
	if days, timed := have.DueIn(said.Today()); timed {
		lines = append(lines, calibration(&have, days))
	}
	t.show(Plain, lines...)
	st := t.jobOrNone().State()
	for _, step := range st.ToolSteps(string(have.Tool), have.Kind) {
		t.list = append(t.list, "wanted for "+namesOf(st).step(step))
	}
	t.view.Ask = "Next: scan a noun"
	t.beep(Heard)
}

func calibration(t *tool.Tool, days int) string {
	if days < 0 {
		return "Calibration overdue since " + t.Due.Words() + ": it must not be used"
	}
	return "Calibrated until " + t.Due.Words() + ", " + plural(days, "day") + " more"
}

// toolStand is a tool in one line.
func (s *Screen) toolStand(id events.Tool) string {
	have, ok := s.dir.Tool(id)
	if !ok {
		return "Tool " + string(id) + ": not on the register"
	}
	text := capital(have.Words())
	if where, in := s.jobOrNone().State().ToolInside(id); in {
		return text + ": IN THE ENGINE " + where
	}
	if have.Out {
		return text + ": " + have.Holder()
	}
	return text + ": in its place"
}

// tools lists the tools that were taken for this job, and those that its steps
// cannot have.
func (t *turn) tools(said *scan.Said) {
	st := t.job.State()
	nm := namesOf(st)
	var list, lacks []string
	for _, o := range st.ToolsOut() {
		text := string(o.Tool) + ": taken"
		if o.By != "" {
			text += " by " + string(o.By)
		}
		if o.Step != "" {
			text += " for " + lower(nm.step(o.Step))
		}
		if where, in := st.ToolInside(o.Tool); in {
			text += ", IN THE ENGINE " + st.InsideWords(where)
		}
		list = append(list, text)
	}
	out := len(list)
	for _, have := range t.dir.Tools() {
		steps := st.ToolSteps(string(have.Tool), have.Kind)
		why := ""
		if days, timed := have.DueIn(said.Today()); timed && days < 0 {
			why = "overdue for calibration"
		}
		if have.Out && have.Job != t.id {
			why = have.Holder()
		}
		if len(steps) > 0 && why != "" {
			lacks = append(lacks, string(have.Tool)+": "+why+"; wanted for "+lower(nm.step(steps[0])))
		}
	}
	t.show(Plain, plural(out, "tool")+" taken for this job, "+itoa(len(lacks))+" that its steps lack")
	t.list = append(list, lacks...)
	t.view.Ask = "MORE, or scan a tool and BACK"
	t.beep(Heard)
}

func toolIssued(e events.ToolIssued) string {
	text := "Tool " + string(e.Tool) + " is on the shop's register"
	var what []string
	if e.Name != "" {
		what = append(what, e.Name)
	}
	if t := (tool.Tool{ToolIssued: e}); t.Torque() {
		what = append(what, t.Range())
	}
	if e.Due != "" {
		what = append(what, "calibrated until "+e.Due.Words())
	}
	if e.Code != "" {
		what = append(what, "label "+string(e.Code))
	}
	if len(what) > 0 {
		text += ": " + strings.Join(what, ", ")
	}
	return text
}
