package plan

// demand is everything that must hold before a step, as one list of
// conditions: what its author wrote, and what follows from the geometry, from
// the loans and from the marks that it sets. A demand that follows from
// something that does not move any more (a part that is off already) is left
// out by whoever asks with a state in hand.
type demand struct {
	cond   Condition
	why    why
	part   PartIndex // the part that moves; None
	seat   SeatIndex // the hole that is fastened; None
	active func(*Present) bool
}

// why is where a demand comes from.
type why uint8

const (
	whyWritten  why = iota // the author wrote it
	whyOver                // lies over what moves
	whyTied                // a hole holds what moves
	whyUnder               // must be there before what goes on
	whyFasten              // must be there before the fastener
	whyLoanStop            // a loan that must be out
	whyLoanSeat            // a loan goes where a piece is
	whyLoanOpen            // a loan moves in a cavity that must be open
	whyMark                // a mark that it sets asks for it
	whyBench               // the part must lie here
)

func partCond(i PartIndex, is Is) Condition { return Condition{Op: OfPart, Part: i, Is: is} }
func seatCond(i SeatIndex, is Is) Condition {
	return Condition{Op: OfSeats, Seats: []SeatIndex{i}, Is: is}
}

// demands is what a step asks for, whatever the state.
func (p *Plan) demands(i StepIndex) []demand { return p.Steps[i].demands }

func (p *Plan) buildDemands(i StepIndex) []demand {
	step := &p.Steps[i]
	n := &step.Need
	var out []demand
	add := func(c Condition, w why, part PartIndex, seat SeatIndex, active func(*Present) bool) {
		out = append(out, demand{c, w, part, seat, active})
	}
	for k := range step.When.Kids {
		add(step.When.Kids[k], whyWritten, None, None, nil)
	}
	for _, x := range n.RemoveOver {
		add(partCond(x.Second, IsOff), whyOver, x.First, None, func(s *Present) bool { return s.there(x.First) })
	}
	for _, x := range n.RemoveTied {
		add(seatCond(x.Seat, IsOut), whyTied, x.Part, x.Seat, func(s *Present) bool { return s.there(x.Part) })
	}
	for _, x := range n.FitOver {
		add(partCond(x.Second, IsOff), whyOver, x.First, None, func(s *Present) bool { return s.lacks(x.First) })
	}
	for _, x := range n.FitUnder {
		add(partCond(x.Second, IsOn), whyUnder, x.First, None, func(s *Present) bool { return s.lacks(x.First) })
	}
	for _, x := range n.Fasten {
		add(partCond(x.Part, IsOn), whyFasten, x.Part, x.Seat, func(s *Present) bool { return s.wants(x.Seat) })
	}
	for _, x := range n.LoansOut {
		add(Condition{Op: OfLoan, Loan: x.Loan, Is: IsOut}, whyLoanStop, None, None, func(s *Present) bool { return s.stopping(x) })
	}
	for _, seat := range n.FreeSeats {
		add(seatCond(seat, IsOut), whyLoanSeat, None, seat, nil)
	}
	for _, x := range n.Open {
		add(Condition{Op: OfCavity, Cavity: x.Cavity, Is: IsOpen}, whyLoanOpen, None, None, func(s *Present) bool { return s.moves(x) })
	}
	for k := range n.Marks {
		add(n.Marks[k], whyMark, None, None, nil)
	}
	return out
}
