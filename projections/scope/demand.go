package scope

import (
	"slices"

	"countback/projections/plan"
)

// demands is all that a step asks for, as one formula: it holds exactly where
// Present.Can says yes. What a step needs is worked out by package plan alone;
// here it is only put into literals. A test holds the two equal.
func demands(p *plan.Plan, i plan.StepIndex) formula {
	d := &demand{p: p, s: &p.Steps[i]}
	n := &d.s.Need
	d.and(of(p, &d.s.When, false))
	d.bench()
	for _, h := range n.Here {
		d.and(d.notAway(h))
	}
	for _, f := range d.s.Fits {
		d.and(is(part(f, partAway).not()))
	}
	for _, x := range n.RemoveOver {
		d.unless(gone(x.First), gone(x.Second))
	}
	for _, x := range n.RemoveTied {
		d.unless(gone(x.Part), vacant(x.Seat))
	}
	for _, x := range n.FitOver {
		d.unless(whole(x.First), gone(x.Second))
	}
	for _, x := range n.FitUnder {
		d.unless(whole(x.First), whole(x.Second))
	}
	for _, x := range n.Fasten {
		d.unless(placed(x.Seat), whole(x.Part))
	}
	for _, x := range n.LoansOut {
		d.stop(x)
	}
	for _, x := range n.FreeSeats {
		d.and(is(vacant(x)))
	}
	for _, x := range n.Open {
		still := loanNone
		if x.GoesIn {
			still = loanAll
		}
		d.and(either(is(loan(x.Loan, still)), of(p, &p.Cavities[x.Cavity].OpenWhen, false)))
	}
	for k := range n.Marks {
		d.and(of(p, &n.Marks[k], false))
	}
	return both(d.all...)
}

type demand struct {
	p   *plan.Plan
	s   *plan.Step
	all []formula
}

func (d *demand) and(f formula) { d.all = append(d.all, f) }

// unless asks for b wherever a does not hold.
func (d *demand) unless(a, b literal) { d.and(either(is(a), is(b))) }

func gone(i plan.PartIndex) literal   { return part(i, partThere).not() }
func whole(i plan.PartIndex) literal  { return part(i, partOn|partAbsent) }
func vacant(i plan.SeatIndex) literal { return seat(i, seatHeld).not() }
func placed(i plan.SeatIndex) literal { return seat(i, seatOut|seatParked).not() }

// notAway asks that a part is not away, nor what it is on; what is off and
// here ends the chain.
func (d *demand) notAway(i plan.PartIndex) formula {
	if i == plan.None {
		return always
	}
	return either(is(part(i, partOff)), both(is(part(i, partAway).not()), d.notAway(d.p.Parts[i].In)))
}

// bench asks that the part that is worked on lies in the shop.
func (d *demand) bench() {
	switch at := d.s.Part; {
	case at == plan.None || d.p.Parts[at].Root:
	case len(d.s.TakesBack) > 0:
		d.and(is(part(at, partOn).not()))
	default:
		d.and(d.here(at))
		d.and(d.offEngine(at))
	}
}

func (d *demand) here(i plan.PartIndex) formula {
	if i == plan.None {
		return always
	}
	return either(is(part(i, partOff)), both(is(part(i, partThere)), d.here(d.p.Parts[i].In)))
}

// offEngine asks that a part, or something that it is on, is not on.
func (d *demand) offEngine(i plan.PartIndex) formula {
	var any []formula
	for ; i != plan.None; i = d.p.Parts[i].In {
		any = append(any, is(part(i, partOn).not()))
	}
	return either(any...)
}

// stop asks that a loan is out, while its host is on, and while something that
// it pins is on the engine where only moving counts.
func (d *demand) stop(x plan.LoanStop) {
	any := []formula{is(loan(x.Loan, loanNone))}
	if x.Host != plan.None {
		any = append(any, is(gone(x.Host)))
	}
	if pins := d.p.Loans[x.Loan].Pins; x.Moving && len(pins) > 0 {
		var idle []formula
		for _, at := range pins {
			idle = append(idle, d.offEngine(at))
		}
		any = append(any, both(idle...))
	}
	d.and(either(any...))
}

// voids reports whether a step is one of some acts.
func voids(s *plan.Step, acts []plan.Act) bool { return slices.ContainsFunc(acts, s.Does) }
