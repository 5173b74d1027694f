package panel

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
)

func holes(text string) []events.Hole {
	var list []events.Hole
	for _, h := range strings.Fields(text) {
		list = append(list, events.Hole(h))
	}
	return list
}

// drawn writes a grid as text, "." where nothing is.
func drawn(names []events.Hole, spots []Spot) string {
	rows, cols := 0, 0
	for _, s := range spots {
		rows, cols = max(rows, s.Row+1), max(cols, s.Col+1)
	}
	var lines []string
	for r := range rows {
		var line []string
		for c := range cols {
			text := "."
			for i, s := range spots {
				if s == (Spot{r, c}) {
					text = string(names[i])
				}
			}
			line = append(line, text)
		}
		lines = append(lines, strings.Join(line, " "))
	}
	return strings.Join(lines, "/")
}

func TestLay(t *testing.T) {
	for _, row := range []struct {
		names   string
		columns int
		want    string
		why     string
	}{
		{"1 2 3 4", 8, "1 2 3 4", "all in one row"},
		{"1 2 3 4 5 6 7 8 9 10", 5, "1 2 3 4 5/6 7 8 9 10", "two rows of five"},
		{"1 2 3 4 5 6 7", 6, "1 2 3 4/5 6 7 .", "rows of about the same length, not six and one"},
		{"I1 I2 I3 I4 E1 E2 E3 E4", 8, "I1 I2 I3 I4/E1 E2 E3 E4", "a letter before the number is a row"},
		{"1Ia 1Ib 2Ia 2Ib 1Ea 2Ea", 8, "1Ia 2Ia/1Ib 2Ib/1Ea 2Ea", "letters behind it are rows"},
		{"I1 I9 E1", 4, "I1 I9 E1", "numbers that do not fit into the columns: in order"},
		{"upper lower", 4, "upper lower", "no numbers: in order"},
		{"I1 E1 plug", 4, "I1 E1 plug", "one without a number: in order"},
		{"I1 I1 E1", 4, "I1 I1 E1", "a name twice: in order, none on top of another"},
		{"1 2 3", 0, "1/2/3", "no room: one in a row"},
		{"", 4, "", "nothing"},
	} {
		names := holes(row.names)
		require.Equal(t, row.want, drawn(names, Lay(names, row.columns)), row.why)
	}
}

// No two holes of the plan ever stand on one spot, at any width.
func TestLayGivesEachHoleItsOwnSpot(t *testing.T) {
	pl := newStage(t).job().State().Plan()
	for i := range pl.Joints {
		var names []events.Hole
		for _, ix := range pl.Joints[i].Seats {
			names = append(names, pl.Seats[ix].Hole)
		}
		for columns := 1; columns < 30; columns++ {
			seen := map[Spot]bool{}
			for _, s := range Lay(names, columns) {
				require.False(t, seen[s], "joint %s, %d columns", pl.Joints[i].ID, columns)
				require.Less(t, s.Col, columns)
				seen[s] = true
			}
		}
	}
}

func TestSortCells(t *testing.T) {
	cells := []Cell{{Name: "10"}, {Name: "E2"}, {Name: "2"}, {Name: "I1"}, {Name: "1"}, {Name: "E1"}}
	sortCells(cells)
	var names []string
	for _, c := range cells {
		names = append(names, c.Name)
	}
	require.Equal(t, []string{"1", "2", "10", "E1", "E2", "I1"}, names)
}
