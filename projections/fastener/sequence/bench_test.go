package sequence

import (
	"testing"
	"time"
)

var benchSink int

// against runs work and a baseline equally often and reports how many times
// the baseline's time the work takes.
func against(b *testing.B, work, baseline func()) {
	b.ReportAllocs()
	start := time.Now()
	for range b.N {
		work()
	}
	took := time.Since(start)
	b.StopTimer()
	start = time.Now()
	for range b.N {
		baseline()
	}
	base := time.Since(start)
	b.ReportMetric(float64(took)/float64(max(base, 1)), "x-baseline")
}

// BenchmarkCircle orders 24 positions; the baseline counts them up.
func BenchmarkCircle(b *testing.B) {
	against(b, func() {
		o, _ := Circle(24)
		benchSink += o[3]
	}, func() {
		list := make([]int, 24)
		for i := range list {
			list[i] = i
		}
		benchSink += list[3]
	})
}

// BenchmarkRows orders a head of 2 x 12 from its coordinates; the baseline
// orders as many around a circle.
func BenchmarkRows(b *testing.B) {
	head := grid(12, 2, 90, 100)
	against(b, func() {
		o, _ := Rows(head)
		benchSink += o[3]
	}, func() {
		o, _ := Circle(24)
		benchSink += o[3]
	})
}
