package torque

import (
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

var benchSink float64

// BenchmarkShortForm guides by T = K d F; the baseline computes the proof load.
func BenchmarkShortForm(b *testing.B) {
	s := ShortForm{Spec: spec(b, "M8x1.25x30 8.8"), Friction: NutFactorsOf(Oil)[0], OfProof: Reusable}
	against(b, func() {
		g, _ := s.Guide()
		benchSink += g.Nm
	}, func() {
		n, _ := s.Spec.ProofLoadN()
		benchSink += n
	})
}

// BenchmarkAssembly guides by VDI 2230; the baseline computes the proof load.
func BenchmarkAssembly(b *testing.B) {
	a := Assembly{Spec: spec(b, "M8x1.25x30 8.8"), Friction: FrictionClasses()[1], HeadMm: 11.6, HoleMm: 9, OfYield: .9}
	against(b, func() {
		g, _ := a.Guide()
		benchSink += g.Nm
	}, func() {
		n, _ := a.Spec.ProofLoadN()
		benchSink += n
	})
}

// BenchmarkCheck holds a torque against a bolt; the baseline computes the
// proof load.
func BenchmarkCheck(b *testing.B) {
	s, v, k := spec(b, "M8x1.25x30 8.8"), value(b, "25 N.m"), NutFactorsOf(Oil)[0]
	against(b, func() {
		l, _ := Check(s, v, k)
		benchSink += l.MostN
	}, func() {
		n, _ := s.ProofLoadN()
		benchSink += n
	})
}

// BenchmarkConvert converts exactly, with the digits kept; the baseline
// multiplies two floating point numbers.
func BenchmarkConvert(b *testing.B) {
	v := value(b, "29.5 lbf.ft")
	against(b, func() { benchSink += float64(v.Convert(NewtonMetre).digits) }, func() { benchSink += v.Nm() })
}
