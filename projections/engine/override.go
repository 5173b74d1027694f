package engine

import (
	"countback/events"
	"countback/projections/plan"
)

// Override lets the reasons of a refusal pass, by a second person who says why.
// What was not met is worked out here and stays on every later record (rule
// R32). Ask is the noun that was refused: "step <id>", "gate <step>", "audit
// <point>", "share <step>" (its pieces go to later steps), "act turning", "case <code>", "cavity <id>", "loan <id>", "joint
// <id>", "part <id>" (to send it out), "job released" and the other ends.
type Override struct {
	Ask      string
	Operator events.Badge
	Second   events.Badge
	Why      string
}

func (c Override) decide(s *State) (events.Event, error) {
	typ, id := cutNoun(c.Ask)
	if typ == "" || id == "" {
		return nil, refuse(Malformed, "scan what was refused", "%q is nothing that was asked", c.Ask)
	}
	if c.Why == "" {
		return nil, refuse(Malformed, "say why", "nothing was let pass: no reason")
	}
	unmet, ok := s.unmetOf(typ, id)
	if !ok {
		return nil, refuse(Unknown, "scan what was refused", "this job has no %s", c.Ask)
	}
	if len(unmet) == 0 {
		return nil, nil
	}
	if err := second(c.Operator, c.Second); err != nil {
		return nil, err
	}
	return events.Overridden{Ask: c.Ask, Second: c.Second, Why: c.Why, Unmet: unmet}, nil
}

// unmetOf lists what stands against an ask now; false: the job has no such
// thing.
func (s *State) unmetOf(typ, id string) ([]string, bool) {
	p := s.lay.plan
	switch typ {
	case "step":
		ix, ok := p.Step(events.Step(id))
		if !ok {
			return nil, false
		}
		return textsOf(s.view().blockers(ix)), true
	case "share":
		ix, ok := p.Step(events.Step(id))
		if !ok {
			return nil, false
		}
		if s.released(ix) {
			return nil, true
		}
		return []string{p.Steps[ix].Name + " keeps its pieces"}, true
	case "gate":
		ix, ok := p.Step(events.Step(id))
		if !ok || p.Steps[ix].Gate == plan.None {
			return nil, false
		}
		if g := s.gate(ix); g.Owed && !g.Passed {
			return []string{g.words(s)}, true
		}
		return nil, true
	case "audit":
		a, ok := s.job.Audit(events.AuditPoint(id))
		var list []string
		for _, l := range a.Red {
			if !s.letPass(noun("audit", a.Point), l.Text) {
				list = append(list, l.Text)
			}
		}
		return list, ok
	case "act":
		switch act := events.Act(id); act {
		case events.Turning, events.Cranking, events.Heating:
			list := textsOf(s.job.MayDo(act))
			if act == events.Cranking {
				list = s.unmetStart()
			}
			return list, true
		}
		return nil, false
	case "case":
		k, ok := s.Case(events.Code(id))
		if !ok {
			return nil, false
		}
		if why := s.stopped(k); why != "" && k.Open() {
			return []string{why}, true
		}
		return nil, true
	}
	return s.unmetOther(typ, id)
}

func (s *State) unmetOther(typ, id string) ([]string, bool) {
	p := s.lay.plan
	switch typ {
	case "cavity":
		c, ok := p.Cavity(events.Cavity(id))
		if !ok {
			return nil, false
		}
		var list []string
		for _, sp := range s.suspects() {
			if contains(sp.cavities, c) {
				list = append(list, s.cavityWords(c)+" may hold "+s.shortWords(&sp.entry))
			}
		}
		return list, true
	case "part":
		i, ok := p.Part(events.Part(id))
		if !ok {
			return nil, false
		}
		return append(textsOf(append(s.keeps(i, []events.Part{events.Part(id)}), s.coreLacks(i)...)), s.partRed(noun(typ, id))...), true
	case "job":
		var list []string
		for _, b := range s.endBlockers(events.JobEnd(id)) {
			if !s.letPass(noun("job", id), b.Text) {
				list = append(list, b.Text)
			}
		}
		return list, true
	case "loan", "joint":
		var list []string
		for _, l := range s.job.Red() {
			if (l.Code == RedTurned || l.Code == RedFoundOdd) && s.notedOn(l, noun(typ, id)) {
				list = append(list, l.Text)
			}
		}
		return list, true
	}
	return nil, false
}

func (s *State) notedOn(l RedLine, on string) bool {
	for i := range s.notes {
		if n := &s.notes[i]; n.Fact == l.Since && n.On == on {
			return true
		}
	}
	return false
}

func textsOf(list []Blocker) []string {
	var texts []string
	for _, b := range list {
		texts = append(texts, b.Text)
	}
	return texts
}
