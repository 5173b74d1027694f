package engine

import (
	"strings"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// loan is the loan of the fact in hand, met now or before.
func (s *State) loan(l events.Loan) *LoanState {
	ix := plan.LoanIndex(s.meant.thing)
	if ix != plan.None && s.loanAt[ix] != nil {
		return s.loanAt[ix]
	}
	if st, ok := s.loans[l]; ok {
		return st
	}
	if s.loans == nil {
		s.loans = make(map[events.Loan]*LoanState)
	}
	if s.drawer == 0 {
		s.drawer = s.book.Account("outside/drawer")
	}
	st := &s.loanRoom.take(1, 8)[0]
	st.loan = ix
	if ix != plan.None {
		s.loanAt[ix] = st
		st.kind, st.account = s.book.Kind(s.lay.loans[ix].kind), s.book.Account(s.lay.loans[ix].place)
	} else {
		st.kind, st.account = s.book.Kind("loan "+events.Kind(l)), s.book.Account(events.Place("loan/"+l))
	}
	s.loans[l] = st
	return st
}

// loanIn puts something in for a while.
func (s *State) loanIn(e *events.LoanIn) {
	s.putLoan(s.loan(e.Loan), int32(max(1, e.Count)), e.Where)
}

func (s *State) putLoan(st *LoanState, n int32, where string) {
	s.book.MoveKind(s.fact, st.kind, n, s.drawer, st.account)
	if st.In == 0 {
		st.Since = s.fact
	}
	st.In += int(n)
	st.Where = where
	s.setLoan(st)
}

// loanOut takes it out again. More out than the book had in is an over.
func (s *State) loanOut(e *events.LoanOut) {
	s.takeLoan(s.loan(e.Loan), int32(max(1, e.Count)))
}

func (s *State) takeLoan(st *LoanState, n int32) {
	s.book.MoveKind(s.fact, st.kind, n, st.account, s.drawer)
	st.In = max(0, st.In-int(n))
	s.setLoan(st)
}

func (s *State) setLoan(st *LoanState) {
	if st.loan == plan.None {
		return // a loan that the plan does not list is kept all the same
	}
	s.now.SetLoan(st.loan, st.In)
	for _, seat := range s.lay.plan.Loans[st.loan].Fills {
		for _, c := range s.lay.seats[seat].cavities {
			s.cavity(c)
		}
	}
}

// Loans lists what is in that does not belong there, by name.
func (s *State) Loans() map[events.Loan]*LoanState { return s.loans }

func (s *State) cavitySaid(c events.Cavity, open bool) {
	ix, ok := s.lay.plan.Cavity(c)
	if !ok {
		s.note(NoSuch, "cavity "+string(c), "")
		return
	}
	if s.caveOpen[ix] != open {
		s.caveOpen[ix] = open
		s.turns = append(s.turns, cavityTurn{s.fact, ix, open})
	}
}

// cavityLooked is a look into a cavity. What was found lies on the bench, and
// comes from nowhere until somebody says which short it answers.
func (s *State) cavityLooked(e *events.CavityLooked) {
	ix, ok := s.lay.plan.Cavity(e.Cavity)
	if !ok {
		s.note(NoSuch, "cavity "+string(e.Cavity), "")
		return
	}
	s.looks = append(s.looks, look{ix, s.fact})
	if len(e.Found) > 0 {
		to := s.bench(s.rec.Terminal, "found in "+string(e.Cavity))
		for i := range e.Found {
			l := &e.Found[i]
			k := s.book.Kind(l.Kind)
			s.book.Count(s.fact, s.known(), to, ledger.OfKind(k), s.book.Balance(to, ledger.OfKind(k))+int32(l.Qty))
		}
	}
}

func (s *State) fluidChanged(e *events.FluidChanged) {
	ix, ok := s.lay.plan.Cavity(e.Cavity)
	if !ok {
		s.note(NoSuch, "cavity "+string(e.Cavity), "")
		return
	}
	s.now.SetFluid(ix, map[events.Fluid]plan.Fluid{events.Filled: plan.Filled, events.Drained: plan.Drained}[e.State])
}

// markMade sets a mark. The step that sets it may turn the engine: then the
// turn was made as well.
func (s *State) markMade(e *events.MarkMade) {
	ix := plan.MarkIndex(s.meant.thing)
	if ix == plan.None {
		s.note(NoSuch, "mark "+string(e.Mark), "")
		return
	}
	s.setMark(ix)
}

func (s *State) setMark(ix plan.MarkIndex) {
	if s.lay.turnedFor[ix] {
		s.actDone(events.Turning)
	}
	for _, l := range s.lay.plan.Marks[ix].NeedsOut {
		if s.now.Loan(l) > 0 {
			s.note(TurnedPinned, "loan "+string(s.lay.plan.Loans[l].ID), "mark "+string(s.lay.plan.Marks[ix].ID))
		}
	}
	s.now.SetMark(ix, true)
}

// actDone turns or cranks the engine. A loan that makes the act impossible was
// out, or something broke: it is noted (rule R14).
func (s *State) actDone(a events.Act) {
	act, ok := planAct(a)
	if !ok {
		return
	}
	for _, l := range s.stoppedBy(act) {
		s.note(TurnedPinned, "loan "+string(s.lay.plan.Loans[l].ID), string(a))
	}
	s.now.Act(act)
	if a == events.Cranking {
		s.sourceFound(events.Battery, true) // it cranked, so it was connected
	}
}

func planAct(a events.Act) (plan.Act, bool) {
	switch a {
	case events.Turning:
		return plan.Turning, true
	case events.Cranking:
		return plan.Cranking, true
	}
	return 0, false
}

// stoppedBy lists the loans that are in and stop an act.
func (s *State) stoppedBy(act plan.Act) []plan.LoanIndex {
	var list []plan.LoanIndex
	for i := range s.lay.plan.Loans {
		ix := plan.LoanIndex(i)
		if s.now.Loan(ix) > 0 && contains(s.lay.plan.Loans[i].Stops.Acts, act) && s.now.Pinning(ix) {
			list = append(list, ix)
		}
	}
	return list
}

func (s *State) holdReleased(e *events.HoldReleased) {
	for _, h := range s.holds {
		if h.ID == e.Hold && h.Released == 0 {
			h.Released = s.fact
		}
	}
}

// noun builds "type id".
func noun[T ~string](typ string, id T) string { return typ + " " + string(id) }

// cutNoun takes a noun apart.
func cutNoun(n string) (typ, id string) {
	typ, id, _ = strings.Cut(n, " ")
	return typ, id
}
