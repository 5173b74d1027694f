package plan

// clears is which steps bring which state about, in the plan's order.
type clears struct {
	removes  [][]StepIndex // by part
	fits     [][]StepIndex
	sendsOut [][]StepIndex
	takeBack [][]StepIndex
	empties  [][]StepIndex // by seat
	parks    [][]StepIndex
	fastens  [][]StepIndex
	drains   [][]StepIndex // by cavity
	fills    [][]StepIndex
	sets     [][]StepIndex // by mark
	loanIn   [][]StepIndex // by loan
	loanOut  [][]StepIndex
}

func (p *Plan) buildClears() {
	parts, seats, cavities := len(p.Parts), len(p.Seats), len(p.Cavities)
	c := clears{
		removes: make([][]StepIndex, parts), fits: make([][]StepIndex, parts),
		sendsOut: make([][]StepIndex, parts), takeBack: make([][]StepIndex, parts),
		empties: make([][]StepIndex, seats), parks: make([][]StepIndex, seats), fastens: make([][]StepIndex, seats),
		drains: make([][]StepIndex, cavities), fills: make([][]StepIndex, cavities),
		sets: make([][]StepIndex, len(p.Marks)), loanIn: make([][]StepIndex, len(p.Loans)), loanOut: make([][]StepIndex, len(p.Loans)),
	}
	for i := range p.Steps {
		s, at := &p.Steps[i], StepIndex(i)
		note(c.removes, s.Removes, at)
		note(c.fits, s.Fits, at)
		note(c.sendsOut, s.SendsOut, at)
		note(c.takeBack, s.TakesBack, at)
		note(c.empties, s.TakesOut, at)
		note(c.parks, s.Parks, at)
		note(c.fastens, s.Fastens, at)
		note(c.drains, s.Drains, at)
		note(c.fills, s.Fills, at)
		note(c.sets, s.Sets, at)
		note(c.loanIn, s.LoanIn, at)
		note(c.loanOut, s.LoanOut, at)
		note(c.loanOut, s.LoanDuring, at)
	}
	p.clears = c
}

func note[I ~int16](by [][]StepIndex, list []I, at StepIndex) {
	for _, i := range list {
		addOnce(&by[i], at)
	}
}

// Removers is the steps that take a part off.
func (p *Plan) Removers(i PartIndex) []StepIndex { return p.clears.removes[i] }

// Fitters is the steps that put a part on.
func (p *Plan) Fitters(i PartIndex) []StepIndex { return p.clears.fits[i] }

// Emptiers is the steps that empty a hole.
func (p *Plan) Emptiers(i SeatIndex) []StepIndex { return p.clears.empties[i] }

// Fasteners is the steps that fill a hole.
func (p *Plan) Fasteners(i SeatIndex) []StepIndex { return p.clears.fastens[i] }

// Setters is the steps that set a mark.
func (p *Plan) Setters(i MarkIndex) []StepIndex { return p.clears.sets[i] }

// PutIn is the steps that put a loan in.
func (p *Plan) PutIn(i LoanIndex) []StepIndex { return p.clears.loanIn[i] }

// TakeOut is the steps that take a loan out.
func (p *Plan) TakeOut(i LoanIndex) []StepIndex { return p.clears.loanOut[i] }
