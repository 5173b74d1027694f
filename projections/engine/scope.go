package engine

import (
	"errors"
	"slices"
	"time"

	"countback/events"
	"countback/projections/plan"
	"countback/projections/scope"
)

// ScopeAsk is a question: this must come off after all.
type ScopeAsk struct {
	Goals []string      // nouns: "part head", "step head-off", "joint head", "hole head:3"; all of them
	After []events.Step // asked of the engine as it will be when these are done, beside as it is now
	// Against is another repair, set beside the first: nouns as of Goals. Only the
	// least way to each is then shown.
	Against []string
}

// ScopeStep is one step of a way.
type ScopeStep struct {
	Step    events.Step
	Name    string
	Minutes int // 0: the plan does not say
}

// ScopeUse is single-use pieces of one kind that a way uses up, there and back.
type ScopeUse struct {
	Kind events.Kind
	Name string
	Part bool // a gasket, seal or other part; else a fastener
	Used int
	Here int // new, at hand and not promised to another step
	Buy  int // Used less Here

	Each   Money // what one costs, in the shop's currency
	Priced bool  // false: nobody has said
}

// ScopeSlip is a slip that a way concerns.
type ScopeSlip struct {
	Slip events.Code
	Text string
}

// ScopeWay is one way to what must come off, and back to where the engine was.
type ScopeWay struct {
	Goals []string      // the nouns that come off by it
	Name  string        // of these, for people
	After []events.Step // done first; none: from the engine as it is now
	Steps []ScopeStep   // further steps, in an order in which they can be done
	Again []ScopeStep   // that were done and are not, or rest on what is undone
	Back  []ScopeStep   // to be as before
	Lacks []string      // why the plan's steps do not lead back; none: they do

	Seats, Fasteners, Parts int // opened, out, off
	Uses                    []ScopeUse
	Slips                   []ScopeSlip
	Void                    []string // marks that stood and do not

	Minutes     int // there, of the steps that say how long they take
	BackMinutes int
	Wait        time.Duration // for sealant and the like, there and back
	Verdict     string        // "proved least", or at most how much above the least
	BackVerdict string
	Proved      bool
	// Finish is the last planned start moved by the work there and back; none
	// where nothing is planned.
	Finish events.Day
	// Ready is the first day on which the engine can be back where it was, by lead
	// times and promises; NoDay lists what nobody has said and may make it later.
	Ready events.Day
	NoDay []string
	Money ScopeMoney
	Risks []ScopeRisk
}

// ScopeAnswer is what it takes for something to come off after all.
type ScopeAnswer struct {
	Name  string // of what must come off, for people
	Holds bool   // it is so already
	// Ways are the least one from the engine as it is now, other ways from
	// there, the cheapest first, and last the least one after the steps asked
	// for, where some were, and the least one to what was set against it.
	Ways  []ScopeWay
	Today events.Day // from which days are seen
}

// rivalBudget and maxRivals bound the search for other ways.
const (
	rivalBudget = 250_000
	maxRivals   = 24 // steps of the least way that are tried without
)

// Scope is what it takes for something to come off after all, from the state as
// it is now. Rule R42. The error is a *Refusal.
func (j *Job) Scope(ask ScopeAsk) (ScopeAnswer, error) {
	s := j.State()
	goal, err := s.goalOf(ask.Goals)
	if err != nil {
		return ScopeAnswer{}, err
	}
	out := ScopeAnswer{Name: s.goalWords(ask.Goals), Holds: goal.Eval(s.now), Today: s.today()}
	if !out.Holds {
		if err := j.waysNow(&out, goal, ask.Against == nil); err != nil {
			return ScopeAnswer{}, err
		}
	}
	if len(ask.After) > 0 {
		if err := j.wayLater(&out, goal, ask); err != nil {
			return ScopeAnswer{}, err
		}
	}
	for i := range out.Ways {
		out.Ways[i].Goals, out.Ways[i].Name = ask.Goals, out.Name
	}
	if ask.Against != nil {
		if err := j.wayAgainst(&out, ask); err != nil {
			return ScopeAnswer{}, err
		}
	}
	return out, nil
}

// wayLater adds the way from the engine as it will be.
func (j *Job) wayLater(out *ScopeAnswer, goal plan.Condition, ask ScopeAsk) error {
	after, err := j.later(ask.After)
	if err != nil {
		return err
	}
	a, err := j.finder().Find(after, goal, scope.Options{})
	if err != nil {
		return j.State().noWay(ask.Goals, err)
	}
	w := j.scopeWay(after, a)
	w.After = ask.After
	out.Ways = append(out.Ways, w)
	return nil
}

// wayAgainst adds the least way of another repair. What is off already, or is
// the same, is refused: there is nothing to set beside it.
func (j *Job) wayAgainst(out *ScopeAnswer, ask ScopeAsk) error {
	s := j.State()
	other, err := s.goalOf(ask.Against)
	if err != nil {
		return err
	}
	name := s.goalWords(ask.Against)
	switch {
	case slices.Equal(slices.Sorted(slices.Values(ask.Against)), slices.Sorted(slices.Values(ask.Goals))):
		return refuse(Conflict, "scan another part, joint, hole or step", "%s was set against itself", name)
	case other.Eval(s.now):
		return refuse(Conflict, "scan what is still on", "%s is off already: nothing to set beside %s", name, out.Name)
	}
	a, err := j.finder().Find(s.now, other, scope.Options{})
	if err != nil {
		return s.noWay(ask.Against, err)
	}
	w := j.scopeWay(s.now, a)
	w.Goals, w.Name = ask.Against, name
	out.Ways = append(out.Ways, w)
	return nil
}

func (j *Job) waysNow(out *ScopeAnswer, goal plan.Condition, others bool) error {
	s := j.State()
	first, err := j.finder().Find(s.now, goal, scope.Options{})
	if err != nil {
		return refuse(Conflict, "amend the plan, or clear what is in the way", "%s cannot come off by the plan's steps: %s", out.Name, wayWords(err))
	}
	out.Ways = append(out.Ways, j.scopeWay(s.now, first))
	if len(first.Steps) > maxRivals || !others {
		return nil
	}
	rivals, err := j.finder().Rivals(s.now, first, scope.Options{Budget: rivalBudget})
	if err != nil {
		return refuse(Conflict, "ask again", "other ways to %s: %s", out.Name, err)
	}
	for _, r := range rivals {
		out.Ways = append(out.Ways, j.scopeWay(s.now, r))
	}
	return nil
}

func (s *State) noWay(goals []string, err error) error {
	return refuse(Conflict, "name another step", "%s cannot come off then by the plan's steps: %s", s.goalWords(goals), wayWords(err))
}

// wayWords is what is in the way where no steps lead there.
func wayWords(err error) string {
	var no *scope.NoWay
	if errors.As(err, &no) && len(no.Unmet) > 0 {
		return no.Unmet[0].Text
	}
	return err.Error()
}

// scopeWay puts an answer into words, with what this job has at hand and away.
func (j *Job) scopeWay(from *plan.Present, a *scope.Answer) ScopeWay {
	s := j.State()
	side := j.finder().Side(a)
	w := ScopeWay{Steps: s.scopeSteps(a.Steps), Again: s.scopeSteps(a.Undone), Back: s.scopeSteps(a.Back.Steps), Lacks: side.BackLacks,
		Seats: side.Seats, Fasteners: side.Fasteners, Parts: side.Parts, Uses: s.scopeUses(a), Slips: s.scopeSlips(from, a),
		Minutes: a.Cost.Minutes, BackMinutes: a.Back.Cost.Minutes, Wait: a.Wait + a.Back.Wait,
		Verdict: side.Verdict, BackVerdict: side.BackVerdict, Proved: a.Proved()}
	w.Again = append(w.Again, s.scopeSteps(a.Doubtful)...)
	w.Finish = s.finishAfter(w.Minutes + w.BackMinutes + int(w.Wait/time.Minute))
	for _, m := range a.Tally.Void {
		w.Void = append(w.Void, s.lay.plan.Marks[m].Name)
	}
	s.priced(w.Uses)
	w.Money = s.scopeMoney(&w)
	w.Risks = s.scopeRisks(a.Tally.Seats, a.Tally.Removed)
	s.ready(&w)
	return w
}

func (s *State) scopeSteps(list []plan.StepIndex) []ScopeStep {
	var out []ScopeStep
	for _, i := range list {
		step := &s.lay.plan.Steps[i]
		name := step.Name
		if name == "" {
			name = string(step.ID)
		}
		out = append(out, ScopeStep{step.ID, name, step.Minutes})
	}
	return out
}

// Pieces is how many single-use pieces a way uses up, there and back.
func (w *ScopeWay) Pieces() int {
	n := 0
	for _, u := range w.Uses {
		n += u.Used
	}
	return n
}

// Buy is how many of them are not at hand.
func (w *ScopeWay) Buy() int {
	n := 0
	for _, u := range w.Uses {
		n += u.Buy
	}
	return n
}
