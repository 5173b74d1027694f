package scope

import (
	"countback/projections/plan"
)

// thing is what a literal looks at.
type thing uint8

const (
	aPart thing = iota
	aSeat
	aLoan
	aFluid
	aMark
	things
)

// states is a set of states of one thing, a bit for each: of a part and a
// seat as package plan numbers them, of a loan none, some and all of it, of a
// cavity's fluid as package plan numbers it, of a mark void and standing.
type states uint8

const (
	loanNone states = 1 << iota
	loanSome
	loanAll
)

const (
	markVoid states = 1 << iota
	markStands
)

const (
	partOff    = states(1 << plan.PartOff)
	partPartly = states(1 << plan.PartPartly)
	partOn     = states(1 << plan.PartOn)
	partAway   = states(1 << plan.PartAway)
	partAbsent = states(1 << plan.PartAbsent)
	partThere  = partPartly | partOn
	partAny    = partOff | partPartly | partOn | partAway | partAbsent

	seatEmpty    = states(1 << plan.SeatEmpty)
	seatLoan     = states(1 << plan.SeatLoan)
	seatParked   = states(1 << plan.SeatParked)
	seatFilled   = states(1 << plan.SeatFilled)
	seatFinished = states(1 << plan.SeatFinished)
	seatAbsent   = states(1 << plan.SeatAbsent)
	seatOut      = seatEmpty | seatLoan
	seatHeld     = seatParked | seatFilled | seatFinished
	seatAny      = seatOut | seatHeld | seatAbsent

	fluidIn  = states(1 << plan.Filled)
	fluidOut = states(1<<plan.Dry | 1<<plan.Drained)

	loanAny = loanNone | loanSome | loanAll
	markAny = markVoid | markStands
)

// literal says that a thing is in one of some states.
type literal struct {
	thing thing
	at    int16
	is    states
}

func part(i plan.PartIndex, is states) literal { return literal{aPart, int16(i), is} }
func seat(i plan.SeatIndex, is states) literal { return literal{aSeat, int16(i), is} }
func loan(i plan.LoanIndex, is states) literal { return literal{aLoan, int16(i), is} }
func fluid(i plan.CavityIndex, is states) literal {
	return literal{aFluid, int16(i), is}
}
func mark(i plan.MarkIndex, is states) literal { return literal{aMark, int16(i), is} }

// not is the literal that holds when l does not.
func (l literal) not() literal {
	l.is = l.thing.all() &^ l.is
	return l
}

// stateOf is the state that a thing is in, as a set of one.
func stateOf(s *plan.Present, t thing, at int16) states {
	switch t {
	case aPart:
		return 1 << s.Part(plan.PartIndex(at))
	case aSeat:
		return 1 << s.Seat(plan.SeatIndex(at))
	case aLoan:
		switch n := s.Loan(plan.LoanIndex(at)); {
		case n == 0:
			return loanNone
		case n < s.Plan().Loans[at].Count:
			return loanSome
		}
		return loanAll
	case aFluid:
		return 1 << s.Fluid(plan.CavityIndex(at))
	}
	if s.Mark(plan.MarkIndex(at)) {
		return markStands
	}
	return markVoid
}

func (l literal) holds(s *plan.Present) bool { return stateOf(s, l.thing, l.at)&l.is != 0 }

// move is what a step does to one thing: from any of some states to one of
// others.
type move struct {
	thing    thing
	at       int16
	step     plan.StepIndex
	from, to states
}

// brings reports whether the move can make a literal on its thing true.
func (m move) brings(is states) bool { return m.to&is != 0 && m.from&^is != 0 }

// takes reports whether the move can make a literal on its thing false.
func (m move) takes(is states) bool { return m.to&^is != 0 && m.from&is != 0 }

// all is every state that a thing can be in.
func (t thing) all() states {
	return [things]states{partAny, seatAny, loanAny, fluidIn | fluidOut, markAny}[t]
}

// surelyTakes reports whether a literal never holds after the move, wherever
// the thing was, unless the engine does not have it.
func (m move) surelyTakes(l literal) bool {
	return m.to&l.is == 0 && l.is&^m.from&^absentOf(l.thing) == 0
}

// surelyBrings reports whether a literal always holds after the move.
func (m move) surelyBrings(l literal) bool {
	return m.to&^l.is == 0 && l.thing.all()&^m.from&^l.is == 0
}

func absentOf(t thing) states {
	switch t {
	case aPart:
		return partAbsent
	case aSeat:
		return seatAbsent
	}
	return 0
}

// moves lists what a step does to things, marks that it voids left out.
func moves(p *plan.Plan, i plan.StepIndex) []move {
	s := &p.Steps[i]
	var out []move
	add := func(t thing, at int16, from, to states) { out = append(out, move{t, at, i, from, to}) }
	for _, x := range s.TakesOut {
		add(aSeat, int16(x), seatHeld, seatOut)
	}
	for _, x := range s.Parks {
		add(aSeat, int16(x), seatHeld, seatParked)
	}
	for _, x := range s.Fastens {
		add(aSeat, int16(x), seatOut|seatHeld, seatFinished)
	}
	for _, x := range s.Removes {
		add(aPart, int16(x), partThere, partOff)
	}
	for _, x := range s.SendsOut {
		add(aPart, int16(x), partOff|partThere, partAway)
	}
	for _, x := range s.TakesBack {
		add(aPart, int16(x), partAway, partOff)
	}
	for _, x := range s.Fits {
		add(aPart, int16(x), partOff|partPartly|partAway, partOn)
	}
	for _, x := range s.Drains {
		add(aFluid, int16(x), fluidIn|fluidOut, 1<<plan.Drained)
	}
	for _, x := range s.Fills {
		add(aFluid, int16(x), fluidOut, fluidIn)
	}
	for _, x := range s.Sets {
		add(aMark, int16(x), markVoid, markStands)
	}
	return append(out, loanMoves(p, i)...)
}

// loanMoves lists what a step does to loans and to the holes that they fill.
func loanMoves(p *plan.Plan, i plan.StepIndex) []move {
	s := &p.Steps[i]
	var out []move
	shift := func(list []plan.LoanIndex, from, to states) {
		for _, l := range list {
			out = append(out, move{aLoan, int16(l), i, from, to})
			for _, x := range p.Loans[l].Fills {
				out = append(out, move{aSeat, int16(x), i, seatOut, seatOut})
			}
		}
	}
	shift(s.LoanOut, loanSome|loanAll, loanNone)
	shift(s.LoanDuring, loanSome|loanAll, loanNone)
	shift(s.LoanIn, loanNone|loanSome, loanAll)
	return out
}
