package scope

import (
	"errors"
	"fmt"
	"slices"

	"countback/projections/plan"
)

// Options narrow a question.
type Options struct {
	Without  []plan.StepIndex // steps that are not to be used
	Sections []plan.Section   // steps of these only; none: all
	Budget   int              // looks at most, see DefaultBudget; 0: DefaultBudget

	together bool // of equal ways the one with more steps that put together
}

// DefaultBudget is how many looks the way out and the way back may each take
// where the question does not say. A look is one edge of one condition
// followed, some nanoseconds: the default is some 25 to 35 ms. What is counted is the
// same on every machine, and so is the answer.
const DefaultBudget = 3_000_000

// Find is the least set of further steps after which the goal holds, from the
// present state as it is: least by single-use pieces used up, then by minutes,
// then by steps; and the way back. The state is left as it is. The error is a
// *NoWay where there is none, or says that the state is of another plan.
func (f *Finder) Find(s *plan.Present, goal plan.Condition, o Options) (*Answer, error) {
	a, err := f.out(s, goal, o)
	if err != nil {
		return nil, err
	}
	f.finish(a, s, o.Budget)
	return a, nil
}

// finish adds what the way out undoes, and the way back.
func (f *Finder) finish(a *Answer, s *plan.Present, budget int) {
	after := s.Clone()
	for _, i := range a.Steps {
		after.Do(i)
		a.Wait += f.p.Steps[i].Wait
	}
	f.undone(a, s, after)
	f.back(a, s, after, budget)
}

// out is the way out alone.
func (f *Finder) out(s *plan.Present, goal plan.Condition, o Options) (*Answer, error) {
	if s.Plan() != f.p {
		return nil, fmt.Errorf("scope: the state is one of plan %s, edition %d; the finder knows plan %s, edition %d", s.Plan().ID, s.Plan().Edition, f.p.ID, f.p.Edition)
	}
	q := f.query(s, goal, &o)
	x := q.run()
	if !x.ok {
		return nil, &NoWay{Proved: x.none, Unmet: goal.Explain(s)}
	}
	return &Answer{
		Goal: goal, Steps: x.steps, Cost: x.price.cost(), Least: x.least.cost(), Looks: q.looks,
		Tally: s.Clone().Tally(x.steps),
	}, nil
}

// undone compares what was done before with what is after.
func (f *Finder) undone(a *Answer, before, after *plan.Present) {
	for i := range f.p.Steps {
		at := plan.StepIndex(i)
		step := &f.p.Steps[i]
		if step.Section.Apart() || !before.IsDone(at) {
			continue
		}
		switch {
		case !after.IsDone(at):
			a.Undone = append(a.Undone, at)
		case step.When.Eval(before) && !step.When.Eval(after):
			a.Doubtful = append(a.Doubtful, at)
		}
	}
}

// back looks for the way back.
func (f *Finder) back(a *Answer, before, after *plan.Present, budget int) {
	goal := Restored(before)
	q := f.query(after, goal, &Options{Budget: budget, together: true})
	x := q.run()
	a.Back.Looks = q.looks
	if !x.ok {
		a.Back.Missing = goal.Explain(after)
		return
	}
	a.Back.Steps, a.Back.Cost, a.Back.Least = x.steps, x.price.cost(), x.least.cost()
	a.Back.Tally = after.Clone().Tally(x.steps)
	for _, i := range x.steps {
		a.Back.Wait += f.p.Steps[i].Wait
	}
}

// Rivals is other ways to the goal: for each step of a first answer the best
// that does without it, where there is one, each way once and the cheapest
// first. Where the first only takes apart, so do they.
func (f *Finder) Rivals(s *plan.Present, first *Answer, o Options) ([]*Answer, error) {
	var out []*Answer
	building := slices.ContainsFunc(first.Steps, func(i plan.StepIndex) bool { return !f.p.Steps[i].Section.Apart() })
	if len(o.Sections) == 0 && !building {
		o.Sections = []plan.Section{plan.Off, plan.BenchApart}
	}
	for _, i := range first.Steps {
		narrow := o
		narrow.Without = append(slices.Clone(o.Without), i)
		a, err := f.out(s, first.Goal, narrow)
		if no := (*NoWay)(nil); errors.As(err, &no) {
			continue
		}
		if err != nil {
			return nil, err
		}
		if !slices.ContainsFunc(out, func(b *Answer) bool { return slices.Equal(sorted(a.Steps), sorted(b.Steps)) }) {
			out = append(out, a)
		}
	}
	for _, a := range out {
		f.finish(a, s, o.Budget)
	}
	slices.SortStableFunc(out, func(a, b *Answer) int {
		switch {
		case a.Cost.Less(b.Cost):
			return -1
		case b.Cost.Less(a.Cost):
			return 1
		}
		return 0
	})
	return out, nil
}

func sorted(steps []plan.StepIndex) []plan.StepIndex {
	out := slices.Clone(steps)
	slices.Sort(out)
	return out
}
