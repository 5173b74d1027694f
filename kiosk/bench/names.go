package bench

import (
	"strings"

	"countback/events"
	"countback/kiosk/scan"
	"countback/labels/code"
	"countback/projections/ledger"
	"countback/projections/plan"
)

func entryNo(n int) ledger.EntryNo   { return ledger.EntryNo(n) }
func ledgerKind(k int) ledger.KindID { return ledger.KindID(k) }

// planName finds what a plan calls by an id, or by the name that it has for
// people, in any case of letters.
func planName(p *plan.Plan, t scan.Type, name string) (string, bool) {
	for _, n := range planNouns(p, t) {
		if n.id == name {
			return n.id, true
		}
	}
	for _, n := range planNouns(p, t) {
		if strings.EqualFold(n.id, name) || n.name != "" && strings.EqualFold(n.name, name) {
			return n.id, true
		}
	}
	return "", false
}

type planNoun struct{ id, name string }

// planNouns lists what a plan has of a type, in the plan's order.
func planNouns(p *plan.Plan, t scan.Type) []planNoun {
	var list []planNoun
	add := func(id, name string) { list = append(list, planNoun{id, name}) }
	switch t {
	case scan.Joint:
		for i := range p.Joints {
			add(string(p.Joints[i].ID), p.Joints[i].Name)
		}
	case scan.Hole:
		for i := range p.Seats {
			add(string(p.Seats[i].ID), "")
		}
	case scan.Part:
		for i := range p.Parts {
			add(string(p.Parts[i].ID), p.Parts[i].Name)
		}
	case scan.Position:
		for i := range p.Parts {
			for _, pos := range p.Parts[i].Positions {
				add(string(p.Parts[i].Seat(pos)), "")
			}
		}
	case scan.Loan:
		for i := range p.Loans {
			add(string(p.Loans[i].ID), p.Loans[i].Name)
		}
	case scan.Cavity:
		for i := range p.Cavities {
			add(string(p.Cavities[i].ID), p.Cavities[i].Name)
		}
	case scan.Mark:
		for i := range p.Marks {
			add(string(p.Marks[i].ID), p.Marks[i].Name)
		}
	case scan.Step, scan.GateNoun, scan.Share:
		for i := range p.Steps {
			add(string(p.Steps[i].ID), p.Steps[i].Name)
		}
	case scan.Audit:
		for i := range p.AuditPoints {
			add(string(p.AuditPoints[i].ID), p.AuditPoints[i].Name)
		}
	case scan.Measurement:
		for i := range p.Measurements {
			add(p.Measurements[i].ID, "")
		}
	case scan.RunReading:
		for i := range p.RunReadings {
			add(p.RunReadings[i].ID, p.RunReadings[i].Of)
		}
	case scan.Obligation:
		for i := range p.Obligations {
			add(p.Obligations[i].ID, p.Obligations[i].What)
		}
	case scan.Kit:
		for i := range p.Kits {
			add(p.Kits[i].ID, "")
		}
	case scan.Layout:
		for i := range p.Variants {
			for _, o := range p.Variants[i].Options {
				add(p.Variants[i].ID+":"+o.ID, o.ID)
			}
		}
	case scan.Size:
		for _, k := range planKinds(p) {
			add(string(k), "")
		}
	}
	return list
}

// planKinds are the fasteners of a plan, in the order of their first hole.
func planKinds(p *plan.Plan) []events.Kind {
	var kinds []events.Kind
	seen := map[events.Kind]bool{}
	for i := range p.Seats {
		for _, m := range p.Seats[i].Members {
			if !seen[m.Kind] {
				seen[m.Kind] = true
				kinds = append(kinds, m.Kind)
			}
		}
	}
	return kinds
}

// tagged lists the types that get a tag when a job is opened. Positions of a
// part get one where there are several.
var taggedTypes = []scan.Type{scan.Joint, scan.Hole, scan.Part, scan.Position, scan.Loan, scan.Mark, scan.Cavity, scan.Step, scan.Audit, scan.Size}

// Untagged implements scan.Directory. The labels are those that follow the
// last used ones of this terminal's range, so the same facts give the same
// tags.
func (d *directory) Untagged() []events.Tag {
	issuer, ok := d.reg.rangeOf(d.here)
	if !ok || d.job == nil {
		return nil
	}
	st := d.job.State()
	next := map[code.Type]uint32{}
	var tags []events.Tag
	add := func(t scan.Type, id string) {
		noun := scan.Noun{Type: t, ID: id}.Text()
		if c, ok := st.CodeOf(noun); ok {
			if _, stands := st.Tag(c); stands {
				return
			}
		}
		letter, _ := scan.LetterOf(t)
		from, ok := next[letter]
		if !ok {
			from = d.reg.used[string(letter)+issuer.Range()]
		}
		c, n, ok := issuer.Next(letter, from)
		if ok {
			next[letter] = n + 1
			tags = append(tags, events.Tag{Code: events.Code(c), Noun: noun})
		}
	}
	add(scan.JobNoun, string(d.id))
	for _, t := range taggedTypes {
		for _, n := range planNouns(st.Plan(), t) {
			if t == scan.Position && strings.HasSuffix(n.id, ":1") && single(st.Plan(), n.id) {
				continue
			}
			add(t, n.id)
		}
	}
	return tags[:min(len(tags), events.MaxList)]
}

func single(p *plan.Plan, seat string) bool {
	id, _, _ := strings.Cut(seat, ":")
	ix, ok := p.Part(events.Part(id))
	return ok && len(p.Parts[ix].Positions) == 1
}
