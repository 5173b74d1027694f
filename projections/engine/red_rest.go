package engine

import (
	"slices"
	"strings"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

func (r *redList) loans() {
	s := r.s
	names := make([]events.Loan, 0, len(s.loans))
	for l, st := range s.loans {
		if st.In > 0 {
			names = append(names, l)
		}
	}
	slices.Sort(names)
	for _, l := range names {
		r.add(RedLoan, s.loans[l].Since, s.loanIsIn(l, s.loans[l]), s.sayLoanOut(l))
	}
}

func (r *redList) cases() {
	s := r.s
	for _, c := range s.cases {
		where := s.holesWords(c.Joint, []events.Hole{c.Hole})
		if c.OtherEnd == "" {
			r.add(RedOtherEnd, c.Since, "Case "+string(c.Code)+", "+where+": where the other end is was not said", "have you the other end? "+orSay(say("case "+string(c.Code), "YES"), say("case "+string(c.Code), "NO")))
		}
		if !c.Open() {
			continue
		}
		r.add(RedCase, c.Since, "Case "+string(c.Code)+", "+where+": a stub is in it since "+s.day(c.Since), orSay(say("case "+string(c.Code), "TRIED"), say("case "+string(c.Code), "EXTRACTED")))
		if n := s.pastStop(c); n > 0 {
			r.add(RedPastStop, c.Tries[len(c.Tries)-1].Fact, "Case "+string(c.Code)+": "+plural(n, "attempt")+" after this shop's limit, "+s.stopped(c),
				override("case "+string(c.Code)))
		}
	}
}

// pastStop counts the attempts that were made after the stop rule and that no
// second person let pass.
func (s *State) pastStop(c *Case) int {
	n, ask := 0, noun("case", c.Code)
	before := *c
	for i := range c.Tries {
		before.Tries = c.Tries[:i]
		f := c.Tries[i].Fact
		if s.stopped(&before) != "" && !s.overrideBetween(ask, lastTry(&before), f) && !s.overrideAfter(ask, f) {
			n++
		}
	}
	return n
}

// overrideBetween says whether a second person let an ask pass after one fact
// and before another.
func (s *State) overrideBetween(ask string, after, before ledger.Fact) bool {
	for i := range s.passes {
		if p := &s.passes[i]; p.Ask == ask && p.Fact > after && p.Fact < before {
			return true
		}
	}
	return false
}

func (r *redList) decisions() {
	s := r.s
	for _, h := range s.holds {
		if h.Released == 0 {
			r.add(RedHold, h.Since, "Hold on "+s.nounWords(h.On)+" since "+s.day(h.Since)+", "+h.Why, say("hold "+h.ID, "RELEASE"))
		}
	}
	r.findings()
}

func (r *redList) gates() {
	for _, g := range r.s.Gates() {
		if g.Owed && !g.Passed {
			r.add(RedGate, g.Since, g.words(r.s), say("step "+string(g.Step), "GATE"))
		}
	}
}

func (r *redList) slips() {
	s := r.s
	for _, sl := range s.slips {
		if len(sl.Out) > 0 {
			r.add(RedSlip, sl.Since, "Slip "+string(sl.Code)+": "+s.partsWords(sl.Out)+" away since "+s.day(sl.Since)+to(sl.Shop)+s.overdueWords(sl), "when it is here "+say("slip "+string(sl.Code), "BACK"))
		}
		for _, id := range sl.Unlooked {
			r.add(RedUnlooked, sl.first, s.unlookedText(sl, id), lookOver(id))
		}
	}
}

// notes lists what the fold noticed and nobody has settled since.
func (r *redList) notes() {
	s := r.s
	for i := range s.notes {
		n := &s.notes[i]
		switch n.What {
		case Unseen:
			if !s.askedAgain(n) {
				r.add(RedUnseen, n.Fact, capital(s.nounWords(n.On))+" passed without knowing of: "+n.Text, s.askAgain(n.On))
			}
		case Reopened:
			if s.Ended == nil && !s.signedAfter(n.Fact) {
				r.add(RedReopened, n.Fact, "The job had ended and is open again: "+n.Text, s.signNext())
			}
		case TurnedPinned:
			if !s.overrideAfter(n.On, n.Fact) {
				r.add(RedTurned, n.Fact, "With "+s.nounWords(n.On)+" in by the book on "+s.clock(n.Fact)+": "+n.Text, "look what it held; then "+override(n.On))
			}
		case TurnedLoose:
			if !s.overrideAfter(n.On, n.Fact) {
				r.add(RedTurned, n.Fact, "At "+s.nounWords(n.On)+" on "+s.clock(n.Fact)+": "+n.Text, "look what it met; then "+override(n.On))
			}
		case FittedEarly:
			if s.fittedSince(n) && !s.overrideAfter(n.On, n.Fact) {
				r.add(RedBatch, n.Fact, "Put on too early: "+n.Text, "look it over; then "+override(n.On))
			}
		case FoundOdd:
			if !s.amendedAfter(n.On, n.Fact) && !s.overrideAfter(n.On, n.Fact) {
				r.add(RedFoundOdd, n.Fact, s.nounWords(n.On)+": "+n.Text, orSay("amend the plan: "+say(n.On, "AMEND"), override(n.On)))
			}
		case NoSuch:
			r.add(RedNoSuch, n.Fact, "This job has no "+n.On+": "+s.clock(n.Fact)+because(n.Text), orSay(say("CORRECT"), "amend the plan"))
		}
	}
}

// askedAgain says whether what passed without knowing was asked again since.
func (s *State) askedAgain(n *Note) bool {
	typ, id := cutNoun(n.On)
	switch typ {
	case "step":
		for i := range s.checks {
			if string(s.checks[i].Step) == id && s.checks[i].Fact > n.Fact {
				return true
			}
		}
	case "audit":
		for i := range s.signed {
			if string(s.signed[i].Point) == id && s.signed[i].Fact > n.Fact {
				return true
			}
		}
	case "job":
		return s.Ended != nil && s.Ended.Fact > n.Fact
	}
	return s.overrideAfter(n.On, n.Fact)
}

func (s *State) askAgain(on string) string {
	switch typ, _ := cutNoun(on); typ {
	case "step":
		return say(on, "GATE")
	case "audit":
		return say(on, "SIGN")
	case "job":
		return "when its audit is signed " + say(noun("job", s.jobName()), "RELEASED")
	}
	return override(on)
}

func (s *State) signedAfter(f ledger.Fact) bool {
	return len(s.signed) > 0 && s.signed[len(s.signed)-1].Fact > f
}

// amendedAfter says whether the plan was amended about a noun after a fact.
func (s *State) amendedAfter(on string, f ledger.Fact) bool {
	_, id := cutNoun(on)
	for i := int(f); i < len(s.job.facts); i++ {
		ev, _ := s.job.standing(ledger.Fact(i + 1))
		if e, ok := ev.(events.PlanAmended); ok && (e.ID == id || strings.HasPrefix(e.ID, id+":")) {
			return true
		}
	}
	return false
}

// strange lists facts that this program cannot read, and facts that others had
// seen and that are not here.
func (r *redList) strange() {
	s := r.s
	for _, u := range s.unknown {
		r.add(RedUnknown, u.Fact, "A fact of "+s.clock(u.Fact)+" is of the kind "+u.Kind+", which this program does not know", "look at it with a newer program; "+say("CORRECT"))
	}
	for _, g := range s.job.Gaps() {
		r.add(RedGap, 0, "Fact "+factName(g)+" of this job is not here, and others had seen it", "connect it: "+say("bench "+string(g.Terminal), "HELP"))
	}
}

// positions compares where pieces with a seat of their own were put with where
// they belong.
func (r *redList) positions() {
	s := r.s
	for i := range s.parts {
		for _, m := range s.misplaced(plan.PartIndex(i)) {
			r.add(RedSwapped, s.parts[i].changed, m, "take them out and put each in its own seat: "+s.sayPart(plan.PartIndex(i), plan.IsOff))
		}
	}
	places := make([]events.Place, 0, len(s.racks))
	for p := range s.racks {
		places = append(places, p)
	}
	slices.Sort(places)
	for _, p := range places {
		if rk := s.racks[p]; rk.Lost != 0 && len(s.At(p)) > 0 {
			what := s.partWords(string(rk.Part))
			if rk.Part == "" {
				what = s.jointWords(string(rk.Joint))
			}
			r.add(RedOrderLost, rk.Lost, capital(s.placeWords(p))+": which "+what+" is which is not known since "+s.day(rk.Lost), "measure each, then put it where it belongs: "+say(append(placeNouns(p), "HELP")...))
		}
	}
}
