package engine

import (
	"slices"

	"countback/events"
	"countback/projections/plan"
)

// Blocker is one reason why something cannot be done now, and the one thing
// that clears it.
type Blocker struct {
	Text  string // the fact
	Clear string // what to do; empty: nothing that is known
}

// String is the fact, then what clears it.
func (b Blocker) String() string {
	if b.Clear == "" {
		return b.Text
	}
	return b.Text + ": " + b.Clear
}

// StepState says how a step stands.
type StepState uint8

// How a step stands. A step that is part-done has blockers as well when it
// cannot go on.
const (
	Blocked StepState = iota
	CanStart
	PartDone
	Done
)

var stepStateWords = [...]string{"blocked", "can start", "part done", "done"}

// String is the state in words.
func (s StepState) String() string { return stepStateWords[s] }

// StepNow is how one step stands at present.
type StepNow struct {
	Step     events.Step
	Name     string
	Section  plan.Section
	State    StepState
	Blockers []Blocker     // why it cannot start or go on; nil: it can
	Left     []string      // what a part-done step still has to do
	EitherOr []events.Step // each could start alone, but not both
	Optional bool          // one way among others: never owed
	When     []When        // when each of Blockers goes away, in their order
	Earliest When          // the latest of these: when the step can be done at the earliest
	Planned  events.Day    // meant to start, as said or as it follows; none: not planned
	Until    int64         // sealant was put on: closed by then, microseconds since 1970; 0: none is open
}

// WhatNow is how every step of the plan stands, in the plan's order: done, part
// done, can start, or blocked with every reason and what clears it.
func (j *Job) WhatNow() []StepNow {
	s := j.State()
	v := s.view()
	list := make([]StepNow, len(s.lay.plan.Steps))
	for i := range list {
		list[i] = v.stepNow(plan.StepIndex(i))
		list[i].Name = s.lay.stepNames[i]
	}
	v.eitherOr(list)
	return list
}

// stepNames are the names of the steps of a plan, each told apart from the others.
func stepNames(p *plan.Plan) []string {
	list, names := make([]StepNow, len(p.Steps)), make([]string, len(p.Steps))
	for i := range list {
		list[i] = StepNow{Step: p.Steps[i].ID, Name: p.Steps[i].Name, Section: p.Steps[i].Section}
	}
	tellApart(list)
	for i := range list {
		names[i] = list[i].Name
	}
	return names
}

// sectionWords say of which work a step is, where its name does not.
var sectionWords = [...]string{plan.Off: "teardown", plan.BenchApart: "taking apart on the bench", plan.BenchTogether: "putting together on the bench", plan.On: "build"}

// tellApart adds to names that several steps have what each belongs to: the
// section, and the id where that is one too.
func tellApart(list []StepNow) {
	type key struct {
		name    string
		section plan.Section
	}
	named, inSection := map[string]int{}, map[key]int{}
	for i := range list {
		named[list[i].Name]++
		inSection[key{list[i].Name, list[i].Section}]++
	}
	for i := range list {
		s := &list[i]
		n, same := named[s.Name], inSection[key{s.Name, s.Section}]
		if s.Name == "" || n == 1 {
			continue
		}
		switch {
		case same == n: // the section tells nothing
			s.Name += ", " + string(s.Step)
		case same > 1:
			s.Name += ", " + sectionWords[s.Section] + ", " + string(s.Step)
		default:
			s.Name += ", " + sectionWords[s.Section]
		}
	}
}

// When is when each reason of [Job.Can] goes away, in their order, and the
// latest of these.
func (j *Job) When(step events.Step) (list []When, all When) {
	s := j.State()
	ix, ok := s.lay.plan.Step(step)
	if !ok {
		return nil, When{}
	}
	return s.view().whenOf(ix)
}

// Can is why a step cannot be done now; nil: it can. A step whose state already
// holds can be done again.
func (j *Job) Can(step events.Step) []Blocker {
	s := j.State()
	ix, ok := s.lay.plan.Step(step)
	if !ok {
		return []Blocker{{"the plan has no step " + string(step), "scan a step of this job"}}
	}
	return slices.Clone(s.view().blockers(ix))
}
