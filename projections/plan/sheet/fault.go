package sheet

import (
	"fmt"
	"slices"
	"strings"

	"countback/projections/plan"
)

// Fault is one thing that is wrong with the sheets, or worth a look.
type Fault struct {
	Level   plan.Level
	Sheet   string // file name; empty: the folder
	Row     int    // as a spreadsheet counts, the header among them; 0: the whole sheet
	Column  string // its letter; empty: the whole row
	Head    string // the column's name as the sheet has it
	Text    string // lower case, the thing first
	Nearest string // the nearest right spelling; empty: none is near
}

// String is the fault in one line.
func (f Fault) String() string {
	var b strings.Builder
	b.WriteString(f.Sheet)
	if f.Row > 0 {
		fmt.Fprintf(&b, " row %d", f.Row)
	}
	if f.Column != "" {
		b.WriteString(", column " + f.Column)
	}
	if f.Head != "" {
		fmt.Fprintf(&b, " %q", f.Head)
	}
	if b.Len() > 0 {
		b.WriteString(": ")
	}
	if f.Level != plan.Broken {
		b.WriteString(f.Level.String() + ": ")
	}
	b.WriteString(f.Text)
	if f.Nearest != "" {
		fmt.Fprintf(&b, "; did you mean %q?", f.Nearest)
	}
	return b.String()
}

// letter is the name of a column in a spreadsheet: A, B, ... Z, AA.
func letter(i int) string {
	s := ""
	for i++; i > 0; i = (i - 1) / 26 {
		s = string(rune('A'+(i-1)%26)) + s
	}
	return s
}

// nearest is the candidate that is spelled most like a word, or "" where none
// is near: at most a third of the letters may differ. Of equals the one that
// begins like the word for longest is taken.
func nearest(word string, candidates []string) string {
	best, bestAt := "", (len(word)+1)/3
	for _, c := range slices.Sorted(slices.Values(candidates)) {
		d := distance(word, c)
		if c == word || d > bestAt || (d == bestAt && best != "" && alikeUpTo(word, c) <= alikeUpTo(word, best)) {
			continue
		}
		best, bestAt = c, d
	}
	return best
}

// alikeUpTo is how many letters two words have in common at their beginning.
func alikeUpTo(a, b string) int {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	return n
}

// distance is how many letters are put in, left out, replaced or swapped with
// their neighbour; more than any word has where one is too long to be a word.
func distance(a, b string) int {
	const longest = 64
	if len(a) > longest || len(b) > longest {
		return longest + 1
	}
	rows := make([][]int, len(a)+1)
	for i := range rows {
		rows[i] = make([]int, len(b)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			rows[i][j] = min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				rows[i][j] = min(rows[i][j], rows[i-2][j-2]+1)
			}
		}
	}
	return rows[len(a)][len(b)]
}
