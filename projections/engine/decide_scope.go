package engine

import (
	"slices"

	"countback/events"
	"countback/projections/ledger"
)

// DecideScope asks to decide what it takes for something to come off after all:
// which of the ways that [Job.Scope] shows, by its number from 1, or 0 to leave
// it as it is. It is refused without a person and a reason, and where there is
// no such way (rule R43).
type DecideScope struct {
	Goals   []string
	After   []events.Step
	Against []string // another repair beside it; its way is the last number
	Way     int
	By      events.Badge
	Why     string
}

func (c DecideScope) decide(s *State) (events.Event, error) {
	switch {
	case c.Why == "":
		return nil, refuse(Malformed, "say why", "nothing was decided: no reason")
	case c.By == "":
		return nil, refuse(Malformed, "scan your badge, then say it again", "a decision is somebody's: no badge was scanned")
	}
	a, err := s.job.Scope(ScopeAsk{c.Goals, c.After, c.Against})
	if err != nil {
		return nil, err
	}
	ev := events.ScopeDecided{Goals: c.Goals, Beside: c.Against, Why: c.Why}
	if c.Way != 0 {
		if a.Holds && len(a.Ways) == 0 {
			return nil, nil
		}
		if c.Way < 0 || c.Way > len(a.Ways) {
			return nil, refuse(Unknown, "say the number of a way on the screen, or 0 to leave it", "there is no way %d for %s: %s", c.Way, a.Name, plural(len(a.Ways), "way"))
		}
		w := &a.Ways[c.Way-1]
		ev.After, ev.Verdict = w.After, w.Verdict
		if c.Against != nil && c.Way == len(a.Ways) {
			ev.Goals, ev.Beside = c.Against, c.Goals
		}
		for _, step := range w.Steps {
			ev.Steps = append(ev.Steps, step.Step)
		}
	}
	for i := range a.Ways {
		if i != c.Way-1 {
			text := s.wayText(&a.Ways[i])
			if c.Against != nil {
				text = a.Ways[i].Name + ", " + text
			}
			ev.Against = append(ev.Against, text)
		}
	}
	if last := s.scopeOf(ev.Goals); last != nil && last.same(&ev) {
		return nil, nil
	}
	return ev, nil
}

// wayText is a way in one line.
func (s *State) wayText(w *ScopeWay) string {
	text := "now: "
	if len(w.After) > 0 {
		text = "after " + s.stepsWords(w.After) + ": "
	}
	text += plural(len(w.Steps), "step") + " there, " + itoa(len(w.Back)) + " back, " + plural(w.Pieces(), "single-use piece")
	if m := w.Minutes + w.BackMinutes; m > 0 {
		text += ", " + HoursWords(m)
	}
	if sum, _ := w.Money.Sum(); sum.Amount > 0 {
		text += ", " + w.Money.SumWords()
	}
	if n := len(w.Risks); n > 0 {
		text += ", " + plural(n, "risk")
	}
	return text
}

func (s *State) stepsWords(list []events.Step) string {
	var words []string
	for _, id := range list {
		words = append(words, s.nounWords(noun("step", id)))
	}
	return wordList(words)
}

// HoursWords is minutes as hours: "2.5 h".
func HoursWords(minutes int) string {
	tenths := (minutes + 3) / 6
	return itoa(tenths/10) + "." + itoa(tenths%10) + " h"
}

// ScopeChoice is a decision on what must come off after all.
type ScopeChoice struct {
	events.ScopeDecided
	By       events.Badge
	Fact     ledger.Fact
	Reached  ledger.Fact // it came off; 0: not yet
	Replaced ledger.Fact // decided anew; 0: it stands
}

// Open says that it was decided that something comes off, and it has not.
func (c *ScopeChoice) Open() bool {
	return len(c.Steps) > 0 && c.Reached == 0 && c.Replaced == 0
}

func (c *ScopeChoice) same(e *events.ScopeDecided) bool {
	return slices.Equal(c.Steps, e.Steps) && slices.Equal(c.After, e.After) && slices.Equal(c.Beside, e.Beside) && c.Reached == 0
}

// scopeDecided replaces an older decision on the same thing, and on what it was
// weighed against.
func (s *State) scopeDecided(e *events.ScopeDecided) {
	for _, goals := range [][]string{e.Goals, e.Beside} {
		if last := s.scopeOf(goals); last != nil {
			last.Replaced = s.fact
		}
	}
	s.choicesOfScope = append(s.choicesOfScope, &ScopeChoice{ScopeDecided: *e, By: s.rec.Operator, Fact: s.fact})
}

// scopeOf is the decision on some goals that stands.
func (s *State) scopeOf(goals []string) *ScopeChoice {
	for _, c := range s.choicesOfScope {
		if c.Replaced == 0 && slices.Equal(c.Goals, goals) {
			return c
		}
	}
	return nil
}

// scopesReached notes which decisions the fact in hand has carried out.
func (s *State) scopesReached() {
	for _, c := range s.choicesOfScope {
		if !c.Open() {
			continue
		}
		if goal, err := s.goalOf(c.Goals); err == nil && goal.Eval(s.now) {
			c.Reached = s.fact
		}
	}
}

// ScopeChoices lists the decisions on what must come off after all, in their
// order.
func (s *State) ScopeChoices() []*ScopeChoice { return s.choicesOfScope }

// ScopeChosen is the decision on some goals that stands; nil: none.
func (s *State) ScopeChosen(goals []string) *ScopeChoice { return s.scopeOf(goals) }

// ScopeNext is the step that an open decision asks for next: of those that come
// first, then of its way, the first that is not done.
func (s *State) ScopeNext(c *ScopeChoice) (events.Step, bool) {
	for _, list := range [][]events.Step{c.After, c.Steps} {
		for _, id := range list {
			if ix, ok := s.lay.plan.Step(id); ok && !s.now.IsDone(ix) {
				return id, true
			}
		}
	}
	return "", false
}

// scopes adds what was decided to come off and has not.
func (r *redList) scopes() {
	s := r.s
	for _, c := range s.choicesOfScope {
		if !c.Open() {
			continue
		}
		scan := "decide anew: " + say(append(goalNouns(c.Goals), "DECIDED")...)
		if next, ok := s.ScopeNext(c); ok {
			if ix, ok := s.lay.plan.Step(next); ok {
				scan = orSay(s.sayStep(ix), scan)
			}
		}
		r.add(RedScope, c.Fact, s.goalWords(c.Goals)+" to come off after all, decided "+s.day(c.Fact)+", "+c.Why+": it is not off", scan)
	}
}

// RedScope is what was decided to come off after all and has not.
const RedScope = "scope"

// tellsScope puts a decision into a sentence.
func (s *State) tellsScope(e *events.ScopeDecided) string {
	stays, comes := " stays as it is, decided", " comes off after all, "
	if len(e.Goals) > 1 {
		stays, comes = " stay as they are, decided", " come off after all, "
	}
	if len(e.Steps) == 0 {
		goals := e.Goals
		if len(e.Beside) > 0 {
			goals, stays = append(slices.Clone(goals), e.Beside...), " stay as they are, decided"
		}
		return s.goalWords(goals) + stays + because(e.Why)
	}
	when := "now"
	if len(e.After) > 0 {
		when = "after " + s.stepsWords(e.After)
	}
	rather := ""
	if len(e.Beside) > 0 {
		rather = ", rather than " + s.goalWords(e.Beside)
	}
	return s.goalWords(e.Goals) + comes + when + ", by " + plural(len(e.Steps), "step") + rather + ", decided" + because(e.Why)
}
