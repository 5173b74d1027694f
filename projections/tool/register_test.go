package tool

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
)

var wrench = events.ToolIssued{Tool: "wrench-40-200", Code: "T2AAAAAA", Name: "Large wrench", Kind: "wrench", MinNm: 40, MaxNm: 200, Due: "2026-05-01"}

// told numbers facts as one terminal would state them.
func told(job events.Job, who events.Badge, n uint32, ev events.Event) events.Record {
	return events.Record{Shop: "hill", Job: job, Terminal: "b1", N: n, At: int64(n) * 1000, Operator: who, Event: ev}
}

func applied(recs ...events.Record) *Register {
	r := &Register{}
	for i := range recs {
		r.Apply(&recs[i])
	}
	return r
}

func TestWhoHasIt(t *testing.T) {
	r := applied(told(events.ShopJob, "Marit", 1, wrench), told("4K7", "Ole", 2, events.ToolTaken{Tool: wrench.Tool, Step: "head-on"}))
	got, ok := r.Find(wrench.Tool)
	require.True(t, ok)
	require.Equal(t, Tool{ToolIssued: wrench, Issued: true, Out: true, By: "Ole", Job: "4K7", Step: "head-on", Since: 2000}, got)
	require.Equal(t, "with Ole for job 4K7", got.Holder())
	require.Empty(t, r.Away("4K7", []string{"wrench-40-200"}, "2026-04-01"), "this job has it")
	require.Equal(t, map[string]string{"wrench-40-200": "with Ole for job 4K7", "wrench": "with Ole for job 4K7"},
		r.Away("4K9", []string{"wrench-40-200", "wrench", "lamp"}, "2026-04-01"))

	other := wrench
	other.Tool = "wrench-5-25"
	rec := told(events.ShopJob, "Marit", 3, other)
	r.Apply(&rec)
	require.Equal(t, map[string]string{"wrench-40-200": "with Ole for job 4K7"}, r.Away("4K9", []string{"wrench-40-200", "wrench"}, "2026-04-01"), "another of its kind is here")
	rec = told("4K7", "Ole", 4, events.ToolBack{Tool: wrench.Tool})
	r.Apply(&rec)
	require.Empty(t, r.Away("4K9", []string{"wrench-40-200"}, "2026-04-01"))
	require.Len(t, r.List(), 2)

	// taken on for another job, then said to be back at the first: the second still has it
	for n, x := range []struct {
		job events.Job
		ev  events.Event
	}{{"4K7", events.ToolTaken{Tool: wrench.Tool}}, {"4K9", events.ToolTaken{Tool: wrench.Tool}}, {"4K7", events.ToolBack{Tool: wrench.Tool}}} {
		rec = told(x.job, "Siri", uint32(5+n), x.ev)
		r.Apply(&rec)
	}
	got, _ = r.Find(wrench.Tool)
	require.Equal(t, events.Job("4K9"), got.Job)
	_, ok = r.Find("puller")
	require.False(t, ok)
}

func TestFits(t *testing.T) {
	w := Tool{ToolIssued: wrench, Issued: true}
	for _, c := range []struct {
		nm   float64
		day  events.Day
		want []string
	}{
		{40, "2026-05-01", nil},
		{200, "2026-04-30", nil},
		{10, "2026-04-30", []string{"Large wrench covers 40 to 200 N.m, not 10 N.m"}},
		{200.5, "", []string{"Large wrench covers 40 to 200 N.m, not 200.5 N.m"}},
		{80, "2026-05-02", []string{"Large wrench: its calibration was due on Friday 1 May 2026"}},
		{10, "2026-05-02", []string{"Large wrench covers 40 to 200 N.m, not 10 N.m", "Large wrench: its calibration was due on Friday 1 May 2026"}},
		{0, "2026-04-01", nil},
	} {
		require.Equal(t, c.want, w.Fits(c.nm, c.day), "%v on %s", c.nm, c.day)
	}
	puller := Tool{ToolIssued: events.ToolIssued{Tool: "puller", Kind: "puller"}, Issued: true}
	require.Equal(t, []string{"puller measures no torque"}, puller.Fits(10, "2026-05-02"))
	require.Empty(t, puller.Fits(0, "2026-05-02"))
	unknown := Tool{ToolIssued: events.ToolIssued{Tool: "his-own"}}
	require.Empty(t, unknown.Fits(10, "2026-05-02"), "nobody knows what it covers")
	days, ok := w.DueIn("2026-04-21")
	require.True(t, ok)
	require.Equal(t, 10, days)
	_, ok = puller.DueIn("2026-04-21")
	require.False(t, ok)
}

func TestCorrectionsTakeTheirPlace(t *testing.T) {
	taken := told("4K7", "Ole", 2, events.ToolTaken{Tool: wrench.Tool})
	undo := told("4K7", "Ole", 3, events.Corrected{Wrong: taken.ID(), Why: "undo"})
	redo := told("4K7", "Ole", 4, events.Corrected{Wrong: undo.ID(), Why: "redo"})
	out := func(recs ...events.Record) bool {
		tl, _ := applied(recs...).Find(wrench.Tool)
		return tl.Out
	}
	require.True(t, out(taken))
	require.False(t, out(taken, undo))
	require.True(t, out(taken, undo, redo))
	instead := told("4K7", "Ole", 5, events.Corrected{Wrong: taken.ID(), Instead: events.ToolTaken{Tool: "puller"}, Why: "another"})
	r := applied(taken, instead)
	p, _ := r.Find("puller")
	require.True(t, p.Out)
	require.False(t, out(taken, instead))
}

// Any order of the same facts gives the same register; a slow walk over the
// facts in their order says the same.
func TestTheOrderOfArrivalIsNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var recs []events.Record
		has := map[events.Tool]events.Job{}
		for n := uint32(1); n <= 12; n++ {
			id := rapid.SampledFrom([]events.Tool{"a", "b"}).Draw(t, "tool")
			job := rapid.SampledFrom([]events.Job{"4K7", "4K9"}).Draw(t, "job")
			if rapid.Bool().Draw(t, "taken") {
				recs = append(recs, told(job, "Ole", n, events.ToolTaken{Tool: id}))
				has[id] = job
			} else {
				recs = append(recs, told(job, "Ole", n, events.ToolBack{Tool: id}))
				if has[id] == job {
					delete(has, id)
				}
			}
		}
		r := applied(rapid.Permutation(recs).Draw(t, "order")...)
		for _, id := range []events.Tool{"a", "b"} {
			tl, _ := r.Find(id)
			require.Equal(t, has[id] != "", tl.Out)
			require.Equal(t, has[id], tl.Job)
		}
	})
}

// A scale in pounds is said in pounds, and its ends belong to it: 30 lbf.ft are
// 40.674538 N.m, which a bench compares as 40.67.
func TestARangeInPounds(t *testing.T) {
	w := Tool{ToolIssued: events.ToolIssued{Tool: "click-100", Name: "Click", MinNm: 30 * 1.3558179483314004, MaxNm: 100 * 1.3558179483314004, Unit: "lbf.ft"}}
	require.Equal(t, "30 to 100 lbf.ft", w.Range())
	require.Empty(t, w.Fits(40.67, "2025-05-12"))
	require.Empty(t, w.Fits(135.58, "2025-05-12"))
	require.Equal(t, []string{"Click covers 30 to 100 lbf.ft, not 9 lbf.ft"}, w.Fits(9*1.3558179483314004, "2025-05-12"))
	w.Unit = "furlongs"
	require.Equal(t, "40.675 to 135.582 N.m", w.Range(), "a unit that nobody knows")
}
