package projections

import (
	"math"
	"slices"
	"strings"
)

// PoissonInterval is the 95 % interval of a count of rare events, by Byar's
// approximation (Breslow and Day, Statistical Methods in Cancer Research II,
// 1987, section 2.3): within 1 % of the exact interval from 2 events on.
func PoissonInterval(n int) (low, high float64) {
	const z = 1.959964
	if n < 0 {
		return 0, 0
	}
	x := float64(n)
	if n > 0 {
		low = x * math.Pow(1-1/(9*x)-z/(3*math.Sqrt(x)), 3)
	}
	y := x + 1
	return max(0, low), y * math.Pow(1-1/(9*y)+z/(3*math.Sqrt(y)), 3)
}

// Repeat is a position at which engines of one family lose pieces more often
// than by chance: a fact about the design of the engine, not about a person.
type Repeat struct {
	Family   string
	Position string // joint or part
	Lost     int    // losses and breaks there, in lines
	Expected float64
	Ratio    float64 // Lost over Expected
	Engines  int     // jobs of the family
}

// How many losses and which ratio make a position worth a line: common practice.
const (
	repeatLost  = 3
	repeatRatio = 3
)

// Repeats lists the positions of each family with at least three losses and
// breaks, and three times as many as an even share over its positions would be,
// the most first.
func (r *Runner) Repeats() []Repeat {
	type key struct{ family, position string }
	lost := make(map[key]int)
	total, engines, positions := map[string]int{}, map[string]int{}, map[string]int{}
	for _, id := range r.Jobs() {
		s := r.jobs[id].State()
		family := s.Opened.Family
		if family == "" {
			continue
		}
		engines[family]++
		positions[family] = max(positions[family], len(s.Plan().Joints))
		for _, l := range r.contribution(id).losses.Lines {
			if l.Position != "" {
				lost[key{family, l.Position}]++
				total[family]++
			}
		}
		for _, c := range s.Cases() {
			lost[key{family, string(c.Joint)}]++
			total[family]++
		}
	}
	var list []Repeat
	for k, n := range lost {
		expected := float64(total[k.family]) / float64(max(1, positions[k.family]))
		if ratio := float64(n) / expected; n >= repeatLost && ratio >= repeatRatio {
			list = append(list, Repeat{k.family, k.position, n, expected, ratio, engines[k.family]})
		}
	}
	slices.SortFunc(list, func(a, b Repeat) int {
		if a.Lost != b.Lost {
			return b.Lost - a.Lost
		}
		return strings.Compare(a.Family+"\x00"+a.Position, b.Family+"\x00"+b.Position)
	})
	return list
}
