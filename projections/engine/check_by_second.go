package engine

import (
	"time"

	"countback/events"
	"countback/projections/plan"
)

// CheckBySecond asks to pass a gate: somebody else than those who did the work
// counts it blind. The count is compared with the book here; one that differs is
// stored as well, and the gate stays shut (rule R21): then one of those who did the
// work counts again, and only after that the next answer of a second person counts
// (rule R77). A person who is alone in the shop may count when Now is the shop's
// gap of hours after the work, and after a count that differed.
type CheckBySecond struct {
	Step   events.Step
	Second events.Badge
	Lines  []events.Line // by kind, counted without seeing a number; or
	Total  int           // one number for all
	Looked bool          // a gate that asks only for a look
	Alone  bool          // the same person, after a gap of hours
	Now    int64         // microseconds since 1970 UTC, for the gap
	Gap    time.Duration // the shop's gap; 0: the job's limit
}

func (c CheckBySecond) decide(s *State) (events.Event, error) {
	ev := events.SecondChecked{Step: c.Step, Second: c.Second, Lines: c.Lines, Total: c.Total, Alone: c.Alone}
	if err := malformed(ev); err != nil {
		return nil, err
	}
	if c.Total < 0 {
		return nil, refuse(Malformed, "count again", "%d: a number below zero", c.Total)
	}
	ix, ok := s.lay.plan.Step(c.Step)
	if !ok || s.lay.plan.Steps[ix].Gate == plan.None {
		return nil, refuse(Unknown, "scan a step that has a gate", "%s asks for no second person", s.nounWords(noun("step", c.Step)))
	}
	g := s.gate(ix)
	if g.Owed && g.Check != nil && g.Passed {
		return nil, nil
	}
	if c.Second == "" {
		return nil, refuse(NeedsTwo, "scan the badge of the person who counts", "a gate takes a badge")
	}
	if !g.Owed || !s.now.IsDone(ix) {
		d := s.now.Done(ix)
		return nil, refuse(Conflict, "finish it first", "%s is not all in: %s", s.lay.plan.Steps[ix].Name, orNothing(wordList(s.left(&d))))
	}
	ev.First = g.recounts() && contains(s.doers(ix), c.Second)
	ev.Early = g.recounts() && !ev.First
	if ev.First {
		ev.Alone = false
	} else if err := c.person(s, ix, &g); err != nil {
		return nil, err
	}
	switch {
	case g.Asks == "look" || c.Looked && g.Asks == "":
		ev.Agreed = true
	case len(c.Lines) == 0 && c.Total == 0:
		return nil, refuse(Malformed, "count what is in, then scan the number", "a second count without a number")
	case len(c.Lines) > 0:
		ev.Agreed = s.agreesByKind(ix, c.Lines)
	default:
		ev.Agreed = c.Total == s.toCount(ix)
	}
	ev.Agreed = ev.Agreed && !ev.Early
	return ev, nil
}

func orNothing(text string) string {
	if text == "" {
		return "nothing of it was done here"
	}
	return text
}

// person refuses those who did the work, but for somebody who is alone.
func (c CheckBySecond) person(s *State, ix plan.StepIndex, g *Gate) error {
	if !contains(s.doers(ix), c.Second) {
		return nil
	}
	gap := c.Gap
	if gap == 0 {
		gap = s.job.Limits().AloneGap
	}
	if !c.Alone || gap <= 0 {
		return refuse(NeedsTwo, "let somebody else count it", "%s did some of this work", c.Second)
	}
	since, did := g.Since, "did this work"
	if g.Check != nil && !g.Check.Agreed {
		since, did = g.Check.Fact, "counted it wrong"
	}
	r := s.Fact(since)
	if r == nil {
		return nil
	}
	passed := time.Duration(c.Now-r.At) * time.Microsecond
	if passed < gap {
		return refuse(NeedsTwo, "count it again later, or let somebody else count it now", "%s %s %s, and alone asks for %s between", c.Second,
			did, agoWords(passed), spanWords(gap))
	}
	return nil
}

// doers lists who filled the holes and put on the parts of a step.
func (s *State) doers(ix plan.StepIndex) []events.Badge {
	var list []events.Badge
	step := &s.lay.plan.Steps[ix]
	add := func(r *events.Record) {
		if r != nil && r.Operator != "" && !contains(list, r.Operator) {
			list = append(list, r.Operator)
		}
	}
	for _, seat := range step.Fastens {
		add(s.Fact(s.seats[seat].changed))
	}
	for _, p := range step.Fits {
		add(s.Fact(s.parts[p].changed))
	}
	return list
}

// agreesByKind compares a count by kind with what is in the holes of a step. A
// kind that was not counted must not be there.
func (s *State) agreesByKind(ix plan.StepIndex, lines []events.Line) bool {
	in := s.inByKind(ix)
	counted := make(map[events.Kind]int)
	for _, l := range lines {
		counted[l.Kind] += l.Qty
	}
	for k, n := range in {
		if counted[k] != n {
			return false
		}
	}
	for k, n := range counted {
		if in[k] != n {
			return false
		}
	}
	return true
}

func (s *State) inByKind(ix plan.StepIndex) map[events.Kind]int {
	in := make(map[events.Kind]int)
	step := &s.lay.plan.Steps[ix]
	for _, seat := range step.Fastens {
		for m := range s.lay.seats[seat].members {
			if s.seats[seat].in&(1<<m) != 0 && !s.lay.seats[seat].members[m].stays {
				in[s.wantedKind(seat, m)]++
			}
		}
	}
	for _, p := range s.pressed(step) {
		in[events.Kind(s.lay.plan.Parts[p].ID)] += s.lay.plan.Parts[p].Count
	}
	return in
}

// toCount is what one sees of a step: one piece for each filled hole, and the
// pieces that are pressed in.
func (s *State) toCount(ix plan.StepIndex) int {
	n := 0
	step := &s.lay.plan.Steps[ix]
	for _, seat := range step.Fastens {
		if s.seats[seat].in&^s.lay.seats[seat].stay != 0 {
			n++
		}
	}
	for _, p := range s.pressed(step) {
		n += s.lay.plan.Parts[p].Count
	}
	return n
}

func (s *State) pressed(step *plan.Step) []plan.PartIndex {
	var list []plan.PartIndex
	for _, p := range step.Fits {
		if s.lay.plan.Parts[p].Place == "pressed bore" && s.now.Part(p) == plan.PartOn {
			list = append(list, p)
		}
	}
	return list
}

// GateKinds lists what a second person counts at the gate of a step, in the
// order of its holes, without any number.
func (s *State) GateKinds(step events.Step) []events.Kind {
	ix, ok := s.lay.plan.Step(step)
	if !ok {
		return nil
	}
	var kinds []events.Kind
	for _, seat := range s.lay.plan.Steps[ix].Fastens {
		for m := range s.lay.seats[seat].members {
			if k := s.wantedKind(seat, m); !s.lay.seats[seat].members[m].stays && s.now.Seat(seat) != plan.SeatAbsent && !contains(kinds, k) {
				kinds = append(kinds, k)
			}
		}
	}
	for _, p := range s.lay.plan.Steps[ix].Fits {
		if s.lay.plan.Parts[p].Place == "pressed bore" {
			kinds = append(kinds, events.Kind(s.lay.plan.Parts[p].ID))
		}
	}
	return kinds
}
