package scope

import (
	"fmt"
	"syscall"
	"testing"
	"time"

	"countback/projections/plan"
)

// BenchmarkFind is the curve of size against time and gap: plans whose
// conditions have alternatives in 30 of 100, ten of each size. The baseline is
// one round of Can over all steps.
func BenchmarkFind(b *testing.B) {
	const seeds = 10
	for _, steps := range grownSizes {
		for _, any := range []int{30, 60} {
			b.Run(fmt.Sprintf("steps=%d/any=%d", steps, any), func(b *testing.B) {
				var finders []*Finder
				var states []*plan.Present
				for seed := range uint64(seeds) {
					p := grownAt(b, steps, any, seed)
					finders = append(finders, New(p))
					states = append(states, plan.NewPresent(p))
				}
				var proved, gap, answers, extra, worst, spent, looks, found float64
				n := 0
				for b.Loop() {
					k := n % seeds
					n++
					at := cpu()
					a, err := finders[k].out(states[k], PartOff(1), Options{})
					if err != nil {
						b.Fatal(err)
					}
					worst = max(worst, float64((cpu()-at).Microseconds())/1000)
					spent += float64((cpu() - at).Microseconds()) / 1000
					if a.Proved() {
						proved++
					}
					answers++
					gap += float64(a.Cost.Pieces-a.Least.Pieces) / float64(max(a.Cost.Pieces, 1))
					extra += float64(len(a.Steps))
					looks += float64(a.Looks)
					found += float64(a.Cost.Pieces)
				}
				one := b.Elapsed() / time.Duration(n)
				b.ReportMetric(float64(one.Nanoseconds())/float64(max(canAll(states[0]), 1)), "x-can-all")
				b.ReportMetric(100*proved/answers, "%proved")
				b.ReportMetric(100*gap/answers, "%gap-pieces")
				b.ReportMetric(extra/answers, "steps-out")
				b.ReportMetric(found/answers, "pieces")
				b.ReportMetric(looks/answers/1e6, "Mlooks")
				b.ReportMetric(spent/answers, "cpu-ms")
				b.ReportMetric(worst, "worst-cpu-ms")
			})
		}
	}
}

// BenchmarkSorrel is the question that the demo plan was made for, there and
// back.
func BenchmarkSorrel(b *testing.B) {
	p := load(b, "sorrel-i4-20.yaml")
	s := finished(p)
	f := New(p)
	goal := camsOff(b, p)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := f.Find(s, goal, Options{}); err != nil {
			b.Fatal(err)
		}
	}
	one := b.Elapsed() / time.Duration(max(b.N, 1))
	b.ReportMetric(float64(one.Nanoseconds())/float64(max(canAll(s), 1)), "x-can-all")
}

// BenchmarkNew reads the conditions of the demo plan.
func BenchmarkNew(b *testing.B) {
	p := load(b, "sorrel-i4-20.yaml")
	for b.Loop() {
		New(p)
	}
	one := b.Elapsed() / time.Duration(max(b.N, 1))
	b.ReportMetric(float64(one.Nanoseconds())/float64(max(canAll(plan.NewPresent(p)), 1)), "x-can-all")
}

// canAll is what one round of Can over all steps takes, in nanoseconds.
func canAll(s *plan.Present) int64 {
	const rounds = 20
	start := time.Now()
	for range rounds {
		for i := range s.Plan().Steps {
			s.Can(plan.StepIndex(i))
		}
	}
	return time.Since(start).Nanoseconds() / rounds
}

// cpu is the processor time of this process so far, which other processes do
// not stretch.
func cpu() time.Duration {
	var u syscall.Rusage
	_ = syscall.Getrusage(syscall.RUSAGE_SELF, &u)
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
