package engine

import (
	"errors"

	"countback/events"
	"countback/projections/plan"
)

func amendment(p *plan.Plan, e *events.PlanAmended) (*plan.Plan, error) {
	return nil, errors.New("amendments wait for plan.Amend")
}
