package engine

import (
	"testing"
	"time"
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
	start := time.Now()
	for range b.N {
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
	againstFold(b, c, func() { viewSink += len(c.job.Red()) })
}

func BenchmarkAudit(b *testing.B) {
	c := apartSorrel(b)
	againstFold(b, c, func() {
		a, _ := c.job.Audit("ready-to-start")
		viewSink += len(a.Red)
	})
}
