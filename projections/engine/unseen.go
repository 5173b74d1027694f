package engine

import (
	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// Rule R35: a second count, an override, a signature and the end of a job are
// worth what the person knew. A fact that lies before them in the order, or that
// corrects one that does, that they had not seen and that touches what they
// checked, puts "passed without knowing of" on the job. It never withdraws them;
// but it opens an ended job again.

// heard is a terminal with its facts among the first ones of a job.
type heard struct {
	terminal events.Terminal
	n        uint32    // the highest
	runs     []factRun // mostly one tells for a while
}

// factRun is facts that follow each other: from one up to another, that one not
// among them.
type factRun struct{ from, to ledger.Fact }

// hear takes in one fact more of a terminal.
func (s *State) hear(f ledger.Fact, r *events.Record) {
	for i := range s.heard {
		h := &s.heard[i]
		if h.terminal != r.Terminal {
			continue
		}
		h.n = max(h.n, r.N)
		if last := &h.runs[len(h.runs)-1]; last.to == f {
			last.to++
		} else {
			h.runs = append(h.runs, factRun{f, f + 1})
		}
		return
	}
	s.heard = append(s.heard, heard{r.Terminal, r.N, []factRun{{f, f + 1}}})
}

// passed looks what the fact in hand, which lets something pass, had not seen.
func (s *State) passed(on string) {
	var missed []ledger.Fact
	if s.missedSome() {
		for i := range int(s.fact) - 1 {
			o := &s.job.facts[i]
			ev, ok := s.job.standing(ledger.Fact(i + 1))
			if ok && !s.rec.Saw(o) && s.touches(on, ev) {
				missed = append(missed, ledger.Fact(i+1))
			}
		}
	}
	if s.job.stands != nil {
		missed = s.missedCorrections(on, missed)
	}
	for _, f := range missed {
		s.note(Unseen, on, factName(s.factID(f))+", "+s.Sentence(f))
	}
	if on == "job" && len(missed) > 0 {
		s.reopen("the end was recorded without knowing of " + factName(s.factID(missed[0])))
	}
}

// missedSome says whether any terminal had got further, before the fact in
// hand, than that had seen. It is asked of few facts: what was heard since the
// last of them is made up for then.
func (s *State) missedSome() bool {
	if len(s.job.high) <= 1 {
		return false // all facts are of one terminal
	}
	for before := int(s.fact) - 1; s.heardTo < before; s.heardTo++ {
		s.hear(ledger.Fact(s.heardTo+1), &s.job.facts[s.heardTo])
	}
	for i := range s.heard {
		if h := &s.heard[i]; h.terminal != s.rec.Terminal && s.rec.Seen.N(h.terminal) < h.n {
			return true
		}
	}
	return false
}

// missedCorrections adds facts that lie before the fact in hand and were
// corrected by one that it had not seen, wherever that lies.
func (s *State) missedCorrections(on string, missed []ledger.Fact) []ledger.Fact {
	for i := range s.job.facts {
		ev, ok := s.job.stands(i)
		c, is := ev.(events.Corrected)
		if !ok || !is || s.rec.Saw(&s.job.facts[i]) {
			continue
		}
		wrong := s.job.index(c.Wrong)
		if wrong < 0 || ledger.Fact(wrong+1) >= s.fact || wrong >= i {
			continue
		}
		if f := ledger.Fact(wrong + 1); !contains(missed, f) && (s.touches(on, s.job.facts[wrong].Event) || s.touches(on, c.Instead)) {
			missed = append(missed, f)
		}
	}
	return missed
}

// ended opens a job again when something happens after its end.
func (s *State) afterEnd(ev events.Event) {
	if ev == nil || !s.touches("job", ev) {
		return
	}
	switch ev.(type) {
	case events.JobEnded, events.JobResumed, events.AuditSigned, events.Corrected:
		return
	}
	s.reopen(s.Tells(ev))
}

func (s *State) reopen(why string) {
	if s.Ended != nil {
		s.Ended = nil
		s.note(Reopened, "job", why)
	}
}

// touches says whether an event changes what an ask was about.
func (s *State) touches(on string, ev events.Event) bool {
	if !weighs(ev) {
		return false
	}
	typ, id := cutNoun(on)
	switch typ {
	case "job", "audit", "act", "share":
		return true
	case "step", "gate":
		ix, ok := s.lay.plan.Step(events.Step(id))
		return ok && s.touchesStep(&s.lay.plan.Steps[ix], ev)
	}
	return names(ev, typ, id)
}

// weighs says whether an event can change an answer at all: it moved pieces or
// counted them, or it changed a hole, a condition or a decision.
func weighs(ev events.Event) bool {
	if events.ClassOf(ev) != events.State {
		return true
	}
	switch ev.(type) {
	case events.FastenerBroken, events.HoleChanged, events.ConditionChanged, events.FastenersMeasured, events.OrderLost, events.PiecesLoosened,
		events.HoldSet, events.FindingRaised, events.PlanAmended, events.CavityOpened, events.FluidChanged, events.ActDone, events.Unknown:
		return true
	}
	return false
}

// touchesStep says whether an event is about a hole, a part or a bag of a step.
func (s *State) touchesStep(step *plan.Step, ev events.Event) bool {
	p := s.lay.plan
	if j, holes := jointOf(ev); j != "" && anySeat(step, func(seat plan.SeatIndex) bool {
		st := &p.Seats[seat]
		mine := p.Joints[st.Joint].ID == j
		for _, o := range st.SharedBy {
			mine = mine || p.Joints[o].ID == j
		}
		return mine && (len(holes) == 0 || contains(holes, st.Hole))
	}) {
		return true
	}
	for _, id := range partsOf(ev) {
		if i, ok := p.Part(id); ok && contains(step.Fits, i) {
			return true
		}
	}
	for _, place := range placesOf(ev) {
		if word, code, _ := cutPlace(place); word == "bag" {
			if b, ok := s.bags[events.Code(code)]; ok && s.keptForStep(step, b) {
				return true
			}
		}
	}
	return names(ev, "step", string(step.ID))
}

func (s *State) keptForStep(step *plan.Step, b *Bag) bool {
	p := s.lay.plan
	if i, ok := p.Part(b.Part); ok && contains(step.Fits, i) {
		return true
	}
	return b.Joint != "" && anySeat(step, func(seat plan.SeatIndex) bool { return p.Joints[p.Seats[seat].Joint].ID == b.Joint })
}
