package panel

import (
	"strings"

	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
	"countback/projections/tool"
)

// OfTools is the shop's tools as one job sees them: who has which and for which
// step, what is inside the engine, until when each is calibrated; then the
// steps that wait for one.
func OfTools(j *engine.Job, shop scan.Directory) Panel {
	n := of(j)
	p := Panel{Name: "tools", Title: "Tools"}
	today := j.Today()
	all := shop.Tools()
	out := n.st.ToolsOut()
	here := Group{Head: "Taken for this job", Heads: []string{"tool", "where", "for", "calibrated"}}
	for _, o := range out {
		t, ok := shop.Tool(o.Tool)
		if !ok {
			t = tool.Tool{ToolIssued: events.ToolIssued{Tool: o.Tool}}
		}
		mark, with := Lent, "with "+string(o.By)
		if o.By == "" {
			with = "with somebody"
		}
		if where, in := n.st.ToolInside(o.Tool); in {
			mark, with = Look, "INSIDE"
			if where != "" {
				with += ", " + where
			}
		}
		step := ""
		if o.Step != "" {
			step = n.step(o.Step)
		}
		text, late := calibrated(&t, today)
		if late {
			mark = Look
		}
		here.cells(mark, "", t.Words(), with, step, text)
	}
	p.with(here)
	other := Group{Head: "The others", Heads: []string{"tool", "is", "covers", "calibrated"}}
	for i := range all {
		t := &all[i]
		if taken(out, t.Tool) {
			continue
		}
		mark, is := Done, "in its place"
		if t.Out {
			mark, is = Waits, t.Holder()
		}
		text, late := calibrated(t, today)
		if late {
			mark = Look
		}
		other.cells(mark, "", t.Words(), is, t.Range(), text)
	}
	waits := n.waitForTools(j, all, today)
	p.with(waits)
	p.with(other)
	p.Stand = plural(len(out), "tool") + " taken for this job, " + plural(len(waits.Rows), "step") + " waiting for one"
	if len(all)+len(out) == 0 {
		p.Stand = "none is on the shop's register"
	}
	return p
}

func taken(out []engine.ToolOut, t events.Tool) bool {
	for _, o := range out {
		if o.Tool == t {
			return true
		}
	}
	return false
}

// calibrated is until when a tool may be used; late: that is past.
func calibrated(t *tool.Tool, today events.Day) (text string, late bool) {
	days, timed := t.DueIn(today)
	switch {
	case !timed:
		return "", false
	case days < 0:
		return "OVERDUE since " + t.Due.Short(today), true
	}
	return "until " + t.Due.Short(today), false
}

// waitForTools lists the steps that cannot have a tool of theirs, where the
// register knows it and none of its kind is free.
func (n names) waitForTools(j *engine.Job, all []tool.Tool, today events.Day) Group {
	g := Group{Head: "Wait for a tool"}
	for _, wanted := range n.st.PlanTools() {
		why, known := "", false
		for i := range all {
			t := &all[i]
			if string(t.Tool) != wanted && t.Kind != wanted {
				continue
			}
			known = true
			if why = notFree(t, j, today); why == "" {
				break
			}
		}
		if !known || why == "" {
			continue
		}
		for _, s := range n.st.ToolSteps(wanted) {
			g.add(Waits, n.step(s)+": "+wanted, why)
		}
	}
	return g
}

// notFree says why a tool cannot be used for a job on a day; empty: it can.
func notFree(t *tool.Tool, j *engine.Job, today events.Day) string {
	if t.Out && !taken(j.State().ToolsOut(), t.Tool) {
		return t.Holder()
	}
	if text, late := calibrated(t, today); late {
		return text
	}
	return ""
}

// OfTool is one tool: who has it, what it covers with the torques of the steps
// that want it on that line, until when it is calibrated, and who had it for
// this job.
func OfTool(j *engine.Job, shop scan.Directory, id events.Tool) Panel {
	n := of(j)
	p := Panel{Name: "tool", Title: "Tool " + string(id)}
	t, ok := shop.Tool(id)
	if !ok {
		p.Stand = "not on the shop's register: tool " + string(id) + ", a blank label, ISSUED"
		return p
	}
	p.Title = capital(t.Words())
	switch where, in := n.st.ToolInside(id); {
	case in:
		p.Stand = strings.TrimSpace("IN THE ENGINE " + n.st.InsideWords(where))
	case t.Out:
		p.Stand = t.Holder()
	default:
		p.Stand = "in its place"
	}
	if text, late := calibrated(&t, j.Today()); text != "" {
		g, mark := Group{}, Done
		if late {
			mark = Look
		}
		g.add(mark, "Calibrated "+text, "")
		p.with(g)
	}
	g := Group{Head: "Wanted for"}
	var kin []*Scale
	for _, s := range n.st.ToolSteps(string(id), t.Kind) {
		turns := j.StepTorques(s)
		if !t.Torque() || len(turns) == 0 {
			g.add(Plain, n.step(s), "")
			continue
		}
		for _, nm := range turns {
			mark, more := Done, ""
			if why := t.Fits(nm, ""); len(why) > 0 {
				mark, more = Look, why[0]
			}
			sc := &Scale{Name: n.step(s), Min: End{true, t.MinNm, number(t.MinNm)}, Max: End{true, t.MaxNm, number(t.MaxNm)},
				At: nm, Known: true, Value: number(nm) + " N.m"}
			kin = append(kin, sc)
			g.draw(mark, n.step(s)+": "+number(nm)+" N.m", more, sc)
		}
	}
	span(kin...)
	p.with(g)
	p.with(n.toolPast(id))
	return p
}

// toolPast is who took a tool for this job and when it came back, the last
// first.
func (n names) toolPast(id events.Tool) Group {
	g := Group{Head: "For this job"}
	facts := n.job.Facts()
	for i := len(facts) - 1; i >= 0; i-- {
		ev, ok := n.job.Standing(facts[i].ID())
		if !ok {
			continue
		}
		switch e := ev.(type) {
		case events.ToolTaken:
			ok = e.Tool == id
		case events.ToolBack:
			ok = e.Tool == id
		default:
			ok = false
		}
		if ok {
			g.add(Plain, day(facts[i].At)+" "+who(&facts[i])+": "+n.st.Tells(ev), "")
		}
	}
	return g
}
