package sequence

import (
	"fmt"
	"slices"
	"strings"
)

// Loosen is the order in which the same positions are loosened: exactly the
// reverse.
func Loosen[T any](order []T) []T {
	reversed := slices.Clone(order)
	slices.Reverse(reversed)
	return reversed
}

// Names is an order of positions with the names of the positions in place of
// their numbers.
func Names[T any](order []int, names []T) []T {
	list := make([]T, len(order))
	for i, p := range order {
		list[i] = names[p]
	}
	return list
}

// Check holds an order that somebody has written against the holes of the
// joint: it says which are missing, which stand in it twice and which the joint
// does not have. Nil where each hole stands in it once.
func Check[T ~string](order, holes []T) error {
	seen := map[T]int{}
	var twice, unknown, missing []string
	for _, h := range order {
		seen[h]++
		switch {
		case !slices.Contains(holes, h):
			unknown = append(unknown, string(h))
		case seen[h] == 2:
			twice = append(twice, string(h))
		}
	}
	for _, h := range holes {
		if seen[h] == 0 {
			missing = append(missing, string(h))
		}
	}
	var faults []string
	for _, f := range []struct {
		what string
		list []string
	}{{"misses", missing}, {"has twice", twice}, {"has, but the joint does not,", unknown}} {
		if len(f.list) > 0 {
			faults = append(faults, f.what+" "+strings.Join(f.list, ", "))
		}
	}
	if len(faults) == 0 {
		return nil
	}
	return fmt.Errorf("tightening order of %d positions for %d holes: it %s", len(order), len(holes), strings.Join(faults, "; it "))
}
