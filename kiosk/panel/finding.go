package panel

import (
	"countback/events"
	"countback/projections/engine"
)

// OfFindings is what inspection found, by what each waits for: a decision, the
// owner, work, nothing. What a finding was read with is drawn on its limits.
// With the id of one, all of that one comes first.
func OfFindings(j *engine.Job, id string) Panel {
	n := of(j)
	p := Panel{Name: "findings", Title: "Findings"}
	measures := j.Measures()
	groups := []Group{{Head: "Not decided"}, {Head: "The owner is asked"}, {Head: "To be done"}, {Head: "Done with"}}
	open, all := 0, j.FindingsNow()
	for _, f := range all {
		if f.ID == id {
			p.with(n.finding(&f, measures))
		}
		at := 3
		switch {
		case f.Waits():
			at = 1
		case f.Open():
			at = 0
		case f.Next != "":
			at = 2
		}
		if at < 3 {
			open++
		}
		if f.ID != id {
			groups[at].add(findingMark(&f), f.ID+": "+n.st.NounWords(f.On)+", "+f.What+": "+f.State, f.Next)
		}
	}
	p.Stand = plural(open, "finding") + " open, " + itoa(len(all)-open) + " done with"
	for _, g := range groups {
		p.with(g)
	}
	if len(p.Groups) == 0 {
		p.Stand = "nothing was found"
	}
	return p
}

func findingMark(f *engine.FindingNow) Mark {
	switch {
	case f.Waits():
		return Waits
	case f.Open():
		return Look
	case f.Next == "":
		return Done
	case f.State == "to be replaced, and the new one is here":
		return Now
	}
	return Begun
}

// finding is all of one: who found it, what was read, what was asked and
// decided, what that needs, and which steps wait for it.
func (n names) finding(f *engine.FindingNow, measures []engine.Measure) Group {
	g := Group{Head: "Finding " + f.ID + ": " + n.st.NounWords(f.On)}
	g.add(findingMark(f), f.What+": "+f.State, f.Next)
	if r := n.st.Fact(f.Since); r != nil {
		g.add(Plain, "Found "+day(r.At)+" by "+who(r), "")
	}
	for i := range measures {
		if m := &measures[i]; findingOn(f.On, m) && m.Fact != 0 {
			s := measured(m, m.Name())
			if s != nil {
				span(s)
			}
			g.draw(measureMark(*m), m.Name()+": "+m.Said(), m.Short(), s)
		}
	}
	if f.Asked != 0 {
		text := "The owner was asked " + since(n.st, f.Asked)
		if f.Ask != "" {
			text += ": " + f.Ask
		}
		if f.Answer != engine.NoAnswer {
			text += "; he said " + f.Answer.String()
			if f.Said != "" {
				text += ", " + f.Said
			}
		}
		g.add(Plain, text, "")
	}
	if r := n.st.Fact(f.Decided); r != nil {
		g.add(Plain, "Decided "+day(r.At)+" by "+who(r)+reason(f.Why), "")
	}
	if f.Cost > 0 {
		g.add(Plain, "Costs "+itoa(f.Cost), "")
	}
	for _, l := range f.Buy {
		g.add(Look, "To buy: "+engine.Several(l.Qty, n.size(l.Kind)), "")
	}
	for _, s := range f.Holds {
		g.add(Waits, "Holds "+n.step(s), "")
	}
	return g
}

func reason(why string) string {
	if why == "" {
		return ""
	}
	return ": " + why
}

// findingOn reports whether a finding is on what a measurement read.
func findingOn(on string, m *engine.Measure) bool {
	name := "measurement " + m.Measurement
	if m.At != "" && on == name+":"+string(m.At) {
		return true
	}
	return on == name
}

// findingAt is the topic of a fact about a finding.
func findingAt(ev events.Event) string {
	switch e := ev.(type) {
	case events.FindingRaised:
		return e.Finding
	case events.FindingDecided:
		return e.Finding
	case events.OwnerAnswered:
		return e.Finding
	case events.FindingDone:
		return e.Finding
	}
	return ""
}
