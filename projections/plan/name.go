package plan

import "countback/events"

// NameOf is what a plan calls a part, joint, step, cavity, loan, mark or audit
// point; its id where the plan does not know it or gives it no name.
func (p *Plan) NameOf(noun any) string {
	id, name := "", ""
	switch n := noun.(type) {
	case events.Part:
		id = string(n)
		if i, ok := p.Part(n); ok {
			name = p.Parts[i].Name
		}
	case events.Joint:
		id = string(n)
		if i, ok := p.Joint(n); ok {
			name = p.Joints[i].Name
		}
	case events.Step:
		id = string(n)
		if i, ok := p.Step(n); ok {
			name = p.Steps[i].Name
		}
	case events.Cavity:
		id = string(n)
		if i, ok := p.Cavity(n); ok {
			name = p.Cavities[i].Name
		}
	case events.Loan:
		id = string(n)
		if i, ok := p.Loan(n); ok {
			name = p.Loans[i].Name
		}
	case events.Mark:
		id = string(n)
		if i, ok := p.Mark(n); ok {
			name = p.Marks[i].Name
		}
	case events.AuditPoint:
		id = string(n)
		if i, ok := p.AuditPoint(n); ok {
			name = p.AuditPoints[i].Name
		}
	}
	if name == "" {
		return id
	}
	return name
}
