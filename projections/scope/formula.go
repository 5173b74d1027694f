package scope

import (
	"countback/projections/plan"
)

// formula is a condition in which nothing is negated any more: literals
// joined by all-of and any-of. The zero formula always holds.
type formula struct {
	op   joiner
	lit  literal
	id   int32 // of lit, once a Finder knows it
	kids []formula
}

type joiner uint8

const (
	allOf joiner = iota // of nothing: always holds
	anyOf               // of nothing: never holds
	leaf
)

var (
	always = formula{op: allOf}
	never  = formula{op: anyOf}
)

func is(l literal) formula { return formula{op: leaf, lit: l} }

func (f *formula) constant() bool { return f.op != leaf && len(f.kids) == 0 }

// join puts formulas together; what always or never holds is worked in. It may
// keep kids.
func join(op joiner, kids ...formula) formula {
	n, flat := 0, true
	for i := range kids {
		k := &kids[i]
		switch {
		case k.constant() && k.op == op:
			continue
		case k.constant():
			return *k
		case k.op == op:
			n, flat = n+len(k.kids), false
		default:
			n++
		}
	}
	if flat && n == len(kids) && n > 1 {
		return formula{op: op, kids: kids}
	}
	f := formula{op: op, kids: make([]formula, 0, n)}
	for _, k := range kids {
		switch {
		case k.constant():
		case k.op == op:
			f.kids = append(f.kids, k.kids...)
		default:
			f.kids = append(f.kids, k)
		}
	}
	if len(f.kids) == 1 {
		return f.kids[0]
	}
	return f
}

func both(kids ...formula) formula   { return join(allOf, kids...) }
func either(kids ...formula) formula { return join(anyOf, kids...) }

// holds evaluates a formula on the present state.
func (f *formula) holds(s *plan.Present) bool {
	if f.op == leaf {
		return f.lit.holds(s)
	}
	for i := range f.kids {
		if f.kids[i].holds(s) != (f.op == allOf) {
			return f.op == anyOf
		}
	}
	return f.op == allOf
}

// each calls do for every literal.
func (f *formula) each(do func(literal)) {
	if f.op == leaf {
		do(f.lit)
	}
	for i := range f.kids {
		f.kids[i].each(do)
	}
}

// of makes a formula of a condition; no asks for the condition not to hold.
func of(p *plan.Plan, c *plan.Condition, no bool) formula {
	op := allOf
	switch c.Op {
	case plan.AnyOf, plan.OfSome:
		op = anyOf
	case plan.NotAll:
		no = !no
	}
	if no {
		op = anyOf - op
	}
	switch c.Op {
	case plan.AllOf, plan.AnyOf, plan.NotAll:
		kids := make([]formula, len(c.Kids))
		for i := range c.Kids {
			kids[i] = of(p, &c.Kids[i], no)
		}
		return join(op, kids...)
	case plan.OfSeats, plan.OfSome:
		kids := make([]formula, len(c.Seats))
		for i, x := range c.Seats {
			kids[i] = literally(seat(x, seatStates(c)), no)
		}
		return join(op, kids...)
	case plan.OfStep:
		return done(p, c.Step, no)
	case plan.OfCavity:
		if c.Is == plan.IsOpen || c.Is == plan.IsClosed {
			return of(p, &p.Cavities[c.Cavity].OpenWhen, no != (c.Is == plan.IsClosed))
		}
		if c.Is == plan.IsWet {
			return literally(fluid(c.Cavity, fluidIn), no)
		}
		return literally(fluid(c.Cavity, fluidOut), no)
	case plan.OfLoan:
		if c.Is == plan.IsOut {
			return literally(loan(c.Loan, loanNone), no)
		}
		return literally(loan(c.Loan, loanAll), no)
	case plan.OfMark:
		return literally(mark(c.Mark, markStands), no)
	}
	return literally(part(c.Part, partStates(c.Is)), no)
}

func literally(l literal, no bool) formula {
	if no {
		l = l.not()
	}
	return is(l)
}

// partStates is the states that count as what a condition asks of a part.
// What an engine does not have is waited for by nobody.
func partStates(is plan.Is) states {
	switch is {
	case plan.IsOn:
		return partOn | partAbsent
	case plan.IsOff:
		return partOff | partAway | partAbsent
	case plan.IsAway:
		return partAway | partAbsent
	case plan.IsHere:
		return partAny &^ partAway
	}
	return partAbsent
}

// seatStates is the states that count as what a condition asks of a hole.
// Where one of several is wanted a hole that is not there is none of them.
func seatStates(c *plan.Condition) states {
	out := seatAbsent
	if c.Op == plan.OfSome {
		out = 0
	}
	switch c.Is {
	case plan.IsEmpty:
		out |= seatEmpty
	case plan.IsOut:
		out |= seatOut
	case plan.IsParked:
		out |= seatParked
	case plan.IsFilled:
		out |= seatFilled | seatFinished
	case plan.IsFinished:
		out |= seatFinished
	}
	return out
}

// done is the state that a step leaves: its parts, holes and fluids; where it
// changes none of these its marks; where it sets none its loans.
func done(p *plan.Plan, i plan.StepIndex, no bool) formula {
	s := &p.Steps[i]
	var lits []literal
	lits = appendAll(lits, s.Removes, func(x plan.PartIndex) literal { return part(x, partStates(plan.IsOff)) })
	lits = appendAll(lits, s.SendsOut, func(x plan.PartIndex) literal { return part(x, partStates(plan.IsAway)) })
	lits = appendAll(lits, s.TakesBack, func(x plan.PartIndex) literal { return part(x, partStates(plan.IsHere)) })
	lits = appendAll(lits, s.Fits, func(x plan.PartIndex) literal { return part(x, partStates(plan.IsOn)) })
	lits = appendAll(lits, s.TakesOut, func(x plan.SeatIndex) literal { return seat(x, seatOut|seatAbsent) })
	lits = appendAll(lits, s.Parks, func(x plan.SeatIndex) literal { return seat(x, seatOut|seatParked|seatAbsent) })
	lits = appendAll(lits, s.Fastens, func(x plan.SeatIndex) literal { return seat(x, seatFilled|seatFinished|seatAbsent) })
	lits = appendAll(lits, s.Drains, func(x plan.CavityIndex) literal { return fluid(x, fluidOut) })
	lits = appendAll(lits, s.Fills, func(x plan.CavityIndex) literal { return fluid(x, fluidIn) })
	if lits == nil {
		lits = appendAll(lits, s.Sets, func(x plan.MarkIndex) literal { return mark(x, markStands) })
	}
	if lits == nil {
		lits = appendAll(lits, s.LoanIn, func(x plan.LoanIndex) literal { return loan(x, loanAll) })
		lits = appendAll(lits, s.LoanOut, func(x plan.LoanIndex) literal { return loan(x, loanNone) })
	}
	if lits == nil && no {
		return always
	}
	if lits == nil {
		return never
	}
	kids := make([]formula, len(lits))
	for n, l := range lits {
		kids[n] = literally(l, no)
	}
	if no {
		return either(kids...)
	}
	return both(kids...)
}

func appendAll[I ~int16](out []literal, list []I, make func(I) literal) []literal {
	for _, x := range list {
		out = append(out, make(x))
	}
	return out
}
