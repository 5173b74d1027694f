package plan

// NewPresent is the whole engine as it arrives: every part on, every hole
// finished, the default layouts, all optional parts fitted, no loan in, fluids
// in, and the marks standing that the plan presumes at arrival.
func NewPresent(p *Plan) *Present {
	s := &Present{
		p:      p,
		parts:  make([]PartState, len(p.Parts)),
		seats:  make([]SeatState, len(p.Seats)),
		marks:  make([]uint8, len(p.Marks)),
		fluids: make([]Fluid, len(p.Cavities)),
		loans:  make([]uint16, len(p.Loans)),
	}
	for i := range s.parts {
		s.parts[i] = PartOn
	}
	for i := range s.seats {
		if len(p.Seats[i].Members) > 0 {
			s.seats[i] = SeatFinished
		}
	}
	for i := range s.fluids {
		if p.Cavities[i].Fluid != "" {
			s.fluids[i] = Filled
		}
	}
	for i := range p.Variants {
		s.SetVariant(VariantIndex(i), p.Variants[i].Default)
	}
	for i := range s.marks {
		if p.Marks[i].AtArrival {
			s.marks[i] = 1
		}
	}
	s.void()
	return s
}

// SetVariant says which layout this engine has. What belongs to the others
// is absent; what belongs to it and was absent is there.
func (s *Present) SetVariant(v VariantIndex, option int) {
	options := s.p.Variants[v].Options
	for i := range options {
		if i != option {
			s.setOption(&options[i], false)
		}
	}
	s.setOption(&options[option], true)
	s.void()
}

func (s *Present) setOption(o *Option, there bool) {
	for _, part := range o.Parts {
		s.appear(part, there)
	}
	for _, j := range o.Joints {
		joint := &s.p.Joints[j]
		for _, seat := range joint.Seats[:joint.Own] {
			s.appearSeat(seat, there)
		}
	}
}

// SetAbsent says whether this engine has no such part: an optional one that
// was never fitted. Seats that are there only with it go and come with it.
func (s *Present) SetAbsent(i PartIndex, absent bool) {
	s.appear(i, !absent)
	s.void()
}

func (s *Present) appear(i PartIndex, there bool) {
	switch {
	case !there:
		s.parts[i] = PartAbsent
	case s.parts[i] == PartAbsent:
		s.parts[i] = PartOn
	}
	for _, seat := range s.p.guide.absent[i] {
		s.appearSeat(seat, there)
	}
}

func (s *Present) appearSeat(i SeatIndex, there bool) {
	switch {
	case !there:
		s.seats[i] = SeatAbsent
	case s.seats[i] == SeatAbsent && len(s.p.Seats[i].Members) > 0:
		s.seats[i] = SeatFinished
	case s.seats[i] == SeatAbsent:
		s.seats[i] = SeatEmpty
	}
}

// SetPart tells where a part is. What is bolted to it stays as it was told.
func (s *Present) SetPart(i PartIndex, state PartState) {
	s.parts[i] = state
	s.voidBy(s.p.guide.voidsBy.part[i])
}

// SetSeat tells what is in a hole. A hole that is told to be empty and that a
// loan is known to be in holds the loan.
func (s *Present) SetSeat(i SeatIndex, state SeatState) {
	s.seats[i] = state
	if !s.p.guide.voidsBy.moves[i] {
		return
	}
	if state == SeatEmpty {
		s.refill(i)
	}
	s.voidBy(s.p.guide.voidsBy.seat[i])
}

// ChangeSeat is SetSeat where that is not so already, and says whether it was
// not.
func (s *Present) ChangeSeat(i SeatIndex, state SeatState) bool {
	if s.seats[i] == state {
		return false
	}
	s.SetSeat(i, state)
	return true
}

// ChangeSeats is ChangeSeat for several seats, one after the other.
func (s *Present) ChangeSeats(seats []SeatIndex, state SeatState) (changed bool) {
	moves, states := s.p.guide.voidsBy.moves, s.seats
	for _, i := range seats {
		if states[i] == state {
			continue
		}
		changed = true
		if states[i] = state; moves[i] {
			s.SetSeat(i, state)
		}
	}
	return changed
}

// SetLoan tells how many pieces of a loan are in, 0 to 65535. They take up
// the loan's seats in the plan's order, where nothing else is in them.
func (s *Present) SetLoan(i LoanIndex, pieces int) {
	s.setLoan(i, pieces)
	s.voidBy(s.p.guide.voidsBy.loan[i])
}

func (s *Present) setLoan(i LoanIndex, pieces int) {
	s.loans[i] = uint16(min(max(pieces, 0), 1<<16-1))
	for _, seat := range s.p.Loans[i].Fills {
		if s.seats[seat] <= SeatLoan {
			s.seats[seat] = SeatEmpty
			s.refill(seat)
		}
	}
}

// refill puts the loan into an empty seat that is known to be in.
func (s *Present) refill(i SeatIndex) {
	for _, f := range s.p.guide.fillers[i] {
		if int(s.loans[f.loan]) > f.nth {
			s.seats[i] = SeatLoan
			return
		}
	}
}

// SetMark tells that a mark was made, or is void. A mark that the present
// state voids does not stand.
func (s *Present) SetMark(i MarkIndex, stands bool) {
	s.marks[i] = 0
	if stands {
		s.marks[i] = 1
	}
	s.voidBy(s.p.guide.voidsBy.mark[i])
}

// SetFluid tells what a cavity holds.
func (s *Present) SetFluid(i CavityIndex, f Fluid) {
	s.fluids[i] = f
	s.voidBy(s.p.guide.voidsBy.fluid[i])
}

// Act tells of something done to the whole engine; it voids the marks that
// name it.
func (s *Present) Act(a Act) {
	if s.act(a) {
		s.void()
	}
}

// act says whether another mark can fall by what it voided.
func (s *Present) act(a Act) (watched bool) {
	for i := range s.marks {
		if s.marks[i] == 0 {
			continue
		}
		for _, v := range s.p.Marks[i].VoidActs {
			if v == a {
				s.marks[i] = 0
				watched = watched || s.p.guide.voidsBy.watched[i]
			}
		}
	}
	return watched
}
