package scope

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/projections/plan"
)

// webs are those of small questions, each as a maker of fresh ones.
func webs(t *testing.T, each func(name string, weave func() *web)) {
	t.Helper()
	question := func(f *Finder, s *plan.Present, goal plan.Condition) func() *web {
		return func() *web {
			w, ok := f.query(s, goal, &Options{}).weaver(s).weave(nil)
			if !ok || w.goal < 0 {
				return nil
			}
			return w
		}
	}
	for seed := range uint64(6) {
		for _, steps := range []int{20, 50, 100} {
			p := grownAt(t, steps, 30+30*int(seed%2), seed)
			each("grown", question(New(p), plan.NewPresent(p), PartOff(1)))
		}
	}
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 3))
		p := parseDrawn(t, r, 3+r.IntN(5))
		each("drawn", question(New(p), anyState(p, r), drawGoal(p, r)))
	}
	for _, file := range []string{"sorrel-i4-20.yaml", "bramble-t2-42.yaml"} {
		p := load(t, file)
		f := New(p)
		for seed := range uint64(20) {
			r := rand.New(rand.NewPCG(seed, 9))
			each(file, question(f, anyState(p, r), drawGoal(p, r)))
		}
	}
}

// The ways of large webs, taken on small ones: the bound is never above what is
// least, a set always brings the goal up and is never below it, and where the
// two meet they are what is least.
func TestNarrowKeepsWhatIsLeast(t *testing.T) {
	proved, all := 0, 0
	webs(t, func(name string, weave func() *web) {
		w := weave()
		if w == nil {
			return
		}
		exact := newBounder(w, 20_000_000)
		r := exact.run()
		require.True(t, r.exact, name)
		for _, limit := range []int{1, 1000, 30_000, 1_000_000} {
			b := newBounder(weave(), limit)
			b.scale = scaleOf(b.w)
			b.settle()
			b.greedy()
			b.better(limit / 6)
			b.ascend()
			b.again(b.left, limit/6)
			b.narrow(limit)
			best := b.out.sets[0]
			require.False(t, best.price.less(r.least), "%s: a set costs less than the least", name)
			require.False(t, r.least.less(b.out.least), "%s: the bound %v is above the least %v", name, b.out.least, r.least)
			for _, set := range b.out.sets {
				x := newFlow(b.w)
				for _, a := range set.acts {
					x.open(a)
				}
				require.True(t, x.done(), "%s: a set does not bring the goal up", name)
			}
			if limit == 1_000_000 {
				all++
				if !b.open() {
					proved++
				}
			}
		}
	})
	require.Greater(t, 10*proved, 9*all, "%d of %d proved", proved, all)
}

// Closing actions lets down just what opening all others would not bring up,
// and opening them again brings it up again.
func TestClosingIsNotOpening(t *testing.T) {
	webs(t, func(name string, weave func() *web) {
		w := weave()
		if w == nil {
			return
		}
		r := rand.New(rand.NewPCG(uint64(len(w.acts)), 1))
		x := newFlow(w)
		for a := range w.acts {
			x.open(int32(a))
		}
		for range 10 {
			var shut []int32
			for a := range w.acts {
				if r.IntN(4) == 0 {
					shut = append(shut, int32(a))
				}
			}
			x.close(shut...)
			y := newFlow(w)
			for a := range w.acts {
				if x.opens[a] {
					y.open(int32(a))
				}
			}
			require.Equal(t, y.up, x.up, name)
			for _, a := range shut {
				x.open(a)
			}
		}
	})
}

// A scale keeps the order of prices and of their sums.
func TestScaleKeepsOrder(t *testing.T) {
	p := grownAt(t, 100, 30, 1)
	s := plan.NewPresent(p)
	w, _ := New(p).query(s, PartOff(1), &Options{}).weaver(s).weave(nil)
	scale := scaleOf(w)
	r := rand.New(rand.NewPCG(1, 2))
	draw := func() (sum price) {
		for range r.IntN(20) {
			sum = sum.add(w.acts[r.IntN(len(w.acts))].price)
		}
		return sum
	}
	for range 1000 {
		a, b := draw(), draw()
		require.Equal(t, a, scale.price(scale.of(a)))
		require.Equal(t, a.less(b), scale.of(a) < scale.of(b))
	}
	heavy := &web{acts: []action{{price: price{1 << 20, 1 << 60}}, {price: price{3, 1 << 33}}}}
	require.Equal(t, uint(minuteBit), scaleOf(heavy).shift, "what does not fit is left out")
}
