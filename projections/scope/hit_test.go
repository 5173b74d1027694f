package scope

import (
	"math/bits"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// everyHit is the cheapest actions that meet all cuts by trying every subset.
func everyHit(prices []price, cuts [][]int32) price {
	best := dearest
	for set := range 1 << len(prices) {
		var sum price
		for a := range prices {
			if set>>a&1 == 1 {
				sum = sum.add(prices[a])
			}
		}
		meets := func(c []int32) bool {
			return slices.ContainsFunc(c, func(a int32) bool { return set>>a&1 == 1 })
		}
		if sum.less(best) && !slices.ContainsFunc(cuts, func(c []int32) bool { return !meets(c) }) {
			best = sum
		}
	}
	return best
}

func drawCuts(t *rapid.T) ([]price, [][]int32) {
	n := rapid.IntRange(1, 11).Draw(t, "actions")
	prices := make([]price, n)
	for i := range prices {
		prices[i] = price{int64(rapid.IntRange(0, 2).Draw(t, "pieces")), int64(rapid.IntRange(1, 4).Draw(t, "work"))}
	}
	var cuts [][]int32
	for range rapid.IntRange(1, 14).Draw(t, "cuts") {
		set := rapid.IntRange(1, 1<<n-1).Draw(t, "cut")
		var cut []int32
		for ; set != 0; set &= set - 1 {
			cut = append(cut, int32(bits.TrailingZeros(uint(set))))
		}
		cuts = append(cuts, cut)
	}
	return prices, cuts
}

func TestHittingAgainstEverySubset(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		prices, cuts := drawCuts(t)
		want := everyHit(prices, cuts)
		h := &hitting{price: prices, cuts: cuts, upper: dearest, limit: 1 << 30}
		r := h.solve()
		require.True(t, r.exact)
		require.Equal(t, want, r.least)
		var sum price
		for _, a := range r.chosen {
			sum = sum.add(prices[a])
		}
		require.Equal(t, want, sum)
		for _, c := range cuts {
			require.True(t, slices.ContainsFunc(c, func(a int32) bool { return slices.Contains(r.chosen, a) }))
		}

		// With what the answer costs as the upper bound there is nothing below it.
		h = &hitting{price: prices, cuts: cuts, upper: want, limit: 1 << 30}
		r = h.solve()
		require.Nil(t, r.chosen)
		require.Equal(t, want, r.least)

		// A budget that ends at once leaves a bound that holds.
		h = &hitting{price: prices, cuts: cuts, upper: dearest, limit: -1}
		r = h.solve()
		require.False(t, want.less(r.least))
		for _, c := range cuts {
			require.True(t, slices.ContainsFunc(c, func(a int32) bool { return slices.Contains(r.chosen, a) }))
		}
	})
}

func TestPriceIsAnOrderedGroup(t *testing.T) {
	draw := rapid.Custom(func(t *rapid.T) price {
		return price{rapid.Int64Range(-50, 50).Draw(t, "hi"), rapid.Int64Range(-50, 50).Draw(t, "lo")}
	})
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := draw.Draw(t, "a"), draw.Draw(t, "b"), draw.Draw(t, "c")
		require.Equal(t, a, a.add(b).sub(b))
		require.Equal(t, a.less(b), a.add(c).less(b.add(c)), "adding keeps the order")
		require.False(t, a.less(b) && b.less(a))
	})
}

func TestPriceAsCost(t *testing.T) {
	one := price{0, 1 << stepBit}
	minute := price{0, 1 << minuteBit}
	for _, x := range []struct {
		name string
		p    price
		want Cost
	}{
		{"as it is", price{3, 0}.add(minute.times(20)).add(one.times(4)), Cost{3, 20, 4}},
		{"with steps against the grain", price{3, 2}.add(one), Cost{3, 0, 1}},
		{"fewer steps than none: a minute less and many steps is that minute", minute.times(20).sub(one), Cost{0, 20, 0}},
		{"fewer minutes than none", price{2, 0}.sub(minute), Cost{2, 0, 0}},
	} {
		require.Equal(t, x.want, x.p.cost(), x.name)
	}
}
