package sequence

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// grid is rows x columns, numbered row by row from the left.
func grid(columns, rows int, dx, dy float64) []Point {
	var list []Point
	for r := range rows {
		for c := range columns {
			list = append(list, Point{float64(c) * dx, float64(r) * dy})
		}
	}
	return list
}

// A head of two rows of five: the middle pair, then outwards, always over to
// the other row and to the other end.
func TestRowsTwoByFive(t *testing.T) {
	order, err := Rows(grid(5, 2, 90, 100))
	require.NoError(t, err)
	require.Equal(t, []int{2, 7, 1, 8, 3, 6, 4, 5, 0, 9}, order)
	require.Equal(t, []int{9, 0, 5, 4, 6, 3, 8, 1, 7, 2}, Loosen(order))
	require.Equal(t, []string{"c", "h"}, Names(order[:2], []string{"a", "b", "c", "d", "e", "f", "g", "h", "i", "k"}))
}

func TestRowsShapes(t *testing.T) {
	for _, row := range []struct {
		what   string
		points []Point
		want   []int
	}{
		{"one", grid(1, 1, 0, 0), []int{0}},
		{"a cap with two", grid(2, 1, 60, 0), []int{0, 1}},
		{"a single row goes out to both ends", grid(5, 1, 60, 0), []int{2, 1, 3, 0, 4}},
		{"a square", grid(2, 2, 60, 60), []int{0, 3, 1, 2}},
		{"standing on end", grid(2, 3, 80, 90), []int{2, 3, 0, 5, 4, 1}},
		{"one in the middle", []Point{{0, 0}, {100, 0}, {50, 40}, {0, 80}, {100, 80}}, []int{2, 0, 4, 1, 3}},
	} {
		order, err := Rows(row.points)
		require.NoError(t, err)
		require.Equal(t, row.want, order, row.what)
	}
}

// The order does not hang on where the zero of the coordinates is, on the unit
// they are in, or on a millimetre of bad reading.
func TestRowsHoldsStill(t *testing.T) {
	head := grid(5, 2, 90, 100)
	want, err := Rows(head)
	require.NoError(t, err)
	for _, change := range []func(int, Point) Point{
		func(_ int, p Point) Point { return Point{p.X + 1234.5, p.Y - 777} },
		func(_ int, p Point) Point { return Point{p.X / 25.4, p.Y / 25.4} },
		func(i int, p Point) Point { return Point{p.X, p.Y + float64(i%2)*0.7} },
	} {
		moved := slices.Clone(head)
		for i := range moved {
			moved[i] = change(i, moved[i])
		}
		order, err := Rows(moved)
		require.NoError(t, err)
		if moved[1].Y-head[1].Y != 0.7 {
			require.Equal(t, want, order)
			continue
		}
		// Badly read, the same rings and the same crossings.
		require.ElementsMatch(t, want[:2], order[:2])
		require.ElementsMatch(t, want[2:6], order[2:6])
		requireCrossing(t, moved, order)
	}
}

// requireCrossing holds an order over a block to its promises, from the
// coordinates alone: nearest first, never back inwards by more than a ring is
// wide, and over the axis as long as the ring has any on the other side.
func requireCrossing(t require.TestingT, points []Point, order []int) {
	requirePermutation(t, order, len(points))
	b := layOut(points)
	reach := ringPart * slices.Max(b.from)
	for i, p := range order {
		for _, q := range order[i:] {
			require.LessOrEqual(t, b.from[p], b.from[q]+reach+1e-9)
			if i == 0 {
				require.LessOrEqual(t, b.from[p], b.from[q]+1e-6)
			}
		}
		if i == 0 || b.side[order[i-1]] == 0 || b.side[order[i-1]] != b.side[p] {
			continue
		}
		for _, ring := range b.rings() {
			if !slices.Contains(ring, p) {
				continue
			}
			for _, q := range order[i:] {
				if slices.Contains(ring, q) {
					require.Equal(t, b.side[p], b.side[q], "%d then %d on one side, and %d was left on the other", order[i-1], p, q)
				}
			}
		}
	}
}

func TestRowsProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		columns, rows := rapid.IntRange(1, 9).Draw(t, "columns"), rapid.IntRange(1, 4).Draw(t, "rows")
		points := grid(columns, rows, rapid.Float64Range(20, 120).Draw(t, "dx"), rapid.Float64Range(20, 120).Draw(t, "dy"))
		turn := rapid.Float64Range(0, 2*math.Pi).Draw(t, "turn")
		for i, p := range points {
			points[i] = Point{p.X*math.Cos(turn) - p.Y*math.Sin(turn), p.X*math.Sin(turn) + p.Y*math.Cos(turn)}
		}
		drop := rapid.IntRange(0, len(points)-1).Draw(t, "drop")
		if len(points) > 1 && rapid.Bool().Draw(t, "dropped") {
			points = slices.Delete(points, drop, drop+1)
		}
		order, err := Rows(points)
		require.NoError(t, err)
		requireCrossing(t, points, order)
		again, err := Rows(points)
		require.NoError(t, err)
		require.Equal(t, order, again)
		back := Loosen(order)
		for i, p := range order {
			require.Equal(t, p, back[len(back)-1-i])
		}
	})
}

func circle(n int, start float64) []Point {
	var list []Point
	for i := range n {
		a := start + 2*math.Pi*float64(i)/float64(n)
		list = append(list, Point{100 + 60*math.Cos(a), 50 + 60*math.Sin(a)})
	}
	return list
}

// From coordinates a plain circle comes out as from its number, whichever way
// round and however they are numbered.
func TestAroundIsCircle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 40).Draw(t, "n")
		points := circle(n, rapid.Float64Range(0, 6).Draw(t, "start"))
		if rapid.Bool().Draw(t, "the other way round") {
			slices.Reverse(points)
		}
		shift := rapid.IntRange(0, n-1).Draw(t, "shift")
		points = append(points[shift:], points[:shift]...)
		order, err := Around(points)
		require.NoError(t, err)
		requirePermutation(t, order, n)
		if n > 2 {
			require.Equal(t, 0, order[0])
		}
		want, err := Circle(n)
		require.NoError(t, err)
		for i := range order {
			require.InDelta(t, spanOf(points, points[0], points[order[i]]), spanOf(circle(n, 0), circle(n, 0)[0], circle(n, 0)[want[i]]), 1e-6)
		}
	})
}

// The published order of twelve comes out hole by hole from their places, for
// holes that are numbered clockwise from the top as for those numbered the other
// way: each way round the numbers are those of the table (ASME PCC-1 legacy cross
// pattern as reproduced at wjlr.roverradio.com/post/12-bolt-flange-torque-pattern).
func TestAroundIsThePublishedOrder(t *testing.T) {
	for name, way := range map[string]float64{"clockwise from the top": -1, "anticlockwise from the top": 1} {
		points := make([]Point, 12)
		for i := range points {
			a := math.Pi/2 + way*float64(i)*math.Pi/6
			points[i] = Point{80 * math.Cos(a), 80 * math.Sin(a)}
		}
		order, err := Around(points)
		require.NoError(t, err)
		for i := range order {
			order[i]++
		}
		require.Equal(t, []int{1, 7, 4, 10, 2, 8, 5, 11, 3, 9, 6, 12}, order, name)
	}
}

func spanOf(points []Point, p, q Point) float64 { return math.Hypot(p.X-q.X, p.Y-q.Y) }

// An uneven cover: each second as nearly opposite as there is.
func TestAroundUneven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 24).Draw(t, "n")
		seen := map[int]bool{}
		var points []Point
		for len(points) < n {
			deg := rapid.IntRange(0, 359).Draw(t, "deg")
			if seen[deg] {
				continue
			}
			seen[deg] = true
			a := float64(deg) * math.Pi / 180
			points = append(points, Point{200 * math.Cos(a), 120 * math.Sin(a)})
		}
		order, err := Around(points)
		if err != nil {
			require.ErrorContains(t, err, "in the middle of the others")
			return
		}
		requirePermutation(t, order, n)
		ring, angles, err := directions(points)
		require.NoError(t, err)
		if even(angles) {
			return
		}
		at := func(p int) float64 { return angles[slices.Index(ring, p)] }
		for i := 1; i < n; i += 2 {
			for _, q := range order[i:] {
				require.LessOrEqual(t, turned(at(q), at(order[i-1])), turned(at(order[i]), at(order[i-1]))+1e-9)
			}
		}
	})
}

func TestPointsRefused(t *testing.T) {
	for _, row := range []struct {
		points []Point
		why    string
	}{
		{nil, "0 positions"},
		{make([]Point, 1001), "1001 positions"},
		{[]Point{{0, 0}, {math.NaN(), 1}}, "position 2"},
		{[]Point{{0, 0}, {1, math.Inf(-1)}}, "position 2"},
		{[]Point{{0, 0}, {2e6, 1}}, "position 2"},
		{[]Point{{0, 0}, {5, 5}, {0, 0}}, "positions 1 and 3"},
	} {
		_, err := Rows(row.points)
		require.ErrorContains(t, err, row.why)
		_, err = Around(row.points)
		require.ErrorContains(t, err, row.why)
	}
	_, err := Around(append(circle(6, 0), Point{100, 50}))
	require.ErrorContains(t, err, "position 7 of the tightening order: it stands in the middle of the others")
}

func TestCheck(t *testing.T) {
	holes := []string{"1", "2", "3", "4"}
	require.NoError(t, Check([]string{"3", "1", "4", "2"}, holes))
	for _, row := range []struct {
		order []string
		why   string
	}{
		{[]string{"3", "1", "4"}, "it misses 2"},
		{nil, "it misses 1, 2, 3, 4"},
		{[]string{"3", "1", "4", "2", "1", "1"}, "it has twice 1"},
		{[]string{"3", "1", "4", "2", "5"}, "it has, but the joint does not, 5"},
		{[]string{"3", "3", "9", "2"}, "it misses 1, 4; it has twice 3; it has, but the joint does not, 9"},
	} {
		require.ErrorContains(t, Check(row.order, holes), row.why)
	}
}
