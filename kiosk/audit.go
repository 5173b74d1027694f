package kiosk

import (
	"errors"

	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
)

// changes says what a correction would change, before it is confirmed.
func (t *turn) changes(c events.Corrected) []string {
	nm := namesOf(t.job.State())
	e := t.job.Preview(c, nil)
	var lines []string
	for _, d := range e.Opened {
		lines = append(lines, "It opens: "+d.Text)
	}
	for _, d := range e.Closed {
		lines = append(lines, "It closes: "+d.Text)
	}
	for _, g := range e.Gates {
		lines = append(lines, "The second count of "+lower(nm.step(g))+" loses its ground")
	}
	for _, a := range e.Acted {
		lines = append(lines, "Not undone: "+a)
	}
	for _, n := range e.Notes {
		lines = append(lines, "Look: "+n)
	}
	if len(lines) == 0 {
		lines = []string{"Nothing else changes"}
	}
	return lines
}

// audit lists the red lines of an audit point, each with what to scan.
func (t *turn) audit(said *scan.Said) {
	point := events.AuditPoint(said.At(0, scan.Audit).ID)
	if point == "" {
		next, ok := t.job.NextAudit()
		if !ok {
			t.show(Good, "Every audit point is signed")
			t.view.Ask = "Next: scan a noun"
			t.beep(Heard)
			return
		}
		point = next
	}
	a, ok := t.job.Audit(point)
	if !ok {
		t.no("No audit point "+string(point), "Scan an audit card of this job")
		return
	}
	t.question = &question{subject: []scan.Noun{{Type: scan.Audit, ID: string(point)}}, offers: []scan.Word{scan.Sign, scan.Override},
		text: "SIGN, or OVERRIDE with a second person"}
	if len(a.Red) == 0 {
		t.show(Good, a.Name+": nothing red", plural(len(a.Carried), "line")+" carried on")
		t.view.Ask = "SIGN signs it"
		t.beep(Heard)
		return
	}
	t.show(Short, a.Name+": "+plural(len(a.Red), "red line"), a.Red[0].Text)
	for _, l := range a.Red {
		t.list = append(t.list, l.String())
	}
	t.view.Ask = capital(a.Red[0].Scan)
	t.beep(Heard)
}

// mayTry answers whether a method may be tried on a broken fastener now, or
// which one comes next.
func (t *turn) mayTry(said *scan.Said) {
	c := events.Code(said.At(0, scan.Case).ID)
	if w := said.Reply("method").Word; w != "" {
		_, err := t.job.Decide(engine.TryExtraction{Case: c, Method: scan.MethodID(w)})
		if refusal := new(engine.Refusal); errors.As(err, &refusal) {
			t.no("No: "+lower(refusal.Fact), capital(refusal.Next))
			t.question = &question{subject: []scan.Noun{said.At(0, scan.Case)}, offers: []scan.Word{scan.Override, scan.HotWork, scan.Tried}, text: t.view.Ask}
			return
		}
		t.show(Good, "Yes: "+lower(string(w)))
		t.view.Ask = "After it: case, TRIED, the method, the minutes"
		t.beep(Heard)
		return
	}
	a, ok := t.job.Ladder(c, engine.AccessUnknown)
	if !ok {
		t.no("That case is closed", "Scan an open case")
		return
	}
	sign := Plain
	if a.Stop {
		sign = Stop
	}
	lines := append([]string{"Next: " + a.Next.Name}, a.Why...)
	if a.Next.Stop != "" {
		lines = append(lines, "Stop when "+a.Next.Stop)
	}
	t.show(sign, lines...)
	t.view.Ask = "After it: case, TRIED, the method, the minutes"
	t.beep(Heard)
}
