package panel

import (
	"strings"

	"countback/events"
	"countback/projections/engine"
)

// OfSteps is the step list: what is begun, what can be done now, what waits
// and for what, and what is done. A step named comes first, with all its
// reasons.
func OfSteps(j *engine.Job, about events.Step) Panel {
	p := Panel{Name: "steps", Title: "Steps"}
	p.with(decided(j))
	today := j.Today()
	begun, now := Group{Head: "Begun"}, Group{Head: "Can be done now"}
	waits, done := Group{Head: "Waits"}, Group{Head: "Done"}
	for _, s := range j.WhatNow() {
		name := stepName(s)
		if s.Step == about {
			p.with(reasons(j, s, today))
		}
		switch s.State {
		case engine.PartDone:
			begun.add(Begun, name, begunMore(s)+beadMore(s))
		case engine.CanStart:
			now.add(Now, name, eitherOr(j, s)+beadMore(s))
		case engine.Blocked:
			waits.add(Waits, name, waitMore(s)+whenMore(dated(j, s.Earliest), today))
		case engine.Done:
			done.add(Done, name, "")
		}
	}
	p.Stand = plural(len(begun.Rows), "step") + " begun, " + itoa(len(now.Rows)) + " can be done now, " + itoa(len(waits.Rows)) + " wait, " + itoa(len(done.Rows)) + " done"
	for _, g := range []Group{begun, now, waits, done} {
		p.with(g)
	}
	if len(p.Groups) == 0 {
		p.Stand = "this job has no plan"
	}
	return p
}

func stepName(s engine.StepNow) string {
	if s.Name == "" {
		return string(s.Step)
	}
	return s.Name
}

func leftOf(s engine.StepNow) string {
	if len(s.Left) == 0 {
		return ""
	}
	return "left: " + strings.Join(s.Left, ", ")
}

// begunMore says what is left, and what is in the way of it.
func begunMore(s engine.StepNow) string {
	text := leftOf(s)
	if len(s.Blockers) > 0 {
		text += ". Waits: " + s.Blockers[0].String()
	}
	return text
}

func waitMore(s engine.StepNow) string {
	if len(s.Blockers) == 0 {
		return ""
	}
	text := s.Blockers[0].String()
	if n := len(s.Blockers) - 1; n > 0 {
		text += " (and " + itoa(n) + " more)"
	}
	return text
}

func eitherOr(j *engine.Job, s engine.StepNow) string {
	if len(s.EitherOr) == 0 {
		return ""
	}
	n := of(j)
	list := make([]string, len(s.EitherOr))
	for i, o := range s.EitherOr {
		list[i] = n.step(o)
	}
	return "either this or " + strings.Join(list, " or ")
}

// reasons lists all that is in the way of one step.
func reasons(j *engine.Job, s engine.StepNow, today events.Day) Group {
	g := Group{Head: stepName(s) + ": " + s.State.String()}
	for i, b := range s.Blockers {
		more := whenMore(dated(j, s.When[i]), today)
		if strings.Contains(b.Clear, strings.TrimPrefix(more, "; ")) {
			more = "" // it says so itself
		}
		g.add(Waits, b.Text, b.Clear+more)
	}
	if s.Planned != "" && s.State != engine.Done {
		g.add(Plain, "planned for "+s.Planned.Short(today), "")
	}
	if s.Until > 0 {
		g.add(Look, "sealant is on: close it by "+clock(s.Until), "")
	}
	for _, l := range s.Left {
		g.add(Begun, "left: "+l, "")
	}
	return g
}

// whenMore is when a reason goes away, where that is no matter of a hand:
// promised for a day, or by nobody.
func whenMore(w engine.When, today events.Day) string {
	switch {
	case w.Now():
		return ""
	case !w.Known:
		return "; nobody promised when"
	}
	return "; " + w.Words(today)
}

// dated leaves out that nobody promised anything in a job without dates.
func dated(j *engine.Job, w engine.When) engine.When {
	if !w.Known && len(j.State().Orders())+len(j.State().Promises("")) == 0 {
		return engine.When{Known: true}
	}
	return w
}

// beadMore says by when a bead that is on has to be closed.
func beadMore(s engine.StepNow) string {
	if s.Until == 0 {
		return ""
	}
	return "; sealant is on: close it by " + clock(s.Until)
}
