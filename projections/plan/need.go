package plan

import "slices"

// Need is what a step demands beside its conditions and beside where the part
// that it works on lies, worked out once: it follows from the geometry, from the
// loans and from the marks that it sets. Present.Can reads it, and so does
// whoever has to know what a step asks for without a state in hand.
type Need struct {
	RemoveOver []PartPair   // while the first is on, wholly or in part, the second is off
	RemoveTied []PartSeat   // while the part is on, wholly or in part, the hole holds no piece
	FitOver    []PartPair   // while the first is not wholly on, the second is off
	FitUnder   []PartPair   // while the first is not wholly on, the second is
	Fasten     []PartSeat   // while the hole has no fitted piece, the part is wholly on
	Here       []PartIndex  // none of them is away, by itself or with what it is on
	LoansOut   []LoanStop   // out
	FreeSeats  []SeatIndex  // they hold no piece: loans go into these
	Open       []LoanCavity // the cavity is open, unless the loan is where it goes already
	Marks      []Condition  // what the marks that it sets ask for
}

// PartPair is two parts; what each stands for is said where it is used.
type PartPair struct{ First, Second PartIndex }

// PartSeat is a part and a hole.
type PartSeat struct {
	Part PartIndex
	Seat SeatIndex
}

// LoanStop is a loan that must be out. Moving says that it does not count
// once all that it pins lies on the bench.
type LoanStop struct {
	Loan   LoanIndex
	Moving bool
	Host   PartIndex // only while this part is on, wholly or in part; None: always
}

// LoanCavity is a loan that the step moves, and the cavity that must be open
// for it.
type LoanCavity struct {
	Loan   LoanIndex
	Cavity CavityIndex
	GoesIn bool
}

func (p *Plan) buildNeeds() {
	for i := range p.Steps {
		p.buildNeed(StepIndex(i))
		p.Steps[i].demands = p.buildDemands(StepIndex(i))
	}
}

func (p *Plan) buildNeed(i StepIndex) {
	s := &p.Steps[i]
	s.traces = traces(s)
	s.Need = Need{}
	n := &s.Need
	for _, r := range s.Removes {
		p.needRemoval(s, n, r)
	}
	for _, f := range s.Fits {
		p.needFitting(s, n, f)
	}
	for _, seat := range s.Fastens {
		p.needFastening(s, n, seat)
	}
	for _, seat := range s.Trial {
		p.needHost(s, n, seat)
	}
	for _, seat := range slices.Concat(s.TakesOut, s.Parks) {
		if h := p.Seats[seat].Host; h != None {
			addOnce(&n.Here, h)
		}
	}
	p.needLoans(i, s, n)
	for _, m := range s.Sets {
		if c := without(p.Marks[m].Needs, i); !c.Always() {
			n.Marks = append(n.Marks, c)
		}
		for _, void := range p.Marks[m].VoidBy.Kids {
			if !s.touches(&void) {
				n.Marks = append(n.Marks, Condition{Op: NotAll, Kids: []Condition{void}, Line: void.Line})
			}
		}
	}
}

func (p *Plan) needRemoval(s *Step, n *Need, r PartIndex) {
	for _, q := range p.guide.over[r] {
		if !slices.Contains(s.Removes, q) {
			n.RemoveOver = append(n.RemoveOver, PartPair{r, q})
		}
	}
	for _, seat := range p.guide.tied[r] {
		if !slices.Contains(s.TakesOut, seat) {
			n.RemoveTied = append(n.RemoveTied, PartSeat{r, seat})
		}
	}
	if h := p.Parts[r].In; h != None {
		addOnce(&n.Here, h)
	}
}

func (p *Plan) needFitting(s *Step, n *Need, f PartIndex) {
	for _, q := range p.guide.over[f] {
		n.FitOver = append(n.FitOver, PartPair{f, q})
	}
	for _, m := range p.guide.under[f] {
		if !slices.Contains(s.Fits, m) {
			n.FitUnder = append(n.FitUnder, PartPair{f, m})
		}
	}
	h := p.Parts[f].In
	if h != None {
		addOnce(&n.Here, h)
	}
	if s.Section != On {
		return
	}
	for ; h != None; h = p.Parts[h].In {
		if !slices.Contains(s.Fits, h) {
			addOnce(&n.FitUnder, PartPair{f, h})
		}
	}
}

func (p *Plan) needFastening(s *Step, n *Need, seat SeatIndex) {
	for _, c := range p.Seats[seat].Clamps {
		if !slices.Contains(s.Fits, c) {
			n.Fasten = append(n.Fasten, PartSeat{c, seat})
		}
	}
	p.needHost(s, n, seat)
}

// needHost asks for the part that has the thread: here for work on the bench,
// on the engine for work on the engine.
func (p *Plan) needHost(s *Step, n *Need, seat SeatIndex) {
	h := p.Seats[seat].Host
	if h == None {
		return
	}
	addOnce(&n.Here, h)
	if s.Section != On {
		return
	}
	for ; h != None; h = p.Parts[h].In {
		if !slices.Contains(s.Fits, h) {
			n.Fasten = append(n.Fasten, PartSeat{h, seat})
		}
	}
}

func (p *Plan) needLoans(i StepIndex, s *Step, n *Need) {
	leaving := slices.Concat(s.LoanOut, s.LoanDuring, s.LoanMay)
	for l := range p.Loans {
		loan := LoanIndex(l)
		if slices.Contains(leaving, loan) {
			continue
		}
		if stop, ok := p.stops(i, s, loan); ok {
			n.LoansOut = append(n.LoansOut, stop)
		}
	}
	for _, loan := range slices.Concat(s.LoanIn, s.LoanDuring) {
		for _, seat := range p.Loans[loan].Fills {
			if !slices.Contains(s.TakesOut, seat) && !slices.Contains(s.Fastens, seat) {
				addOnce(&n.FreeSeats, seat)
			}
		}
	}
	for _, loan := range slices.Concat(s.LoanOut, s.LoanDuring, s.LoanIn) {
		c := p.Loans[loan].In
		if c == None || p.opensItself(s, c) {
			continue
		}
		n.Open = append(n.Open, LoanCavity{loan, c, !slices.Contains(s.LoanOut, loan)})
	}
}

// stops reports whether and when a loan refuses a step.
func (p *Plan) stops(i StepIndex, s *Step, loan LoanIndex) (LoanStop, bool) {
	l := &p.Loans[loan]
	for _, seat := range s.Fastens {
		if slices.Contains(l.Fills, seat) {
			return LoanStop{Loan: loan, Host: None}, true
		}
	}
	for _, m := range s.Sets {
		if slices.Contains(p.Marks[m].NeedsOut, loan) {
			return LoanStop{Loan: loan, Moving: true, Host: None}, true
		}
	}
	return p.bars(&l.Stops, i, loan)
}

// bars reports whether and when a loan's barrier stands before a step.
func (p *Plan) bars(b *Barrier, i StepIndex, loan LoanIndex) (LoanStop, bool) {
	s := &p.Steps[i]
	if slices.Contains(b.Steps, i) || (s.Audit != None && slices.Contains(b.Audits, s.Audit)) {
		return LoanStop{Loan: loan, Host: None}, true
	}
	for _, seat := range s.Fastens {
		if slices.Contains(b.Finished, p.Seats[seat].Joint) {
			return LoanStop{Loan: loan, Host: None}, true
		}
	}
	if slices.ContainsFunc(b.Acts, s.Does) {
		return LoanStop{Loan: loan, Moving: s.Turns || s.Cranks, Host: None}, true
	}
	for _, r := range s.Removes {
		if slices.Contains(b.Removal, r) {
			return LoanStop{Loan: loan, Host: r}, true
		}
	}
	return LoanStop{}, false
}

// Does reports whether the step is one of the acts.
func (s *Step) Does(a Act) bool {
	switch a {
	case Turning:
		return s.Turns
	case Cranking:
		return s.Cranks
	case SendingOut:
		return len(s.SendsOut) > 0
	}
	return false
}

// opensItself reports whether the step's own work opens the cavity, wherever
// the engine was before.
func (p *Plan) opensItself(s *Step, c CavityIndex) bool {
	if len(s.Removes)+len(s.TakesOut) == 0 {
		return false
	}
	after := NewPresent(p)
	for _, r := range s.Removes {
		after.parts[r] = PartOff
	}
	for _, seat := range s.TakesOut {
		after.seats[seat] = SeatEmpty
	}
	return after.Open(c)
}

// touches reports whether the step's own work may change what a condition
// looks at.
func (s *Step) touches(c *Condition) bool {
	switch c.Op {
	case OfPart:
		return slices.Contains(s.Fits, c.Part) || slices.Contains(s.Removes, c.Part) || slices.Contains(s.TakesBack, c.Part)
	case OfSeats, OfSome:
		return slices.ContainsFunc(c.Seats, func(i SeatIndex) bool { return slices.Contains(s.Fastens, i) || slices.Contains(s.TakesOut, i) })
	case OfCavity:
		if c.Is == IsDrained || c.Is == IsWet {
			return slices.Contains(s.Drains, c.Cavity) || slices.Contains(s.Fills, c.Cavity)
		}
		return s.moves()
	case OfStep:
		return s.moves()
	}
	return slices.ContainsFunc(c.Kids, func(k Condition) bool { return s.touches(&k) })
}

func (s *Step) moves() bool {
	return len(s.Fits)+len(s.Removes)+len(s.TakesBack)+len(s.Fastens)+len(s.TakesOut) > 0
}

// without is a condition less the parts of it that ask for the step itself.
func without(c Condition, self StepIndex) Condition {
	if c.Op != AllOf {
		return c
	}
	out := c
	out.Kids = nil
	for _, k := range c.Kids {
		if k.Op != OfStep || k.Step != self {
			out.Kids = append(out.Kids, k)
		}
	}
	return out
}
