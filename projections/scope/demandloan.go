package scope

import (
	"slices"

	"countback/projections/plan"
)

// loans asks that loans that stop the step are out, that holes that loans go
// into are free, and that the cavity is open through which a loan moves.
func (d *demand) loans() {
	leaving := slices.Concat(d.s.LoanOut, d.s.LoanDuring, d.s.LoanMay)
	for l := range d.p.Loans {
		if at := plan.LoanIndex(l); !slices.Contains(leaving, at) {
			d.stop(at)
		}
	}
	for _, l := range slices.Concat(d.s.LoanIn, d.s.LoanDuring) {
		for _, x := range d.p.Loans[l].Fills {
			if !slices.Contains(d.s.TakesOut, x) && !slices.Contains(d.s.Fastens, x) {
				d.and(is(vacant(x)))
			}
		}
	}
	for _, l := range slices.Concat(d.s.LoanOut, d.s.LoanDuring, d.s.LoanIn) {
		c := d.p.Loans[l].In
		if c == plan.None || d.opensItself(c) {
			continue
		}
		still := loanNone
		if !slices.Contains(d.s.LoanOut, l) {
			still = loanAll
		}
		d.and(either(is(loan(l, still)), of(d.p, &d.p.Cavities[c].OpenWhen, false)))
	}
}

// stop asks that a loan is out, where the plan says that it stops the step.
func (d *demand) stop(l plan.LoanIndex) {
	at := &d.p.Loans[l]
	out := is(loan(l, loanNone))
	filled := slices.ContainsFunc(d.s.Fastens, func(x plan.SeatIndex) bool { return slices.Contains(at.Fills, x) })
	marked := slices.ContainsFunc(d.s.Sets, func(m plan.MarkIndex) bool { return slices.Contains(d.p.Marks[m].NeedsOut, l) })
	finished := slices.ContainsFunc(d.s.Fastens, func(x plan.SeatIndex) bool {
		return slices.Contains(at.Stops.Finished, d.p.Seats[x].Joint)
	})
	named := slices.Contains(at.Stops.Steps, d.i) || (d.s.Audit != plan.None && slices.Contains(at.Stops.Audits, d.s.Audit))
	switch {
	case filled:
		d.and(out)
	case marked:
		d.and(either(out, d.idle(at)))
	case named, finished:
		d.and(out)
	case slices.ContainsFunc(at.Stops.Acts, d.does):
		if d.s.Turns || d.s.Cranks {
			out = either(out, d.idle(at))
		}
		d.and(out)
	default:
		d.stopRemoval(at, out)
	}
}

// stopRemoval asks that a loan is out before what it bars comes off. Of
// several parts that it bars the first that the step removes counts.
func (d *demand) stopRemoval(at *plan.Loan, out formula) {
	for _, r := range d.s.Removes {
		if slices.Contains(at.Stops.Removal, r) {
			d.and(either(out, is(gone(r))))
			return
		}
	}
}

func (d *demand) does(a plan.Act) bool {
	switch a {
	case plan.Turning:
		return d.s.Turns
	case plan.Cranking:
		return d.s.Cranks
	case plan.SendingOut:
		return len(d.s.SendsOut) > 0
	}
	return false
}

// idle asks that nothing that a loan pins is on the engine. A loan that pins
// nothing is never idle.
func (d *demand) idle(at *plan.Loan) formula {
	if len(at.Pins) == 0 {
		return never
	}
	var all []formula
	for _, x := range at.Pins {
		all = append(all, d.offEngine(x))
	}
	return both(all...)
}

// opensItself reports whether the step's own work opens a cavity, wherever
// the engine was before.
func (d *demand) opensItself(c plan.CavityIndex) bool {
	if len(d.s.Removes)+len(d.s.TakesOut) == 0 {
		return false
	}
	after := plan.NewPresent(d.p)
	for _, r := range d.s.Removes {
		after.SetPart(r, plan.PartOff)
	}
	for _, x := range d.s.TakesOut {
		after.SetSeat(x, plan.SeatEmpty)
	}
	return after.Open(c)
}
