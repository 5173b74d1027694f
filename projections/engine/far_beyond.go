package engine

import (
	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// What makes a count hard to believe: more than twice all that can be there,
// and more than so many pieces above it; or more than a hundred of what is not
// known at all (common practice: a number typed twice, a digit too many).
const (
	farAbove   = 10
	farUnknown = 100
)

// FarBeyond reports whether a count is so far above the most that can be there
// that it is questioned before it is stored; most 0: not known (rule R80).
func FarBeyond(n, most int) bool {
	if most <= 0 {
		return n > farUnknown
	}
	return n > 2*most && n > most+farAbove
}

// MostOfJoint is the most pieces of a kind that can come out of a joint or go
// into it: those of the kind that its holes hold, or of a kind that the plan
// does not have there, as many as it holds of any. 0: the plan does not have
// the joint.
func (s *State) MostOfJoint(id events.Joint, k events.Kind) int {
	ix, ok := s.lay.plan.Joint(id)
	if !ok {
		return 0
	}
	own, all := 0, 0
	for _, seat := range s.lay.plan.Joints[ix].Seats {
		for i := range s.lay.plan.Seats[seat].Members {
			m := &s.lay.plan.Seats[seat].Members[i]
			if all += max(1, m.Count); alike(m.Kind, k) {
				own += max(1, m.Count)
			}
		}
	}
	if own > 0 {
		return own
	}
	return all
}

// MostOfPart is how many pieces a part has; 0: the plan does not have it.
func (s *State) MostOfPart(id events.Part) int {
	if ix, ok := s.lay.plan.Part(id); ok {
		return max(1, s.lay.plan.Parts[ix].Count, len(s.lay.plan.Parts[ix].Positions))
	}
	return 0
}

// MostOfEngine is all pieces of a kind that the plan has, or that the job has by
// the book where that is more; 0: none is known.
func (s *State) MostOfEngine(k events.Kind) int {
	planned, booked := 0, 0
	for i := range s.lay.plan.Seats {
		for _, m := range s.lay.plan.Seats[i].Members {
			if alike(m.Kind, k) {
				planned += max(1, m.Count)
			}
		}
	}
	if ix, ok := s.lay.plan.Part(events.Part(k)); ok {
		planned += max(1, s.lay.plan.Parts[ix].Count)
	}
	for a := ledger.AccountID(1); a <= ledger.AccountID(s.book.Accounts()); a++ {
		switch s.book.Class(a) {
		case ledger.Outside, ledger.Unexplained:
			continue
		}
		for it, n := range s.book.At(a) {
			if n > 0 && alike(s.book.ItemName(it).Kind, k) {
				booked += int(n)
			}
		}
	}
	return max(planned, booked)
}

// MostOfKit is how many of a kind a kit lists, or as many as it lists of any; 0:
// the plan does not have the kit.
func (s *State) MostOfKit(kit string, k events.Kind) int {
	own, all := 0, 0
	for i := range s.lay.plan.Kits {
		if s.lay.plan.Kits[i].ID != kit {
			continue
		}
		for _, l := range s.lay.plan.Kits[i].Lines {
			kind := l.Kind
			if l.Part != plan.None {
				kind = events.Kind(s.lay.plan.Parts[l.Part].ID)
			}
			if all += l.Count; alike(kind, k) {
				own += l.Count
			}
		}
	}
	if own > 0 {
		return own
	}
	return all
}

// MostOfSlip is how many of a kind went out with a slip, or as many as went of
// any; 0: nothing did.
func (j *Job) MostOfSlip(code events.Code, k events.Kind) int {
	v, ok := j.SlipNow(code)
	if !ok {
		return 0
	}
	own, all := 0, 0
	for _, l := range v.Lines {
		if all += l.Went; alike(l.Kind, k) {
			own += l.Went
		}
	}
	if own > 0 {
		return own
	}
	return all
}

// MostOfOrder is how many of a kind were ordered; 0: none were.
func (s *State) MostOfOrder(id string, k events.Kind) int {
	o := s.order(id)
	if o == nil {
		return 0
	}
	if i := o.line(k); i >= 0 {
		return o.Lines[i].Ordered
	}
	return 0
}
