package engine

import (
	"testing"
	"time"

	"countback/events"
)

// byList are the facts of a life with every stage told by its list, in order.
func byList(recs []events.Record) []events.Record {
	job := &Job{}
	out := append([]events.Record(nil), recs...)
	for i := range out {
		if e, ok := out[i].Event.(events.StageRecorded); ok {
			if n, ok := job.State().nextStage(e.Joint, e.Holes, 0); ok && n.Kind != "" {
				e.Order, e.Stage, e.Stages, e.What = n.Order, n.Stage, n.Stages, n.What
				out[i].Event = e
			}
		}
		job.Apply(&out[i])
	}
	return out
}

// BenchmarkFoldByList folds 2,000 facts whose stages are told by their lists, and
// gives the ratio to the same facts with stages told as a whole; then the views
// of all joints, in microseconds each.
func BenchmarkFoldByList(b *testing.B) {
	recs := life(b, 2000)
	plain, lists := &Job{}, &Job{}
	plain.Load(recs)
	lists.Load(byList(recs))
	timed := func(j *Job) time.Duration {
		best := time.Duration(1 << 62)
		for range 5 {
			start := time.Now()
			j.fold(-1)
			best = min(best, time.Since(start))
		}
		return best
	}
	var one, other time.Duration
	b.ResetTimer()
	for range b.N {
		one, other = timed(plain), timed(lists)
	}
	b.ReportMetric(float64(other)/float64(one), "by-list/whole")
	joints := lists.State().Plan().Joints
	start := time.Now()
	for i := range joints {
		lists.Tightened(joints[i].ID)
	}
	b.ReportMetric(float64(time.Since(start).Microseconds())/float64(len(joints)), "us/view")
}
