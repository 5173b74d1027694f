package stream

import (
	"bytes"
	"fmt"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/events/journal"
	"countback/projections/engine"
)

// lives makes a closed store of n events: one kept life of a job after the
// other, each as a job of its own, written by eight terminals in turn.
func lives(b *testing.B, n int) Config {
	kept, err := os.ReadFile("../../testdata/life.jsonl")
	require.NoError(b, err)
	lines := bytes.Split(bytes.TrimSpace(kept), []byte("\n"))
	life := make([]events.Record, len(lines))
	var d events.Decoder
	for i, line := range lines {
		require.NoError(b, d.Decode(line, &life[i]))
	}
	counter := map[events.Terminal]uint32{}
	return filledStore(b, n, len(life), func(i int) (events.Terminal, events.Job, uint32, []byte) {
		r := life[i%len(life)]
		job := i / len(life)
		r.Shop, r.Job, r.Terminal = "sorrel", events.Job(fmt.Sprintf("J%05d", job)), events.Terminal(fmt.Sprint("b", job%8))
		counter[r.Terminal]++
		r.N = counter[r.Terminal]
		r.Seen = ""
		if i%len(life) > 0 {
			r.Seen = events.SeenOf(map[events.Terminal]uint32{r.Terminal: r.N - 1})
		}
		body, err := events.Append(nil, &r)
		require.NoError(b, err)
		return r.Terminal, r.Job, r.N, body
	})
}

// BenchmarkRebuild reads, decodes and folds a whole shop, and compares that
// with the faster of the two raw ordered replays of the same stream. With
// COUNTBACK_BENCH=5 it is a million events.
func BenchmarkRebuild(b *testing.B) {
	n := benchSize(b, 200_000)
	cfg := lives(b, n)
	cfg.Listen = "127.0.0.1:0"
	s := opened(b, cfg)
	far := connected(b, Remote{URLs: []string{"nats://" + s.Addr()}, Shop: "sorrel"})
	b.Cleanup(func() { far.Close() })
	for b.Loop() {
		raw := min(replay(b, s, n), replay(b, far, n))
		whole := timed(func() {
			jobs := map[events.Job]*engine.Job{}
			var d events.Decoder
			folded := 0
			require.NoError(b, s.Read(b.Context(), 0, journal.Filter{}, func(m journal.Message) error {
				var r events.Record
				if err := d.Decode(m.Data, &r); err != nil {
					return err
				}
				j := jobs[r.Job]
				if j == nil {
					j = &engine.Job{}
					jobs[r.Job] = j
				}
				j.Apply(&r)
				folded++
				return nil
			}))
			require.Equal(b, n, folded)
		})
		b.ReportMetric(float64(n)/whole.Seconds(), "events/s")
		b.ReportMetric(float64(n)/raw.Seconds(), "raw/s")
		b.ReportMetric(whole.Seconds()/raw.Seconds(), "ratio-to-raw")
	}
}
