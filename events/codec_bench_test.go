package events

import (
	"encoding/json"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// A plain CloudEvent as encoding/json sees it, for one kind known beforehand:
// it does less than the Decoder has to.
type plainEvent[T any] struct {
	SpecVersion     string    `json:"specversion"`
	ID              string    `json:"id"`
	Source          string    `json:"source"`
	Type            string    `json:"type"`
	Subject         string    `json:"subject"`
	Time            time.Time `json:"time"`
	DataContentType string    `json:"datacontenttype"`
	At              int64     `json:"at,string"`
	N               uint32    `json:"n"`
	Seen            string    `json:"seen"`
	Operator        string    `json:"operator"`
	Known           string    `json:"known"`
	Data            T         `json:"data"`
}

// typical is a count of a bag of the front cover, the commonest long fact.
func typical() Record {
	return Record{
		Shop: "elm-street", Job: "4K7", Terminal: "b2", N: 1042,
		Time: 1764065700123456, At: 1764065700123456, Seen: "b1:803 b2:1041 office:12",
		Operator: "Marit", Known: CountedBlind,
		Event: Counted{Place: "bag/B2KCZ6EE", All: true, Lines: []Line{
			{Kind: "M6x1.0x25 8.8 flange", Qty: 1}, {Kind: "M8x1.25x30 8.8 flange", Qty: 8},
			{Kind: "M8x1.25x45 8.8 flange", Qty: 4}, {Kind: "M10x1.5x50 8.8 flange", Qty: 5},
		}},
	}
}

func BenchmarkDecode(b *testing.B) {
	long := typical()
	short := typical()
	short.Event = BagLabelled{Bag: "B2KCZ6EE", Joint: "front-cover"}
	b.Run("counted", func(b *testing.B) { benchDecode[Counted](b, long) })
	b.Run("bag-labelled", func(b *testing.B) { benchDecode[BagLabelled](b, short) })
}

// BenchDecode reads 64 facts in turn, eight from one terminal and then eight
// from the other, as two benches come in a journal. Each has seen something
// new, so that no text of what was seen comes twice in a row.
func benchDecode[T Event](b *testing.B, r Record) {
	var stored [64][]byte
	high := map[Terminal]uint32{"b1": 803, "b2": 1041, "office": 12}
	for i := range stored {
		r.Terminal, r.Operator = "b1", "Ole"
		if i/8%2 == 1 {
			r.Terminal, r.Operator = "b2", "Marit"
		}
		r.N, r.Seen = high[r.Terminal]+1, SeenOf(high)
		r.Time, r.At = r.Time+61e6, r.At+61e6
		high[r.Terminal]++
		var err error
		stored[i], err = Append(nil, &r)
		require.NoError(b, err)
	}
	var d Decoder
	var got Record
	ours := func(i int) error { return d.Decode(stored[i&63], &got) }
	theirs := func(i int) error {
		var plain plainEvent[T]
		return json.Unmarshal(stored[i&63], &plain)
	}
	b.ReportAllocs()
	b.SetBytes(int64(len(stored[0])))
	for i := 0; b.Loop(); i++ {
		if err := ours(i); err != nil {
			b.Fatal(err)
		}
	}
	b.StopTimer()
	reportRatio(b, ours, theirs)
}

func BenchmarkAppend(b *testing.B) {
	r := typical()
	plain := plainEvent[Event]{
		SpecVersion: "1.0", ID: "b2-1042", Source: "/countback/elm-street/b2", Type: "countback.counted", Subject: "4K7",
		Time: time.UnixMicro(r.Time).UTC(), DataContentType: "application/json", At: r.At, N: r.N,
		Seen: string(r.Seen), Operator: string(r.Operator), Known: "counted-blind", Data: r.Event,
	}
	var buf []byte
	ours := func(int) (err error) {
		buf, err = Append(buf[:0], &r)
		return err
	}
	theirs := func(int) error {
		_, err := json.Marshal(&plain)
		return err
	}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if err := ours(i); err != nil {
			b.Fatal(err)
		}
	}
	b.StopTimer()
	reportRatio(b, ours, theirs)
}

// ReportRatio tells how many times as long theirs takes as ours, by the
// fastest of many short rounds taken in turn, since other work on the machine
// slows single ones.
func reportRatio(b *testing.B, ours, theirs func(int) error) {
	fastest := [2]time.Duration{time.Hour, time.Hour}
	for range 40 {
		for who, f := range [2]func(int) error{ours, theirs} {
			start := time.Now()
			for i := range 64 {
				if err := f(i); err != nil {
					b.Fatal(err)
				}
			}
			fastest[who] = min(fastest[who], time.Since(start))
		}
	}
	b.ReportMetric(float64(fastest[0].Nanoseconds())/64, "ns/fact-at-best")
	b.ReportMetric(float64(fastest[1])/float64(fastest[0]), "json/ours")
}
