package sequence

import (
	"fmt"
	"math"
	"slices"
)

// Point is where a fastener stands on the face of its joint, in millimetres or
// any one unit of length.
type Point struct{ X, Y float64 }

const (
	// ringPart is how much farther than the nearest of its ring, as a part of
	// the largest distance, a position may lie: coordinates are read off a part
	// with a rule.
	ringPart = 0.02
	// axisPart is how far from the long axis, as a part of the half width, a
	// position still lies on it.
	axisPart = 0.05
)

// Rows is the order for fasteners over a block, such as a cylinder head, from
// their places: the one nearest the middle first, then outwards ring by ring,
// in each ring from one side of the long axis to the other as long as both
// sides have any left, and there as far from the last as there is. It refuses
// no positions, more than 1000, coordinates that are no numbers, and two at one
// place.
func Rows(points []Point) ([]int, error) {
	if err := checkPoints(points); err != nil {
		return nil, err
	}
	b := layOut(points)
	order := make([]int, 0, len(points))
	for _, ring := range b.rings() {
		for len(ring) > 0 {
			i := b.next(order, ring)
			order = append(order, ring[i])
			ring = slices.Delete(ring, i, i+1)
		}
	}
	return order, nil
}

func checkPoints(points []Point) error {
	if err := checkCount(len(points)); err != nil {
		return err
	}
	for i, p := range points {
		if math.IsNaN(p.X+p.Y) || math.IsInf(p.X, 0) || math.IsInf(p.Y, 0) || math.Abs(p.X) > 1e6 || math.Abs(p.Y) > 1e6 {
			return fmt.Errorf("position %d of the tightening order: %v, %v is no place on a joint", i+1, p.X, p.Y)
		}
		if j := slices.Index(points[:i], p); j >= 0 {
			return fmt.Errorf("positions %d and %d of the tightening order: both at %v, %v", j+1, i+1, p.X, p.Y)
		}
	}
	return nil
}

// block is points seen from their middle: distance from it and the side of
// the long axis that each lies on.
type block struct {
	points []Point
	from   []float64
	side   []int // -1, 0 on the axis, 1
}

func layOut(points []Point) block {
	b := block{points: points}
	mid := middle(points)
	along, across := axes(points, mid)
	var off []float64
	halfWidth := 0.0
	for _, p := range points {
		d := Point{p.X - mid.X, p.Y - mid.Y}
		b.from = append(b.from, math.Hypot(d.X, d.Y))
		o := d.X*across.X + d.Y*across.Y
		off = append(off, o)
		halfWidth = max(halfWidth, math.Abs(o))
	}
	length := 0.0
	for _, p := range points {
		length = max(length, math.Abs((p.X-mid.X)*along.X+(p.Y-mid.Y)*along.Y))
	}
	for _, o := range off {
		switch {
		// A single row has no width but what the reading of it gave.
		case math.Abs(o) <= axisPart*halfWidth || halfWidth < ringPart*length:
			b.side = append(b.side, 0)
		case o < 0:
			b.side = append(b.side, -1)
		default:
			b.side = append(b.side, 1)
		}
	}
	return b
}

func middle(points []Point) Point {
	var m Point
	for _, p := range points {
		m.X += p.X
		m.Y += p.Y
	}
	return Point{m.X / float64(len(points)), m.Y / float64(len(points))}
}

// axes are the directions along and across which the points are spread most
// and least. Where they are spread alike, as over a square, along is X.
func axes(points []Point, mid Point) (along, across Point) {
	var xx, yy, xy float64
	for _, p := range points {
		dx, dy := p.X-mid.X, p.Y-mid.Y
		xx, yy, xy = xx+dx*dx, yy+dy*dy, xy+dx*dy
	}
	turn := 0.0
	if math.Hypot(xx-yy, 2*xy) > 0.01*(xx+yy) {
		turn = math.Atan2(2*xy, xx-yy) / 2
	}
	return Point{math.Cos(turn), math.Sin(turn)}, Point{-math.Sin(turn), math.Cos(turn)}
}

// rings are the positions by their distance from the middle, nearest first.
func (b block) rings() [][]int {
	all := make([]int, len(b.points))
	for i := range all {
		all[i] = i
	}
	// Distances that differ by less than reading coordinates can tell are alike.
	slices.SortStableFunc(all, func(i, j int) int {
		if b.from[i] < b.from[j] {
			return -1
		}
		if b.from[i] > b.from[j] {
			return 1
		}
		return 0
	})
	reach := ringPart * slices.Max(b.from)
	var rings [][]int
	start := 0
	for i := 1; i <= len(all); i++ {
		if i == len(all) || b.from[all[i]] > b.from[all[start]]+reach {
			rings = append(rings, all[start:i:i])
			start = i
		}
	}
	return rings
}

// next is the index in a ring of the position that follows an order.
func (b block) next(order, ring []int) int {
	if len(order) == 0 {
		return b.nearest(ring)
	}
	last := order[len(order)-1]
	best := 0
	for i := 1; i < len(ring); i++ {
		if b.before(last, ring[i], ring[best]) {
			best = i
		}
	}
	return best
}

// nearest is the index of the position nearest the middle, the lowest number
// among those that differ by nothing but rounding.
func (b block) nearest(ring []int) int {
	best := 0
	for i, p := range ring {
		d := b.from[p] - b.from[ring[0]]
		if d <= 1e-9*(1+b.from[p]) && p < ring[best] {
			best = i
		}
	}
	return best
}

// before reports whether p should follow last rather than q.
func (b block) before(last, p, q int) bool {
	if sp, sq := b.crossing(last, p), b.crossing(last, q); sp != sq {
		return sp < sq
	}
	dp, dq := b.apart(last, p), b.apart(last, q)
	if math.Abs(dp-dq) > 1e-9*(1+dp) {
		return dp > dq
	}
	return p < q
}

// crossing ranks a step: over the axis, onto it or from it, on one side.
func (b block) crossing(p, q int) int { return b.side[p]*b.side[q] + 1 }

func (b block) apart(p, q int) float64 {
	return math.Hypot(b.points[p].X-b.points[q].X, b.points[p].Y-b.points[q].Y)
}
