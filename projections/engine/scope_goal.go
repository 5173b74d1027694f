package engine

import (
	"countback/events"
	"countback/projections/plan"
	"countback/projections/scope"
)

// goalOf is the condition that nouns are about when they must come off: parts
// off, holes and joints empty, a step's state reached; all of them. A Refusal
// says what the plan does not have.
func (s *State) goalOf(nouns []string) (plan.Condition, error) {
	if len(nouns) == 0 {
		return plan.Condition{}, refuse(Malformed, "scan the part, hole, joint or step first", "nothing was named that must come off")
	}
	var all []plan.Condition
	for _, n := range nouns {
		c, ok := s.goalNoun(n)
		if !ok {
			return plan.Condition{}, refuse(Unknown, "scan a part, hole, joint or step of this job", "the plan has no %s", n)
		}
		if c.Op == plan.OfPart && s.lay.plan.Parts[c.Part].Root {
			return plan.Condition{}, refuse(Conflict, "scan what is on it", "%s never comes off: everything else is on it", s.lay.plan.Parts[c.Part].Name)
		}
		all = append(all, c)
	}
	if len(all) == 1 {
		return all[0], nil
	}
	return scope.All(all...), nil
}

func (s *State) goalNoun(n string) (plan.Condition, bool) {
	p := s.lay.plan
	switch typ, id := cutNoun(n); typ {
	case "part":
		i, ok := p.Part(events.Part(id))
		return scope.PartOff(i), ok
	case "step":
		i, ok := p.Step(events.Step(id))
		return scope.StepDone(i), ok
	case "joint":
		j, ok := p.Joint(events.Joint(id))
		if !ok || len(p.Joints[j].Seats) == 0 {
			return plan.Condition{}, false
		}
		return scope.SeatsOut(p.Joints[j].Seats...), true
	case "hole":
		joint, hole := events.Seat(id).Split()
		ix, ok := p.Hole(joint, hole)
		return scope.SeatsOut(ix), ok
	}
	return plan.Condition{}, false
}

// goalWords names what must come off for people.
func (s *State) goalWords(nouns []string) string {
	words := make([]string, len(nouns))
	for i, n := range nouns {
		words[i] = s.nounWords(n)
	}
	return wordList(words)
}

// later is the engine as it will be when some steps are done, each by the least
// that it takes. A Refusal says which of them cannot be reached.
func (j *Job) later(steps []events.Step) (*plan.Present, error) {
	s := j.State()
	after := s.now.Clone()
	for _, id := range steps {
		ix, ok := s.lay.plan.Step(id)
		if !ok {
			return nil, refuse(Unknown, "scan a step of this job", "the plan has no step %s", id)
		}
		a, err := j.finder().Find(after, scope.StepDone(ix), scope.Options{Budget: laterBudget})
		if err != nil {
			return nil, refuse(Conflict, "name a step that can be reached", "%s is not reached by the plan's steps: %s", s.lay.plan.Steps[ix].Name, err)
		}
		for _, i := range a.Steps {
			after.Do(i)
		}
	}
	return after, nil
}

// laterBudget bounds what it may take to say how the engine will be later, in
// looks: see scope.Options.
const laterBudget = 1_000_000

// finder answers about the job's plan as it is amended now.
func (j *Job) finder() *scope.Finder {
	if p := j.State().lay.plan; j.scopes == nil || j.scopes.Plan() != p {
		j.scopes = scope.New(p)
	}
	return j.scopes
}

// finishAfter is the last planned start, so many minutes of work later; none
// where nothing is planned.
func (s *State) finishAfter(minutes int) events.Day {
	last := events.Day("")
	for _, d := range s.view().plannedStarts() {
		last = last.Later(d)
	}
	if !last.Valid() {
		return ""
	}
	return startAt{day: last}.plus(minutes, max(1, s.job.Limits().DayMinutes)).day
}
