package engine

import (
	"countback/events"
	"countback/projections/ledger"
)

// SignAudit signs an audit point. It is refused while a line is red that no
// second person let pass for "audit <point>", and where the persons that the
// point asks for are not there (rule R27).
type SignAudit struct {
	Point    events.AuditPoint
	Operator events.Badge
	Second   events.Badge
}

func (c SignAudit) decide(s *State) (events.Event, error) {
	a, ok := s.job.Audit(c.Point)
	if !ok {
		return nil, refuse(Unknown, "scan an audit card of this job", "this job has no audit point %s", c.Point)
	}
	if s.Started == 0 {
		return nil, refuse(Conflict, "open the job first", "the job is not open")
	}
	if a.Signed != nil && !s.changedSince(a.Signed.Fact) {
		return nil, nil // signed already, and nothing has changed
	}
	var passed []string
	for _, l := range a.Red {
		if !s.letPass(noun("audit", c.Point), l.Text) {
			return nil, refuse(Conflict, l.Scan, "%s is red in %d lines; the first is: %s", a.Name, len(a.Red)-len(passed), l.Text)
		}
		passed = append(passed, l.Text)
	}
	if a.Signs > 0 {
		if c.Operator == "" {
			return nil, refuse(NeedsTwo, "scan your badge", "nobody signs %s", a.Name)
		}
		if err := second(c.Operator, c.Second); err != nil {
			return nil, err
		}
	}
	return events.AuditSigned{Point: c.Point, Hash: a.Hash, Second: c.Second, Red: passed}, nil
}

// changedSince says whether anything was told after a fact that an audit could
// see. Paper, tags and other signatures are no change.
func (s *State) changedSince(f ledger.Fact) bool {
	for i := int(f); i < len(s.job.facts); i++ {
		switch s.job.facts[i].Event.(type) {
		case events.AuditSigned, events.TagsIssued, events.TagVoided, events.LabelReprinted, events.HandedOver:
		default:
			return true
		}
	}
	return false
}

// second asks for another person than the one at the terminal.
func second(operator, other events.Badge) error {
	switch {
	case other == "":
		return refuse(NeedsTwo, "scan the badge of a second person", "this takes two persons")
	case other == operator:
		return refuse(NeedsTwo, "scan the badge of another person", "%s is at this terminal already", other)
	}
	return nil
}
