package plan

import "slices"

// loans looks for loans that nothing takes out or that stop nothing.
func (c *checker) loans() {
	p := c.p
	for i := range p.Loans {
		l := &p.Loans[i]
		loan := LoanIndex(i)
		name := "loan " + string(l.ID)
		if l.Stops.Empty() && l.Reminds.Empty() && !l.Harmless {
			c.fault(CodeLoanIdle, l.Line, name+": it need not be out for anything; say what for, or that it is harmless")
		}
		in, out := p.clears.loanIn[i], p.clears.loanOut[i]
		switch {
		case len(in) > 0 && len(out) == 0:
			c.fault(CodeLoanLeft, l.Line, name+": "+c.step(in[0])+" puts it in and no step takes it out")
		case len(in) == 0 && len(out) > 0 && !c.during(loan):
			c.fault(CodeLoanLeft, l.Line, name+": "+c.step(out[0])+" takes it out and no step puts it in")
		}
	}
}

func (c *checker) during(loan LoanIndex) bool {
	return slices.ContainsFunc(c.p.Steps, func(s Step) bool {
		return slices.Contains(s.LoanDuring, loan) || slices.Contains(s.LoanMay, loan)
	})
}

// marks looks for marks that are asked for and that nothing sets, and for
// steps that are waited for and leave nothing.
func (c *checker) marks() {
	p := c.p
	ask := func(where string, cond *Condition) {
		eachLeaf(cond, func(leaf *Condition) {
			if leaf.Op == OfStep && len(p.Steps[leaf.Step].traces) == 0 {
				c.fault(CodeNoTrace, leaf.Line, where+": it waits for step "+c.step(leaf.Step)+", which leaves nothing by which it is seen to be done")
			}
			if leaf.Op == OfMark && len(p.clears.sets[leaf.Mark]) == 0 {
				m := &p.Marks[leaf.Mark]
				c.fault(CodeMark, leaf.Line, where+": it asks for mark "+string(m.ID)+", which no step sets")
			}
		})
	}
	for i := range p.Steps {
		ask("step "+c.step(StepIndex(i)), &p.Steps[i].When)
	}
	for i := range p.Marks {
		ask("mark "+string(p.Marks[i].ID), &p.Marks[i].Needs)
	}
	for i := range p.AuditPoints {
		ask("audit point "+string(p.AuditPoints[i].ID), &p.AuditPoints[i].When)
	}
}

// eachLeaf calls f for every condition that has no kids.
func eachLeaf(c *Condition, f func(*Condition)) {
	if c.Op != AllOf && c.Op != AnyOf && c.Op != NotAll {
		f(c)
		return
	}
	for i := range c.Kids {
		eachLeaf(&c.Kids[i], f)
	}
}

// cavities compares what steps say that they open and close with the states
// that open a cavity.
func (c *checker) cavities() {
	p := c.p
	for i := range p.Steps {
		s := &p.Steps[i]
		for _, cav := range s.Opens {
			if !p.opensItself(s, cav) {
				c.fault(CodeCavity, s.Line, "step "+c.step(StepIndex(i))+": opens "+string(p.Cavities[cav].ID)+": it is not open after this step by its open-when")
			}
		}
		for _, cav := range s.Closes {
			if !closesSide(s, &p.Cavities[cav].OpenWhen) {
				c.fault(CodeCavity, s.Line, "step "+c.step(StepIndex(i))+": closes "+string(p.Cavities[cav].ID)+": nothing that it fits or fastens is an opening of it")
			}
		}
	}
}

// closesSide reports whether a step fits or fastens one of the openings.
func closesSide(s *Step, open *Condition) bool {
	found := false
	eachLeaf(open, func(leaf *Condition) {
		switch leaf.Op {
		case OfPart:
			found = found || slices.Contains(s.Fits, leaf.Part)
		case OfSeats, OfSome:
			found = found || slices.ContainsFunc(leaf.Seats, func(seat SeatIndex) bool { return slices.Contains(s.Fastens, seat) })
		}
	})
	return found
}

// traces warns of steps that nobody can see to be done, and refuses turns
// that the plan itself makes with a pin in.
func (c *checker) traces() {
	p := c.p
	for i := range p.Steps {
		s := &p.Steps[i]
		if len(s.traces) == 0 {
			c.add(Warning, CodeNoTrace, s.Line, "step "+c.step(StepIndex(i))+": it leaves nothing by which it is seen to be done; let it set a mark")
		}
		if !s.Turns && !s.Cranks {
			continue
		}
		for l := range p.Loans {
			loan := LoanIndex(l)
			if !slices.ContainsFunc(p.Loans[l].Stops.Acts, s.Does) {
				continue
			}
			if slices.Contains(s.LoanDuring, loan) || (c.asksIn(s, loan) && !slices.Contains(s.LoanOut, loan)) {
				c.fault(CodePinned, s.Line, "step "+c.step(StepIndex(i))+": it turns the crank with "+string(p.Loans[l].ID)+" in, which stops turning")
			}
		}
	}
}

// asksIn reports whether a step can only be done with the loan in.
func (c *checker) asksIn(s *Step, loan LoanIndex) bool {
	return slices.ContainsFunc(s.When.Kids, func(k Condition) bool { return k.Op == OfLoan && k.Loan == loan && k.Is == IsIn })
}
