package plan

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A change looks only at the marks that it can void. The slow way, a look at
// every mark after every change, finds nothing more.
func TestNoMarkStandsThatTheStateVoids(t *testing.T) {
	p := sorrel(t)
	rapid.Check(t, func(rt *rapid.T) {
		s := anyState(rt, p)
		s.void()
		for range rapid.IntRange(1, 40).Draw(rt, "changes") {
			anyChange(rt, s)
			for i := range p.Marks {
				if s.Mark(MarkIndex(i)) {
					require.False(rt, p.Marks[i].VoidBy.Eval(s), "mark %s stands though it is void", p.Marks[i].ID)
				}
			}
		}
	})
}

func anyChange(rt *rapid.T, s *Present) {
	p := s.p
	index := func(n int) int { return rapid.IntRange(0, n-1).Draw(rt, "index") }
	switch rapid.IntRange(0, 6).Draw(rt, "change") {
	case 0:
		s.SetPart(PartIndex(index(len(p.Parts))), PartState(index(int(PartAway)+1)))
	case 1:
		s.SetSeat(SeatIndex(index(len(p.Seats))), SeatState(index(int(SeatFinished)+1)))
	case 2:
		s.SetLoan(LoanIndex(index(len(p.Loans))), index(4))
	case 3:
		s.SetFluid(CavityIndex(index(len(p.Cavities))), Fluid(index(int(Filled)+1)))
	case 4:
		s.SetMark(MarkIndex(index(len(p.Marks))), rapid.Bool().Draw(rt, "stands"))
	case 5:
		s.Act(Act(index(int(SendingOut) + 1)))
	case 6:
		s.Do(StepIndex(index(len(p.Steps))))
	}
}

// What a step that waits looks at does not change unseen.
func TestNothingThatAWaitingStepLooksAtChangesUnseen(t *testing.T) {
	p := sorrel(t)
	waits := 0
	for i := range p.Steps {
		if p.Steps[i].Wait > 0 {
			waits++
		}
	}
	require.Positive(t, waits)
	rapid.Check(t, func(rt *rapid.T) {
		s := anyState(rt, p)
		s.void()
		holds := func() (list []bool) {
			for i := range p.Steps {
				if p.Steps[i].Wait > 0 {
					list = append(list, p.Steps[i].When.Eval(s))
				}
			}
			return list
		}
		for range rapid.IntRange(1, 40).Draw(rt, "changes") {
			s.Stirred()
			before := holds()
			anyChange(rt, s)
			if after := holds(); !s.Stirred() {
				require.Equal(rt, before, after)
			}
		}
	})
}
