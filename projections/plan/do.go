package plan

// Do makes the state what it is after a step, whether or not the step could
// be done: Can and CanDo tell that before. Pieces that are fastened count as
// finished.
func (s *Present) Do(i StepIndex) {
	step := &s.p.Steps[i]
	for _, l := range step.LoanOut {
		s.setLoan(l, 0)
	}
	if step.Turns {
		s.act(Turning)
	}
	if step.Cranks {
		s.act(Cranking)
	}
	if len(step.SendsOut) > 0 {
		s.act(SendingOut)
	}
	s.takeApart(step)
	s.putTogether(step)
	for _, l := range step.LoanDuring {
		s.setLoan(l, 0)
	}
	for _, l := range step.LoanIn {
		s.setLoan(l, max(int(s.loans[l]), s.p.Loans[l].Count, 1))
	}
	for _, m := range step.Sets {
		s.marks[m] = 1
	}
	s.void()
}

func (s *Present) takeApart(step *Step) {
	for _, seat := range step.TakesOut {
		if s.held(seat) {
			s.seats[seat] = SeatEmpty
			s.refill(seat)
		}
	}
	for _, seat := range step.Parks {
		if s.held(seat) {
			s.seats[seat] = SeatParked
		}
	}
	for _, part := range step.Removes {
		if s.there(part) {
			s.parts[part] = PartOff
		}
	}
	for _, part := range step.SendsOut {
		if s.parts[part] != PartAbsent {
			s.parts[part] = PartAway
		}
	}
	for _, c := range step.Drains {
		s.fluids[c] = Drained
	}
}

func (s *Present) putTogether(step *Step) {
	for _, part := range step.TakesBack {
		if s.parts[part] == PartAway {
			s.parts[part] = PartOff
		}
	}
	for _, part := range step.Fits {
		if s.lacks(part) {
			s.parts[part] = PartOn
		}
	}
	for _, seat := range step.Fastens {
		if s.seats[seat] != SeatAbsent {
			s.seats[seat] = SeatFinished
		}
	}
	for _, c := range step.Fills {
		s.fluids[c] = Filled
	}
}
