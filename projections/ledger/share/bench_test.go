package share

import (
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"countback/projections/ledger"
)

// engine is 400 holes of 24 sizes in 40 joints, each with its own bag, a drawer
// with some of each size, and one in eight pieces missing from its bag. A third
// of the holes take a better class too.
func engine() (needs []Need, supplies []Supply) {
	r := rand.New(rand.NewPCG(1, 1))
	for hole := range int32(400) {
		joint, size := hole/10, Class(r.IntN(3)+int(hole/10)%8*3)
		n := Need{Step: joint, Accept: []Class{size}, Qty: 1, Own: ledger.AccountID(joint + 1)}
		if hole%3 == 0 {
			n.Accept = append(n.Accept, size+100, (size+1)%24)
		}
		needs = append(needs, n)
		if r.IntN(8) > 0 {
			supplies = add(supplies, Supply{Class: size, Place: ledger.AccountID(joint + 1), Qty: 1, Usable: true})
		}
	}
	for size := range Class(24) {
		supplies = append(supplies, Supply{Class: size, Place: 99, Qty: 1, Usable: true},
			Supply{Class: size + 100, Place: 99, Qty: 1, Usable: true})
	}
	return needs, supplies
}

func add(supplies []Supply, s Supply) []Supply {
	if i := slices.IndexFunc(supplies, func(o Supply) bool { return o.Class == s.Class && o.Place == s.Place }); i >= 0 {
		supplies[i].Qty++
		return supplies
	}
	return append(supplies, s)
}

// firstCome gives each need what is free in its own bag, then what is free
// anywhere: the rule that a person would write first. It does not give all that
// could be given; the benchmark shows what exactness costs over it.
func firstCome(needs []Need, supplies []Supply) (missing int32) {
	free := make([]int32, len(supplies))
	for i, s := range supplies {
		free[i] = s.Qty
	}
	for _, n := range needs {
		left := n.Qty
		for _, own := range []bool{true, false} {
			for _, c := range n.Accept {
				for i, s := range supplies {
					if s.Class == c && (s.Place == n.Own) == own {
						q := min(left, free[i])
						left -= q
						free[i] -= q
					}
				}
			}
		}
		missing += left
	}
	return missing
}

// grouped puts the holes of one joint that take the same into one need.
func grouped(holes []Need) (needs []Need) {
	for _, n := range holes {
		i := slices.IndexFunc(needs, func(o Need) bool { return o.Step == n.Step && slices.Equal(o.Accept, n.Accept) })
		if i < 0 {
			needs = append(needs, n)
			continue
		}
		needs[i].Qty++
	}
	return needs
}

func BenchmarkAmong400Holes(b *testing.B) {
	holes, supplies := engine()
	for _, c := range []struct {
		name  string
		needs []Need
	}{{"one_by_one", holes}, {"grouped", grouped(holes)}} {
		needs := c.needs
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			missing := int32(0)
			for b.Loop() {
				missing = 0
				for _, s := range Among(needs, supplies).Shares {
					missing += s.Missing
				}
			}
			mine := float64(b.Elapsed().Nanoseconds()) / float64(b.N)
			start, greedy := time.Now(), int32(0)
			for range b.N {
				greedy = firstCome(needs, supplies)
			}
			b.ReportMetric(mine/(float64(time.Since(start).Nanoseconds())/float64(b.N)), "among/first-come")
			b.ReportMetric(float64(missing), "missing")
			b.ReportMetric(float64(greedy), "missing-first-come")
			b.ReportMetric(float64(len(needs)), "needs")
		})
	}
}
