package sheet

import (
	"strings"

	"countback/projections/plan"
)

func (w *writer) steps() []map[string]string {
	p := w.p
	sections := []plan.Section{plan.Off, plan.BenchApart, plan.On}
	var out []map[string]string
	for _, section := range sections {
		for i := range p.Steps {
			x := &p.Steps[i]
			at := x.Section
			if at == plan.BenchTogether {
				at = plan.BenchApart
			}
			if at == section {
				out = append(out, w.step(x))
			}
		}
	}
	return out
}

func (w *writer) step(x *plan.Step) map[string]string {
	p := w.p
	row := map[string]string{
		"section": map[plan.Section]string{plan.Off: "off", plan.BenchApart: "bench", plan.BenchTogether: "bench", plan.On: "on"}[x.Section],
		"id":      string(x.ID), "name": named(x.Name, string(x.ID)), "part": one(x.Part, p.Parts, partID), "when": w.conditions(&x.When),
		"takes out": w.seats(x.TakesOut, moving, ";"), "parks": w.seats(x.Parks, moving, ";"), "removes": join(x.Removes, p.Parts, partID),
		"sends out": join(x.SendsOut, p.Parts, partID), "drains": join(x.Drains, p.Cavities, cavityID), "fits": join(x.Fits, p.Parts, partID),
		"takes back": join(x.TakesBack, p.Parts, partID), "fastens": w.seats(x.Fastens, moving, ";"), "trial": w.seats(x.Trial, moving, ";"),
		"fills": join(x.Fills, p.Cavities, cavityID), "opens": join(x.Opens, p.Cavities, cavityID), "closes": join(x.Closes, p.Cavities, cavityID),
		"loan out": join(x.LoanOut, p.Loans, loanID), "loan in": join(x.LoanIn, p.Loans, loanID),
		"loan during": join(x.LoanDuring, p.Loans, loanID), "loan may": join(x.LoanMay, p.Loans, loanID), "sets": join(x.Sets, p.Marks, markID),
		"turns": yesIf(x.Turns), "cranks": yesIf(x.Cranks), "optional": yesIf(x.Optional), "asks count": yesIf(x.AsksCount),
		"gate": one(x.Gate, p.Gates, gateID), "audit": one(x.Audit, p.AuditPoints, auditID), "wait": spell(x.Wait),
		"minutes": count(x.Minutes), "tools": strings.Join(x.Tools, "; "), "note": x.Note,
	}
	switch x.Section {
	case plan.BenchApart:
		row["way"] = "apart"
	case plan.BenchTogether:
		row["way"] = "together"
	}
	sealed(row, x.Sealant)
	return row
}

func (w *writer) loans() []map[string]string {
	p := w.p
	var out []map[string]string
	for i := range p.Loans {
		x := &p.Loans[i]
		row := map[string]string{
			"id": string(x.ID), "name": named(x.Name, string(x.ID)), "condition": x.Condition, "owner": [...]string{"", "job", "other-shop"}[x.Owner],
			"fills": w.seats(x.Fills, all, ";"), "in": one(x.In, p.Cavities, cavityID), "pins": join(x.Pins, p.Parts, partID),
			"stops": w.barrier(&x.Stops), "reminds": w.barrier(&x.Reminds), "harmless": yesIf(x.Harmless), "note": x.Note,
		}
		row["piece"], row["feature"] = w.kind(x.Kind)
		if x.AnyCavity {
			row["in"] = "any-cavity"
		}
		switch {
		case x.Count == 0:
			row["count"] = "as-counted"
		case x.Count != max(1, len(x.Fills)):
			row["count"] = count(x.Count)
		}
		out = append(out, row)
	}
	return out
}

func (w *writer) barrier(b *plan.Barrier) string {
	out := acts(b.Acts)
	for _, i := range b.Steps {
		out = append(out, string(w.p.Steps[i].ID))
	}
	for _, i := range b.Audits {
		out = append(out, string(w.p.AuditPoints[i].ID))
	}
	for _, i := range b.Removal {
		out = append(out, "removal of "+string(w.p.Parts[i].ID))
	}
	for _, i := range b.Finished {
		out = append(out, "finished "+string(w.p.Joints[i].ID))
	}
	return strings.Join(out, "; ")
}
