package plan

import (
	"testing"
	"time"
)

// baseline is what f takes, in nanoseconds, measured beside a benchmark.
func baseline(f func()) int64 {
	const rounds = 50
	start := time.Now()
	for range rounds {
		f()
	}
	return time.Since(start).Nanoseconds() / rounds
}

// halfApart is the Sorrel half apart: enough conditions hold that the questions
// are not answered by their first line.
func halfApart(b *testing.B) *Present {
	p := sorrel(b)
	s := NewPresent(p)
	for _, i := range stepsOfPlan(b, p, coverOut...) {
		s.Do(i)
	}
	return s
}

// BenchmarkCanAll asks of every step whether it can be done. The baseline is
// one Clone of the state.
func BenchmarkCanAll(b *testing.B) {
	s := halfApart(b)
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		for i := range s.p.Steps {
			if s.Can(StepIndex(i)) {
				n++
			}
		}
	}
	all := b.Elapsed() / time.Duration(max(b.N, 1))
	clone := baseline(func() {
		s.Clone()
	})
	b.ReportMetric(float64(all.Nanoseconds())/float64(max(clone, 1)), "x-clone")
	b.ReportMetric(float64(all.Nanoseconds())/float64(len(s.p.Steps)), "ns/step")
	_ = n
}

// BenchmarkCloneDo is one node of a search: a copy of the state and a step.
func BenchmarkCloneDo(b *testing.B) {
	s := halfApart(b)
	step := stepsOfPlan(b, s.p, "cams-on")[0]
	b.ReportAllocs()
	for b.Loop() {
		s.Clone().Do(step)
	}
	one := b.Elapsed() / time.Duration(max(b.N, 1))
	clone := baseline(func() {
		s.Clone()
	})
	b.ReportMetric(float64(one.Nanoseconds())/float64(max(clone, 1)), "x-clone")
}

// BenchmarkCopyDo is the same into a state that is already there.
func BenchmarkCopyDo(b *testing.B) {
	s := halfApart(b)
	into := s.Clone()
	step := stepsOfPlan(b, s.p, "cams-on")[0]
	b.ReportAllocs()
	for b.Loop() {
		into.CopyFrom(s)
		into.Do(step)
	}
}

// BenchmarkCanDoAll is BenchmarkCanAll with every reason in words.
func BenchmarkCanDoAll(b *testing.B) {
	s := halfApart(b)
	b.ReportAllocs()
	for b.Loop() {
		for i := range s.p.Steps {
			s.CanDo(StepIndex(i))
		}
	}
}

// BenchmarkParse reads the Sorrel; the baseline is YAML alone.
func BenchmarkParse(b *testing.B) {
	p := sorrel(b)
	for b.Loop() {
		if _, err := Parse(p.File, p.Source); err != nil {
			b.Fatal(err)
		}
	}
	one := b.Elapsed() / time.Duration(max(b.N, 1))
	yaml := baseline(func() {
		if _, _, err := decodeYAML(p.Source); err != nil {
			b.Fatal(err)
		}
	})
	b.ReportMetric(float64(one.Nanoseconds())/float64(max(yaml, 1)), "x-yaml")
}

// BenchmarkCheck takes the Sorrel apart and together in both layouts.
func BenchmarkCheck(b *testing.B) {
	p := sorrel(b)
	for b.Loop() {
		Check(p)
	}
}

func BenchmarkPresumedBefore(b *testing.B) {
	p := sorrel(b)
	s := NewPresent(p)
	crank := part(b, p, "crank")
	for b.Loop() {
		s.PresumedBefore(crank)
	}
}

// BenchmarkAmend changes one part; the baseline is one Parse.
func BenchmarkAmend(b *testing.B) {
	p := sorrel(b)
	a := Amendment{Op: "alter", Section: "parts", ID: "oil-pan", Text: "{note: dented}"}
	for b.Loop() {
		if _, err := Amend(p, a); err != nil {
			b.Fatal(err)
		}
	}
	one := b.Elapsed() / time.Duration(max(b.N, 1))
	parse := baseline(func() {
		if _, err := Parse(p.File, p.Source); err != nil {
			b.Fatal(err)
		}
	})
	b.ReportMetric(float64(one.Nanoseconds())/float64(max(parse, 1)), "x-parse")
}
