package kiosk

import (
	"countback/events"
	"countback/projections/engine"
)

// findings tells what was found, and what its decision adds.
func (t *Telling) findings(ev events.Event) string {
	switch e := ev.(type) {
	case events.FindingRaised:
		return "Finding " + e.Finding + " on " + e.On + ": " + e.What + ". It waits for a decision"
	case events.FindingDecided:
		text := capital(t.st.Tells(e))
		f := t.finding(e.Finding)
		switch {
		case f == nil:
			return text
		case f.Waits():
			return text + ". It waits for the owner: finding " + e.Finding + ", YES or NO"
		}
		if len(f.Buy) > 0 && len(e.Lines) == 0 {
			text += ". To buy: " + t.lines(f.Buy)
		}
		if f.Next != "" {
			text += ". Then: " + f.Next
		}
		return text
	case events.OwnerAnswered:
		return capital(t.st.Tells(e)) + ". Now decide it"
	}
	return capital(t.st.Tells(ev))
}

func (t *Telling) finding(id string) *engine.FindingNow {
	for _, f := range t.Job.FindingsNow() {
		if f.ID == id {
			return &f
		}
	}
	return nil
}

// findings lists what was found, what is open first.
func (t *turn) findings() {
	var open, done []string
	for _, f := range t.job.FindingsNow() {
		line := f.ID + ": " + t.job.State().NounWords(f.On) + ", " + f.What + ": " + f.State
		if f.Next == "" {
			done = append(done, line)
			continue
		}
		if len(f.Buy) > 0 {
			line += "; to buy: " + (&Telling{names: namesOf(t.job.State())}).lines(f.Buy)
		}
		if len(f.Holds) > 0 {
			line += "; holds " + plural(len(f.Holds), "step")
		}
		open = append(open, line+": "+f.Next)
	}
	if len(open)+len(done) == 0 {
		t.show(Good, "Nothing was found")
		t.view.Ask = "A part, FINDING, and what it is"
		t.beep(Heard)
		return
	}
	sign := Plain
	if len(open) > 0 {
		sign = Short
	}
	t.show(sign, plural(len(open), "finding")+" open, "+itoa(len(done))+" done with")
	t.list = append(open, done...)
	t.view.Ask = "Scan a finding; then USE, REPAIR, REPLACE, SEND OUT or ASK THE OWNER"
	t.beep(Heard)
}

// findingWork lists what decided findings added and what ends each.
func (t *turn) findingWork() []string {
	var list []string
	for _, f := range t.job.FindingWork() {
		text := "decided: " + f.Work
		if len(f.Buy) > 0 {
			text += "; to buy: " + (&Telling{names: namesOf(t.job.State())}).lines(f.Buy)
		}
		list = append(list, text+": "+f.Next)
	}
	return list
}
