package engine

import (
	"countback/events"
	"countback/projections/ledger"
)

// IntakeLine is one line of the list of how the engine came: what the plan says
// and what was missing or damaged. It is no loss of this shop, whatever it cost.
type IntakeLine struct {
	On      string // noun
	Name    string // for people
	Kind    events.Kind
	Missing int    // pieces; 0 of a damage
	Of      int    // pieces that the plan has there; 0: the plan does not know it
	Damage  string // empty: missing
	Whose   string // owner, seller, unknown; empty: not said
	Fact    ledger.Fact
}

// Intake lists what was missing or damaged when the engine came, in the order
// in which it was told, and what was answered as never there since. Rule R16.
func (j *Job) Intake() []IntakeLine {
	s := j.State()
	var list []IntakeLine
	for i := range s.arrivals {
		a := &s.arrivals[i]
		if a.Damaged != "" {
			list = append(list, IntakeLine{On: a.On, Name: s.nounWords(a.On), Damage: a.Damaged, Whose: a.Whose, Fact: a.Fact})
			continue
		}
		list = append(list, s.missingLines(a)...)
	}
	for k := 1; k <= s.book.Entries(); k++ {
		en := s.book.Entry(ledger.EntryNo(k))
		if en.Ending == events.NeverThere && en.Sign == ledger.Short {
			path := s.book.Path(en.Place)
			list = append(list, IntakeLine{On: string(path), Name: s.placeWords(path), Kind: s.kindOf(&en), Missing: int(en.Qty), Fact: en.Closed})
		}
	}
	return list
}

// missingLines is what the fact of an arrival posted back to outside/arrived.
func (s *State) missingLines(a *Arrival) []IntakeLine {
	var list []IntakeLine
	typ, id := cutNoun(a.On)
	for _, p := range s.book.Of(a.Fact) {
		if p.To != s.arrived {
			continue
		}
		kind := s.book.KindName(s.book.KindOf(p.Item))
		if (typ == "part") != (kind == events.Kind(id)) {
			continue
		}
		list = addIntake(list, IntakeLine{On: a.On, Name: s.nounWords(a.On), Kind: kind, Missing: int(p.Qty), Of: s.plannedIn(typ, id, kind), Whose: a.Whose, Fact: a.Fact})
	}
	return list
}

func addIntake(list []IntakeLine, l IntakeLine) []IntakeLine {
	for i := range list {
		if list[i].Kind == l.Kind {
			list[i].Missing += l.Missing
			return list
		}
	}
	return append(list, l)
}

// plannedIn is how many pieces of a kind the plan has in a joint or of a part.
func (s *State) plannedIn(typ, id string, kind events.Kind) int {
	if typ == "part" {
		if p, ok := s.lay.plan.Part(events.Part(id)); ok {
			return s.lay.plan.Parts[p].Count
		}
		return 0
	}
	j, ok := s.lay.plan.Joint(events.Joint(id))
	if !ok {
		return 0
	}
	n := 0
	for _, ix := range s.lay.plan.Joints[j].Seats {
		for _, m := range s.lay.plan.Seats[ix].Members {
			if m.Kind == kind {
				n += m.Count
			}
		}
	}
	return n
}
