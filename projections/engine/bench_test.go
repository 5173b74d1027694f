package engine

import (
	"fmt"
	"runtime"
	"testing"
	"time"

	"countback/events"
	"countback/projections/plan"
)

// life plays an engine apart and together again and again in the plan's order,
// joint by joint: counted into its bag, the bag counted now and then, fitted
// from it, the bag empty, the stages recorded, loans in and out, marks made.
func life(tb testing.TB, facts int) []events.Record {
	w := &writer{limit: facts}
	p, err := plan.Parse("plan", []byte(sorrel(tb)))
	if err != nil {
		tb.Fatal(err)
	}
	w.add(events.Told, events.JobOpened{Engine: "Sorrel", Plan: sorrel(tb)})
	for len(w.recs) < facts {
		for i := range p.Steps {
			st := &p.Steps[i]
			for _, l := range st.LoanOut {
				w.add(events.Told, events.LoanOut{Loan: p.Loans[l].ID, Count: max(1, p.Loans[l].Count)})
			}
			w.joints(p, st.TakesOut, w.out)
			for _, r := range st.Removes {
				if p.Parts[r].Host {
					w.add(events.Told, events.PartRemoved{Part: p.Parts[r].ID, To: "place/shelf"})
				}
			}
			for _, r := range st.Fits {
				w.add(events.Told, events.PartFitted{Part: p.Parts[r].ID})
			}
			w.joints(p, st.Fastens, w.in)
			for _, m := range st.Sets {
				w.add(events.Told, events.MarkMade{Mark: p.Marks[m].ID})
			}
			for _, l := range st.LoanIn {
				w.add(events.Told, events.LoanIn{Loan: p.Loans[l].ID, Count: max(1, p.Loans[l].Count)})
			}
		}
	}
	return w.recs[:facts]
}

type writer struct {
	recs  []events.Record
	limit int
	bag   map[plan.JointIndex]events.Code
}

func (w *writer) add(known events.Known, ev events.Event) {
	n := uint32(len(w.recs) + 1)
	at := int64(1_700_000_000_000_000) + int64(n)*60_000_000
	seen := events.Seen("")
	if n > 1 {
		seen = events.SeenOf(map[events.Terminal]uint32{"b2": n - 1})
	}
	w.recs = append(w.recs, events.Record{Shop: "hill", Job: "j1", Terminal: "b2", N: n, Time: at, At: at, Seen: seen, Operator: "Marit", Known: known, Event: ev})
}

func (w *writer) joints(p *plan.Plan, seats []plan.SeatIndex, f func(*plan.Plan, plan.JointIndex, []plan.SeatIndex)) {
	for j := range p.Joints {
		var mine []plan.SeatIndex
		for _, s := range seats {
			if p.Seats[s].Joint == plan.JointIndex(j) {
				mine = append(mine, s)
			}
		}
		if len(mine) > 0 {
			f(p, plan.JointIndex(j), mine)
		}
	}
}

func (w *writer) code(j plan.JointIndex) events.Code {
	return events.Code("B2AAAA" + string(rune('A'+int(j)/26)) + string(rune('A'+int(j)%26)))
}

func (w *writer) lines(p *plan.Plan, seats []plan.SeatIndex) []events.Line {
	var ls []events.Line
	for _, s := range seats {
		for _, m := range p.Seats[s].Members {
			if m.Stays {
				continue
			}
			at := -1
			for i := range ls {
				if ls[i].Kind == m.Kind {
					at = i
				}
			}
			if at < 0 {
				ls = append(ls, events.Line{Kind: m.Kind})
				at = len(ls) - 1
			}
			ls[at].Qty++
		}
	}
	return ls
}

func (w *writer) out(p *plan.Plan, j plan.JointIndex, seats []plan.SeatIndex) {
	bag := events.Place("bag/" + w.code(j))
	w.add(events.Told, events.BagLabelled{Bag: w.code(j), Joint: p.Joints[j].ID})
	w.add(events.CountedBlind, events.PiecesOut{Joint: p.Joints[j].ID, Holes: holesOf(p, j, seats), To: bag, Lines: w.lines(p, seats), All: true})
	w.add(events.CountedBlind, events.Counted{Place: bag, Lines: w.lines(p, seats), All: true})
	w.add(events.Told, events.BagClosed{Bag: w.code(j)})
}

func holesOf(p *plan.Plan, j plan.JointIndex, seats []plan.SeatIndex) []events.Hole {
	if len(seats) == len(p.Joints[j].Seats) {
		return nil
	}
	var hs []events.Hole
	for _, s := range seats {
		hs = append(hs, p.Seats[s].Hole)
	}
	return hs
}

func (w *writer) in(p *plan.Plan, j plan.JointIndex, seats []plan.SeatIndex) {
	bag := events.Place("bag/" + w.code(j))
	holes := holesOf(p, j, seats)
	w.add(events.Told, events.BagOpened{Bag: w.code(j)})
	w.add(events.Claimed, events.PiecesFitted{Joint: p.Joints[j].ID, Holes: holes, From: bag, All: true})
	w.add(events.CountedOpen, events.Counted{Place: bag, All: true})
	for st := 1; st <= 2; st++ {
		w.add(events.Told, events.StageRecorded{Joint: p.Joints[j].ID, Holes: holes, Stage: st, Stages: 2, What: "torque 10 N.m"})
	}
}

// BenchmarkFold folds a job of 2,000 facts again and again, from the first, as
// after a fact that came late. The unit that counts is events/s; allocations are
// per event. The facts' names were found when they came in: see
// BenchmarkLoad for a fold that finds them.
//
// The baseline of the same run, before it and behind it, counts the same facts
// by kind and by kind and day in a Go map: two lookups an event. A machine that
// is shared slows both down, and x-map stays what it is.
func BenchmarkFold(b *testing.B) {
	recs := life(b, 2000)
	job := &Job{}
	job.Load(recs)
	base := mapBaseline(recs)
	base(b.N/2 + 1)
	b.ReportAllocs()
	b.ResetTimer()
	start := time.Now()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	for range b.N {
		job.fold(-1)
	}
	runtime.ReadMemStats(&after)
	fold := time.Since(start)
	b.StopTimer()
	events := float64(b.N) * float64(len(recs))
	b.ReportMetric(events/fold.Seconds(), "events/s")
	b.ReportMetric(float64(after.Mallocs-before.Mallocs)/events, "allocs/event")
	b.ReportMetric(fold.Seconds()/events/base(b.N/2+1), "x-map")
}

// mapBaseline gives a function that counts facts in a Go map so many times over,
// and gives the seconds that it took an event, all its calls together.
func mapBaseline(recs []events.Record) func(times int) float64 {
	names := make([][2]string, len(recs))
	for i := range recs {
		name := events.NameOf(recs[i].Event)
		names[i] = [2]string{name, fmt.Sprint(name, " on day ", i/100)}
	}
	counts := make(map[string]int)
	var took time.Duration
	n := 0
	return func(times int) float64 {
		start := time.Now()
		for range times {
			for i := range names {
				counts[names[i][0]]++
				counts[names[i][1]]++
			}
		}
		took += time.Since(start)
		n += times
		return took.Seconds() / float64(n*len(names))
	}
}

// BenchmarkLoad loads the same facts into a new job: every name is looked
// up, and all memory is new.
func BenchmarkLoad(b *testing.B) {
	recs := life(b, 2000)
	(&Job{}).Load(recs)
	b.ReportAllocs()
	for b.Loop() {
		(&Job{}).Load(recs)
	}
	b.ReportMetric(float64(len(recs))*float64(b.N)/b.Elapsed().Seconds(), "events/s")
}

// BenchmarkLateFact refolds a job of 2,000 facts after one that came late.
func BenchmarkLateFact(b *testing.B) {
	recs := life(b, 2000)
	late := recs[1000]
	late.Terminal, late.N, late.At = "b9", 1, late.At+1
	for range b.N {
		b.StopTimer()
		job := &Job{}
		job.Load(recs)
		b.StartTimer()
		if !job.Apply(&late).Refolded {
			b.Fatal("not late")
		}
	}
}

// BenchmarkRetained is what a folded job of 2,000 facts keeps in memory.
func BenchmarkRetained(b *testing.B) {
	var kept []*Job
	recs := make([][]events.Record, b.N)
	for i := range recs {
		recs[i] = life(b, 2000)
	}
	(&Job{}).Load(recs[0])
	runtime.GC()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	for i := range recs {
		job := &Job{}
		job.Load(recs[i])
		kept = append(kept, job)
	}
	runtime.GC()
	runtime.ReadMemStats(&after)
	b.ReportMetric(float64(after.HeapAlloc-before.HeapAlloc)/float64(b.N), "bytes/job")
	runtime.KeepAlive(kept)
	runtime.KeepAlive(recs)
}
