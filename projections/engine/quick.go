package engine

import (
	"strings"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// quick says how a fact is folded from what it means alone. Most facts of a job
// say no more than that: a joint was emptied into its bag, the bag was closed, a
// part was put on. To fold them again neither the fact nor its event is looked
// at, which lie scattered in memory. The ways below do what the slow ways do,
// all of it or nothing.
type quick uint8

const (
	slow quick = iota
	quickOut
	quickIn
	quickCount
	quickStage
	quickOn
	quickOff
	quickLoanIn
	quickLoanOut
	quickMark
	quickLabel
	quickOpen
	quickClose
)

// ifPlain notes a quick way where a fact says no more than that takes in.
func (m *meant) ifPlain(q quick, plain bool) {
	if plain {
		m.quick = q
	}
}

// loan is ifPlain for so many pieces of a loan.
func (m *meant) loan(q quick, pieces int, plain bool) {
	if m.ifPlain(q, plain && m.thing != plan.None && pieces <= 250); m.quick == q {
		m.number = uint8(pieces)
	}
}

// plainLines reports whether all lines are of kinds of the plan and say no more
// than how many.
func (s *State) plainLines(m *meant) bool {
	for i := range s.job.lineList[m.line:] {
		if !s.job.lineList[int(m.line)+i].plain {
			return false
		}
	}
	return m.lines < manyLines
}

// quickly folds the fact in hand by its quick way; false, and nothing is done,
// where the state is not as that needs it.
func (s *State) quickly(m *meant) bool {
	switch m.quick {
	case quickOut:
		return s.quickOut(m)
	case quickIn:
		var from ledger.AccountID
		if m.from != 0 {
			if from = s.spots[m.from].account; from == 0 {
				return false
			}
		}
		return s.allIn(m.holes, from, false)
	case quickCount:
		a := s.spots[m.to].account
		return a != 0 && len(s.uncounted) == 0 && s.countsAsBook(a, s.linesMeant())
	case quickStage:
		return s.allTold(m.holes, int(m.number), m.last, m.yield)
	case quickOn:
		if len(s.batches) > 0 {
			return false
		}
		p := plan.PartIndex(m.thing)
		s.putOn(p, s.lay.plan.Parts[p].Positions, 0, "", 0)
		return true
	case quickOff:
		return s.quickOff(m)
	case quickLoanIn, quickLoanOut:
		st := s.loanAt[m.thing]
		if st == nil {
			return false
		}
		if m.quick == quickLoanIn {
			s.putLoan(st, int32(m.number), "")
		} else {
			s.takeLoan(st, int32(m.number))
		}
		return true
	case quickMark:
		s.setMark(plan.MarkIndex(m.thing))
		return true
	}
	b := s.bagOf(m.to, events.Code(strings.TrimPrefix(string(s.job.spots.list[m.to]), "bag/")))
	switch m.quick {
	case quickLabel:
		b.Joint, b.Part = s.lay.plan.Joints[m.thing].ID, ""
	case quickOpen:
		b.Closed = false
	case quickClose:
		s.closeBag(b)
	}
	return true
}

// quickOut takes pieces out of holes into a place that is known; see piecesOut.
func (s *State) quickOut(m *meant) bool {
	at, hs := &s.spots[m.to], m.holes
	if at.account == 0 || m.where == inBag && at.bag == nil || !s.anyIn(hs.seats) {
		return false
	}
	j := plan.JointIndex(m.thing)
	if m.byName {
		s.namedWin(j, hs.seats)
	}
	if m.where == inBag && at.bag.Joint == "" && at.bag.Part == "" {
		at.bag.Joint = s.lay.plan.Joints[j].ID
	}
	to := at.account
	s.outByCount(hs.seats, to, m.all)
	s.afterOut(j, m.all)
	return true
}

// quickOff takes a part off into a place that is known; see partRemoved.
func (s *State) quickOff(m *meant) bool {
	p := plan.PartIndex(m.thing)
	var to ledger.AccountID
	if m.to != 0 {
		at := &s.spots[m.to]
		if to = at.account; to == 0 || m.where == inBag && at.bag == nil {
			return false
		}
	}
	id := s.lay.plan.Parts[p].ID
	s.presumeBefore(p)
	if to == 0 {
		to = s.benchOfPart(p)
	}
	if m.where == inBag {
		if b := s.spots[m.to].bag; b.Joint == "" && b.Part == "" {
			b.Part = id
		}
	}
	if s.now.Part(p) != plan.PartOff {
		s.takeOff(p, nil, "", to)
	} else if from := s.parts[p].at; from == 0 || from == to {
		return true // nothing new was told
	} else {
		s.toPlace(p, s.lay.plan.Parts[p].Positions, s.book.BalanceOf(from, s.kinds[s.lay.parts[p].kind]), from, "", to)
		s.parts[p].at = to
	}
	s.clearUncounted("", id)
	return true
}

// linesOut are the lines of pieces that came out, of the fact in hand.
func (s *State) linesOut() []events.Line {
	e, _ := s.event().(events.PiecesOut)
	return e.Lines
}

// event is what stands in the place of the fact in hand.
func (s *State) event() events.Event {
	if s.ev == nil {
		return s.rec.Event
	}
	return s.ev
}
