package engine

import (
	"sync"

	"countback/events"
	"countback/projections/fastener"
	"countback/projections/plan"
)

// specs remembers what kinds read as: the text of a kind is parsed once. A
// kind that is no fastener is remembered as none.
var specs sync.Map // events.Kind -> specMemo; a memo of a pure function

type specMemo struct {
	spec fastener.Spec
	ok   bool
}

// specOf reads a kind as a fastener; false for a part and for anything else.
func specOf(k events.Kind) (fastener.Spec, bool) {
	if v, ok := specs.Load(k); ok {
		m := v.(specMemo)
		return m.spec, m.ok
	}
	sp, err := fastener.Parse(string(k))
	m := specMemo{sp, err == nil}
	specs.Store(k, m)
	return m.spec, m.ok
}

// alike says that one kind may stand in for another as far as is known: the
// same kind, or fasteners that differ in nothing that both of them say.
func alike(a, b events.Kind) bool {
	if a == b {
		return true
	}
	x, ok := specOf(a)
	return ok && interchange(x, b)
}

// interchange says that a kind may stand in for a fastener as far as is known.
func interchange(x fastener.Spec, k events.Kind) bool {
	y, ok := specOf(k)
	return ok && fastener.Interchangeable(x, y).Yes()
}

// wantedKind is what a member of a hole has to be now: a hole that was changed
// wants what it takes since.
func (s *State) wantedKind(ix plan.SeatIndex, m int) events.Kind {
	st := &s.lay.plan.Seats[ix]
	if h, ok := s.holes[ix]; ok && h.Takes != "" && turnedMember(st) == m {
		return h.Takes
	}
	return st.Members[m].Kind
}

// turnedMember is the member that is turned into the host: the stud, else the
// bolt; -1 for a hole that nothing is turned into.
func turnedMember(st *plan.Seat) int {
	bolt := -1
	for i := range st.Members {
		switch st.Members[i].Role {
		case plan.RoleStud:
			return i
		case plan.RoleBolt:
			bolt = i
		}
	}
	return bolt
}

// holeNow is a hole as the length window sees it, with what became of it.
func (s *State) holeNow(ix plan.SeatIndex) fastener.Hole {
	h := s.lay.plan.Seats[ix].Geometry()
	now, ok := s.holes[ix]
	if !ok {
		return h
	}
	if sp, ok := specOf(now.Takes); now.Takes != "" && ok {
		h.Thread = sp.Thread
	}
	if now.DepthMm > 0 && s.lay.plan.Seats[ix].BelievedDepth(now.DepthMm) {
		h.DepthMm = fastener.Mm(now.DepthMm)
		if now.State == "insert" || now.State == "bushing" {
			h.InsertDepthMm = h.DepthMm
		}
	}
	return h
}
