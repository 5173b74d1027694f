package plan

import "strings"

// nobody reports a demand that no step of the way meets.
func (c *checker) nobody(e edge) {
	p := c.p
	step := "step " + c.step(e.from)
	line := p.Steps[e.from].Line
	switch {
	case e.dem.why == whyTied:
		seat := e.leaf.Seats[0]
		c.fault(CodeClamped, line, step+": it takes "+p.partID(e.dem.part)+" off while "+string(p.Seats[seat].ID)+" holds it, and no step takes that out")
	case e.dem.why == whyFasten:
		c.fault(CodeEarly, line, step+": it fastens "+string(p.Seats[e.dem.seat].ID)+" before "+p.partID(e.leaf.Part)+" is on, and no step puts that on")
	case e.leaf.Op == OfPart && e.leaf.Is == IsOff && len(p.clears.removes[e.leaf.Part]) == 0 && !p.Parts[e.leaf.Part].Root && !p.Parts[e.leaf.Part].Stays,
		e.leaf.Op == OfPart && e.leaf.Is == IsOn && len(p.clears.fits[e.leaf.Part]) == 0,
		e.leaf.Op == OfMark && len(p.clears.sets[e.leaf.Mark]) == 0,
		e.leaf.Op == OfLoan && e.leaf.Is == IsOut && len(p.clears.loanOut[e.leaf.Loan]) == 0,
		e.leaf.Op == OfStep && len(p.Steps[e.leaf.Step].traces) == 0:
		// said already of the part, the mark, the loan or the step
	default:
		c.fault(CodeStuck, line, step+": it waits for "+c.words(e.leaf)+because(p, e.dem)+", which no step brings about on the way "+way(p, e.from))
	}
}

func way(p *Plan, i StepIndex) string {
	if p.Steps[i].Section.Apart() {
		return "apart"
	}
	return "together"
}

func because(p *Plan, d *demand) string {
	switch d.why {
	case whyOver:
		return ", over " + p.partID(d.part)
	case whyUnder:
		return ", before " + p.partID(d.part)
	}
	return ""
}

// words is a condition as a plan file would have it.
func (c *checker) words(l *Condition) string {
	p := c.p
	switch l.Op {
	case OfPart:
		return "part " + p.partID(l.Part) + " " + l.Is.String()
	case OfSeats, OfSome:
		return string(p.Seats[l.Seats[0]].ID) + " " + l.Is.String()
	case OfLoan:
		return "loan " + string(p.Loans[l.Loan].ID) + " " + l.Is.String()
	case OfCavity:
		return "cavity " + string(p.Cavities[l.Cavity].ID) + " " + l.Is.String()
	case OfMark:
		return "mark " + string(p.Marks[l.Mark].ID)
	case OfStep:
		return "step " + c.step(l.Step)
	}
	return "something"
}

// loop reports steps that only hold each other up, named after what holds
// them: a hole that clamps a part, a fastener before its part, or plain
// conditions.
func (c *checker) loop(loop []edge) {
	code := CodeLoop
	for _, e := range loop {
		switch step := &c.p.Steps[e.from]; {
		case e.dem.why == whyTied:
			code = CodeClamped
		case e.dem.why == whyFasten:
			code = CodeEarly
		case e.dem.why == whyLoanStop && (step.Turns || step.Cranks):
			code = CodePinned
		}
	}
	var b strings.Builder
	for i, e := range loop {
		if i > 0 {
			b.WriteString(", ")
		}
		b.WriteString(c.step(e.from) + " waits for " + c.words(e.leaf) + c.after(&e))
	}
	b.WriteString(": none of them can be first")
	first := c.p.Steps[loop[0].from].Line
	switch code {
	case CodeClamped:
		c.fault(code, first, "a part cannot leave while a hole clamps it: "+b.String())
	case CodeEarly:
		c.fault(code, first, "a fastener goes in before what it clamps: "+b.String())
	case CodePinned:
		c.fault(code, first, "a turn with a pin in: "+b.String())
	default:
		c.fault(code, first, "steps only hold each other up: "+b.String())
	}
}

// after says why a demand in a loop is there, where its author did not write it.
func (c *checker) after(e *edge) string {
	p := c.p
	switch e.dem.why {
	case whyTied:
		return " (it holds " + p.partID(e.dem.part) + ")"
	case whyFasten:
		return " (" + string(p.Seats[e.dem.seat].ID) + " is to hold it)"
	case whyOver:
		return " (over " + p.partID(e.dem.part) + ")"
	case whyUnder:
		return " (it comes before " + p.partID(e.dem.part) + ")"
	case whyBench:
		return " (it works on it on the bench)"
	}
	return ""
}
