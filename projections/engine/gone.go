package engine

import (
	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// partsGone takes parts off that were told to have left and that are on by the
// book: what is thrown away, kept as a sample or given away is not on the
// engine, and what lay before it was off (rule R70). Where the place that was
// named holds the kind, that piece went and the engine keeps its own; so it does
// where fewer were told than are on.
func (s *State) partsGone(from events.Place, lines []events.Line) {
	for i := range lines {
		l := &lines[i]
		p, ok := s.lay.partKind[l.Kind]
		if !ok || !s.onIt(p) {
			continue
		}
		pl := &s.lay.parts[p]
		k := s.kinds[pl.kind]
		n := s.book.BalanceOf(s.group[pl.group], k)
		a := s.place(from, noun("part", s.lay.plan.Parts[p].ID))
		if n == 0 || int32(l.Qty) < n || s.book.BalanceOf(a, k) > 0 {
			continue
		}
		s.presumeBefore(p)
		s.presumeHeld(p)
		if s.onIt(p) {
			s.takeOff(p, nil, from, a)
		}
	}
}

// partsLeft forgets where parts lay of which nothing lies there any more.
func (s *State) partsLeft(lines []events.Line) {
	for i := range lines {
		p, ok := s.lay.partKind[lines[i].Kind]
		if ok && !s.onIt(p) && s.parts[p].at != 0 && s.book.BalanceOf(s.parts[p].at, s.kinds[s.lay.parts[p].kind]) <= 0 {
			s.parts[p].at = 0
		}
	}
}

// PartLies is a place where pieces of a part lie, not on the engine: where it was
// put last, else any that holds it. lot: only pieces of this lot count, or with
// none all but the owner's. Empty: none lies anywhere.
func (s *State) PartLies(id events.Part, lot events.Lot) events.Place {
	p, ok := s.lay.plan.Part(id)
	if !ok {
		return ""
	}
	k := s.kinds[s.lay.parts[p].kind]
	lies := func(a ledger.AccountID) bool {
		if a == 0 || !usable(s.book.Class(a)) {
			return false
		}
		for it, n := range s.book.At(a) {
			name := s.book.ItemName(it)
			if n > 0 && s.book.KindOf(it) == k && (name.Lot == lot || lot == "" && name.Lot != ownersLot) {
				return true
			}
		}
		return false
	}
	if at := s.parts[p].at; lies(at) {
		return s.book.Path(at)
	}
	for a := 1; a <= s.book.Accounts(); a++ {
		if lies(ledger.AccountID(a)) {
			return s.book.Path(ledger.AccountID(a))
		}
	}
	return ""
}

// OwnersPartLies is a place where a part that the owner brought lies, neither
// fitted nor given back; empty: none does.
func (s *State) OwnersPartLies(id events.Part) events.Place { return s.PartLies(id, ownersLot) }

// OwnersLot marks the lines of pieces that the owner brought.
const OwnersLot = ownersLot

// PartIsOn reports whether a part, or some of it, is on.
func (s *State) PartIsOn(id events.Part) bool {
	p, ok := s.lay.plan.Part(id)
	return ok && s.onIt(p)
}

// partLeft says of a part that is off that no piece of it is here: it was thrown
// away, lost or given away, and another is wanted.
func (s *State) partLeft(p plan.PartIndex) bool {
	if s.now.Part(p) != plan.PartOff {
		return false
	}
	for _, a := range s.book.Holders(s.kinds[s.lay.parts[p].kind]) {
		if c := s.book.Class(a); (usable(c) || c == ledger.Slip) && s.book.BalanceOf(a, s.kinds[s.lay.parts[p].kind]) > 0 {
			return false
		}
	}
	return s.book.BalanceOf(s.scrap, s.kinds[s.lay.parts[p].kind]) > 0
}
