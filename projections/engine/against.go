package engine

import (
	"strings"

	"countback/events"
	"countback/projections/plan"
)

// Against is what stands against a fact that was just told and is stored all the
// same: a part that was put on while it is held, is away by the book, was not
// looked over, is in a batch or cures, or has a size beyond its limit; a stage of
// holes that are empty; an act that the ask refuses; a word about battery or fuel
// that what was seen later overrides. Rule R76.
func (j *Job) Against(ev events.Event) []Blocker {
	s := j.State()
	switch e := ev.(type) {
	case events.PartFitted:
		if p, ok := s.lay.plan.Part(e.Part); ok {
			return s.againstPart(e.Part, p)
		}
	case events.StageRecorded:
		return s.againstStage(&e)
	case events.ActDone:
		return s.notNoted(e.Act, j.MayDo(e.Act))
	case events.EngineStarted:
		return s.notNoted(events.Cranking, j.MayDo(events.Cranking))
	case events.SourceConfirmed:
		return s.againstSource(&e)
	}
	return nil
}

// notNoted leaves out what is red already because it was so when the engine was
// turned, and the signature that the sentence of a start names.
func (s *State) notNoted(a events.Act, list []Blocker) []Blocker {
	ask := noun("act", a)
	var kept []Blocker
	for _, b := range list {
		noted := contains(textsOf(s.unsignedStart(nil)), b.Text) && a == events.Cranking && s.Runs()
		for i := range s.notes {
			n := &s.notes[i]
			noted = noted || n.What == TurnedLoose && n.On == ask && n.Fact == s.fact && n.Text == b.Text
		}
		if !noted {
			kept = append(kept, b)
		}
	}
	return kept
}

// againstSource says that a source is not as it was just told, or that nobody
// knows how it is.
func (s *State) againstSource(e *events.SourceConfirmed) []Blocker {
	name := string(e.Source)
	look := "look at it now: " + orSay(say(strings.ToUpper(name)+" ON"), say(strings.ToUpper(name)+" OFF"))
	switch seen := s.sources.of(e.Source); {
	case seen == nil || seen.fact == 0:
	case seen.unsure:
		return []Blocker{{capital(name) + ": told on and off for the same time, and not known which was last", look}}
	case seen.on != e.On:
		word := " off"
		if seen.on {
			word = " on"
		}
		return []Blocker{{"That was before: " + name + word + " since " + s.sinceWords(seen), look}}
	}
	return nil
}

func (s *State) againstPart(id events.Part, p plan.PartIndex) []Blocker {
	var list []Blocker
	name := capital(s.partWords(string(id)))
	for _, sl := range s.slips {
		if contains(sl.Out, id) {
			list = append(list, Blocker{name + " is away by the book since " + s.day(sl.Since) + to(sl.Shop), say("slip "+string(sl.Code), "BACK")})
		}
		if contains(sl.Unlooked, id) {
			list = append(list, Blocker{capital(s.unlookedText(sl, id)), lookOver(id)})
		}
	}
	for _, h := range s.holds {
		if h.Released == 0 && h.On == noun("part", id) {
			list = append(list, Blocker{"Hold on " + s.nounWords(h.On) + " since " + s.day(h.Since) + ", " + h.Why, orSay(say("part "+string(id), "OFF"), say("hold "+h.ID, "RELEASE"))})
		}
	}
	list = append(list, s.inBatch(id, s.job.moment())...)
	for _, m := range s.holding() {
		if contains(s.measuredParts(m.Measurement), p) {
			list = append(list, Blocker{m.String(), s.clearsMeasure(&m)})
		}
	}
	return list
}

// inBatch says whether a part is in a wash or cures, at some moment.
func (s *State) inBatch(id events.Part, now int64) []Blocker {
	var list []Blocker
	for _, b := range s.batches {
		switch {
		case !contains(b.Parts, id):
		case b.Closed == 0:
			list = append(list, Blocker{capital(s.partWords(string(id))) + " is in batch " + b.Name + " since " + s.clock(b.Opened),
				say("batch "+b.Name, "CLOSE")})
		case b.Cured > now:
			list = append(list, Blocker{capital(s.partWords(string(id))) + ": what was put on in batch " + b.Name + " cures until " + s.moment(b.Cured),
				"wait until " + s.moment(b.Cured)})
		}
	}
	return list
}

// fittedSince says whether the part of a note is on as it was put on then.
func (s *State) fittedSince(n *Note) bool {
	_, id := cutNoun(n.On)
	p, ok := s.lay.plan.Part(events.Part(id))
	return ok && s.parts[p].changed <= n.Fact && s.now.Part(p) != plan.PartOff
}

// againstStage names the holes that were turned and are empty by the book: those
// that were said, or of a whole joint those of its tightening lists.
func (s *State) againstStage(e *events.StageRecorded) []Blocker {
	j, ok := s.lay.plan.Joint(e.Joint)
	if !ok {
		return nil
	}
	var empty, bare []plan.SeatIndex
	for _, ix := range s.lay.plan.Joints[j].Seats {
		if len(e.Holes) > 0 && !contains(e.Holes, s.lay.plan.Seats[ix].Hole) {
			continue
		}
		if li, _ := s.listAt(ix); li < 0 && len(e.Holes) == 0 {
			continue
		}
		switch {
		case s.now.Seat(ix) > plan.SeatLoan || s.seats[ix].broken:
		case studless(&s.seats[ix], &s.lay.seats[ix]):
			bare = append(bare, ix)
		default:
			empty = append(empty, ix)
		}
	}
	var list []Blocker
	if len(bare) > 0 {
		list = append(list, Blocker{"The stud of " + s.lay.plan.SeatNames(bare) + " is out by the book, and nothing is noted of it", s.mendHoles("OUT", bare)})
	}
	if len(empty) == 0 {
		return list
	}
	return append(list, Blocker{"Nothing is in " + s.lay.plan.SeatNames(empty) + " by the book, and nothing is noted of it", say("joint "+string(e.Joint), "ALL IN")})
}

// turnedAgainst notes what lay loose when a person turned or cranked the engine,
// and no second person had let it pass. What was put in here lies as the plan has
// it where a step of the plan turns the engine next.
func (s *State) turnedAgainst(a events.Act) {
	list := s.toolsInside(nil)
	byPlan := a == events.Turning && s.turnsNext()
	for i := range s.lay.plan.Parts {
		if byPlan && s.parts[i].changed != 0 {
			continue
		}
		if b, loose := s.liesLoose(plan.PartIndex(i)); loose {
			list = append(list, b)
		}
	}
	ask := noun("act", a)
	for _, b := range list {
		if !s.letPass(ask, b.Text) {
			s.note(TurnedLoose, ask, b.Text)
		}
	}
}

// turnsNext says whether a step of the plan that turns the engine can be done and
// is not.
func (s *State) turnsNext() bool {
	for i := range s.lay.plan.Steps {
		if ix := plan.StepIndex(i); s.lay.plan.Steps[i].Turns && !s.now.IsDone(ix) && s.now.Can(ix) {
			return true
		}
	}
	return false
}

// unsignedNow names the signatures that the first start waits for and that are
// not there.
func (s *State) unsignedNow(list []string) []string {
	for i := range s.lay.plan.Steps {
		step := &s.lay.plan.Steps[i]
		if step.Cranks && step.Audit != plan.None && s.signedAudit(step.Audit) == nil {
			list = append(list, "audit "+s.nounWords(noun("audit", s.lay.plan.AuditPoints[step.Audit].ID))+" signed")
		}
	}
	return list
}
