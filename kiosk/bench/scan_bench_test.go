package bench

import (
	"testing"
	"time"

	"countback/events"
	"countback/events/journal"
	"countback/projections/engine"
)

// One sentence of three scans, from the first scan to the beep: rules, encoding,
// journal, fold, red lines before and after, the sentence on the screen. The
// metric is how many times a bare append and fold of the same fact it takes.
func BenchmarkSentence(b *testing.B) {
	s := newStage(b)
	s.use("b2")
	s.openJob("4K7 sorrel-i4-20")
	s.hidden("joint coils", "bag A", "4")
	line, _ := s.resolve("bag A")
	var whole, bare time.Duration
	b.ResetTimer()
	for range b.N {
		start := time.Now()
		for _, l := range []string{line, "COUNT", "4"} {
			s.now += 3_000_000
			if _, err := s.at.Scan(s.ctx, l); err != nil {
				b.Fatal(err)
			}
		}
		whole += time.Since(start)
		told := s.at.Told()
		if len(told) != 1 {
			b.Fatalf("%d facts", len(told))
		}
		s.at.Heard()
		bare += s.bare(b, told[0])
	}
	b.ReportMetric(float64(whole)/float64(bare), "x-bare-append-and-fold")
	b.ReportMetric(float64(whole.Microseconds())/float64(b.N), "us/sentence")
}

var bareJournal = journal.NewMemory()

// bare encodes, appends and folds one fact, and nothing else.
func (s *stage) bare(b *testing.B, r events.Record) time.Duration {
	job := &engine.Job{}
	job.Load(s.at.Job().Facts()[:len(s.at.Job().Facts())-1])
	last, _, err := bareJournal.Last(s.ctx, r.Terminal)
	if err != nil {
		b.Fatal(err)
	}
	start := time.Now()
	r.N = last.N + 1
	data, err := events.Append(nil, &r)
	if err != nil {
		b.Fatal(err)
	}
	if _, err := bareJournal.Append(s.ctx, journal.Draft{Terminal: r.Terminal, N: r.N, Job: r.Job, Data: data}, journal.Recorded(last.Seq)); err != nil {
		b.Fatal(err)
	}
	job.Apply(&r)
	return time.Since(start)
}
