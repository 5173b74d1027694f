package engine

import (
	"countback/projections/ledger"
	"countback/projections/plan"
)

// Unsure reports whether nobody has said if a hole is empty: the fact that
// emptied it counted fewer pieces than its like holes had by the book, and that
// short is open. Which of them it is cannot be known, so that all of them are
// unsure.
func (s *State) Unsure(ix plan.SeatIndex) bool {
	st, sl := &s.seats[ix], &s.lay.seats[ix]
	if s.now.Seat(ix) != plan.SeatEmpty || st.changed == 0 || st.broken {
		return false
	}
	for k := 1; k <= s.book.Entries(); k++ {
		en := s.book.Entry(ledger.EntryNo(k))
		if en.Open <= 0 || en.Sign != ledger.Short || en.Shown != st.changed || en.Place != s.group[sl.group] {
			continue
		}
		kind := s.book.KindOf(en.Item)
		for i, m := range sl.members {
			if s.kinds[m.kind] == kind && st.in&(1<<i) == 0 {
				return true
			}
		}
	}
	return false
}

// Presumed lists the joints and parts whose pieces came out by presumption,
// those that were counted since among them, in the order in which they were
// presumed.
func (s *State) Presumed() []Uncounted { return s.uncounted }

// OffBy lists the parts that came off by one fact and were not touched since:
// the one that it names, and those that were presumed with it.
func (s *State) OffBy(f ledger.Fact) []plan.PartIndex {
	var list []plan.PartIndex
	for i := range s.parts {
		ix := plan.PartIndex(i)
		if st := s.now.Part(ix); f != 0 && s.parts[i].changed == f && (st == plan.PartOff || st == plan.PartPartly) {
			list = append(list, ix)
		}
	}
	return list
}
