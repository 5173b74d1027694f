package plan

import "slices"

// PartState is where a part is, seen from what it belongs on.
type PartState uint8

// The states of a part.
const (
	PartOff    PartState = iota // here and off
	PartPartly                  // some of its pieces are on
	PartOn
	PartAway   // at another shop
	PartAbsent // this engine has none
)

// SeatState is what is in a hole. Members that stay in it are not looked at:
// a stud alone is an empty seat.
type SeatState uint8

// The states of a seat.
const (
	SeatEmpty    SeatState = iota
	SeatLoan               // a loan is in it
	SeatParked             // its piece is in finger-tight, to be kept: not fitted
	SeatFilled             // its piece is in, not tightened to the end
	SeatFinished           // its piece is in and finished
	SeatAbsent             // this engine has no such hole
)

// is answers for a seat that is not absent.
func (s SeatState) is(want Is) bool {
	switch want {
	case IsEmpty:
		return s == SeatEmpty
	case IsOut:
		return s <= SeatLoan
	case IsParked:
		return s == SeatParked
	case IsFilled:
		return s == SeatFilled || s == SeatFinished
	case IsFinished:
		return s == SeatFinished
	}
	return false
}

// Fluid is what an inside space holds.
type Fluid uint8

// The fluids.
const (
	Dry     Fluid = iota // never had any, or blown out
	Drained              // let out; walls wet
	Filled
)

// Present is the present state of one engine as conditions see it: what is
// on, off and away, what is in every hole, which loans are in, which marks
// stand and which cavities hold fluid. Setters tell facts and are never
// refused; they void the marks that the plan says they void. A Present is not
// safe for use by several goroutines at once; clones are independent.
type Present struct {
	p      *Plan
	parts  []PartState
	seats  []SeatState
	marks  []uint8
	fluids []Fluid
	loans  []uint16
}

// Plan is the plan that the state belongs to.
func (s *Present) Plan() *Plan { return s.p }

// Clone is an independent copy.
func (s *Present) Clone() *Present {
	c := *s
	c.parts = slices.Clone(s.parts)
	c.seats = slices.Clone(s.seats)
	c.marks = slices.Clone(s.marks)
	c.fluids = slices.Clone(s.fluids)
	c.loans = slices.Clone(s.loans)
	return &c
}

// CopyFrom makes s equal to o, a state of the same plan, without allocating.
func (s *Present) CopyFrom(o *Present) {
	copy(s.parts, o.parts)
	copy(s.seats, o.seats)
	copy(s.marks, o.marks)
	copy(s.fluids, o.fluids)
	copy(s.loans, o.loans)
}

// Equal reports whether both states are of one plan and the same throughout.
func (s *Present) Equal(o *Present) bool {
	return s.p == o.p && slices.Equal(s.seats, o.seats) && slices.Equal(s.parts, o.parts) &&
		slices.Equal(s.loans, o.loans) && slices.Equal(s.marks, o.marks) && slices.Equal(s.fluids, o.fluids)
}

// AppendKey appends bytes that are equal for equal states of one plan and for
// no others, for use as a map key.
func (s *Present) AppendKey(b []byte) []byte {
	for _, v := range s.parts {
		b = append(b, byte(v))
	}
	for _, v := range s.seats {
		b = append(b, byte(v))
	}
	b = append(b, s.marks...)
	for _, v := range s.fluids {
		b = append(b, byte(v))
	}
	for _, v := range s.loans {
		b = append(b, byte(v), byte(v>>8))
	}
	return b
}

// Part is the state of a part.
func (s *Present) Part(i PartIndex) PartState { return s.parts[i] }

// Seat is the state of a hole.
func (s *Present) Seat(i SeatIndex) SeatState { return s.seats[i] }

// Loan is how many pieces of a loan are in.
func (s *Present) Loan(i LoanIndex) int { return int(s.loans[i]) }

// Mark reports whether a mark stands.
func (s *Present) Mark(i MarkIndex) bool { return s.marks[i] != 0 }

// Fluid is what a cavity holds.
func (s *Present) Fluid(i CavityIndex) Fluid { return s.fluids[i] }

// Open reports whether a cavity is open.
func (s *Present) Open(i CavityIndex) bool { return s.p.Cavities[i].OpenWhen.Eval(s) }

// OnEngine reports whether a part is on what it belongs on, that on what it
// belongs on, and so on up to the engine itself.
func (s *Present) OnEngine(i PartIndex) bool {
	for i != None {
		if s.parts[i] != PartOn {
			return false
		}
		i = s.p.Parts[i].In
	}
	return true
}

// Here reports whether a part is in the shop: neither it nor what it is on
// is away.
func (s *Present) Here(i PartIndex) bool {
	for i != None {
		switch s.parts[i] {
		case PartAway, PartAbsent:
			return false
		case PartOff:
			return true
		}
		i = s.p.Parts[i].In
	}
	return true
}

func (s *Present) partIs(i PartIndex, want Is) bool {
	state := s.parts[i]
	if state == PartAbsent {
		return true
	}
	switch want {
	case IsOn:
		return state == PartOn
	case IsOff:
		return state == PartOff || state == PartAway
	case IsAway:
		return state == PartAway
	case IsHere:
		return state != PartAway
	}
	return false
}

func (s *Present) loanIs(i LoanIndex, want Is) bool {
	if want == IsOut {
		return s.loans[i] == 0
	}
	return s.loans[i] > 0 && int(s.loans[i]) >= s.p.Loans[i].Count
}

func (s *Present) cavityIs(i CavityIndex, want Is) bool {
	switch want {
	case IsOpen:
		return s.Open(i)
	case IsClosed:
		return !s.Open(i)
	case IsDrained:
		return s.fluids[i] != Filled
	case IsWet:
		return s.fluids[i] == Filled
	}
	return false
}
