package engine

import (
	"strconv"
	"testing"
	"time"

	"countback/events"
)

// apartSorrel is the Sorrel in its fullest state: fully apart, every joint in
// its own bag, new single-use pieces in stock, the head away.
func apartSorrel(tb testing.TB) *crew {
	c := newCrew(tb)
	c.takeApart()
	c.buy()
	return c
}

// againstFold runs a view and reports how many times one fold of the whole job
// it takes, and microseconds for each.
func againstFold(b *testing.B, c *crew, view func()) {
	b.ReportAllocs()
	b.ResetTimer()
	start := time.Now()
	for range b.N {
		c.job.view = nil // nothing is kept from the time before
		view()
	}
	took := time.Since(start)
	b.StopTimer()
	start = time.Now()
	for range b.N {
		c.job.fold(-1)
	}
	b.ReportMetric(float64(took)/float64(max(time.Since(start), 1)), "x-fold")
	b.ReportMetric(float64(took.Microseconds())/float64(b.N), "us")
}

var viewSink int

func BenchmarkWhatNow(b *testing.B) {
	c := apartSorrel(b)
	againstFold(b, c, func() { viewSink += len(c.job.WhatNow()) })
}

func BenchmarkMissing(b *testing.B) {
	c := newCrew(b)
	c.takeApart() // nothing new was bought: every single-use piece is missing
	againstFold(b, c, func() { viewSink += len(c.job.Missing()) })
}

func BenchmarkRed(b *testing.B) {
	c := apartSorrel(b)
	againstFold(b, c, func() { viewSink += len(c.job.lines()) })
}

func BenchmarkAudit(b *testing.B) {
	c := apartSorrel(b)
	againstFold(b, c, func() {
		a, _ := c.job.Audit("ready-to-start")
		viewSink += len(a.Red)
	})
}

// mixedUp is a job with 40 bags in which 20 kinds are short in one bag and too
// many in another.
func mixedUp(tb testing.TB) *crew {
	c := newCrew(tb)
	bag := func(i int) events.Place { return events.Place("bag/B2X" + strconv.Itoa(10000+i)) }
	for i := range 40 {
		kind := events.Kind("M8x1.25x" + strconv.Itoa(20+i/2) + " 8.8 flange")
		c.counted(events.HardwareReceived{From: "outside/owner", To: bag(i), Lines: []events.Line{{Kind: kind, Qty: 8}}})
		c.counted(events.Counted{Place: bag(i), Lines: []events.Line{{Kind: kind, Qty: 8}}, All: true})
	}
	for i := range 40 {
		kind := events.Kind("M8x1.25x" + strconv.Itoa(20+i/2) + " 8.8 flange")
		c.counted(events.Counted{Place: bag(i), Lines: []events.Line{{Kind: kind, Qty: 7 + i%2*2}}, All: true})
	}
	return c
}

func BenchmarkExplain20Shorts20Overs(b *testing.B) {
	c := mixedUp(b)
	if n := len(c.job.Differences()); n != 40 {
		b.Fatal(n)
	}
	againstFold(b, c, func() { viewSink += len(c.job.Explain()) })
}

func BenchmarkDifferences(b *testing.B) {
	c := mixedUp(b)
	againstFold(b, c, func() { viewSink += len(c.job.Differences()) })
}

func BenchmarkWhere(b *testing.B) {
	c := apartSorrel(b)
	againstFold(b, c, func() { viewSink += len(c.job.Where("hole front-cover:18").History) })
}

func BenchmarkThisOne(b *testing.B) {
	c := apartSorrel(b)
	againstFold(b, c, func() { viewSink += len(c.job.ThisOne("front-cover", "18", "M8x1.25x30 8.8 flange", "").Next) })
}

func BenchmarkPreview(b *testing.B) {
	c := apartSorrel(b)
	wrong := events.Corrected{Wrong: c.recs[20].ID(), Why: "test"}
	againstFold(b, c, func() { viewSink += len(c.job.Preview(wrong, nil).Opened) })
}

// Over a job of 2,000 facts.
func BenchmarkRedOfALongJob(b *testing.B) {
	c := &crew{t: b, job: &Job{}}
	c.job.Load(life(b, 2000))
	againstFold(b, c, func() { viewSink += len(c.job.lines()) })
}

func BenchmarkWhatNowOfALongJob(b *testing.B) {
	c := &crew{t: b, job: &Job{}}
	c.job.Load(life(b, 2000))
	againstFold(b, c, func() { viewSink += len(c.job.WhatNow()) })
}
