package panel

import (
	"countback/events"
	"countback/projections/engine"
)

// OfAudit is how the job stands at an audit point: the red lines with the scan
// that makes each green, what falls due later, and what a second person let
// pass. An empty point is the next one that is not signed.
func OfAudit(j *engine.Job, point events.AuditPoint) Panel {
	p := Panel{Name: "audit", Title: "Audit"}
	if point == "" {
		next, ok := j.NextAudit()
		if !ok {
			p.Stand = "every audit point is signed"
			return p
		}
		point = next
	}
	a, ok := j.Audit(point)
	if !ok {
		p.Stand = "this job has no audit point " + string(point)
		return p
	}
	p.Title = "Audit: " + a.Name
	p.Stand = auditStand(a)
	red, carried, passed := Group{Head: "Red"}, Group{Head: "Falls due later, carried on the record"}, Group{Head: "A second person let pass"}
	for _, l := range a.Red {
		red.add(Look, l.Text, l.Scan)
	}
	for _, l := range a.Carried {
		carried.add(Carried, l.Text, l.Scan)
	}
	for _, o := range a.Overrides {
		passed.add(Look, o, "")
	}
	for _, g := range []Group{red, carried, passed} {
		p.with(g)
	}
	p.with(signed(j, a))
	return p
}

func auditStand(a engine.Audit) string {
	text := plural(len(a.Red), "red line")
	if len(a.Red) == 0 {
		text = "nothing red"
	}
	switch {
	case a.Signed != nil:
		return text + ", signed"
	case a.Signs == 1:
		return text + ", a second person signs with you"
	case a.Signs >= 2:
		return text + ", two persons sign"
	}
	return text
}

func signed(j *engine.Job, a engine.Audit) Group {
	g := Group{Head: "The record"}
	g.add(Plain, "SHA-256 "+a.Hash[:min(16, len(a.Hash))]+"...", "changes with every fact")
	if s := a.Signed; s != nil {
		text := "Signed " + since(j.State(), s.Fact) + " by " + string(s.By)
		if s.Second != "" {
			text += " and " + string(s.Second)
		}
		g.add(Done, text, "")
	}
	return g
}
