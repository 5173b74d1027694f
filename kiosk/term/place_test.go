package term

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/kiosk/panel"
)

// No two holes lie on each other, none outside, and where none was moved what
// is to the left is on the left and what is above is above.
func TestHolesInPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cells := make([]panel.Cell, rapid.IntRange(1, 24).Draw(t, "holes"))
		mm := rapid.Float64Range(-5000, 5000)
		if rapid.Bool().Draw(t, "small") {
			mm = rapid.Float64Range(-60, 60)
		}
		for i := range cells {
			cells[i] = panel.Cell{Name: itoa(i + 1), X: mm.Draw(t, "x"), Y: mm.Draw(t, "y")}
		}
		w, h := rapid.IntRange(5, 150).Draw(t, "w"), rapid.IntRange(1, 40).Draw(t, "h")
		wide, tall := rapid.IntRange(6, 9).Draw(t, "wide"), rapid.IntRange(1, 2).Draw(t, "tall")
		d, ok := spots(cells, w, h, wide, tall, rapid.Bool().Draw(t, "stretch"))
		if !ok {
			return
		}
		require.Len(t, d.boxes, len(cells))
		low := 0
		for i, a := range d.boxes {
			require.True(t, a.x >= 0 && a.y >= 0 && a.x+wide <= w && a.y+tall <= h, "%v outside %d x %d", a, w, h)
			low = max(low, a.y+tall)
			for j, b := range d.boxes[:i] {
				require.False(t, a.x < b.x+wide && b.x < a.x+wide && a.y < b.y+tall && b.y < a.y+tall, "%v and %v", a, b)
				if d.moved == 0 && a.x > b.x+5 {
					require.Greater(t, cells[i].X, cells[j].X)
				}
				if d.moved == 0 && a.y > b.y {
					require.Less(t, cells[i].Y, cells[j].Y)
				}
			}
		}
		require.Equal(t, low, d.rows)
	})
}

// Four holes of a square with room enough are a square, and to scale.
func TestInPlaceIsToScale(t *testing.T) {
	cells := []panel.Cell{{Name: "1", X: -30, Y: 30}, {Name: "2", X: 30, Y: 30}, {Name: "3", X: 30, Y: -30}, {Name: "4", X: -30, Y: -30}}
	d, ok := spots(cells, 118, 20, 8, 2, false)
	require.True(t, ok)
	require.Zero(t, d.moved)
	a := d.boxes
	require.Equal(t, []int{a[0].x, a[1].x, a[0].y, a[2].y}, []int{a[3].x, a[2].x, a[1].y, a[3].y})
	require.Equal(t, (a[2].y-a[0].y)*cellRatio, a[1].x-a[0].x, "as wide as high, to the eye")
}

func TestJointPanelSaysHowItLies(t *testing.T) {
	cells := []panel.Cell{{Name: "1", X: 0, Y: 10}, {Name: "2", X: 300, Y: 10}, {Name: "3", X: 150, Y: 200}}
	p := panel.Panel{Title: "Cover", Cells: cells, Placed: true, Left: "front", Top: "head", Note: "left side (left and right from behind)"}
	for _, row := range []struct {
		blocks bool
		w, h   int
		want   []string
	}{
		{true, 80, 24, []string{"◄ front   ▲ head   left side (left and right from behind)"}},
		{false, 80, 24, []string{"<- front   ^ head   left side"}},
		{true, 60, 16, nil},
	} {
		text := picture(t, Frame{Panel: p}, keyboard{}, look{blocks: row.blocks}, row.w, row.h)
		for _, want := range row.want {
			require.Contains(t, text, want)
			lines := strings.Split(text, "\n")
			at := func(hole string) (x, y int) {
				for y, l := range lines {
					if x := strings.Index(l, hole); x >= 0 {
						return len([]rune(l[:x])), y
					}
				}
				require.Fail(t, "no "+hole, text)
				return 0, 0
			}
			x1, y1 := at("( 1")
			x2, y2 := at("( 2")
			x3, y3 := at("( 3")
			require.True(t, x1 < x3 && x3 < x2 && y3 < y1 && y1 == y2, text)
		}
	}
	for i := range 60 {
		p.Cells = append(p.Cells, panel.Cell{Name: fmt.Sprint(i + 4), X: float64(i), Y: float64(i)})
	}
	text := picture(t, Frame{Panel: p}, keyboard{}, look{blocks: true}, 80, 24)
	require.Contains(t, text, "no room here to draw them in place: in the order of their numbers")
}
