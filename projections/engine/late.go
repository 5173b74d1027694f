package engine

import (
	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

func (s *State) holdsAny(a ledger.AccountID) bool {
	for _, n := range s.book.At(a) {
		if n > 0 {
			return true
		}
	}
	return false
}

// anyIn says whether anything that comes out is still in these holes.
func (s *State) anyIn(seats []plan.SeatIndex) bool {
	for _, ix := range seats {
		if s.seats[ix].in&^s.lay.seats[ix].stay != 0 {
			return true
		}
	}
	return false
}

// offBench bags what was out already, presumed or loose: its pieces come off
// the benches, and with a complete count the benches hold no more of it.
func (s *State) offBench(about string, lines []events.Line, complete bool, to ledger.AccountID) {
	benches := s.looseOf(about)
	if len(lines) == 0 {
		for _, a := range benches {
			if a != to {
				s.move(a, to, nil)
			}
		}
		return
	}
	for i := range lines {
		l := &lines[i]
		left := int32(l.Qty)
		m := ledger.OfKind(s.book.Kind(l.Kind))
		if contains(benches, to) {
			left -= min(left, s.book.Balance(to, m)) // counted where they lie
		}
		for _, a := range benches {
			if n := min(left, s.book.Balance(a, m)); n > 0 && a != to {
				s.book.Move(s.fact, m, n, a, to)
				left -= n
			}
		}
		if left > 0 {
			s.note(FoundOdd, "joint "+about, itoa(int(left))+" "+string(l.Kind)+" more than the plan")
			s.book.Move(s.fact, m, left, s.arrived, to)
		}
	}
	if complete {
		for _, a := range benches {
			if a != to {
				s.book.CountAll(s.fact, s.known(), a, nil, true)
			} else {
				s.countLines(to, lines)
			}
		}
	}
}

// countLines sets what a place holds to some lines, and nothing else.
func (s *State) countLines(a ledger.AccountID, lines []events.Line) {
	rows := make([]ledger.Number, len(lines))
	for i := range lines {
		rows[i] = ledger.Number{Match: s.match(&lines[i]), N: int32(lines[i].Qty)}
	}
	s.book.CountAll(s.fact, s.known(), a, rows, true)
}

// lateCount takes the first count of a bag for the count of a joint that came
// out by presumption.
func (s *State) lateCount(b *Bag, lines []events.Line, all bool) {
	about := string(b.Joint)
	if about == "" && b.Part != "" {
		about = noun("part", b.Part)
	}
	if about == "" || !s.isUncounted(b.Joint, b.Part) {
		return
	}
	var more []events.Line
	for _, l := range lines {
		l.Qty -= int(s.book.Balance(b.account, ledger.OfKind(s.book.Kind(l.Kind))))
		if l.Qty > 0 {
			more = append(more, l)
		}
	}
	if len(more) > 0 {
		s.offBench(about, more, all, b.account)
	}
	s.clearUncounted(b.Joint, b.Part)
}

func (s *State) isUncounted(joint events.Joint, part events.Part) bool {
	for _, u := range s.uncounted {
		if u.Cleared == 0 && u.Joint == joint && u.Part == part {
			return true
		}
	}
	return false
}
