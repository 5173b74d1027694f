package plan

// Can reports whether a step can be done now: its conditions hold, nothing
// lies over what it moves, no hole holds it, every loan that it demands out is
// out, and what it fastens is there to be fastened. A step whose state already
// holds can be done again. It allocates nothing.
func (s *Present) Can(i StepIndex) bool {
	step := &s.p.Steps[i]
	n := &step.Need
	return step.When.Eval(s) && s.canBench(step) && s.canRemove(n) && s.canFit(step, n) &&
		s.canFasten(n) && s.canLoans(n) && s.canMark(n)
}

func (s *Present) canBench(step *Step) bool {
	if step.Part != None && !s.onBench(step) {
		return false
	}
	for _, h := range step.Need.Here {
		if s.awayWith(h) != None {
			return false
		}
	}
	return true
}

// onBench reports whether the part that a bench step works on lies in the
// shop. The root is on the bench by nature; a step that takes a part back may
// find it away.
func (s *Present) onBench(step *Step) bool {
	part := &s.p.Parts[step.Part]
	if part.Root {
		return true
	}
	if len(step.TakesBack) > 0 {
		return s.parts[step.Part] != PartOn
	}
	return s.Here(step.Part) && !s.OnEngine(step.Part)
}

// awayWith is the part that a part is away with: itself, or what it is on.
func (s *Present) awayWith(i PartIndex) PartIndex {
	for i != None {
		switch s.parts[i] {
		case PartAway:
			return i
		case PartOff:
			return None
		}
		i = s.p.Parts[i].In
	}
	return None
}

// there reports whether at least some of a part is on.
func (s *Present) there(i PartIndex) bool { return s.parts[i] == PartOn || s.parts[i] == PartPartly }

// lacks reports whether a part of this engine is not wholly on.
func (s *Present) lacks(i PartIndex) bool { return s.parts[i] != PartOn && s.parts[i] != PartAbsent }

// held reports whether the engine's own piece is in a seat.
func (s *Present) held(i SeatIndex) bool {
	return s.seats[i] >= SeatParked && s.seats[i] != SeatAbsent
}

// wants reports whether a seat of this engine has no fitted piece.
func (s *Present) wants(i SeatIndex) bool { return s.seats[i] <= SeatParked }

func (s *Present) canRemove(n *Need) bool {
	for _, x := range n.RemoveOver {
		if s.there(x.Second) && s.there(x.First) {
			return false
		}
	}
	for _, x := range n.RemoveTied {
		if s.held(x.Seat) && s.there(x.Part) {
			return false
		}
	}
	return true
}

func (s *Present) canFit(step *Step, n *Need) bool {
	for _, x := range n.FitOver {
		if s.there(x.Second) && s.lacks(x.First) {
			return false
		}
	}
	for _, x := range n.FitUnder {
		if s.lacks(x.Second) && s.lacks(x.First) {
			return false
		}
	}
	for _, f := range step.Fits {
		if s.parts[f] == PartAway {
			return false
		}
	}
	return true
}

func (s *Present) canFasten(n *Need) bool {
	for _, x := range n.Fasten {
		if s.lacks(x.Part) && s.wants(x.Seat) {
			return false
		}
	}
	return true
}

func (s *Present) canLoans(n *Need) bool {
	for _, x := range n.LoansOut {
		if s.loans[x.Loan] > 0 && s.stopping(x) {
			return false
		}
	}
	for _, seat := range n.FreeSeats {
		if s.held(seat) {
			return false
		}
	}
	for _, x := range n.Open {
		if s.moves(x) && !s.Open(x.Cavity) {
			return false
		}
	}
	return true
}

// stopping reports whether a loan that is in stands in the way.
func (s *Present) stopping(x LoanStop) bool {
	if x.Host != None && !s.there(x.Host) {
		return false
	}
	return !x.Moving || s.Pinning(x.Loan)
}

// Pinning reports whether a loan, were it in, would hold something that is on
// the engine. A pin in a part that lies on the bench does not stop the crank
// from turning.
func (s *Present) Pinning(i LoanIndex) bool {
	pins := s.p.Loans[i].Pins
	for _, part := range pins {
		if s.OnEngine(part) {
			return true
		}
	}
	return len(pins) == 0
}

// moves reports whether the step has to move the loan at all.
func (s *Present) moves(x LoanCavity) bool {
	if x.GoesIn {
		return !s.loanIs(x.Loan, IsIn)
	}
	return s.loans[x.Loan] > 0
}

func (s *Present) canMark(n *Need) bool {
	for i := range n.Marks {
		if !n.Marks[i].Eval(s) {
			return false
		}
	}
	return true
}
