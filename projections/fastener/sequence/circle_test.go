package sequence

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// ASME PCC-1 legacy cross patterns (2010 table 4, 2019 appendix F), from
// memory; that of twelve as reproduced at
// wjlr.roverradio.com/post/12-bolt-flange-torque-pattern; that of 32 from
// memory as well.
func TestCircleLegacyPatterns(t *testing.T) {
	for n, want := range map[int][]int{
		4:  {1, 3, 2, 4},
		8:  {1, 5, 3, 7, 2, 6, 4, 8},
		12: {1, 7, 4, 10, 2, 8, 5, 11, 3, 9, 6, 12},
		16: {1, 9, 5, 13, 3, 11, 7, 15, 2, 10, 6, 14, 4, 12, 8, 16},
		20: {1, 11, 6, 16, 3, 13, 8, 18, 5, 15, 10, 20, 2, 12, 7, 17, 4, 14, 9, 19},
		24: {1, 13, 7, 19, 4, 16, 10, 22, 2, 14, 8, 20, 5, 17, 11, 23, 3, 15, 9, 21, 6, 18, 12, 24},
		32: {1, 17, 9, 25, 5, 21, 13, 29, 3, 19, 11, 27, 7, 23, 15, 31, 2, 18, 10, 26, 6, 22, 14, 30, 4, 20, 12, 28, 8, 24, 16, 32},
		// The five-pointed star, common practice.
		5: {1, 3, 5, 2, 4},
		// Opposite pairs, the plain case of six.
		6: {1, 4, 2, 5, 3, 6},
		1: {1}, 2: {1, 2}, 3: {1, 2, 3},
	} {
		order, err := Circle(n)
		require.NoError(t, err)
		for i := range order {
			order[i]++
		}
		require.Equal(t, want, order, "%d positions", n)
	}
}

// What holds for all of these holds for every number of positions.
func TestCircleProperties(t *testing.T) {
	for n := 1; n <= 260; n++ {
		order, err := Circle(n)
		require.NoError(t, err)
		requirePermutation(t, order, n)
		var x, y float64
		tightened := make([]bool, n)
		widest := n
		for i, p := range order {
			if n%2 == 0 && i%2 == 1 {
				require.Equal(t, n/2, apart(order[i-1], p, n), "%d positions: %d is not opposite %d", n, p+1, order[i-1]+1)
			}
			x, y = x+math.Cos(2*math.Pi*float64(p)/float64(n)), y+math.Sin(2*math.Pi*float64(p)/float64(n))
			tightened[p] = true
			gap := widestGap(tightened)
			require.LessOrEqual(t, gap, widest)
			widest = gap
			pull := math.Hypot(x, y)
			switch {
			case n%4 == 0 && i%4 == 3:
				require.InDelta(t, 0, pull, 1e-9, "%d positions: not balanced after %d", n, i+1)
				regular := float64(n) / float64(i+1)
				require.LessOrEqual(t, float64(gap), math.Ceil(2*regular), "%d positions: a gap of %d after %d", n, gap, i+1)
			case n%2 == 0 && i%2 == 1:
				require.InDelta(t, 0, pull, 1e-9)
			case n%2 == 0:
				require.InDelta(t, 1, pull, 1e-9)
			default:
				// A star never pulls to one side by more than little more than one.
				require.LessOrEqual(t, pull, 1/math.Sin(math.Pi*float64(n/2)/float64(n))+1e-9)
			}
		}
	}
}

func requirePermutation(t require.TestingT, order []int, n int) {
	sorted := slices.Sorted(slices.Values(order))
	require.Len(t, sorted, n)
	for i, p := range sorted {
		require.Equal(t, i, p)
	}
}

// widestGap counts by walking around the ring twice.
func widestGap(tightened []bool) int {
	widest, run := 0, 0
	for i := range 2 * len(tightened) {
		run++
		if tightened[i%len(tightened)] {
			run = 0
		}
		widest = max(widest, run)
	}
	return min(widest+1, len(tightened))
}

func TestCircleRefused(t *testing.T) {
	for _, n := range []int{0, -1, 1001, 1 << 40} {
		_, err := Circle(n)
		require.ErrorContains(t, err, "from 1 to 1000")
	}
	_, err := Circle(mostPositions)
	require.NoError(t, err)
}

// 48 as 12 groups of four: 1, 2, 3, 4, then group 7 (knm-hydraulikk.no on ASME
// PCC-1-2019).
func TestGrouped(t *testing.T) {
	order, err := Grouped(48, 4)
	require.NoError(t, err)
	requirePermutation(t, order, 48)
	require.Equal(t, []int{0, 1, 2, 3, 24, 25, 26, 27}, order[:8])
	plain, err := Circle(12)
	require.NoError(t, err)
	single, err := Grouped(12, 1)
	require.NoError(t, err)
	require.Equal(t, plain, single)
	for _, size := range []int{0, -1, 5, 49} {
		_, err := Grouped(48, size)
		require.ErrorContains(t, err, "do not come out even")
	}
	_, err = Grouped(0, 4)
	require.Error(t, err)
}
