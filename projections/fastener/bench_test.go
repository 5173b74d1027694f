package fastener

import (
	"strings"
	"testing"
	"time"
)

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

var benchSink int

// BenchmarkParse reads one bolt; the baseline only cuts the text at its blanks.
func BenchmarkParse(b *testing.B) {
	const text = "M12x1.25x45 10.9 12pt (hollow with a filter)"
	against(b, func() {
		s, _ := Parse(text)
		benchSink += len(s.Class)
	}, func() { benchSink += len(strings.Fields(text)) })
}

// BenchmarkWindow judges one bolt in one hole; the baseline compares two kinds
// with ==.
func BenchmarkWindow(b *testing.B) {
	s, other := spec(b, "M8x1.25x45 8.8 flange"), spec(b, "M8x1.25x45 8.8 stud")
	hole := Hole{Thread: s.Thread, ThreadIn: "aluminium", GripMm: Mm(14), DepthMm: Mm(19)}
	against(b, func() { benchSink += int(Window(hole, s).Outcome) }, func() {
		if s == other {
			benchSink++
		}
	})
}

// BenchmarkInterchangeable compares two kinds field by field; the baseline
// compares them with ==.
func BenchmarkInterchangeable(b *testing.B) {
	s, other := spec(b, "M8x1.25x45 8.8 flange"), spec(b, "M8x1.25x45 8.8 stud")
	against(b, func() { benchSink += int(Interchangeable(s, other).Differ) }, func() {
		if s == other {
			benchSink++
		}
	})
}

// BenchmarkString writes the canonical text; the baseline copies it.
func BenchmarkString(b *testing.B) {
	s := spec(b, "M12x1.25x45 10.9 12pt (hollow with a filter)")
	text := []byte(s.String())
	against(b, func() { benchSink += len(s.String()) }, func() { benchSink += len(string(text)) })
}
