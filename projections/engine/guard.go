package engine

import (
	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// MayDo is why the engine may not be turned over, cranked or heated now; nil:
// it may. It goes by the present state alone: loans that hold it, tools that lie
// in it, pieces that nothing holds, cavities with something lost in them, battery
// and fuel, what is not confirmed. Rule R25.
func (j *Job) MayDo(act events.Act) []Blocker {
	s := j.State()
	var list []Blocker
	switch act {
	case events.Turning:
		list = s.pinned(plan.Turning, list)
		list = s.toolsInside(list)
		list = s.unheld(list)
		list = s.lostInside(list)
		list = s.notOff(list, events.Battery)
	case events.Cranking:
		list = s.pinned(plan.Cranking, list)
		list = s.toolsInside(list)
		list = s.unheld(list)
		list = s.lostInside(list)
		list = s.looseWork(list)
		list = s.unsignedStart(list)
		list = s.notReady(list)
	case events.Heating:
		list = s.heating(list)
	default:
		return []Blocker{{"Nothing is known about " + string(act), "ask for turning, cranking or heating"}}
	}
	ask := noun("act", act)
	var kept []Blocker
	for _, b := range list {
		if !s.letPass(ask, b.Text) {
			kept = append(kept, b)
		}
	}
	return kept
}

// pinned lists the loans that make an act impossible.
func (s *State) pinned(act plan.Act, list []Blocker) []Blocker {
	for _, ix := range s.stoppedBy(act) {
		id := s.lay.plan.Loans[ix].ID
		if st, ok := s.loans[id]; ok {
			list = append(list, Blocker{s.loanIsIn(id, st), s.sayLoanOut(id)})
		}
	}
	return list
}

// unheld lists parts that are on with nothing left that holds them: buckets
// without cams fall out when the engine is turned over.
func (s *State) unheld(list []Blocker) []Blocker {
	for i := range s.lay.plan.Parts {
		if b, loose := s.liesLoose(plan.PartIndex(i)); loose {
			list = append(list, b)
		}
	}
	return list
}

// liesLoose says whether a part is on with nothing left that holds it.
func (s *State) liesLoose(ix plan.PartIndex) (Blocker, bool) {
	p := s.lay.plan
	pt := &p.Parts[ix]
	if on := s.now.Part(ix); (on != plan.PartOn && on != plan.PartPartly) || pt.In == plan.None || pt.Stays {
		return Blocker{}, false
	}
	if len(pt.Under) == 0 || len(p.ClampedBy(ix)) > 0 || pt.Place == "pressed bore" || !s.now.OnEngine(pt.In) {
		return Blocker{}, false
	}
	var over []string
	for _, u := range pt.Under {
		if s.now.Part(u) == plan.PartOn || s.now.Part(u) == plan.PartAbsent {
			return Blocker{}, false
		}
		over = append(over, p.Parts[u].Name)
	}
	n := s.book.Balance(s.group[s.lay.parts[ix].group], ledger.OfKind(s.kinds[s.lay.parts[ix].kind]))
	lies := pt.Name + " lies loose"
	if n > 1 {
		lies = itoa(int(n)) + " " + pt.Name + " lie loose"
	}
	return Blocker{lies + ": " + wordList(over) + " off",
		orSay(s.sayOn(pt.Under), s.sayPart(ix, plan.IsOff))}, true
}

// lostInside holds the act while a piece may be in a cavity that is closed.
func (s *State) lostInside(list []Blocker) []Blocker {
	for _, sp := range s.suspects() {
		for _, c := range sp.cavities {
			if !s.now.Open(c) {
				list = append(list, Blocker{s.cavityWords(c) + " is closed and may hold " + s.shortWords(&sp.entry), s.lookInto(c)})
			}
		}
	}
	return list
}

// looseWork lists fasteners on the engine that look finished and are not.
func (s *State) looseWork(list []Blocker) []Blocker {
	p := s.lay.plan
	var parked, filled, trial []plan.SeatIndex
	for i := range s.seats {
		ix := plan.SeatIndex(i)
		if h := p.Seats[i].Host; h != plan.None && !s.now.OnEngine(h) {
			continue
		}
		switch {
		case s.seats[i].trial && s.seats[i].in != 0:
			trial = append(trial, ix)
		case s.now.Seat(ix) == plan.SeatParked:
			parked = append(parked, ix)
		case s.now.Seat(ix) == plan.SeatFilled:
			filled = append(filled, ix)
		}
	}
	for _, row := range [...]struct {
		seats       []plan.SeatIndex
		text, clear string
	}{
		{trial, "in as a trial", "OUT"},
		{parked, "in finger-tight only", "STAGE"},
		{filled, "not tightened to the end", "tight"},
	} {
		if len(row.seats) > 0 {
			list = append(list, Blocker{p.SeatNames(row.seats) + ": " + row.text, s.mendHoles(row.clear, row.seats)})
		}
	}
	for _, u := range s.unset() {
		text, scan := u.words(s)
		list = append(list, Blocker{text, scan})
	}
	for _, u := range s.unpressed() {
		text, scan := u.words(s)
		list = append(list, Blocker{text, scan})
	}
	return list
}

// unsignedStart asks for the signature that the first start waits for.
func (s *State) unsignedStart(list []Blocker) []Blocker {
	for i := range s.lay.plan.Steps {
		step := &s.lay.plan.Steps[i]
		if step.Cranks && step.Audit != plan.None && s.signedAudit(step.Audit) == nil {
			id := s.lay.plan.AuditPoints[step.Audit].ID
			list = append(list, Blocker{"Audit " + s.nounWords(noun("audit", id)) + " is not signed", "clear its red lines, then " + say(noun("audit", id), "SIGN")})
		}
	}
	return list
}

// heating is about flame or weld near the engine.
func (s *State) heating(list []Blocker) []Blocker {
	for _, c := range s.cases {
		if u, open := c.unconfirmed(); open && c.Open() {
			list = append(list, Blocker{"Case " + string(c.Code) + ": not confirmed: " + u.Text, "confirm every line of the card: " + say("case "+string(c.Code), "HOT WORK")})
		}
	}
	for i := range s.lay.plan.Cavities {
		if c := plan.CavityIndex(i); s.now.Fluid(c) == plan.Filled {
			list = append(list, Blocker{s.cavityWords(c) + " holds " + s.lay.plan.Cavities[i].Fluid, "drain it, then " + say(noun("cavity", s.lay.plan.Cavities[c].ID), "DRAINED")})
		}
	}
	for i := range s.lay.plan.Loans {
		l := &s.lay.plan.Loans[i]
		if st, ok := s.loans[l.ID]; ok && st.In > 0 && l.AnyCavity {
			list = append(list, Blocker{s.loanIsIn(l.ID, st) + ", and may burn", s.sayLoanOut(l.ID)})
		}
	}
	if s.hotToday() {
		return list
	}
	return s.notOff(list, events.Battery, events.Fuel)
}
