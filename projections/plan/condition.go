package plan

// Condition is something over the present state that holds or does not. The
// zero Condition always holds.
type Condition struct {
	Op   Op
	Is   Is
	Line int

	Part   PartIndex
	Seats  []SeatIndex
	Loan   LoanIndex
	Cavity CavityIndex
	Mark   MarkIndex
	Step   StepIndex
	Kids   []Condition
}

// Op is what a condition looks at.
type Op uint8

// What a condition can look at. Only the field named beside it is meant.
const (
	AllOf    Op = iota // Kids; none: always holds
	AnyOf              // Kids; none: never holds
	NotAll             // at least one of Kids does not hold
	OfPart             // Part is on, off, away or here
	OfSeats            // every one of Seats is empty, out, parked, filled or finished
	OfSome             // at least one of Seats is
	OfLoan             // Loan is in or out
	OfCavity           // Cavity is open, closed, drained or filled
	OfMark             // Mark stands
	OfStep             // the state that Step leaves holds
)

// Is is the state that a condition asks for.
type Is uint8

// The states. A part that is not on this engine and a seat of a layout that
// it does not have are waited for by nobody: they count as what is asked.
const (
	IsOn       Is = iota // part: on what it belongs on
	IsOff                // part: off, here or away
	IsAway               // part: at another shop
	IsHere               // part: not away
	IsIn                 // loan: all of it is in
	IsOut                // loan: none of it is in; seat: the engine's own piece is out
	IsEmpty              // seat: nothing in it, no loan either
	IsParked             // seat: finger-tight, to be kept
	IsFilled             // seat: its piece is in, tightened or not
	IsFinished           // seat: tightened to the end
	IsOpen               // cavity
	IsClosed             // cavity
	IsDrained            // cavity: no fluid in it
	IsWet                // cavity: filled
	IsStanding           // mark
)

var isWords = [...]string{"on", "off", "away", "here", "in", "out", "empty", "parked", "filled", "finished", "open", "closed", "drained", "filled", "standing"}

// String is the state's word in a plan file.
func (i Is) String() string { return isWords[i] }

// Always reports whether the condition holds whatever the state.
func (c *Condition) Always() bool { return c.Op == AllOf && len(c.Kids) == 0 }

// Eval reports whether the condition holds.
func (c *Condition) Eval(s *Present) bool {
	switch c.Op {
	case AllOf:
		for i := range c.Kids {
			if !c.Kids[i].Eval(s) {
				return false
			}
		}
		return true
	case AnyOf:
		for i := range c.Kids {
			if c.Kids[i].Eval(s) {
				return true
			}
		}
		return false
	case NotAll:
		for i := range c.Kids {
			if !c.Kids[i].Eval(s) {
				return true
			}
		}
		return false
	case OfPart:
		return s.partIs(c.Part, c.Is)
	case OfSeats, OfSome:
		return c.evalSeats(s)
	case OfLoan:
		return s.loanIs(c.Loan, c.Is)
	case OfCavity:
		return s.cavityIs(c.Cavity, c.Is)
	case OfMark:
		return s.marks[c.Mark] != 0
	case OfStep:
		return s.IsDone(c.Step)
	}
	panic("unreachable: condition op")
}

func (c *Condition) evalSeats(s *Present) bool {
	some := c.Op == OfSome
	for _, seat := range c.Seats {
		if state := s.seats[seat]; state != SeatAbsent && state.is(c.Is) == some {
			return some
		}
	}
	return !some
}

// opposite is what must come about for a condition not to hold any more: the
// part off, one of the seats out. ok is false where the plan has no word for it.
func (c *Condition) opposite() (o Condition, ok bool) {
	o = *c
	switch {
	case c.Op == OfPart && c.Is == IsOn, c.Op == OfPart && c.Is == IsHere:
		o.Is = IsOff
	case c.Op == OfPart:
		o.Is = IsOn
	case c.Op == OfSeats && c.Is >= IsParked:
		o.Op, o.Is = OfSome, IsOut
	case c.Op == OfSeats:
		o.Op, o.Is = OfSome, IsFilled
	case c.Op == OfLoan:
		o.Is = IsIn + IsOut - c.Is
	case c.Op == OfCavity && c.Is <= IsClosed:
		o.Is = IsOpen + IsClosed - c.Is
	case c.Op == OfCavity:
		o.Is = IsDrained + IsWet - c.Is
	default:
		return o, false
	}
	return o, true
}

func opposites(kids []Condition) []Condition {
	var out []Condition
	for i := range kids {
		if o, ok := kids[i].opposite(); ok {
			out = append(out, o)
		}
	}
	return out
}
