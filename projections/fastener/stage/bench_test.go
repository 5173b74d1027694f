package stage

import (
	"fmt"
	"testing"
	"time"
)

// BenchmarkPlay plays a head of 18 bolts through five stages, asking what is
// next and whether it may be done before each; the baseline only records.
func BenchmarkPlay(b *testing.B) {
	l := List{ID: "head", Stages: []Stage{st(Snug, 20, 20), st(Torque, 40, 40), st(Angle, 90, 90), st(Angle, 90, 90), st(Again, 40, 200)}, Pause: time.Hour}
	for i := range 18 {
		l.Order = append(l.Order, fmt.Sprint(i))
	}
	b.ReportAllocs()
	start := time.Now()
	for range b.N {
		m := matrixOf(l)
		for next := m.Next(); len(next) > 0; next = m.Next() {
			a := Act{Position: next[0].Position, Stage: next[0].Stage, Who: "ann", At: morning}
			if m.May(a) == nil {
				m.Record(a)
			}
		}
		if !m.Finished() {
			b.Fatal("not finished")
		}
	}
	took := time.Since(start)
	b.StopTimer()
	start = time.Now()
	for range b.N {
		m := matrixOf(l)
		for k := range l.Stages {
			for _, p := range l.Order {
				m.Record(Act{Position: p, Stage: k + 1, Who: "ann", At: morning})
			}
		}
	}
	base := time.Since(start)
	b.ReportMetric(float64(took)/float64(max(base, 1)), "x-recording")
}
