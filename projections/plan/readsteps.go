package plan

import (
	"slices"

	"countback/events"
)

func (r *reader) readStep(e stepEntry) Step {
	n := &r.p.names
	id := e.text("id")
	s := Step{
		ID: events.Step(id), Name: e.text("name"), Line: e.line(), Section: e.section, Part: None,
		When:       e.conditions("when", AllOf),
		LoanOut:    many(e.entry, n.loans, "loan-out", "loan"),
		LoanIn:     many(e.entry, n.loans, "loan-in", "loan"),
		LoanDuring: many(e.entry, n.loans, "loan-during", "loan"),
		LoanMay:    many(e.entry, n.loans, "loan-may", "loan"),
		Sets:       many(e.entry, n.marks, "sets", "mark"),
		Opens:      many(e.entry, n.cavities, "opens", "cavity"),
		Closes:     many(e.entry, n.cavities, "closes", "cavity"),
		Turns:      e.flag("turns"), Cranks: e.flag("cranks"),
		Optional: e.flag("optional"), AsksCount: e.flag("asks-count"),
		Gate:    one(e.entry, n.gates, "gate", "gate"),
		Audit:   one(e.entry, n.audits, "audit", "audit point"),
		Sealant: e.sealant(), Wait: e.duration("wait"), Minutes: e.whole("minutes", 0, 100_000, 0), Note: e.text("note"),
		Tools: toolsOf(e.entry, e.refs("tools")),
	}
	if s.Name == "" {
		s.Name = spoken(id)
	}
	if s.Section == BenchApart {
		s.Part = one(e.entry, n.parts, "part", "part")
		switch way := e.choice("way", "", "apart", "together"); way {
		case 0:
			r.fault(e.line(), CodeMissing, "%s: way is missing: apart or together", e.what)
		case 2:
			s.Section = BenchTogether
		}
		if s.Part == None {
			r.fault(e.line(), CodeMissing, "%s: part is missing: what lies on the bench", e.what)
		}
	}
	if s.Section.Apart() {
		s.TakesOut = e.seatsOf("takes-out", movingSeat)
		s.Parks = e.seatsOf("parks", movingSeat)
		s.Removes = many(e.entry, n.parts, "removes", "part")
		s.SendsOut = many(e.entry, n.parts, "sends-out", "part")
		s.Drains = many(e.entry, n.cavities, "drains", "cavity")
	} else {
		s.Fits = many(e.entry, n.parts, "fits", "part")
		s.Fastens = e.seatsOf("fastens", movingSeat)
		s.Trial = e.seatsOf("trial", movingSeat)
		s.TakesBack = many(e.entry, n.parts, "takes-back", "part")
		s.Fills = many(e.entry, n.cavities, "fills", "cavity")
	}
	e.done()
	return s
}

func (r *reader) readGate(e *entry) Gate {
	g := Gate{ID: e.text("id"), Line: e.line(), Asks: []string{"blind-count", "look"}[e.choice("asks", "blind-count", "look")]}
	e.done()
	return g
}

var auditNeeds = []string{
	string(PartsOn), string(SeatsFinished), string(StoppingLoansOut), string(AllLoansOut),
	string(CavitiesClosed), string(NoDifferenceInside), string(NoDifference), string(DuesMet),
}

func (r *reader) readAudit(e *entry) AuditPoint {
	id := e.text("id")
	a := AuditPoint{
		ID: events.AuditPoint(id), Name: e.text("name"), Line: e.line(),
		When:  e.conditions("when", AllOf),
		Signs: e.choice("signs", "nobody", "second-person", "two-persons"),
	}
	if a.Name == "" {
		a.Name = spoken(id)
	}
	for _, w := range e.refs("needs") {
		near := Nearest(w.text, auditNeeds)
		if !slices.Contains(auditNeeds, w.text) {
			r.faultNear(w.line, CodeValue, near, "%s: needs: %q is none of %v", e.what, w.text, auditNeeds)
			continue
		}
		a.Needs = append(a.Needs, AuditNeed(w.text))
	}
	e.done()
	return a
}
