package engine

import (
	"slices"

	"countback/events"
	"countback/projections/plan"
)

// SendOut asks to send parts to another shop with all that is on them. It is
// refused while a part is away, held on the engine, or on hold, and while a loan
// is on it that must stay here (rule R28). What a second person let pass for
// "part <id>" is no reason any more.
type SendOut struct {
	Slip  events.Code
	Parts []events.Part
	Shop  string
	Scope string
	Stays []events.Line // what does not go
}

func (c SendOut) decide(s *State) (events.Event, error) {
	ev := events.SentOut{Slip: c.Slip, Parts: c.Parts, Shop: c.Shop, Scope: c.Scope, Stays: c.Stays}
	if c.Slip == "" || len(c.Parts) == 0 {
		return nil, refuse(Malformed, "scan a slip, then the parts", "a slip without a label or without parts")
	}
	if err := malformed(ev); err != nil {
		return nil, err
	}
	if sl := s.slip(c.Slip); sl != nil {
		if slices.Equal(sl.Parts, c.Parts) && len(sl.Out) > 0 {
			return nil, nil
		}
		return nil, refuse(Conflict, "take a new slip", "slip %s went out on %s", c.Slip, s.day(sl.Since))
	}
	for _, id := range c.Parts {
		p, ok := s.lay.plan.Part(id)
		if !ok {
			return nil, refuse(Unknown, "scan a part of this job", "this job has no part %s", id)
		}
		for _, b := range s.keeps(p, c.Parts) {
			if !s.letPass(noun("part", id), b.Text) {
				return nil, refuse(Conflict, b.Clear, "%s", b.Text)
			}
		}
	}
	return ev, nil
}

// keeps is why a part may not leave the shop now.
func (s *State) keeps(p plan.PartIndex, with []events.Part) []Blocker {
	pt := &s.lay.plan.Parts[p]
	var list []Blocker
	switch s.now.Part(p) {
	case plan.PartAway:
		return []Blocker{{pt.Name + " is away already", s.sayPart(p, plan.IsOn)}}
	case plan.PartAbsent:
		return []Blocker{{"this engine has no " + pt.Name, "scan a part of this job"}}
	case plan.PartOn, plan.PartPartly:
		if held := s.now.Free(p); len(held) > 0 {
			for i := range held {
				list = append(list, s.unmet(&held[i]))
			}
		} else if pt.In == plan.None || !contains(with, s.lay.plan.Parts[pt.In].ID) {
			list = append(list, Blocker{pt.Name + " is on", s.sayPart(p, plan.IsOff)})
		}
	}
	list = s.staying(p, list)
	for _, h := range s.holds {
		if typ, id := cutNoun(h.On); h.Released == 0 && typ == "part" && id == string(pt.ID) {
			list = append(list, Blocker{"Hold on " + pt.Name + " since " + s.day(h.Since) + ", " + h.Why, say("hold "+h.ID, "RELEASE")})
		}
	}
	return list
}

// staying lists the loans that must be off a part before it leaves: those that
// the plan names for the step that sends it out, or for any sending out, where
// they are on the part or the plan does not say where they are.
func (s *State) staying(p plan.PartIndex, list []Blocker) []Blocker {
	for i := range s.lay.plan.Loans {
		l := &s.lay.plan.Loans[i]
		st, ok := s.loans[l.ID]
		if !ok || st.In == 0 || !s.stopsSending(plan.LoanIndex(i), p) || !s.mayBeOn(l, p) {
			continue
		}
		list = append(list, Blocker{s.loanIsIn(l.ID, st), s.sayLoanOut(l.ID)})
	}
	return list
}

func (s *State) stopsSending(l plan.LoanIndex, p plan.PartIndex) bool {
	stops := &s.lay.plan.Loans[l].Stops
	if contains(stops.Acts, plan.SendingOut) || contains(stops.Removal, p) {
		return true
	}
	for i := range s.lay.plan.Steps {
		if step := &s.lay.plan.Steps[i]; contains(step.SendsOut, p) && (contains(stops.Steps, plan.StepIndex(i)) || contains(step.LoanOut, l)) {
			return true
		}
	}
	return false
}

// mayBeOn says whether a loan sits on a part or on what travels with it, or may.
func (s *State) mayBeOn(l *plan.Loan, p plan.PartIndex) bool {
	if len(l.Fills) == 0 {
		return true
	}
	for _, seat := range l.Fills {
		if h := s.lay.plan.Seats[seat].Host; h == plan.None || s.lay.plan.Travels(h, p) {
			return true
		}
	}
	return false
}
