package engine

import (
	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// looseAt is one account of loose pieces on a bench.
type looseAt struct {
	account ledger.AccountID
	bench   events.Terminal
	about   string // joint, or "part " and the part
}

type benchKey struct {
	bench events.Terminal
	name  string
}

// bench is the account of loose pieces of one joint or part on one bench.
func (s *State) bench(t events.Terminal, about string) ledger.AccountID {
	return s.benchAt(s.job.spots.ofBench(t, about), t, about)
}

// benchAt is bench for a place that has its number.
func (s *State) benchAt(n spotNo, t events.Terminal, about string) ledger.AccountID {
	s.spots = grown(s.spots, int(n)+1)
	if at := s.spots[n].account; at != 0 {
		return at
	}
	known := s.book.Accounts()
	id := s.book.Account(s.job.spots.list[n])
	s.spots[n].account = id
	s.loosen(looseAt{id, t, about}, s.book.Accounts() > known)
	return id
}

// partBench is the place of what lies loose of one part on the bench that told
// of it last.
type partBench struct {
	bench events.Terminal
	spot  spotNo
}

// spotOfPart numbers that place. It holds for every fold of the job.
func (j *Job) spotOfPart(l *layout, p plan.PartIndex, t events.Terminal) spotNo {
	if j.benchesOf != l {
		j.benchesOf, j.partBench = l, make([]partBench, len(l.parts))
	}
	at := &j.partBench[p]
	if at.spot == 0 || at.bench != t {
		*at = partBench{t, j.spots.ofBench(t, l.parts[p].noun)}
	}
	return at.spot
}

// loosen notes an account of loose pieces. One that is not new to the book may
// have been noted before, by a fact that named its path.
func (s *State) loosen(at looseAt, isNew bool) {
	if !isNew && contains(s.benches, at) {
		return
	}
	s.benches = append(s.benches, at)
	s.chainLoose(int32(len(s.benches)))
}

// chainLoose appends the nth account to those of its joint.
func (s *State) chainLoose(n int32) {
	s.nextLoose = append(s.nextLoose, 0)
	j, ok := s.lay.jointOf.Get(events.Joint(s.benches[n-1].about))
	if !ok {
		return
	}
	at := &s.loose[j]
	for *at != 0 {
		at = &s.nextLoose[*at-1]
	}
	*at = n
}

// chainAllLoose does so for all, by the plan in force.
func (s *State) chainAllLoose() {
	s.loose, s.nextLoose = resize(s.loose, len(s.lay.joints)), s.nextLoose[:0]
	for i := range s.benches {
		s.chainLoose(int32(i + 1))
	}
}

// benchOfPart is where a part lies loose on the bench of the fact in hand.
func (s *State) benchOfPart(p plan.PartIndex) ledger.AccountID {
	pt := &s.parts[p]
	if pt.bench == 0 || pt.benchOf != s.meant.bench || pt.benchOf == anyBench {
		pt.bench = s.benchAt(s.job.spotOfPart(s.lay, p, s.rec.Terminal), s.rec.Terminal, s.lay.parts[p].noun)
		pt.benchOf = s.meant.bench
	}
	return pt.bench
}

// looseOf lists the bench accounts that hold pieces of a joint or part.
func (s *State) looseOf(about string) []ledger.AccountID {
	var list []ledger.AccountID
	for _, l := range s.benches {
		if l.about == about && s.holdsAny(l.account) {
			list = append(list, l.account)
		}
	}
	return list
}

// sweepJoint counts the loose pieces of a joint to zero, on all benches.
func (s *State) sweepJoint(j plan.JointIndex) {
	for n := s.loose[j]; n != 0; n = s.nextLoose[n-1] {
		s.book.CountAll(s.fact, s.known(), s.benches[n-1].account, nil, true)
	}
}

// benchSwept counts loose pieces to zero on a bench, of all joints and parts or
// of one joint.
func (s *State) benchSwept(e *events.BenchSwept) {
	for _, l := range s.benches {
		if (e.Bench == "" || l.bench == e.Bench) && (e.Joint == "" || l.about == string(e.Joint)) {
			s.book.CountAll(s.fact, s.known(), l.account, nil, true)
		}
	}
}
