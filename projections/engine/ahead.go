package engine

import (
	"countback/events"
	"countback/projections/ledger"
)

// ahead is the fold's side of what is still to come: orders, promises, planned
// days, lead times, beads of sealant, times to wait, kits that were opened.
type ahead struct {
	orders   []*Order
	promises []PromiseMade
	planned  []PlannedStart // one for each step, the last word
	leads    []LeadTime     // one for each supplier and kind, the last word last
	beads    []*Bead
	running  int                         // beads under what is not closed yet
	held     map[events.Step]ledger.Fact // since when the conditions of a step that waits hold
	kits     []*KitCount
}

// PromiseMade is one word that was given for a day. The last on a thing stands.
type PromiseMade struct {
	events.Promised
	Fact ledger.Fact
}

// PlannedStart is the day on which a step is meant to start.
type PlannedStart struct {
	Step events.Step
	Day  events.Day
	Fact ledger.Fact
}

// LeadTime is how many calendar days a supplier takes for a kind, or for
// whatever it brings where Kind is empty.
type LeadTime struct {
	Supplier string
	Kind     events.Kind
	Days     int
	Fact     ledger.Fact
}

// expect folds what is said about the time to come.
func (s *State) expect(ev events.Event) {
	switch e := ev.(type) {
	case events.Ordered:
		s.ordered(&e)
	case events.OrderClosed:
		s.orderClosed(&e)
	case events.Promised:
		s.promised(&e)
	case events.StepPlanned:
		s.stepPlanned(&e)
	case events.LeadTimeSet:
		s.leadTimeSet(&e)
	case events.HardwareSentBack:
		s.sentBack(&e)
	case events.SealantApplied:
		s.sealantApplied(&e)
	}
}

func (s *State) promised(e *events.Promised) {
	s.ahead.promises = append(s.ahead.promises, PromiseMade{*e, s.fact})
	typ, id := cutNoun(e.On)
	switch typ {
	case "order":
		o := s.order(id)
		if o == nil {
			s.note(NoSuch, e.On, "promised for "+string(e.Day))
			return
		}
		for i := range o.Lines {
			if l := &o.Lines[i]; e.Kind == "" || l.Kind == e.Kind {
				l.Promised = e.Day
			}
		}
	case "slip":
		if s.slip(events.Code(id)) == nil {
			s.note(NoSuch, e.On, "promised for "+string(e.Day))
		}
	}
}

// promiseOn is the day that was promised last for a thing as a whole; none if
// nobody promised, or the word was taken back.
func (s *State) promiseOn(on string) events.Day {
	for i := len(s.ahead.promises) - 1; i >= 0; i-- {
		if p := &s.ahead.promises[i]; p.On == on && p.Kind == "" {
			if !p.Day.Valid() {
				return ""
			}
			return p.Day
		}
	}
	return ""
}

// Promises lists every word that was given for a thing ("order o12-b2", "slip
// S2KHQ7NU", "part head"), oldest first; all of them for an empty noun.
func (s *State) Promises(on string) []PromiseMade {
	var list []PromiseMade
	for _, p := range s.ahead.promises {
		if on == "" || p.On == on {
			list = append(list, p)
		}
	}
	return list
}

func (s *State) stepPlanned(e *events.StepPlanned) {
	if _, ok := s.lay.plan.Step(e.Step); !ok {
		s.note(NoSuch, noun("step", e.Step), "planned for "+string(e.Day))
		return
	}
	for i := range s.ahead.planned {
		if s.ahead.planned[i].Step == e.Step {
			s.ahead.planned[i] = PlannedStart{e.Step, e.Day, s.fact}
			return
		}
	}
	s.ahead.planned = append(s.ahead.planned, PlannedStart{e.Step, e.Day, s.fact})
}

func (s *State) leadTimeSet(e *events.LeadTimeSet) {
	l := LeadTime{e.Supplier, e.Kind, e.Days, s.fact}
	for i := range s.ahead.leads {
		if o := &s.ahead.leads[i]; o.Supplier == e.Supplier && o.Kind == e.Kind {
			s.ahead.leads = append(append(s.ahead.leads[:i:i], s.ahead.leads[i+1:]...), l)
			return
		}
	}
	s.ahead.leads = append(s.ahead.leads, l)
}

// LeadTimes lists how long suppliers take, in the order in which it was said
// last.
func (s *State) LeadTimes() []LeadTime { return s.ahead.leads }
