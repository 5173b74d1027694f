package scope

import (
	"container/heap"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/projections/plan"
)

// rival is a state of the oracle, with what was done to reach it.
type rival struct {
	s     *plan.Present
	steps []plan.StepIndex
	cost  Cost
}

// costOf is what a row of steps costs by the plan's own count.
func costOf(s *plan.Present, steps []plan.StepIndex) Cost {
	t := s.Clone().Tally(steps)
	return Cost{Pieces: t.Single(), Minutes: t.Minutes, Steps: t.Steps}
}

// oracle is the cheapest way to a goal by trying everything: from every state
// every step that can be done, always going on from the cheapest. What a way
// costs is counted anew by Tally each time. It knows nothing of literals, cuts
// or bounds. small is false where it gave up.
func oracle(s *plan.Present, goal plan.Condition, limit int) (cost Cost, found, small bool) {
	p := s.Plan()
	open := rivals{{s: s}}
	done := map[string]bool{}
	for len(open) > 0 {
		at := heap.Pop(&open).(rival)
		key := string(at.s.AppendKey(usedUp(s, at.steps)))
		if done[key] {
			continue
		}
		done[key] = true
		if goal.Eval(at.s) {
			return at.cost, true, true
		}
		if len(done) > limit {
			return Cost{}, false, false
		}
		for i := range p.Steps {
			if step := plan.StepIndex(i); at.s.Can(step) && !again(at.s, step) {
				next := rival{s: at.s.Clone(), steps: append(slices.Clone(at.steps), step)}
				next.s.Do(step)
				if next.s.Equal(at.s) {
					continue
				}
				next.cost = costOf(s, next.steps)
				heap.Push(&open, next)
			}
		}
	}
	return Cost{}, false, true
}

// again reports whether all that a step takes out, off, in or on is so already:
// then nobody does it.
func again(s *plan.Present, i plan.StepIndex) bool {
	step := &s.Plan().Steps[i]
	things := len(step.Removes) + len(step.TakesOut) + len(step.Parks) + len(step.Drains) + len(step.SendsOut)
	things += len(step.Fits) + len(step.Fastens) + len(step.Fills) + len(step.TakesBack)
	return things > 0 && s.Done(i).State == plan.Done
}

type rivals []rival

func (h rivals) Len() int           { return len(h) }
func (h rivals) Less(i, j int) bool { return h[i].cost.Less(h[j].cost) }
func (h rivals) Swap(i, j int)      { h[i], h[j] = h[j], h[i] }
func (h *rivals) Push(x any)        { *h = append(*h, x.(rival)) }

func (h *rivals) Pop() any {
	last := (*h)[len(*h)-1]
	*h = (*h)[:len(*h)-1]
	return last
}

// usedUp tells which parts a row of steps has used up.
func usedUp(s *plan.Present, steps []plan.StepIndex) []byte {
	out := make([]byte, len(s.Plan().Parts))
	for _, u := range s.Clone().Tally(steps).Used {
		if u.Part != plan.None {
			out[u.Part] = 1
		}
	}
	return out
}

// legal demands that every step can be done when its turn comes, and returns
// the state that they lead to.
func legal(t *testing.T, s *plan.Present, steps []plan.StepIndex) *plan.Present {
	t.Helper()
	now := s.Clone()
	for _, i := range steps {
		require.True(t, now.Can(i), "%s: %v", s.Plan().Steps[i].ID, now.CanDo(i))
		require.False(t, again(now, i), "%s: it is so already", s.Plan().Steps[i].ID)
		now.Do(i)
	}
	return now
}

// question is a state of a drawn plan and something to ask for: in a third of
// the cases to be again as the engine was some steps before.
func question(t testing.TB, r *rand.Rand) (*plan.Present, plan.Condition) {
	p := parseDrawn(t, r, 3+r.IntN(6))
	s := plan.NewPresent(p)
	wander(s, r, r.IntN(40))
	if r.IntN(3) > 0 {
		return s, drawGoal(p, r)
	}
	was := s.Clone()
	wander(s, r, 40)
	return s, Restored(was)
}

func TestAgainstTryingEverything(t *testing.T) {
	const questions, limit = 700, 3000
	var ways, long, none, proved, undone, large int
	for seed := range uint64(questions) {
		s, goal := question(t, rand.New(rand.NewPCG(seed, 7)))
		text := s.Plan().Source
		want, found, small := oracle(s, goal, limit)
		if !small {
			large++
			continue
		}
		f := New(s.Plan())
		before := s.Clone()
		a, err := f.out(s, goal, Options{})
		require.True(t, s.Equal(before), "the question changes nothing")
		if !found {
			var no *NoWay
			require.ErrorAs(t, err, &no, "seed %d\n%s", seed, text)
			require.True(t, no.Proved, "seed %d", seed)
			none++
			continue
		}
		require.NoError(t, err, "seed %d\n%s", seed, text)
		ways++
		require.True(t, goal.Eval(legal(t, s, a.Steps)), "seed %d", seed)
		require.Equal(t, costOf(s, a.Steps), a.Cost, "seed %d", seed)
		require.False(t, want.Less(a.Least), "seed %d: the bound %v is above the least %v: %v\n%s", seed, a.Least, want, ids(f.p, a.Steps), text)
		if a.Proved() {
			proved++
			require.Equal(t, want, a.Cost, "seed %d: %v\n%s", seed, ids(f.p, a.Steps), text)
		}
		if len(a.Steps) > 2 {
			long++
		}
		if !goal.Eval(s) && f.firstBound(t, s, goal) != a.Cost {
			undone++
		}
	}
	t.Logf("%d with a way, %d of them proved least, %d of more than two steps, %d where something is undone that matters; %d with none; %d too large to try everything",
		ways, proved, long, undone, none, large)
	require.Equal(t, ways, proved, "small plans are proved")
	require.Greater(t, ways, questions/2)
	require.Greater(t, long, questions/20)
	require.Greater(t, none, questions/20)
	require.Positive(t, undone)
	require.Less(t, large, questions/50)
}

// firstBound is what a way costs at least as if nothing were ever undone.
func (f *Finder) firstBound(t *testing.T, s *plan.Present, goal plan.Condition) Cost {
	q := f.query(s, goal, &Options{})
	b, ok := q.bounder(s, q.limit)
	require.True(t, ok)
	r := b.run()
	require.True(t, r.exact)
	return r.least.cost()
}
