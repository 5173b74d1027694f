package scope

import (
	"strings"
	"time"

	"countback/projections/plan"
)

// Answer is what it takes to reach a goal from the present state, and what it
// takes to be back.
type Answer struct {
	Goal  plan.Condition
	Steps []plan.StepIndex // in an order in which they can be done; none where the goal holds already
	Cost  Cost             // of Steps
	Least Cost             // no way costs less: proved
	Tally plan.Tally       // seats opened, fasteners out, parts off, pieces used up, marks void
	Wait  time.Duration    // that the steps wait for besides: sealant

	Undone   []plan.StepIndex // steps together that were done before and are not after
	Doubtful []plan.StepIndex // steps together that still count as done, though what they asked for held before and does not now
	Back     Back

	Looks int // of the budget, spent on the way out
}

// Proved reports whether no way costs less.
func (a *Answer) Proved() bool { return !a.Least.Less(a.Cost) }

// Verdict says how good the answer is: "proved least", or by how much at most
// it is above the least.
func (a *Answer) Verdict() string { return verdict(a.Cost, a.Least) }

func verdict(cost, least Cost) string {
	switch {
	case !least.Less(cost):
		return "proved least"
	case cost.Pieces != least.Pieces:
		return "best found, at most " + count(cost.Pieces-least.Pieces, "single-use piece") + " above the least"
	case cost.Minutes != least.Minutes:
		return "best found, at most " + count(cost.Minutes-least.Minutes, "minute") + " above the least"
	}
	return "best found, at most " + count(cost.Steps-least.Steps, "step") + " above the least"
}

// Back is the way back to where the engine was: what was on and filled is
// again, loans that were out are out, marks that stood stand, those of where
// the crank stood left out, and fluids are in. What the steps use up on the way
// out must be there new.
type Back struct {
	Steps   []plan.StepIndex
	Cost    Cost
	Least   Cost
	Tally   plan.Tally
	Wait    time.Duration
	Missing []plan.Unmet // why there is no way back by the plan's steps; nil where there is
	Looks   int
}

// Proved reports whether no way back costs less.
func (b *Back) Proved() bool { return b.Missing == nil && !b.Least.Less(b.Cost) }

// Verdict says how good the way back is.
func (b *Back) Verdict() string {
	if b.Missing != nil {
		return "no way back found"
	}
	return verdict(b.Cost, b.Least)
}

// Hours is the work there and back in hours, of the steps that say how long
// they take.
func (a *Answer) Hours() float64 { return float64(a.Cost.Minutes+a.Back.Cost.Minutes) / 60 }

// NoWay is the error where no steps of the plan lead to the goal.
type NoWay struct {
	Proved bool // there is none; else the budget ended before one was found
	Unmet  []plan.Unmet
}

// Error says that no steps lead there, and what is in the way.
func (e *NoWay) Error() string {
	text := "no steps of the plan lead there"
	if !e.Proved {
		text = "no way found within the budget"
	}
	var why []string
	for _, u := range e.Unmet {
		why = append(why, u.Text)
	}
	if why == nil {
		return text
	}
	return text + ": " + strings.Join(why, "; ")
}
