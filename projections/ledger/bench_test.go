package ledger

import (
	"fmt"
	"testing"
	"time"

	"countback/events"
)

// shop is a made-up job: joints, their bags, a few sizes each. It is what the
// benchmarks fold.
type shop struct {
	joints, bags []events.Place
	sizes        []events.Kind
}

func newShop(joints int) shop {
	s := shop{}
	for i := range joints {
		s.joints = append(s.joints, events.Place(fmt.Sprintf("fitted/block/joint-%d", i)))
		s.bags = append(s.bags, events.Place(fmt.Sprintf("bag/B2KCZ%03d", i)))
	}
	for i := range 24 {
		s.sizes = append(s.sizes, events.Kind(fmt.Sprintf("M%dx1.25x%d 8.8 flange", 6+i%4*2, 20+5*i)))
	}
	return s
}

// fold runs one job: the opening, then joints out, counted, in again, counted,
// until the facts are used up. It gives the number of postings.
func (s shop) fold(b *Book, facts int) int {
	arrived := b.Account("outside/arrived")
	joint, bag := make([]AccountID, len(s.joints)), make([]AccountID, len(s.joints))
	items := make([][3]ItemID, len(s.joints))
	for j := range s.joints {
		joint[j], bag[j] = b.Account(s.joints[j]), b.Account(s.bags[j])
		for i := range 3 {
			items[j][i] = b.Item(Item{Kind: s.sizes[(j*5+i*7)%len(s.sizes)]})
			b.Post(0, items[j][i], int32(2+i*2), arrived, joint[j])
		}
	}
	var rows [3]Number
	for f := 1; f <= facts; f++ {
		j := f % len(s.joints)
		from, to := joint[j], bag[j]
		if f/len(s.joints)%2 == 1 {
			from, to = to, from
		}
		for i, it := range items[j] {
			n := b.Qty(from, it)
			if i != f%5 && n > 0 {
				b.Move(Fact(f), OfKind(b.KindOf(it)), n, from, to)
			}
			rows[i] = Number{OfKind(b.KindOf(it)), b.Qty(to, it)}
		}
		if f%97 == 0 {
			rows[1].N--
		}
		if f%3 == 0 {
			b.CountAll(Fact(f), events.CountedOpen, to, rows[:], true)
		}
	}
	return len(b.Log())
}

func BenchmarkPost(b *testing.B) {
	s := newShop(60)
	book := New()
	s.fold(book, 0)
	bags := make([]AccountID, len(s.bags))
	for i := range bags {
		bags[i] = book.Account(s.bags[i])
	}
	arrived := book.Account("outside/arrived")
	item := book.Item(Item{Kind: s.sizes[5]})
	for _, a := range bags {
		book.Post(0, item, 10, arrived, a)
	}
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		book.Post(1, item, 1, bags[i%60], bags[(i+1)%60])
		i++
		if len(book.log) > 4000 {
			book.log = book.log[:0]
		}
	}
}

// BenchmarkJob folds a job of 2,000 facts, names and all, into a new book and
// into one that is used again.
func BenchmarkJob(b *testing.B) {
	s := newShop(60)
	for _, c := range []struct {
		name string
		make func() *Book
	}{
		{"fresh", New},
		{"reset", func() func() *Book { k := New(); return func() *Book { k.Reset(); return k } }()},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			n := 0
			for b.Loop() {
				n = s.fold(c.make(), 2000)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/posting")
			b.ReportMetric(float64(n), "postings")
		})
	}
}

func BenchmarkClone(b *testing.B) {
	book := New()
	newShop(60).fold(book, 2000)
	b.ReportAllocs()
	for b.Loop() {
		book.Clone()
	}
}

// BenchmarkMove moves by kind between bags of three kinds; a map from account
// and item to quantity, the simplest thing that could hold a book, moves the
// same pieces for comparison.
func BenchmarkMove(b *testing.B) {
	book := New()
	s := newShop(64)
	s.fold(book, 0)
	var bags [64]AccountID
	for i := range bags {
		bags[i] = book.Account(s.bags[i])
		for k := range 3 {
			book.Post(0, book.Item(Item{Kind: s.sizes[k]}), 10, book.Account("outside/arrived"), bags[i])
		}
	}
	of := OfKind(book.Kind(s.sizes[1]))
	ledger := func(i int) { book.Move(1, of, 1, bags[i&63], bags[(i+1)&63]) }
	plain := map[[2]int32]int32{}
	for _, p := range book.Log() {
		plain[[2]int32{int32(p.To), int32(p.Item)}] += p.Qty
	}
	item := int32(book.Plain(of))
	var log []Posting
	maps := func(i int) {
		from, to := [2]int32{int32(bags[i&63]), item}, [2]int32{int32(bags[(i+1)&63]), item}
		if plain[from] < 1 {
			return
		}
		plain[from]--
		plain[to]++
		log = append(log, Posting{1, ItemID(item), ItemID(item), bags[i&63], bags[(i+1)&63], 1, true})
	}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		ledger(i)
		if len(book.log) >= 4000 {
			book.log = book.log[:0]
		}
	}
	mine := float64(b.Elapsed().Nanoseconds()) / float64(b.N)
	start := time.Now()
	for i := range b.N {
		maps(i)
		if len(log) >= 4000 {
			log = log[:0]
		}
	}
	b.ReportMetric(float64(time.Since(start).Nanoseconds())/float64(b.N)/mine, "maps/ledger")
}
