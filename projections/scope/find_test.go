package scope

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/projections/plan"
)

// boxes is a plan of four parts on a block, a to d, each of which a step takes
// off and another puts on; when is the conditions of the steps off.
func boxes(t testing.TB, when map[string]string) *plan.Plan {
	t.Helper()
	text := "plan: {id: boxes, family: Boxes, edition: 1}\nparts:\n  - {id: block, root: true}\n"
	off, on := "", ""
	for _, id := range []string{"a", "b", "c", "d"} {
		text += fmt.Sprintf("  - {id: %s, in: block, reuse: %s}\n", id, map[bool]string{true: "new", false: "again"}[id == "b"])
		off += fmt.Sprintf("    - {id: %s-off, removes: [%s], minutes: 10, when: [%s]}\n", id, id, when[id])
		on += fmt.Sprintf("    - {id: %s-on, fits: [%s], minutes: 15}\n", id, id)
	}
	p, err := plan.Parse("boxes", []byte(text+"steps:\n  off:\n"+off+"  on:\n"+on))
	require.NoError(t, err)
	return p
}

func TestLoops(t *testing.T) {
	for _, x := range []struct {
		name string
		when map[string]string
		want []string // nil: no way
	}{
		{"in a row", map[string]string{"a": "b-off", "b": "c-off"}, []string{"c-off", "b-off", "a-off"}},
		{"steps that only hold each other up", map[string]string{"a": "b-off", "b": "c-off", "c": "b-off"}, nil},
		{"the same through alternatives", map[string]string{"a": "b-off", "b": "any: [c-off, a-off]", "c": "any: [b-off, a-off]"}, nil},
		{"a loop with another way in", map[string]string{"a": "b-off", "b": "any: [c-off, d-off]", "c": "b-off"}, []string{"d-off", "b-off", "a-off"}},
		{"the way without single-use pieces, though it is longer", map[string]string{"a": "any: [b-off, c-off]", "c": "d-off"}, []string{"d-off", "c-off", "a-off"}},
		{"one that serves both", map[string]string{"a": "{any: [b-off, c-off]}, {any: [d-off, c-off]}"}, []string{"c-off", "a-off"}},
	} {
		p := boxes(t, x.when)
		s := plan.NewPresent(p)
		a, err := New(p).Find(s, PartOff(partOf(t, p, "a")), Options{})
		if x.want == nil {
			var no *NoWay
			require.ErrorAs(t, err, &no, x.name)
			require.True(t, no.Proved, x.name)
			require.EqualError(t, err, "no steps of the plan lead there: A: on")
			continue
		}
		require.NoError(t, err, x.name)
		require.Equal(t, x.want, ids(p, a.Steps), x.name)
		require.Equal(t, "proved least", a.Verdict(), x.name)
		require.Len(t, a.Back.Steps, len(x.want), x.name)
		require.InDelta(t, float64(25*len(x.want))/60, a.Hours(), 1e-9, x.name)
	}
}

func TestGoalThatHolds(t *testing.T) {
	p := boxes(t, nil)
	s := plan.NewPresent(p)
	s.Do(stepOf(t, p, "a-off"))
	a, err := New(p).Find(s, PartOff(partOf(t, p, "a")), Options{})
	require.NoError(t, err)
	require.Empty(t, a.Steps)
	require.Empty(t, a.Back.Steps)
	require.Equal(t, "proved least", a.Verdict())
	require.Equal(t, "0 single-use pieces, 0 steps", a.Cost.String())
}

func TestStateOfAnotherPlan(t *testing.T) {
	p, other := boxes(t, nil), load(t, "small.yaml")
	_, err := New(p).Find(plan.NewPresent(other), PartOff(1), Options{})
	require.EqualError(t, err, "scope: the state is one of plan small, edition 1; the finder knows plan boxes, edition 1")
	_, err = New(p).Rivals(plan.NewPresent(other), &Answer{Steps: []plan.StepIndex{0}}, Options{})
	require.Error(t, err)
}

func TestVerdicts(t *testing.T) {
	for _, x := range []struct {
		cost, least Cost
		want        string
	}{
		{Cost{8, 0, 9}, Cost{8, 0, 9}, "proved least"},
		{Cost{8, 0, 9}, Cost{7, 90, 4}, "best found, at most 1 single-use piece above the least"},
		{Cost{8, 95, 9}, Cost{8, 60, 12}, "best found, at most 35 minutes above the least"},
		{Cost{8, 95, 9}, Cost{8, 95, 7}, "best found, at most 2 steps above the least"},
	} {
		require.Equal(t, x.want, verdict(x.cost, x.least))
	}
}

// TestNoWayBack: what nobody puts on again is said.
func TestNoWayBack(t *testing.T) {
	p := boxes(t, map[string]string{"a": "b-off"})
	s := plan.NewPresent(p)
	f := New(p)
	on := stepOf(t, p, "b-on")
	a, err := f.Find(s, PartOff(partOf(t, p, "a")), Options{Without: []plan.StepIndex{on}})
	require.NoError(t, err)
	require.NotEmpty(t, a.Back.Steps, "what the way out must not use the way back may")
	text := string(p.Source)
	q, err := plan.Parse("boxes", []byte(text[:len(text)-len("    - {id: d-on, fits: [d], minutes: 15}\n")]))
	require.NoError(t, err)
	a, err = New(q).Find(plan.NewPresent(q), PartOff(partOf(t, q, "d")), Options{})
	require.NoError(t, err)
	require.Equal(t, "no way back found", a.Back.Verdict())
	require.Equal(t, "D: off", a.Back.Missing[0].Text)
	require.Equal(t, []string{"D: off"}, New(q).Side(a).BackLacks)
}

// TestScopeGrowth holds what must be true of every answer, for engines in
// every sort of state: each step can be done when its turn comes; no step that
// counts as done rests on what is undone without being said; and the way back
// restores what was.
func TestScopeGrowth(t *testing.T) {
	finders := []*Finder{New(load(t, "sorrel-i4-20.yaml")), New(load(t, "bramble-t2-42.yaml")), New(load(t, "small.yaml"))}
	var backs int
	rapid.Check(t, func(t2 *rapid.T) {
		f := finders[rapid.IntRange(0, 2).Draw(t2, "plan")]
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t2, "seed"), 11))
		s := anyState(f.p, r)
		goal := drawGoal(f.p, r)
		a, err := f.Find(s, goal, Options{Budget: 400_000})
		if err != nil {
			var no *NoWay
			require.ErrorAs(t2, err, &no)
			return
		}
		after := legal(t, s, a.Steps)
		require.True(t2, goal.Eval(after))
		require.Equal(t2, costOf(s, a.Steps), a.Cost)
		for i := range f.p.Steps {
			rests(t2, f.p, a, s, after, plan.StepIndex(i))
		}
		if a.Back.Missing == nil {
			backs++
			back := legal(t, after, a.Back.Steps)
			restored := Restored(s)
			require.True(t2, restored.Eval(back))
			require.Equal(t2, costOf(after, a.Back.Steps), a.Back.Cost)
		}
	})
	require.Positive(t, backs)
}

// rests demands that a step that was done before is undone, doubtful, or
// still done with all that it asked for as it was.
func rests(t require.TestingT, p *plan.Plan, a *Answer, before, after *plan.Present, i plan.StepIndex) {
	step := &p.Steps[i]
	if step.Section.Apart() || !before.IsDone(i) {
		return
	}
	for _, list := range [][]plan.StepIndex{a.Undone, a.Doubtful} {
		for _, x := range list {
			if x == i {
				return
			}
		}
	}
	require.True(t, after.IsDone(i), "%s", step.ID)
	if step.When.Eval(before) {
		require.True(t, step.When.Eval(after), "%s: %v", step.ID, step.When.Explain(after))
	}
}

// TestSmallBudget: whatever the budget, the bound holds, the way is legal, and
// the same question has the same answer.
func TestSmallBudget(t *testing.T) {
	unproved := 0
	for seed := range uint64(6) {
		p := grownAt(t, 100, 40, seed)
		s := plan.NewPresent(p)
		f := New(p)
		best, err := f.out(s, PartOff(1), Options{Budget: 50_000_000})
		require.NoError(t, err)
		for _, budget := range []int{1, 1000, 30_000, 100_000, 300_000} {
			a, err := f.out(s, PartOff(1), Options{Budget: budget})
			require.NoError(t, err)
			require.True(t, isOff(legal(t, s, a.Steps), 1))
			require.False(t, best.Cost.Less(a.Least), "the bound is no more than what was found")
			require.False(t, a.Cost.Less(best.Least), "what was found is no less than the bound")
			if !a.Proved() {
				unproved++
				require.Contains(t, a.Verdict(), "best found, at most ")
			}
			again, err := New(p).out(s.Clone(), PartOff(1), Options{Budget: budget})
			require.NoError(t, err)
			require.Equal(t, a, again)
		}
	}
	require.Positive(t, unproved)
}

func TestOptions(t *testing.T) {
	p := boxes(t, map[string]string{"a": "{any: [b-off, c-off]}", "c": "d-off"})
	s := plan.NewPresent(p)
	f := New(p)
	goal := PartOff(partOf(t, p, "a"))
	first, err := f.Find(s, goal, Options{})
	require.NoError(t, err)
	rivals, err := f.Rivals(s, first, Options{})
	require.NoError(t, err)
	require.Len(t, rivals, 1)
	require.Equal(t, []string{"b-off", "a-off"}, ids(p, rivals[0].Steps))
	_, err = f.Find(s, goal, Options{Sections: []plan.Section{plan.On}})
	require.Error(t, err)
	_, err = f.Find(s, goal, Options{Without: []plan.StepIndex{stepOf(t, p, "b-off"), stepOf(t, p, "d-off")}})
	require.Error(t, err)
	c := f.Compare(first, rivals[0])
	require.Equal(t, []string{"a-off"}, c.Both)
	require.Equal(t, "A", c.Less)
	require.Contains(t, c.Rows(), Row{"hours there and back", "1.2", "0.8"})
}
