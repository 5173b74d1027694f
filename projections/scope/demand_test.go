package scope

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/projections/plan"
)

const plansFolder = "../../testdata/plans/"

func load(t testing.TB, file string) *plan.Plan {
	t.Helper()
	p, err := plan.Load(plansFolder + file)
	require.NoError(t, err)
	return p
}

// jumble is an engine in a state that nothing need have led to: most things
// as they were, some told to be otherwise.
func jumble(p *plan.Plan, r *rand.Rand) *plan.Present {
	s := plan.NewPresent(p)
	share := r.IntN(100)
	some := func() bool { return r.IntN(100) < share }
	for v := range p.Variants {
		s.SetVariant(plan.VariantIndex(v), r.IntN(len(p.Variants[v].Options)))
	}
	for i := range p.Parts {
		if p.Parts[i].Optional && r.IntN(3) == 0 {
			s.SetAbsent(plan.PartIndex(i), true)
		} else if some() {
			s.SetPart(plan.PartIndex(i), plan.PartState(r.IntN(4)))
		}
	}
	for i := range p.Seats {
		if s.Seat(plan.SeatIndex(i)) != plan.SeatAbsent && some() {
			s.SetSeat(plan.SeatIndex(i), plan.SeatState(r.IntN(5)))
		}
	}
	for i := range p.Loans {
		if r.IntN(4) == 0 {
			s.SetLoan(plan.LoanIndex(i), r.IntN(max(p.Loans[i].Count, 1)+1))
		}
	}
	for i := range p.Cavities {
		if some() {
			s.SetFluid(plan.CavityIndex(i), plan.Fluid(r.IntN(3)))
		}
	}
	for i := range p.Marks {
		s.SetMark(plan.MarkIndex(i), r.IntN(2) == 0)
	}
	return s
}

// wander does steps at random, as far as they can be done.
func wander(s *plan.Present, r *rand.Rand, steps int) {
	n := len(s.Plan().Steps)
	for range steps {
		if i := plan.StepIndex(r.IntN(n)); s.Can(i) {
			s.Do(i)
		}
	}
}

// anyState is engines of every sort: as they arrive, taken apart part of the
// way, put together part of the way, and jumbled.
func anyState(p *plan.Plan, r *rand.Rand) *plan.Present {
	s := plan.NewPresent(p)
	switch r.IntN(4) {
	case 0:
		return jumble(p, r)
	case 1:
		s.Greedy(plan.Off, plan.BenchApart)
	}
	wander(s, r, r.IntN(20*len(p.Steps)))
	return s
}

func TestDemandsAreWhatCanAsks(t *testing.T) {
	for _, file := range []string{"sorrel-i4-20.yaml", "bramble-t2-42.yaml", "small.yaml"} {
		p := load(t, file)
		f := New(p)
		can := 0
		for seed := range uint64(400) {
			r := rand.New(rand.NewPCG(seed, 1))
			s := anyState(p, r)
			for i := range p.Steps {
				at := plan.StepIndex(i)
				asks := demands(p, at)
				want := s.Can(at)
				require.Equal(t, want, asks.holds(s), "%s, seed %d, step %s: %v", file, seed, p.Steps[i].ID, s.CanDo(at))
				require.Equal(t, able(s, at), f.asks[i].holds(s), "%s, seed %d, step %s", file, seed, p.Steps[i].ID)
				if want {
					can++
				}
			}
		}
		require.Positive(t, can)
	}
}

func TestDoneIsWhatIsDoneSays(t *testing.T) {
	for _, file := range []string{"sorrel-i4-20.yaml", "bramble-t2-42.yaml", "small.yaml"} {
		p := load(t, file)
		for seed := range uint64(200) {
			s := anyState(p, rand.New(rand.NewPCG(seed, 2)))
			for i := range p.Steps {
				yes, no := done(p, plan.StepIndex(i), false), done(p, plan.StepIndex(i), true)
				require.Equal(t, s.IsDone(plan.StepIndex(i)), yes.holds(s), "seed %d, step %s", seed, p.Steps[i].ID)
				require.Equal(t, !s.IsDone(plan.StepIndex(i)), no.holds(s), "seed %d, step %s", seed, p.Steps[i].ID)
			}
			for i := range p.Cavities {
				c := plan.Condition{Op: plan.OfCavity, Cavity: plan.CavityIndex(i), Is: plan.IsClosed}
				f := of(p, &c, false)
				require.Equal(t, c.Eval(s), f.holds(s))
			}
		}
	}
}

// TestMovesAreWhatDoDoes holds that nothing comes about that no move brings,
// and that nothing falls, marks apart, that no move takes.
func TestMovesAreWhatDoDoes(t *testing.T) {
	for _, file := range []string{"sorrel-i4-20.yaml", "bramble-t2-42.yaml", "small.yaml"} {
		p := load(t, file)
		all := make([][]move, len(p.Steps))
		for i := range all {
			all[i] = moves(p, plan.StepIndex(i))
		}
		for seed := range uint64(60) {
			s := anyState(p, rand.New(rand.NewPCG(seed, 3)))
			for i := range p.Steps {
				after := s.Clone()
				after.Do(plan.StepIndex(i))
				eachThing(p, func(k thing, at int16) {
					was, now := stateOf(s, k, at), stateOf(after, k, at)
					if was == now || (k == aMark && now == markVoid) {
						return
					}
					found := false
					for _, m := range all[i] {
						found = found || (m.thing == k && m.at == at && m.from&was != 0 && m.to&now != 0)
					}
					require.True(t, found, "seed %d, step %s: thing %d of kind %d went from %b to %b", seed, p.Steps[i].ID, at, k, was, now)
				})
			}
		}
	}
}

func eachThing(p *plan.Plan, do func(thing, int16)) {
	for k, n := range [things]int{len(p.Parts), len(p.Seats), len(p.Loans), len(p.Cavities), len(p.Marks)} {
		for i := range n {
			do(thing(k), int16(i))
		}
	}
}
