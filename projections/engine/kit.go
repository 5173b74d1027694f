package engine

import (
	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// KitCount is what was counted when a kit was opened, against what the plan
// lists.
type KitCount struct {
	Kit   string
	Lot   events.Lot
	Since ledger.Fact
	Again bool      // the same kit was opened before
	Lines []KitLine // those of the plan in its order, then what else was in it
}

// KitLine is one kind of an opened kit. Listed is how many the kit has by the
// plan and Surplus how many of these are not for this engine; a kind that the
// plan does not list has Listed 0.
type KitLine struct {
	Kind    events.Kind
	Listed  int
	Surplus int
	Counted int
	Said    bool // it was counted; false: nobody said how many
}

// Short is how many pieces lack that this engine needs.
func (l *KitLine) Short() int {
	if !l.Said {
		return 0
	}
	return max(0, l.Listed-l.Surplus-l.Counted)
}

// Extra is how many pieces are in it that this engine does not need: the ones
// that will be left over. Those beyond what the kit lists are More.
func (l *KitLine) Extra() int { return max(0, l.Counted-(l.Listed-l.Surplus)) }

// More is how many pieces are in it beyond what the kit lists.
func (l *KitLine) More() int { return max(0, l.Counted-l.Listed) }

// Kits lists the kits that were opened, oldest first.
func (s *State) Kits() []*KitCount { return s.ahead.kits }

// kitOpened takes in what a kit held, and compares it with the plan's list.
func (s *State) kitOpened(e *events.KitOpened) {
	s.received(events.Place("outside/supplier/"+e.Kit), e.To, e.Lot, e.Lines, events.New)
	s.cameWith(e.Order, []events.Line{{Kind: kitKind(e.Kit), Qty: 1}})
	s.unpack(kitKind(e.Kit))
	k := &KitCount{Kit: e.Kit, Lot: e.Lot, Since: s.fact}
	for _, o := range s.ahead.kits {
		k.Again = k.Again || o.Kit == e.Kit && o.Lot == e.Lot
	}
	s.ahead.kits = append(s.ahead.kits, k)
	if kit := s.kitOf(kitKind(e.Kit)); kit != nil { // another is counted as it came
		for i := range kit.Lines {
			l := &kit.Lines[i]
			line := k.line(s.kitLineKind(l))
			line.Listed += l.Count
			line.Surplus += l.Surplus
		}
	}
	for i := range e.Lines {
		line := k.line(e.Lines[i].Kind)
		line.Counted = min(line.Counted+max(0, e.Lines[i].Qty), events.MaxQty)
		line.Said = true
	}
}

func (k *KitCount) line(kind events.Kind) *KitLine {
	for i := range k.Lines {
		if k.Lines[i].Kind == kind {
			return &k.Lines[i]
		}
	}
	k.Lines = append(k.Lines, KitLine{Kind: kind})
	return &k.Lines[len(k.Lines)-1]
}

// metKind is the number of a kind that the book has met; 0 for any other.
func (s *State) metKind(k events.Kind) ledger.KindID {
	for i := 1; i <= s.book.Kinds(); i++ {
		if s.book.KindName(ledger.KindID(i)) == k {
			return ledger.KindID(i)
		}
	}
	return 0
}

// Unopened is how many kits of a kind ("kit gasket-set") lie here unopened.
func (s *State) Unopened(k events.Kind) int { return s.unopened(k) }

// unopened is how many kits lie here unopened.
func (s *State) unopened(k events.Kind) int {
	id := s.metKind(k)
	if id == 0 {
		return 0
	}
	n := int32(0)
	for _, a := range s.book.Holders(id) {
		if usable(s.book.Class(a)) {
			n += max(0, s.book.Balance(a, ledger.OfKind(id)))
		}
	}
	return int(n)
}

// unpack takes one unopened kit off the book where one lies here: its pieces
// are on it now.
func (s *State) unpack(k events.Kind) {
	id := s.metKind(k)
	if id == 0 {
		return
	}
	for _, a := range s.book.Holders(id) {
		if usable(s.book.Class(a)) && s.book.Balance(a, ledger.OfKind(id)) > 0 {
			s.book.MoveKind(s.fact, id, 1, a, s.book.Account("outside/unpacked"))
			return
		}
	}
}

// kitShort is how many pieces of each kind the kits that were opened lack.
func (s *State) kitShort() map[events.Kind]int {
	if len(s.ahead.kits) == 0 {
		return nil
	}
	short := map[events.Kind]int{}
	for _, k := range s.ahead.kits {
		for i := range k.Lines {
			if n := k.Lines[i].Short(); n > 0 {
				short[k.Lines[i].Kind] += n
			}
		}
	}
	return short
}

// kitWith is the first kit of the plan that has a kind; empty if none has.
func (s *State) kitWith(k events.Kind) string {
	for i := range s.lay.plan.Kits {
		kit := &s.lay.plan.Kits[i]
		for l := range kit.Lines {
			if line := &kit.Lines[l]; (line.Part != plan.None && k == events.Kind(s.lay.plan.Parts[line.Part].ID)) || line.Kind == k && k != "" {
				return kit.ID
			}
		}
	}
	return ""
}
