package engine

import (
	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// Arrival is one thing that was missing or damaged when the engine came.
type Arrival struct {
	On      string // noun
	Lines   []events.Line
	Damaged string // empty: missing
	Whose   string
	Fact    ledger.Fact
}

// missingOnArrival posts what was not there back to outside/arrived: the shop
// did not lose it (rule R16).
func (s *State) missingOnArrival(e *events.MissingOnArrival) {
	if e.Part != "" {
		s.missingPart(e)
	}
	if e.Joint == "" {
		return
	}
	s.arrivals = append(s.arrivals, Arrival{On: noun("joint", e.Joint), Lines: e.Lines, Whose: e.Whose, Fact: s.fact})
	j, ok := s.lay.plan.Joint(e.Joint)
	if !ok {
		s.note(NoSuch, noun("joint", e.Joint), "")
		return
	}
	seats := s.scope(j, e.Joint, e.Holes)
	if len(e.Lines) == 0 {
		s.outWhole(seats, s.arrived)
	}
	for i := range e.Lines {
		s.outOfKind(seats, &e.Lines[i], s.kindOrNone(e.Lines[i].Kind), s.arrived)
	}
	s.emptied(seats)
}

func (s *State) missingPart(e *events.MissingOnArrival) {
	s.arrivals = append(s.arrivals, Arrival{On: noun("part", e.Part), Lines: e.Lines, Whose: e.Whose, Fact: s.fact})
	p, ok := s.lay.plan.Part(e.Part)
	if !ok {
		s.note(NoSuch, noun("part", e.Part), "")
		return
	}
	pl := &s.lay.parts[p]
	g, m := s.group[pl.group], ledger.OfKind(s.kinds[pl.kind])
	n := s.book.Balance(g, m)
	for i := range e.Lines {
		if e.Lines[i].Kind == events.Kind(e.Part) {
			n = min(n, int32(e.Lines[i].Qty))
		}
	}
	s.book.Move(s.fact, m, n, g, s.arrived)
	state := plan.PartOff
	if s.book.Balance(g, m) > 0 {
		state = plan.PartPartly
	}
	s.setPart(p, state)
}

func (s *State) damagedOnArrival(e *events.DamagedOnArrival) {
	on := noun("part", e.Part)
	if e.Joint != "" {
		on = noun("joint", e.Joint)
		if e.Hole != "" {
			on = noun("hole", events.SeatOf(e.Joint, e.Hole))
		}
	}
	s.arrivals = append(s.arrivals, Arrival{On: on, Damaged: e.What, Whose: e.Whose, Fact: s.fact})
}

// Arrivals lists what was missing or damaged when the engine came.
func (s *State) Arrivals() []Arrival { return s.arrivals }
