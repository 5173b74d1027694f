package plan

import "slices"

// Nearest is the candidate that is spelled most like word, or "" when none is
// near: at most a third of the letters may differ, and none of a single one. Of equals the first in
// alphabetical order is taken.
func Nearest(word string, candidates []string) string {
	best, bestAt := "", (len(word)+1)/3
	sorted := slices.Sorted(slices.Values(candidates))
	for _, c := range sorted {
		if c == word || abs(len(c)-len(word)) > bestAt {
			continue
		}
		if d := distance(word, c, bestAt); d < bestAt || (d == bestAt && best == "") {
			best, bestAt = c, d
		}
	}
	return best
}

// distance is the optimal string alignment distance: letters put in, left
// out, replaced, and neighbours swapped each cost one. Beyond limit it returns
// limit + 1.
func distance(a, b string, limit int) int {
	const longest = 64
	if len(a) > longest || len(b) > longest {
		return limit + 1
	}
	var rows [3][longest + 1]int
	before, last, now := rows[0][:], rows[1][:], rows[2][:]
	for j := range len(b) + 1 {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		now[0] = i
		least := i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			now[j] = min(last[j]+1, now[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				now[j] = min(now[j], before[j-2]+1)
			}
			least = min(least, now[j])
		}
		if least > limit {
			return limit + 1
		}
		before, last, now = last, now, before
	}
	return min(last[len(b)], limit+1)
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}
