package bench

import (
	"countback/kiosk/scan"
	"countback/projections/plan"
)

// Near implements scan.Directory.
func (d *directory) Near(t scan.Type, name string) string {
	var ids []string
	switch {
	case t == scan.Badge:
		for who := range d.reg.people {
			ids = append(ids, string(who))
		}
	case t == scan.Plan:
		for id := range d.reg.plans {
			ids = append(ids, id)
		}
	case d.job != nil:
		ids = namesIn(d.job.State().Plan(), t)
	}
	return plan.Nearest(name, ids)
}

// namesIn lists the ids of a type that a plan has.
func namesIn(p *plan.Plan, t scan.Type) (ids []string) {
	switch t {
	case scan.Joint:
		return idsOf(p.Joints, func(j *plan.Joint) string { return string(j.ID) })
	case scan.Part:
		return idsOf(p.Parts, func(v *plan.Part) string { return string(v.ID) })
	case scan.Step:
		return idsOf(p.Steps, func(v *plan.Step) string { return string(v.ID) })
	case scan.Loan:
		return idsOf(p.Loans, func(v *plan.Loan) string { return string(v.ID) })
	case scan.Mark:
		return idsOf(p.Marks, func(v *plan.Mark) string { return string(v.ID) })
	case scan.Cavity:
		return idsOf(p.Cavities, func(v *plan.Cavity) string { return string(v.ID) })
	case scan.Audit:
		return idsOf(p.AuditPoints, func(v *plan.AuditPoint) string { return string(v.ID) })
	case scan.Measurement:
		return idsOf(p.Measurements, func(v *plan.Measurement) string { return v.ID })
	case scan.Kit:
		return idsOf(p.Kits, func(v *plan.Kit) string { return v.ID })
	}
	return nil
}

func idsOf[T any](list []T, id func(*T) string) []string {
	ids := make([]string, len(list))
	for i := range list {
		ids[i] = id(&list[i])
	}
	return ids
}
