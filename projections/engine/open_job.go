package engine

import (
	"crypto/sha256"
	"encoding/hex"

	"countback/events"
)

// OpenJob starts a job with the text of a plan, or without one.
type OpenJob struct {
	Engine string
	Owner  string
	Plan   string // YAML text; empty: no plan
}

func (c OpenJob) decide(s *State) (events.Event, error) {
	if c.Engine == "" {
		return nil, refuse(Malformed, "say what stands on the stand", "an engine without a name")
	}
	if s.Started != 0 {
		return nil, refuse(Conflict, "scan its job card, or open another job", "the job was opened as %s", s.Opened.Engine)
	}
	ev := events.JobOpened{Engine: c.Engine, Owner: c.Owner}
	if c.Plan == "" {
		return ev, nil
	}
	p, err := planOf(c.Plan)
	if err != nil {
		return nil, refuse(Malformed, "run plan check on it", "the plan cannot be read: %v", err)
	}
	sum := sha256.Sum256([]byte(c.Plan))
	ev.Family, ev.Plan, ev.PlanHash = p.Family, c.Plan, hex.EncodeToString(sum[:])
	return ev, nil
}

// AmendPlan changes the job's own copy of its plan.
type AmendPlan struct {
	Op, Section, ID, Text, Why string
}

func (c AmendPlan) decide(s *State) (events.Event, error) {
	ev := events.PlanAmended(c)
	if c.Why == "" {
		return nil, refuse(Malformed, "give a reason", "the plan was not amended: no reason")
	}
	if _, err := amend(s.lay.plan, &ev); err != nil {
		return nil, refuse(Conflict, "mend the fragment", "the plan was not amended: %v", err)
	}
	return ev, nil
}
