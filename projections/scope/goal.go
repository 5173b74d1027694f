package scope

import (
	"slices"

	"countback/projections/plan"
)

// PartOff is the goal that a part is off, wherever it is then.
func PartOff(i plan.PartIndex) plan.Condition {
	return plan.Condition{Op: plan.OfPart, Part: i, Is: plan.IsOff}
}

// SeatsOut is the goal that the engine's own pieces are out of holes.
func SeatsOut(seats ...plan.SeatIndex) plan.Condition {
	return plan.Condition{Op: plan.OfSeats, Seats: seats, Is: plan.IsOut}
}

// StepDone is the goal that the state that a step leaves holds.
func StepDone(i plan.StepIndex) plan.Condition {
	return plan.Condition{Op: plan.OfStep, Step: i}
}

// All is the goal that every one of some goals holds.
func All(goals ...plan.Condition) plan.Condition {
	return plan.Condition{Op: plan.AllOf, Kids: goals}
}

// Restored is the goal that the engine is together as far as it was in a
// state: parts on that were on, pieces in that were in and finished that were
// finished, loans out that were out, marks standing that stood, and fluids in
// that were in. That something is on that was off is no hindrance, and marks
// that a turn of the crank voids are left out: where the crank stood is nothing
// to go back to, and a step that needs it asks for it.
func Restored(s *plan.Present) plan.Condition {
	p := s.Plan()
	var all []plan.Condition
	for i := range p.Parts {
		if s.Part(plan.PartIndex(i)) == plan.PartOn {
			all = append(all, plan.Condition{Op: plan.OfPart, Part: plan.PartIndex(i), Is: plan.IsOn})
		}
	}
	var filled, finished []plan.SeatIndex
	for i := range p.Seats {
		switch s.Seat(plan.SeatIndex(i)) {
		case plan.SeatFilled:
			filled = append(filled, plan.SeatIndex(i))
		case plan.SeatFinished:
			finished = append(finished, plan.SeatIndex(i))
		}
	}
	all = append(all, plan.Condition{Op: plan.OfSeats, Seats: filled, Is: plan.IsFilled},
		plan.Condition{Op: plan.OfSeats, Seats: finished, Is: plan.IsFinished})
	for i := range p.Loans {
		if s.Loan(plan.LoanIndex(i)) == 0 {
			all = append(all, plan.Condition{Op: plan.OfLoan, Loan: plan.LoanIndex(i), Is: plan.IsOut})
		}
	}
	for i := range p.Marks {
		if s.Mark(plan.MarkIndex(i)) && !slices.Contains(p.Marks[i].VoidActs, plan.Turning) {
			all = append(all, plan.Condition{Op: plan.OfMark, Mark: plan.MarkIndex(i)})
		}
	}
	for i := range p.Cavities {
		if s.Fluid(plan.CavityIndex(i)) == plan.Filled {
			all = append(all, plan.Condition{Op: plan.OfCavity, Cavity: plan.CavityIndex(i), Is: plan.IsWet})
		}
	}
	return All(all...)
}
