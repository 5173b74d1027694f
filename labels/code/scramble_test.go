package code

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func distance(a, b [4]byte) int {
	d := 0
	for i := range a {
		if a[i] != b[i] {
			d++
		}
	}
	return d
}

// Every counter has its own four characters and comes back from them.
func TestScrambleIsABijection(t *testing.T) {
	seen := make([]bool, counters)
	for n := range uint32(counters) {
		four := scramble(n)
		if back := unscramble(string(four[:])); back != n {
			t.Fatalf("%d comes back as %d", n, back)
		}
		at := 0
		for _, c := range four {
			at = at*base + int(places[c])
		}
		if seen[at] {
			t.Fatalf("%d and another give %s", n, four)
		}
		seen[at] = true
	}
}

// All minors of the matrix differ from zero modulo 31, so that counters that
// differ in k digits differ in 5 - k characters or more.
func TestAllMinorsDifferFromZero(t *testing.T) {
	for size := 1; size <= 4; size++ {
		for rows := range 16 {
			for cols := range 16 {
				r, c := picked(rows), picked(cols)
				if len(r) == size && len(c) == size {
					require.NotZero(t, ((determinant(r, c)%base)+base)%base, "rows %v columns %v", r, c)
				}
			}
		}
	}
}

func picked(bits int) []int {
	var list []int
	for i := range 4 {
		if bits>>i&1 == 1 {
			list = append(list, i)
		}
	}
	return list
}

func determinant(rows, cols []int) int {
	if len(rows) == 0 {
		return 1
	}
	sum, sign := 0, 1
	for i := range cols {
		var rest []int
		rest = append(append(rest, cols[:i]...), cols[i+1:]...)
		sum += sign * mix[rows[0]][cols[i]] * determinant(rows[1:], rest)
		sign = -sign
	}
	return sum
}

func TestUnmixUndoesMix(t *testing.T) {
	for i := range 4 {
		for j := range 4 {
			sum := 0
			for k := range 4 {
				sum += unmix[i][k] * mix[k][j]
			}
			want := 0
			if i == j {
				want = 1
			}
			require.Equal(t, want, sum%base)
		}
	}
}

func TestNeighbouringCountersAreFarApart(t *testing.T) {
	for n := range uint32(counters - 1) {
		if d := distance(scramble(n), scramble(n+1)); d != 4 {
			t.Fatalf("%d and the next differ in %d", n, d)
		}
	}
	// Pairwise within a block; the blocks are alike but for a constant.
	for a := range uint32(961) {
		for b := range a {
			if d := distance(scramble(a), scramble(b)); d < 3 {
				t.Fatalf("%d and %d differ in %d", a, b, d)
			}
		}
	}
	for _, block := range []uint32{1, 30, 31, 960} {
		for n := range uint32(961) {
			a, b := scramble(n), scramble(block*961+n)
			c, d := scramble(0), scramble(block*961)
			for i := range 4 {
				require.Equal(t, (places[b[i]]+31-places[a[i]])%31, (places[d[i]]+31-places[c[i]])%31)
			}
		}
	}
}

// Two counters that share their first two characters are 927 or more apart, in
// the whole range.
func TestSameHeadIsFarAway(t *testing.T) {
	last := make([]int, base*base)
	for i := range last {
		last[i] = -counters
	}
	nearest := counters
	for n := range counters {
		four := scramble(uint32(n))
		head := int(places[four[0]])*base + int(places[four[1]])
		nearest = min(nearest, n-last[head])
		last[head] = n
	}
	require.Equal(t, 927, nearest)
}
