package gauge

import (
	"fmt"
	"testing"
	"time"
)

var benchSink int64

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

// BenchmarkJudge holds one reading against limits; the baseline compares two
// floating point numbers.
func BenchmarkJudge(b *testing.B) {
	l := Limits{New: between(b, "51.98 mm", "52.00 mm"), Service: AtLeast(rd(b, "51.93 mm"))}
	band, r := rd(b, "0.005 mm"), rd(b, "51.99 mm")
	f := r.Float()
	against(b, func() { benchSink += int64(l.Judge(band, r).Place) }, func() {
		if f >= 51.98 && f <= 52.00 {
			benchSink++
		}
	})
}

// BenchmarkQuestion doubts a reading in the wrong unit; the baseline judges it.
func BenchmarkQuestion(b *testing.B) {
	l := Limits{New: between(b, "51.98 mm", "52.00 mm")}
	r := rd(b, "2.1 mm")
	against(b, func() {
		q, _ := l.Question(r)
		benchSink += int64(len(q.Meant))
	}, func() { benchSink += int64(l.Judge(Reading{}, r).Place) })
}

// BenchmarkConvert converts with the digits kept; the baseline divides by 25.4.
func BenchmarkConvert(b *testing.B) {
	r := rd(b, "51.98 mm")
	against(b, func() { benchSink += r.Convert(Inch).digits }, func() { benchSink += int64(r.Float() / 25.4) })
}

// BenchmarkStraightness finds the least zone of 50 heights; the baseline finds
// their least and greatest.
func BenchmarkStraightness(b *testing.B) {
	var list []Reading
	for i := range 50 {
		list = append(list, Reading{digits: int64(i * i % 37), decimals: 2, unit: Millimetre})
	}
	against(b, func() {
		r, _ := Straightness(list...)
		benchSink += r.digits
	}, func() { benchSink += spread(list).digits })
}

// BenchmarkStandOuts looks at sixteen siblings; the baseline finds the median.
func BenchmarkStandOuts(b *testing.B) {
	var list []Sibling
	var sizes []int64
	for i := range 16 {
		r := Reading{digits: int64(20 + i*7%5), decimals: 2, unit: Millimetre}
		list = append(list, Sibling{fmt.Sprint(i), r})
		sizes = append(sizes, r.base())
	}
	against(b, func() { benchSink += int64(len(StandOuts(Reading{}, list))) }, func() { benchSink += median(sizes) })
}
