package engine

import (
	"strings"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// singleIn reports whether what is wanted in holes must be new.
func (l *layout) singleIn(seats []plan.SeatIndex, n need) bool {
	for _, ix := range seats {
		sl := &l.seats[ix]
		if sl.group != n.group {
			continue
		}
		for _, m := range sl.members {
			if m.kind == n.kind {
				return m.single
			}
		}
	}
	return false
}

// wish says how gladly a piece in a condition is taken, the least first.
func wish(c events.Condition, single bool) int {
	if single && c == events.New {
		return -1
	}
	switch c {
	case events.AsFound:
		return 2
	case events.MeasuredGood:
		if single {
			return 1
		}
		return 3
	case events.Used:
		return 4
	case events.New:
		return 5
	case events.Condemned:
		return 6
	}
	return 7
}

// bad counts pieces that should not have gone in.
type bad struct{ reused, condemned int32 }

// took counts pieces in a condition that went in.
func (b *bad) took(c events.Condition, n int32, single bool) {
	switch {
	case c == events.Condemned || c == events.Sample:
		b.condemned += n
	case single && c != events.New:
		b.reused += n
	}
}

// supply moves pieces of a kind into a group, the fitting ones first, and says
// how many of them should not have gone in. from 0: wherever this job has
// them, its bench first.
func (s *State) supply(k ledger.KindID, n int32, single bool, from, to ledger.AccountID) (b bad) {
	if from == 0 {
		from = s.source(k, n, single, to)
	}
	if it := s.book.MoveOnly(s.fact, k, n, from, to); it != 0 {
		b.took(s.book.Cond(it), n, single)
		return b
	}
	var room [8]ledger.Held
	for _, p := range s.piecesOf(room[:0], k, from, single) {
		have := min(p.Qty, n)
		if have == 0 || from == to {
			break
		}
		s.book.MoveItem(s.fact, p.Item, have, from, to)
		n -= have
		b.took(s.book.Cond(p.Item), have, single)
	}
	if n > 0 {
		s.book.MoveKind(s.fact, k, n, from, to)
		if single {
			b.reused += n // not known to be new
		}
	}
	return b
}

// piecesOf lists what an account holds of a kind, in the order in which a hand
// would take it, then by item.
func (s *State) piecesOf(list []ledger.Held, k ledger.KindID, from ledger.AccountID, single bool) []ledger.Held {
	list = s.book.HeldOf(list, from, k)
	for n := 1; n < len(list); n++ {
		w := wish(s.book.Cond(list[n].Item), single)
		for i := n; i > 0 && wish(s.book.Cond(list[i-1].Item), single) > w; i-- {
			list[i], list[i-1] = list[i-1], list[i]
		}
	}
	return list
}

// source finds the account that most likely gave pieces of a kind: the one that
// can give the most of them, what is kept for the same joint or part before
// others, then by account order; new ones for a single-use piece.
func (s *State) source(k ledger.KindID, n int32, single bool, to ledger.AccountID) ledger.AccountID {
	m := ledger.OfKind(k)
	if single {
		m = s.newOf(k)
	}
	best, most, others := ledger.AccountID(0), int32(0), false
	for _, a := range s.book.Holders(k) {
		if a == to || !usable(s.book.Class(a)) {
			continue
		}
		has := min(s.book.Balance(a, m), n)
		switch {
		case has > most:
			best, most, others = a, has, false
		case has == most:
			others = true
		}
	}
	if others {
		if own := s.ownSource(k, m, n, most, to); own != 0 {
			return own
		}
	}
	if best != 0 {
		return best
	}
	if single {
		return s.source(k, n, false, to)
	}
	return s.bench(s.rec.Terminal, "")
}

// ownSource is the first account, of those that can give so many of n, that is
// kept for the joint or part that they go to; 0: none is.
func (s *State) ownSource(k ledger.KindID, m ledger.Match, n, most int32, to ledger.AccountID) ledger.AccountID {
	_, which, name := cutPlace(s.book.Path(to))
	for _, a := range s.book.Holders(k) {
		if a != to && usable(s.book.Class(a)) && min(s.book.Balance(a, m), n) == most && s.keptWith(a, which, name) {
			return a
		}
	}
	return 0
}

// keptWith says whether an account is kept for the joint or part whose pieces
// are fitted in fitted/which/name.
func (s *State) keptWith(a ledger.AccountID, which, name string) bool {
	word, code, about := cutPlace(s.book.Path(a))
	switch word {
	case "bag":
		b, ok := s.bags[events.Code(code)]
		return ok && name != "" && (string(b.Joint) == name || string(b.Part) == name)
	case "bench":
		part, ok := strings.CutPrefix(about, "part ")
		return which != "" && name != "" && (about == name || ok && part == name)
	case "rack":
		r, ok := s.racks[events.Place("rack/"+code)]
		return ok && name != "" && (string(r.Joint) == name || string(r.Part) == name)
	}
	return false
}

func usable(c ledger.Class) bool {
	switch c {
	case ledger.Bench, ledger.Bag, ledger.Rack, ledger.Placed, ledger.Stock:
		return true
	}
	return false
}

// markBad flags the holes that got pieces which should not have gone in. Which
// of several like holes got them is not known: the last ones are shown.
func (s *State) markBad(seats []plan.SeatIndex, n need, b bad, trial bool) {
	for i := len(seats) - 1; i >= 0 && (b.reused > 0 || b.condemned > 0); i-- {
		sl, st := &s.lay.seats[seats[i]], &s.seats[seats[i]]
		if sl.group != n.group || !sl.has(n.kind) {
			continue
		}
		if b.condemned > 0 {
			st.badPiece = true
			b.condemned--
		} else if b.reused > 0 {
			st.reused = !trial
			b.reused--
		}
	}
}

func (sl *seatLayout) has(kind int32) bool {
	for _, m := range sl.members {
		if m.kind == kind {
			return true
		}
	}
	return false
}
