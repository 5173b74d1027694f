package plan

// voidsBy says of every thing that a state is made of which marks can fall by
// a change of it. Most things cannot void any, and all are set thousands of
// times while a job is folded.
type voidsBy struct {
	part, seat, loan, fluid, mark [][]MarkIndex

	moves   []bool // by seat: a loan may fill it or a mark fall by it
	watched []bool // by mark: another mark can fall by its fall
}

func (p *Plan) buildVoidsBy() {
	v := voidsBy{
		part: make([][]MarkIndex, len(p.Parts)), seat: make([][]MarkIndex, len(p.Seats)),
		loan: make([][]MarkIndex, len(p.Loans)), fluid: make([][]MarkIndex, len(p.Cavities)),
		mark: make([][]MarkIndex, len(p.Marks)), watched: make([]bool, len(p.Marks)),
		moves: make([]bool, len(p.Seats)),
	}
	for _, m := range p.guide.voids {
		addOnce(&v.mark[m], m) // what is void already cannot be made
		v.reads(p, m, &p.Marks[m].VoidBy)
	}
	for i := range p.Loans {
		for _, s := range p.Loans[i].Fills { // a loan comes and goes with its holes
			for _, m := range v.seat[s] {
				addOnce(&v.loan[i], m)
			}
		}
	}
	for i, readers := range v.mark {
		for _, m := range readers {
			v.watched[i] = v.watched[i] || m != MarkIndex(i)
		}
	}
	for i := range v.moves {
		v.moves[i] = len(v.seat[i]) > 0 || len(p.guide.fillers[i]) > 0
	}
	p.guide.voidsBy = v
}

// reads notes what the condition that voids a mark looks at; a step is looked
// at by its traces.
func (v *voidsBy) reads(p *Plan, m MarkIndex, c *Condition) {
	switch c.Op {
	case OfPart:
		addOnce(&v.part[c.Part], m)
	case OfSeats, OfSome:
		for _, s := range c.Seats {
			addOnce(&v.seat[s], m)
		}
	case OfLoan:
		addOnce(&v.loan[c.Loan], m)
	case OfMark:
		addOnce(&v.mark[c.Mark], m)
	case OfCavity:
		if c.Is == IsDrained || c.Is == IsWet {
			addOnce(&v.fluid[c.Cavity], m)
			return
		}
		v.reads(p, m, &p.Cavities[c.Cavity].OpenWhen)
	case OfStep:
		for _, t := range traces(&p.Steps[c.Step]) {
			v.readsTrace(m, t)
		}
	}
	for i := range c.Kids {
		v.reads(p, m, &c.Kids[i])
	}
}

func (v *voidsBy) readsTrace(m MarkIndex, t trace) {
	switch t.kind {
	case tracePartOff, tracePartAway, tracePartBack, tracePartOn:
		addOnce(&v.part[t.at], m)
	case traceSeatOut, traceSeatParked, traceSeatIn:
		addOnce(&v.seat[t.at], m)
	case traceDrained, traceFilled:
		addOnce(&v.fluid[t.at], m)
	case traceMark:
		addOnce(&v.mark[t.at], m)
	case traceLoanIn, traceLoanOut:
		addOnce(&v.loan[t.at], m)
	}
}

// voidBy drops the marks that a change voids. Only those that look at what was
// changed can fall by it; if one does, others may fall with it.
func (s *Present) voidBy(marks []MarkIndex) {
	for _, i := range marks {
		if s.marks[i] == 0 || !s.p.Marks[i].VoidBy.Eval(s) {
			continue
		}
		if s.p.guide.voidsBy.watched[i] {
			s.void()
			return
		}
		s.marks[i] = 0
	}
}

// void drops the marks that the present state voids. One mark can void
// another, so it looks again until nothing falls.
func (s *Present) void() {
	for again := true; again; {
		again = false
		for _, i := range s.p.guide.voids {
			if s.marks[i] != 0 && s.p.Marks[i].VoidBy.Eval(s) {
				s.marks[i] = 0
				again = true
			}
		}
	}
}
