package scope

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/projections/plan"
)

// growth says what a large plan is to be like.
type growth struct {
	steps  int
	joints int // percent of the parts that have one
	holes  int // of a joint
	anyOf  int // percent of the conditions that have alternatives
	seed   uint64
}

// grow is a large plan that looks like an engine: every step takes a part off
// that other parts lie before, some by either of two ways, some by a way that
// leads back to itself. The first parts are the deepest. Joints are single-use
// in part, and the parts too.
func grow(t testing.TB, g growth) *plan.Plan {
	t.Helper()
	r := rand.New(rand.NewPCG(g.seed, uint64(g.steps)))
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("plan: {id: grown, family: Grown, edition: 1}")
	line("parts:\n  - {id: block, root: true}")
	reuse := func(percent int) string {
		if r.IntN(100) < percent {
			return ", reuse: new"
		}
		return ""
	}
	for i := 1; i <= g.steps; i++ {
		line("  - {id: p%d, in: block%s}", i, reuse(20))
	}
	line("joints:")
	joint := make([]bool, g.steps+1)
	for i := 1; i <= g.steps; i++ {
		if joint[i] = r.IntN(100) < g.joints; joint[i] {
			line("  - {id: j%d, holes: [{at: 1..%d, in: block, clamps: [p%d], fastener: M8x1.25x30 8.8 flange, grip: 14, depth: 19%s}]}", i, g.holes, i, reuse(25))
		}
	}
	line("steps:\n  off:")
	for i := 1; i <= g.steps; i++ {
		takes := ""
		if joint[i] {
			takes = fmt.Sprintf("takes-out: {j%d: all}, ", i)
		}
		line("    - {id: s%d, %sremoves: [p%d], minutes: %d%s}", i, takes, i, 2+r.IntN(20), growWhen(r, g, i))
	}
	p, err := plan.Parse("grown", []byte(b.String()))
	require.NoError(t, err)
	return p
}

func growWhen(r *rand.Rand, g growth, i int) string {
	if i == g.steps {
		return ""
	}
	reach := min(g.steps-i, max(6, g.steps/8))
	off := func(k int) string { return fmt.Sprintf("{part: p%d, is: off}", k) }
	above := func() string { return off(i + 1 + r.IntN(reach)) }
	var when []string
	for range 1 + r.IntN(2) {
		if r.IntN(100) >= g.anyOf {
			when = append(when, above())
			continue
		}
		ways := []string{above(), above()}
		if r.IntN(3) == 0 {
			ways = append(ways, above())
		}
		if i > 1 && r.IntN(5) == 0 { // a way that leads back
			ways = append(ways, off(1+r.IntN(i-1)))
		}
		when = append(when, "{any: ["+strings.Join(ways, ", ")+"]}")
	}
	return ", when: [" + strings.Join(when, ", ") + "]"
}

// sizes of the curve. A joint has as many holes as a plan can have in all.
var grownSizes = []int{20, 50, 100, 200, 500, 1000, 2000}

func grownAt(t testing.TB, steps int, anyOf int, seed uint64) *plan.Plan {
	return grow(t, growth{steps: steps, joints: 80, holes: max(1, min(5, 6000/steps)), anyOf: anyOf, seed: seed})
}

// TestGrown holds that the answers on large plans are ways, and what is said
// of them; that 100 steps with 30 of 100 conditions any-of are proved least.
func TestGrown(t *testing.T) {
	for _, steps := range grownSizes {
		for _, any := range []int{0, 30, 60} {
			p := grownAt(t, steps, any, 1)
			s := plan.NewPresent(p)
			a, err := New(p).out(s, PartOff(1), Options{})
			require.NoError(t, err)
			require.True(t, isOff(legal(t, s, a.Steps), 1))
			require.Equal(t, costOf(s, a.Steps), a.Cost)
			require.False(t, a.Cost.Less(a.Least))
			if steps <= 100 || any == 0 {
				require.Equal(t, "proved least", a.Verdict(), "%d steps, %d %% any-of", steps, any)
			}
			require.LessOrEqual(t, a.Looks, DefaultBudget*5/4, "%d steps, %d %% any-of", steps, any)
		}
	}
}

// TestGrownGap holds how near to the least the answers on large plans are known
// to be. Looks are counted and no time, so it is the same everywhere.
func TestGrownGap(t *testing.T) {
	for _, row := range []struct{ steps, any, percent int }{{200, 30, 5}, {500, 30, 10}, {1000, 30, 20}, {2000, 30, 40}, {500, 60, 25}} {
		cost, least := 0, 0
		for seed := range uint64(4) {
			p := grownAt(t, row.steps, row.any, seed)
			a, err := New(p).out(plan.NewPresent(p), PartOff(1), Options{})
			require.NoError(t, err)
			cost += a.Cost.Pieces
			least += a.Least.Pieces
		}
		require.LessOrEqual(t, 100*(cost-least), row.percent*cost, "%d steps, %d %% any-of: %d pieces found, %d at least", row.steps, row.any, cost, least)
	}
}
