package scope

import (
	"slices"

	"countback/projections/plan"
)

// demands is all that a step asks for, as one formula: it holds exactly where
// Present.Can says yes. A test holds the two equal.
func demands(p *plan.Plan, i plan.StepIndex) formula {
	d := &demand{p: p, i: i, s: &p.Steps[i]}
	d.and(of(p, &d.s.When, false))
	d.bench()
	d.removals()
	d.fittings()
	d.fastenings()
	d.loans()
	d.marks()
	return both(d.all...)
}

type demand struct {
	p   *plan.Plan
	i   plan.StepIndex
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

func (d *demand) bench() {
	if d.s.Part != plan.None {
		d.onBench()
	}
	var hosts []plan.PartIndex
	for _, x := range slices.Concat(d.s.Removes, d.s.Fits) {
		hosts = append(hosts, d.p.Parts[x].In)
	}
	for _, x := range slices.Concat(d.s.TakesOut, d.s.Parks, d.s.Fastens, d.s.Trial) {
		hosts = append(hosts, d.p.Seats[x].Host)
	}
	slices.Sort(hosts)
	for _, h := range slices.Compact(hosts) {
		d.and(d.notAway(h))
	}
}

// notAway asks that a part is not away, nor what it is on; what is off and
// here ends the chain.
func (d *demand) notAway(i plan.PartIndex) formula {
	if i == plan.None {
		return always
	}
	return either(is(part(i, partOff)), both(is(part(i, partAway).not()), d.notAway(d.p.Parts[i].In)))
}

// onBench asks that the part that is worked on lies in the shop.
func (d *demand) onBench() {
	at := &d.p.Parts[d.s.Part]
	switch {
	case at.Root:
	case len(d.s.TakesBack) > 0:
		d.and(is(part(d.s.Part, partOn).not()))
	default:
		d.and(d.here(d.s.Part))
		d.and(d.offEngine(d.s.Part))
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

// removals asks that nothing lies over what comes off and no hole holds it.
func (d *demand) removals() {
	for _, r := range d.s.Removes {
		for _, q := range d.p.Over(r) {
			if !slices.Contains(d.s.Removes, q) {
				d.unless(gone(r), gone(q))
			}
		}
		for _, x := range d.p.Ties(r) {
			if !slices.Contains(d.s.TakesOut, x) {
				d.unless(gone(r), vacant(x))
			}
		}
	}
}

// fittings asks that what goes on is here, that nothing is in its way, and
// that what it goes onto is there.
func (d *demand) fittings() {
	for _, f := range d.s.Fits {
		d.and(is(part(f, partAway).not()))
		for _, q := range d.p.Over(f) {
			d.unless(whole(f), gone(q))
		}
		below := d.p.Below(f)
		if d.s.Section == plan.On {
			below = slices.Concat(below, d.chain(d.p.Parts[f].In))
		}
		for _, m := range below {
			if !slices.Contains(d.s.Fits, m) {
				d.unless(whole(f), whole(m))
			}
		}
	}
}

// chain is a part, what it is on, and so on.
func (d *demand) chain(i plan.PartIndex) []plan.PartIndex {
	var out []plan.PartIndex
	for ; i != plan.None; i = d.p.Parts[i].In {
		out = append(out, i)
	}
	return out
}

// fastenings asks that what a fastener holds and what it goes into is there.
func (d *demand) fastenings() {
	ask := func(x plan.SeatIndex, parts []plan.PartIndex) {
		for _, c := range parts {
			if !slices.Contains(d.s.Fits, c) {
				d.unless(placed(x), whole(c))
			}
		}
	}
	for _, x := range d.s.Fastens {
		ask(x, d.p.Seats[x].Clamps)
	}
	if d.s.Section != plan.On {
		return
	}
	for _, x := range slices.Concat(d.s.Fastens, d.s.Trial) {
		ask(x, d.chain(d.p.Seats[x].Host))
	}
}

// marks asks for what the marks that the step sets ask for, and that nothing
// voids them at once.
func (d *demand) marks() {
	for _, m := range d.s.Sets {
		needs := d.p.Marks[m].Needs
		if needs.Op == plan.AllOf {
			needs.Kids = slices.DeleteFunc(slices.Clone(needs.Kids), func(k plan.Condition) bool {
				return k.Op == plan.OfStep && k.Step == d.i
			})
		}
		d.and(of(d.p, &needs, false))
		for k := range d.p.Marks[m].VoidBy.Kids {
			if void := &d.p.Marks[m].VoidBy.Kids[k]; !d.touches(void) {
				d.and(of(d.p, void, true))
			}
		}
	}
}

// touches reports whether the step's own work may change what a condition
// looks at.
func (d *demand) touches(c *plan.Condition) bool {
	s := d.s
	moves := len(s.Fits)+len(s.Removes)+len(s.TakesBack)+len(s.Fastens)+len(s.TakesOut) > 0
	switch c.Op {
	case plan.OfPart:
		return slices.Contains(s.Fits, c.Part) || slices.Contains(s.Removes, c.Part) || slices.Contains(s.TakesBack, c.Part)
	case plan.OfSeats, plan.OfSome:
		return slices.ContainsFunc(c.Seats, func(x plan.SeatIndex) bool {
			return slices.Contains(s.Fastens, x) || slices.Contains(s.TakesOut, x)
		})
	case plan.OfCavity:
		if c.Is == plan.IsDrained || c.Is == plan.IsWet {
			return slices.Contains(s.Drains, c.Cavity) || slices.Contains(s.Fills, c.Cavity)
		}
		return moves
	case plan.OfStep:
		return moves
	}
	return slices.ContainsFunc(c.Kids, func(k plan.Condition) bool { return d.touches(&k) })
}
