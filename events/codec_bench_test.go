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

func benchDecode[T Event](b *testing.B, r Record) {
	// Two facts in turn: no text of the envelope may be had for nothing.
	other := r
	other.N, other.Seen, other.Terminal, other.Operator = 804, "b1:803 b2:1042 office:12", "b1", "Ole"
	var stored [2][]byte
	var err error
	stored[0], err = Append(nil, &r)
	require.NoError(b, err)
	stored[1], err = Append(nil, &other)
	require.NoError(b, err)
	var d Decoder
	var got Record
	b.ReportAllocs()
	b.SetBytes(int64(len(stored[0])))
	for i := 0; b.Loop(); i++ {
		if err := d.Decode(stored[i&1], &got); err != nil {
			b.Fatal(err)
		}
	}
	ours := b.Elapsed().Seconds() / float64(b.N)
	b.StopTimer()
	rounds := min(b.N, 20000)
	start := time.Now()
	for i := range rounds {
		var plain plainEvent[T]
		if err := json.Unmarshal(stored[i&1], &plain); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(time.Since(start).Seconds()/float64(rounds)/ours, "json/ours")
}

func BenchmarkAppend(b *testing.B) {
	r := typical()
	var buf []byte
	b.ReportAllocs()
	for b.Loop() {
		var err error
		if buf, err = Append(buf[:0], &r); err != nil {
			b.Fatal(err)
		}
	}
	ours := b.Elapsed().Seconds() / float64(b.N)
	plain := plainEvent[Event]{Time: time.UnixMicro(r.Time), At: r.At, N: r.N, Seen: string(r.Seen), Data: r.Event}
	b.StopTimer()
	rounds := min(b.N, 20000)
	start := time.Now()
	for range rounds {
		if _, err := json.Marshal(&plain); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(time.Since(start).Seconds()/float64(rounds)/ours, "json/ours")
}
