package kiosk

import (
	"countback/events"
)

// ran tells what happened while the engine ran, and what that means.
func (t *Telling) ran(ev events.Event) string {
	text := capital(t.st.Tells(ev))
	switch e := ev.(type) {
	case events.EngineStarted:
		if n := len(t.st.Starts()); n > 0 && len(t.st.Starts()[n-1].Without) > 0 {
			text += " WITHOUT " + joinAnd(t.st.Starts()[n-1].Without)
		}
		for _, r := range t.Job.Running() {
			if r.Known && r.Within > 0 {
				return text + ". " + capital(r.Of) + " within " + itoa(r.Within) + " s: reading " + r.Reading
			}
		}
	case events.RunRead:
		for _, r := range t.Job.Running() {
			if n := len(r.Reads); r.Reading == e.Reading && n > 0 {
				text = e.Reading + ": " + r.Reads[n-1].Words()
				if r.Advice != "" {
					text += ". " + capital(r.Advice)
				}
			}
		}
	case events.OutputRead:
		if list := t.Job.OutputLines(); len(list) > 0 {
			return "At " + list[len(list)-1].Words()
		}
	case events.EngineCooled:
		return text + ": " + plural(t.st.HeatCycles(), "heat cycle") + t.dueText()
	case events.EngineStopped:
		return text + ": " + plural(t.st.MinutesRun(), "minute") + " of running" + t.dueText()
	case events.DistanceRead:
		return text + t.dueText()
	}
	return text
}

// dueText names what is due now.
func (t *Telling) dueText() string {
	var list []string
	for _, o := range t.Job.Obligations() {
		if o.Due && o.Met == 0 {
			list = append(list, o.What)
		}
	}
	if len(list) == 0 {
		return ""
	}
	return ". Due now: " + joinAnd(list)
}

// runs says how the engine ran and what falls due.
func (t *turn) runs() {
	st := t.job.State()
	if len(st.Starts()) == 0 {
		t.show(Plain, "It was not started yet")
		for _, b := range t.job.MayStart() {
			t.list = append(t.list, "before a start: "+b.String())
		}
		t.view.Ask = "START? asks whether it may be"
		t.beep(Heard)
		return
	}
	stand := "stopped"
	if st.Runs() {
		stand = "it runs"
	}
	var look, fine []string
	for _, r := range t.job.Running() {
		line := capital(r.Of) + ": not read since the start"
		for _, l := range r.Reads {
			line = capital(r.Of) + ": " + l.Words()
		}
		if r.Advice != "" {
			look = append(look, line+": "+r.Advice)
			continue
		}
		fine = append(fine, line)
	}
	for _, o := range t.job.Obligations() {
		switch {
		case o.Met != 0:
			fine = append(fine, capital(o.What)+": done")
		case o.Due:
			look = append(look, capital(o.What)+": due now, after "+o.After)
		default:
			text := capital(o.What) + ": after " + o.After
			if o.Far != "" {
				text += ", now " + o.Far
			}
			fine = append(fine, text)
		}
	}
	for _, l := range t.job.OutputLines() {
		fine = append(fine, l.Words())
	}
	sign := Plain
	if len(look) > 0 {
		sign = Short
	}
	t.show(sign, plural(len(st.Starts()), "start")+", "+plural(st.HeatCycles(), "heat cycle")+", "+plural(st.MinutesRun(), "minute")+" of running; "+stand,
		plural(len(look), "line")+" to look at")
	t.list = append(look, fine...)
	t.view.Ask = "MORE, or scan a reading and its number"
	t.beep(Heard)
}

// runLooks reports whether a reading of the running engine wants somebody to
// look, or it was started without what should have come before.
func (t *Telling) runLooks() bool {
	switch e := t.Record.Event.(type) {
	case events.EngineStarted:
		n := len(t.st.Starts())
		return n > 0 && len(t.st.Starts()[n-1].Without) > 0
	case events.RunRead:
		for _, r := range t.Job.Running() {
			if r.Reading == e.Reading && len(r.Reads) > 0 && r.Advice != "" {
				return true
			}
		}
	case events.OutputRead:
		return e.Sure
	}
	return false
}
