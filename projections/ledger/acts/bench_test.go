package acts

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"countback/events"
	"countback/projections/ledger"
)

// shuffled makes as many shorts and overs by acts between bags: each act moves
// one to three kinds, and a quarter of the entries are of no act.
func shuffled(seed uint64, each, bags, kinds int) []Entry {
	r := rand.New(rand.NewPCG(seed, 1))
	var es []Entry
	add := func(bag, kind int, sign ledger.Sign, qty int32, at int64) {
		es = append(es, Entry{ID: int32(len(es) + 1), Place: events.Place(fmt.Sprintf("bag/%03d", bag)),
			Kind: events.Kind(fmt.Sprintf("kind %d", kind)), Sign: sign, Qty: qty,
			After: at - r.Int64N(20) - 1, Before: at + r.Int64N(20)})
	}
	for shorts := 0; shorts < each; {
		from, to, at := r.IntN(bags), r.IntN(bags), r.Int64N(100)
		for range 1 + r.IntN(3) {
			if k := r.IntN(kinds); shorts < each && from != to {
				q := 1 + r.Int32N(4)
				shorts++
				if r.IntN(4) == 0 { // two that have nothing to do with each other
					add(r.IntN(bags), k, ledger.Short, q, r.Int64N(100))
					add(r.IntN(bags), r.IntN(kinds), ledger.Over, q, r.Int64N(100))
					continue
				}
				add(from, k, ledger.Short, q, at)
				add(to, k, ledger.Over, q, at)
			}
		}
	}
	return es
}

// BenchmarkExplain explains as many shorts as overs. Exact is the share of
// groups that are exact, acts how many acts the first answers have.
func BenchmarkExplain(b *testing.B) {
	for _, c := range []struct{ each, bags, kinds int }{{20, 40, 8}, {20, 40, 4}, {400, 400, 24}} {
		b.Run(fmt.Sprintf("%d_against_%d_in_%d_bags_of_%d_kinds", c.each, c.each, c.bags, c.kinds), func(b *testing.B) {
			var jobs [8][]Entry
			for i := range jobs {
				jobs[i] = shuffled(uint64(i), c.each, c.bags, c.kinds)
			}
			b.ReportAllocs()
			groups, exact, slow, i := 0, 0, time.Duration(0), 0
			for b.Loop() {
				start := time.Now()
				for _, x := range Explain(jobs[i%8], nil) {
					groups++
					if x.Exact {
						exact++
					}
				}
				slow = max(slow, time.Since(start))
				i++
			}
			b.ReportMetric(float64(exact)/float64(groups), "exact/group")
			b.ReportMetric(float64(slow.Microseconds())/1000, "ms-slowest")
		})
	}
}

// BenchmarkHardGroup explains six shorts and six overs of one kind that could
// all be anywhere, the worst that is explained exactly.
func BenchmarkHardGroup(b *testing.B) {
	var jobs [16][]Entry
	for j := range jobs {
		r := rand.New(rand.NewPCG(uint64(j), 2))
		for i := range 12 {
			e := Entry{ID: int32(i + 1), Place: events.Place(fmt.Sprint(i)), Kind: "M8", Sign: ledger.Over, Qty: 1 + r.Int32N(9), Before: 1}
			if i < 6 {
				e.Sign = ledger.Short
			}
			jobs[j] = append(jobs[j], e)
		}
	}
	exact, slow, i := 0, time.Duration(0), 0
	for b.Loop() {
		start := time.Now()
		if Explain(jobs[i%16], nil)[0].Exact {
			exact++
		}
		slow = max(slow, time.Since(start))
		i++
	}
	b.ReportMetric(float64(exact)/float64(b.N), "exact/group")
	b.ReportMetric(float64(slow.Microseconds())/1000, "ms-slowest")

	rough, best := 0, 0
	for _, es := range jobs {
		t := newTable(es, nil)
		t.link()
		t.choose()
		g := t.groups()[0]
		answers, _, _ := t.exact(g)
		best += len(answers[0].Acts)
		rough += len(t.transport(g).Acts)
	}
	b.ReportMetric(float64(rough)/float64(best), "acts-transport/exact")
}
