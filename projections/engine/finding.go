package engine

import (
	"strings"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// Finding is what inspection found, what was decided about it, and how far that
// is. It holds what it is on until it is decided, and then the steps on until
// what the decision adds is done. Asking the owner decides nothing (rule R56).
type Finding struct {
	ID, On, What string
	Since        ledger.Fact
	By           events.Badge // who found it

	Decision string // use, repair, replace, send-out; empty: open
	Decided  ledger.Fact
	Decider  events.Badge
	Why      string
	Shop     string        // send-out: to whom
	Lines    []events.Line // what it needs from outside, where that was said
	Cost     int           // in whole units of the shop's money; 0: not said

	Asked  ledger.Fact // the owner; 0: not asked
	Ask    string      // what he was asked
	Answer OwnerSaid
	Told   ledger.Fact // when the answer came
	Said   string      // in his words

	Done ledger.Fact // what the decision added was done; 0: not said
}

// OwnerSaid is what an owner said.
type OwnerSaid uint8

// The answers.
const (
	NoAnswer OwnerSaid = iota
	OwnerYes
	OwnerNo
)

var answerWords = [...]string{"", "yes", "no"}

// String is the answer in a word; empty where there is none.
func (a OwnerSaid) String() string { return answerWords[a] }

// Open reports whether it is not decided yet.
func (f *Finding) Open() bool { return f.Decision == "" }

// Waits reports whether the owner was asked and has not answered.
func (f *Finding) Waits() bool { return f.Open() && f.Asked != 0 && f.Answer == NoAnswer }

// Decisions are the words of a decision as they are stored.
const (
	decideUse     = "use"
	decideRepair  = "repair"
	decideReplace = "replace"
	decideSend    = "send-out"
	decideAsk     = "ask-owner"
)

// Findings lists the findings of the job in the order in which they were
// raised. Read only.
func (s *State) Findings() []*Finding { return s.findings }

func (s *State) finding(id string) *Finding {
	for _, f := range s.findings {
		if f.ID == id {
			return f
		}
	}
	s.note(NoSuch, "finding "+id, "")
	return nil
}

func (s *State) findingRaised(e *events.FindingRaised) {
	s.findings = append(s.findings, &Finding{ID: e.Finding, On: e.On, What: e.What, Since: s.fact, By: s.rec.Operator})
}

func (s *State) findingDecided(e *events.FindingDecided) {
	f := s.finding(e.Finding)
	if f == nil {
		return
	}
	if e.Decision == decideAsk {
		f.Asked, f.Ask, f.Answer, f.Told = s.fact, e.Why, NoAnswer, 0
		f.Decision, f.Decided, f.Cost = "", 0, e.Cost
		return
	}
	f.Decision, f.Decided, f.Decider, f.Why = e.Decision, s.fact, s.rec.Operator, e.Why
	f.Shop, f.Lines, f.Done = e.Shop, e.Lines, 0
	if e.Cost != 0 {
		f.Cost = e.Cost
	}
}

func (s *State) ownerAnswered(e *events.OwnerAnswered) {
	f := s.finding(e.Finding)
	if f == nil {
		return
	}
	f.Answer, f.Told, f.Said = OwnerNo, s.fact, e.Why
	if e.Yes {
		f.Answer = OwnerYes
	}
	if f.Asked == 0 {
		f.Asked = s.fact
	}
}

func (s *State) findingDone(e *events.FindingDone) {
	if f := s.finding(e.Finding); f != nil {
		f.Done = s.fact
	}
}

// owes reports whether a decision added work that is not done. What is to be
// replaced waits for its new piece: see the hardware of the steps.
func (s *State) owes(f *Finding) bool {
	if f.Done != 0 {
		return false
	}
	switch f.Decision {
	case decideRepair:
		return true
	case decideSend:
		return !s.sentAndBack(f)
	case decideReplace:
		p := s.replaceable(f)
		return p == plan.None || s.gauging.exchanged[s.lay.plan.Parts[p].ID] <= f.Decided &&
			!s.newAt(p, func(c ledger.Class) bool { return c == ledger.Fitted })
	}
	return false
}

// holdsUp reports whether a decision holds the steps on: a new piece that is at
// hand may be fitted.
func (s *State) holdsUp(f *Finding) bool {
	return s.owes(f) && !(f.Decision == decideReplace && s.hereNew(f))
}

// hereNew reports whether a new piece is at hand in place of what is replaced.
func (s *State) hereNew(f *Finding) bool {
	p := s.replaceable(f)
	return p != plan.None && s.renewed(p)
}

// replaceable is the part that a finding is on; None where it is on something
// else.
func (s *State) replaceable(f *Finding) plan.PartIndex {
	typ, id := cutNoun(f.On)
	if typ == "part" {
		if p, ok := s.lay.plan.Part(events.Part(id)); ok {
			return p
		}
	}
	if typ == "measurement" {
		id, _, _ = strings.Cut(id, ":")
		if parts := s.measuredParts(id); len(parts) == 1 {
			return parts[0]
		}
	}
	return plan.None
}

// sentAndBack reports whether what a finding is on went to another shop after
// the decision, and is here again.
func (s *State) sentAndBack(f *Finding) bool {
	var parts []events.Part
	if p := s.replaceable(f); p != plan.None {
		for ; p != plan.None; p = s.lay.plan.Parts[p].In {
			parts = append(parts, s.lay.plan.Parts[p].ID)
		}
	}
	if typ, id := cutNoun(f.On); typ == "hole" {
		joint, hole := events.Seat(id).Split()
		if ix, ok := s.lay.plan.Hole(joint, hole); ok {
			for p := s.lay.plan.Seats[ix].Host; p != plan.None; p = s.lay.plan.Parts[p].In {
				parts = append(parts, s.lay.plan.Parts[p].ID)
			}
		}
	}
	for _, sl := range s.slips {
		if sl.Since < f.Decided {
			continue
		}
		for _, p := range parts {
			if contains(sl.Parts, p) && !contains(sl.Out, p) {
				return true
			}
		}
	}
	return false
}

func (v *view) openFindings(ix plan.StepIndex, list []Blocker) []Blocker {
	on := v.s.lay.plan.Steps[ix].Section == plan.On
	for _, f := range v.findings {
		if v.s.concerns(ix, f.On) && (f.Open() || on) {
			list = append(list, v.s.findingBlocks(f))
		}
	}
	return list
}

// findingBlocks is what a finding holds and what clears it.
func (s *State) findingBlocks(f *Finding) Blocker {
	on := s.nounWords(f.On)
	switch {
	case f.Waits():
		return Blocker{"Finding on " + on + " waits for the owner since " + s.day(f.Asked) + ", " + f.What, "when he has answered " + orSay(say("finding "+f.ID, "YES"), say("finding "+f.ID, "NO"))}
	case f.Open() && f.Answer != NoAnswer:
		return Blocker{"Finding on " + on + " is not decided, " + f.What + "; the owner said " + f.Answer.String(), decideIt(f)}
	case f.Open():
		return Blocker{"Finding on " + on + " is not decided, " + f.What, decideIt(f)}
	}
	return Blocker{capital(on) + " is to be " + worked[f.Decision] + " since " + s.day(f.Decided) + ", " + f.What, s.findingClears(f)}
}

// decideIt is every way to decide a finding.
func decideIt(f *Finding) string {
	id := "finding " + f.ID
	return orSay(say(id, "USE"), say(id, "REPAIR"), say(id, "REPLACE"), say(id, "SEND OUT"), say(id, "ASK THE OWNER"))
}

var worked = map[string]string{decideRepair: "repaired", decideReplace: "replaced", decideSend: "sent out"}

// findingClears is what ends the work that a decision added.
func (s *State) findingClears(f *Finding) string {
	done := "when it is done " + say("finding "+f.ID, "DONE")
	switch f.Decision {
	case decideReplace:
		if s.hereNew(f) {
			return "fit the new one; or " + done
		}
		return "a new one comes in: " + newOnes() + "; or " + done
	case decideSend:
		if p := s.replaceable(f); p != plan.None && s.now.Part(p) == plan.PartAway {
			if sl := s.slipOf(p); sl != nil {
				return "when it is here " + say("slip "+string(sl.Code), "BACK")
			}
		}
		return "SEND it with a slip; or " + done
	}
	return done
}

// RedWork is work that a decision added and that is not done.
const RedWork = "finding-work"

func (r *redList) findings() {
	for _, f := range r.s.findings {
		code, since := RedFinding, f.Since
		switch {
		case f.Open():
		case r.s.owes(f):
			code, since = RedWork, f.Decided
		default:
			continue
		}
		b := r.s.findingBlocks(f)
		r.add(code, since, b.Text, b.Clear)
	}
}

// FinishFinding says that what a decision added is done. It is refused while
// nothing is decided, and where nothing was added (rule R56).
type FinishFinding struct {
	Finding string
	Why     string
}

func (c FinishFinding) decide(s *State) (events.Event, error) {
	for _, f := range s.findings {
		switch {
		case f.ID != c.Finding:
			continue
		case f.Done != 0:
			return nil, nil
		case f.Open():
			return nil, refuse(Conflict, "decide it: USE, REPAIR, REPLACE or SEND OUT", "finding %s is not decided", f.ID)
		case f.Decision == decideUse:
			return nil, refuse(Conflict, "decide it anew if it is to be repaired", "finding %s adds nothing: it is used as it is", f.ID)
		}
		return events.FindingDone{Finding: c.Finding, Why: c.Why}, nil
	}
	return nil, refuse(Unknown, "FINDINGS lists them", "this job has no finding %s", c.Finding)
}

// tellsDecided tells a decision with what it adds.
func (s *State) tellsDecided(e events.FindingDecided) string {
	text := "Finding " + e.Finding + ": " + decisionWords(e.Decision) + to(e.Shop)
	if len(e.Lines) > 0 {
		text += ", needs " + s.linesWords(e.Lines)
	}
	if e.Cost > 0 {
		text += ", costs " + itoa(e.Cost)
	}
	return text + because(e.Why)
}

// NounWords is a noun as people call it: "part head" is "Head".
func (s *State) NounWords(noun string) string { return s.nounWords(noun) }
