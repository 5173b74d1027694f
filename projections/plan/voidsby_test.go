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
