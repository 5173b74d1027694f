package sequence

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

const (
	// evenPart is how far from its regular place, as a part of the regular
	// spacing, a position may stand on a circle that counts as even.
	evenPart = 0.25
	// hubPart is how near to the middle, as a part of the largest distance, a
	// position has no direction any more.
	hubPart = 0.2
)

// Around is the order for fasteners around a closed line, such as a flange or
// a cover, from their places: that of Circle, begun at the first of them and
// going on around the middle the way they are numbered, clockwise or not, where
// they stand evenly; and
// otherwise by pairs, each second as nearly opposite as there is, and each next
// pair where the untightened gap is widest. It refuses what Rows refuses, and
// a position in the middle.
func Around(points []Point) ([]int, error) {
	if err := checkPoints(points); err != nil {
		return nil, err
	}
	ring, angles, err := directions(points)
	if err != nil {
		return nil, err
	}
	if even(angles) {
		order, err := Circle(len(points))
		if err != nil {
			return nil, err
		}
		return Names(order, ring), nil
	}
	return Names(pairs(angles), ring), nil
}

// directions are the positions as they stand around their middle from the
// first of them, with their angles in turns from it.
func directions(points []Point) (ring []int, angles []float64, err error) {
	mid := middle(points)
	far := 0.0
	for _, p := range points {
		far = max(far, math.Hypot(p.X-mid.X, p.Y-mid.Y))
	}
	turns := make([]float64, len(points))
	for i, p := range points {
		if d := math.Hypot(p.X-mid.X, p.Y-mid.Y); d < hubPart*far {
			return nil, nil, fmt.Errorf("position %d of the tightening order: it stands in the middle of the others, not around it", i+1)
		}
		turns[i] = math.Atan2(p.Y-mid.Y, p.X-mid.X) / (2 * math.Pi)
		ring = append(ring, i)
	}
	if clockwise(points) { // around the way they are numbered
		for i := range turns {
			turns[i] = -turns[i]
		}
	}
	for i := len(turns) - 1; i >= 0; i-- {
		turns[i] -= turns[0]
		turns[i] -= math.Floor(turns[i])
		if 1-turns[i] < 1e-12 {
			turns[i] = 0
		}
	}
	slices.SortStableFunc(ring, func(a, b int) int { return cmp.Compare(turns[a], turns[b]) })
	for _, i := range ring {
		angles = append(angles, turns[i])
	}
	return ring, angles, nil
}

// clockwise reports whether positions are numbered clockwise around, seen with y
// upwards: the area that they run around is below zero then.
func clockwise(points []Point) bool {
	area := 0.0
	for i, p := range points {
		q := points[(i+1)%len(points)]
		area += p.X*q.Y - q.X*p.Y
	}
	return area < 0
}

func even(angles []float64) bool {
	n := float64(len(angles))
	for i, a := range angles {
		if math.Abs(a*n-float64(i)) > evenPart {
			return false
		}
	}
	return true
}

// pairs orders angles in turns.
func pairs(angles []float64) []int {
	var order []int
	left := make([]int, len(angles))
	for i := range left {
		left[i] = i
	}
	take := func(score func(int) float64) {
		best := 0
		for i := range left {
			if score(left[i]) > score(left[best])+1e-9 {
				best = i
			}
		}
		order = append(order, left[best])
		left = slices.Delete(left, best, best+1)
	}
	for len(left) > 0 {
		take(func(p int) float64 { return gap(angles, order, p) })
		if len(left) > 0 {
			first := angles[order[len(order)-1]]
			take(func(p int) float64 { return turned(angles[p], first) })
		}
	}
	return order
}

// gap is how far a position stands from the nearest of those in the order; all
// alike before the first.
func gap(angles []float64, order []int, p int) float64 {
	least := 1.0
	for _, o := range order {
		least = min(least, turned(angles[p], angles[o]))
	}
	return least
}

// turned is the smaller angle between two directions in turns, up to a half.
func turned(a, b float64) float64 {
	d := math.Abs(a - b)
	return min(d, 1-d)
}
