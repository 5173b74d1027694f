package sequence

import "fmt"

// Most positions that an order is computed for.
const mostPositions = 1000

func checkCount(n int) error {
	if n < 1 || n > mostPositions {
		return fmt.Errorf("tightening order of %d positions: from 1 to %d can be ordered", n, mostPositions)
	}
	return nil
}

// Circle is the order for n positions evenly around a circle, numbered around
// it from 0: a permutation of 0 to n-1. With an even n each second position
// lies opposite the one before; with a multiple of four each four are a cross,
// so that after each of them the tightened ones balance. It refuses less than
// one position and more than 1000.
func Circle(n int) ([]int, error) {
	if err := checkCount(n); err != nil {
		return nil, err
	}
	order := make([]int, 0, n)
	switch {
	case n%4 == 0:
		for _, o := range spread(n / 4) {
			order = append(order, o, o+n/2, o+n/4, o+n/4*3)
		}
	case n%2 == 0:
		for _, o := range spread(n / 2) {
			order = append(order, o, o+n/2)
		}
	default:
		// The step of a star has no factor in common with n, so it meets all.
		for i := range n {
			order = append(order, i*(n/2)%n)
		}
	}
	return order, nil
}

// spread orders the places of a ring of q so that each next one lies in the
// widest gap, there as far as can be from the places that are taken, and among
// equals farthest from the one before.
func spread(q int) []int {
	order, taken := make([]int, 1, q), make([]bool, q)
	taken[0] = true
	for len(order) < q {
		before, after := reaches(taken)
		best, bestScore := -1, [3]int{}
		for p := range q {
			if taken[p] {
				continue
			}
			last := order[len(order)-1]
			score := [3]int{min(before[p], after[p]), before[p] + after[p], apart(p, last, q)}
			if best < 0 || less(bestScore, score) {
				best, bestScore = p, score
			}
		}
		taken[best] = true
		order = append(order, best)
	}
	return order
}

// reaches is the way from each place of a ring back and on to the next taken
// one.
func reaches(taken []bool) (before, after []int) {
	q := len(taken)
	before, after = make([]int, q), make([]int, q)
	for i := 1; i < 2*q; i++ {
		if p := i % q; !taken[p] {
			before[p] = before[(i-1)%q] + 1
		}
	}
	for i := 2*q - 2; i >= 0; i-- {
		if p := i % q; !taken[p] {
			after[p] = after[(i+1)%q] + 1
		}
	}
	return before, after
}

// apart is the shorter way between two places of a ring of q.
func apart(a, b, q int) int {
	d := (a - b + q) % q
	return min(d, q-d)
}

func less(a, b [3]int) bool {
	for i := range a {
		if a[i] != b[i] {
			return a[i] < b[i]
		}
	}
	return false
}

// Grouped is the order for very many positions around a circle, taken in
// groups of size neighbours that are turned one after the other before the
// next group (ASME PCC-1-2019 as told at knm-hydraulikk.no: 48 as 12 groups of
// four, the first, then the seventh). It refuses a size that does not divide n.
func Grouped(n, size int) ([]int, error) {
	if size < 1 || n%size != 0 {
		return nil, fmt.Errorf("tightening order of %d positions in groups of %d: the groups do not come out even", n, size)
	}
	groups, err := Circle(n / size)
	if err != nil {
		return nil, err
	}
	var order []int
	for _, g := range groups {
		for i := range size {
			order = append(order, g*size+i)
		}
	}
	return order, nil
}
