package scope

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/projections/plan"
)

// TestBrambleKnownAnswers holds what the head of the second demo plan says of
// itself.
func TestBrambleKnownAnswers(t *testing.T) {
	p := load(t, "bramble-t2-42.yaml")
	for _, f := range plan.Check(p) {
		require.Equal(t, plan.Unknown, f.Level, "%s", f)
	}
	s := plan.NewPresent(p)
	sum := s.Sum()
	require.Equal(t, plan.Totals{Fasteners: 158, Seats: 73, Parts: 93, Pieces: 251}, sum.Totals)
	require.Equal(t, []int{38, 34, 35, 51}, []int{sum.Threaded, sum.Studs, sum.Nuts, sum.Washers})
	require.Len(t, p.Parts, 66)
	require.Len(t, p.Loans, 12)
	require.Len(t, p.Marks, 10)
	require.Len(t, p.Cavities, 8)
	threads, sections := map[string]int{}, [4]int{}
	for i := range p.Seats {
		for _, m := range p.Seats[i].Members {
			if m.Role != plan.RoleWasher {
				threads[m.Spec.Thread.String()]++
			}
		}
	}
	for i := range p.Steps {
		sections[p.Steps[i].Section]++
	}
	require.Equal(t, map[string]int{
		"5/16-18": 26, "3/8-16": 20, "3/8-24": 18, "5/16-24": 12, "1/4-20": 10, "7/16-14": 8, "7/16-20": 8, "7/8-18": 2,
		"1/2 NPT": 1, "1/4 NPT": 1, "3/4-16": 1,
	}, threads)
	require.Equal(t, [4]int{28, 8, 7, 32}, sections)

	_, never := s.Greedy(plan.Off, plan.BenchApart)
	require.Empty(t, never)
	stays := 0
	for i := range p.Parts {
		if s.Part(plan.PartIndex(i)) == plan.PartOn && !p.Parts[i].Root {
			require.True(t, p.Parts[i].Stays, p.Parts[i].ID)
			stays += p.Parts[i].Count
		}
	}
	require.Equal(t, 4, stays, "cones and cups")
	_, never = s.Greedy(plan.BenchTogether, plan.On)
	require.Empty(t, never)
	for i := range p.Loans {
		require.Zero(t, s.Loan(plan.LoanIndex(i)), p.Loans[i].ID)
	}
	brambleScopes(t, s)
}

func brambleScopes(t *testing.T, s *plan.Present) {
	p := s.Plan()
	f := New(p)
	heads := []plan.StepIndex{stepOf(t, p, "head-1-off"), stepOf(t, p, "head-2-off")}
	for _, x := range []struct {
		part                    events.Part
		without                 []plan.StepIndex
		cost                    Cost
		seats, fasteners, parts int
	}{
		{"piston-1", nil, Cost{23, 165, 11}, 30, 48, 21},
		{"piston-2", nil, Cost{23, 165, 11}, 30, 48, 21},
		{"piston-1", heads, Cost{32, 210, 12}, 36, 64, 26},
		{"valves-intake", nil, Cost{10, 155, 10}, 32, 46, 36},
		{"camshaft", nil, Cost{13, 135, 10}, 20, 30, 12},
		{"crank", nil, Cost{33, 335, 21}, 55, 88, 36},
	} {
		a, err := f.Find(s, PartOff(partOf(t, p, x.part)), Options{Without: x.without})
		require.NoError(t, err, x.part)
		require.Equal(t, "proved least", a.Verdict(), x.part)
		require.Equal(t, x.cost, a.Cost, x.part)
		require.Equal(t, []int{x.seats, x.fasteners, x.parts}, []int{len(a.Tally.Seats), a.Tally.Fasteners, a.Tally.Parts}, x.part)
		require.Equal(t, "proved least", a.Back.Verdict(), x.part)
		after := legal(t, legal(t, s, a.Steps), a.Back.Steps)
		goal := Restored(s)
		require.True(t, goal.Eval(after), x.part)
	}
}
