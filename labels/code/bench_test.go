package code

import (
	"strings"
	"testing"
	"time"
)

var benchSink int

// against runs work and a baseline equally often and reports how many times
// the baseline's time the work takes.
func against(b *testing.B, work, baseline func(n int)) {
	b.ReportAllocs()
	start := time.Now()
	for n := range b.N {
		work(n)
	}
	took := time.Since(start)
	b.StopTimer()
	start = time.Now()
	for n := range b.N {
		baseline(n)
	}
	b.ReportMetric(float64(took)/float64(max(time.Since(start), 1)), "x-baseline")
}

// BenchmarkParse reads one scan; the baseline trims and folds it.
func BenchmarkParse(b *testing.B) {
	c, _ := issuer(b, "HT").Issue(Bag, 7)
	text := " " + strings.ToLower(string(c)) + "\n"
	against(b, func(int) {
		got, _ := Parse(text)
		benchSink += len(got)
	}, func(int) { benchSink += len(strings.ToUpper(strings.TrimSpace(text))) })
}

// BenchmarkIssue issues codes one after the other; the baseline only computes
// check characters.
func BenchmarkIssue(b *testing.B) {
	i := issuer(b, "HT")
	against(b, func(n int) {
		c, _ := i.Issue(Bag, uint32(n%counters))
		benchSink += len(c)
	}, func(int) { benchSink += int(Check("BHT2345")) })
}

// BenchmarkAsNumber recognises the highest number card; the baseline parses
// its code.
func BenchmarkAsNumber(b *testing.B) {
	c, _ := WholeNumber(MaxWholeNumber)
	against(b, func(int) {
		n, _ := AsNumber(c)
		benchSink += n
	}, func(int) {
		got, _ := Parse(string(c))
		benchSink += len(got)
	})
}
