package panel

import (
	"cmp"
	"slices"
	"strings"

	"countback/events"
)

// Spot is the place of one name on a grid, counted from 0.
type Spot struct{ Row, Col int }

// Lay lays names out on a grid by the numbers in them, since no plan says
// where a hole lies. Plain numbers go in their order, in rows of about the same
// length, at most so many in a row. A letter before a number is a row of its
// own (I1 I2 I3, E1 E2 E3 below), letters behind it are rows too (1Ia 2Ia
// 3Ia). What has no number stands at the end, in its order. columns is at
// least 1.
func Lay(names []events.Hole, columns int) []Spot {
	columns = max(1, columns)
	spots := make([]Spot, len(names))
	parts := make([]part, len(names))
	rows := []string{}
	numbered := true
	for i, name := range names {
		parts[i] = cut(string(name))
		numbered = numbered && parts[i].number > 0
		if !has(rows, parts[i].letters) {
			rows = append(rows, parts[i].letters)
		}
	}
	if len(rows) < 2 || !numbered || tooWide(parts, columns) {
		return inOrder(spots, columns)
	}
	for i, p := range parts {
		spots[i] = Spot{index(rows, p.letters), p.number - 1}
	}
	if clash(spots) {
		return inOrder(spots, columns)
	}
	return spots
}

// part is a name taken apart: its number, and the letters before and behind.
type part struct {
	number  int
	letters string
}

func cut(name string) part {
	start := strings.IndexAny(name, "0123456789")
	if start < 0 {
		return part{0, name}
	}
	end := start
	n := 0
	for end < len(name) && name[end] >= '0' && name[end] <= '9' && n < 1000 {
		n = n*10 + int(name[end]-'0')
		end++
	}
	return part{n, name[:start] + "#" + name[end:]}
}

func tooWide(parts []part, columns int) bool {
	for _, p := range parts {
		if p.number > columns {
			return true
		}
	}
	return false
}

// inOrder fills rows of about the same length.
func inOrder(spots []Spot, columns int) []Spot {
	rows := (len(spots) + columns - 1) / columns
	if rows == 0 {
		return spots
	}
	per := (len(spots) + rows - 1) / rows
	for i := range spots {
		spots[i] = Spot{i / per, i % per}
	}
	return spots
}

func clash(spots []Spot) bool {
	seen := map[Spot]bool{}
	for _, s := range spots {
		if seen[s] {
			return true
		}
		seen[s] = true
	}
	return false
}

// sortCells puts cells in the order of their numbers; those of one number, and
// those without, stay in the order of their letters.
func sortCells(cells []Cell) {
	slices.SortStableFunc(cells, func(a, b Cell) int {
		one, two := cut(a.Name), cut(b.Name)
		if d := cmp.Compare(one.letters, two.letters); d != 0 {
			return d
		}
		return cmp.Compare(one.number, two.number)
	})
}

func has(list []string, s string) bool { return index(list, s) >= 0 }

func index(list []string, s string) int {
	for i, l := range list {
		if l == s {
			return i
		}
	}
	return -1
}

// Arrange lays the cells of a panel out for so many columns.
func (p *Panel) Arrange(columns int) {
	names := make([]events.Hole, len(p.Cells))
	for i := range p.Cells {
		names[i] = events.Hole(p.Cells[i].Name)
	}
	for i, s := range Lay(names, columns) {
		p.Cells[i].Row, p.Cells[i].Col = s.Row, s.Col
	}
}
