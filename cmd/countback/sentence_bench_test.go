package main

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/events/journal"
	"countback/events/stream"
	"countback/labels/code"
)

// watched notes when an append came back: that is when the fact is durable.
type watched struct {
	journal.Journal
	durable time.Time
	draft   journal.Draft
}

func (w *watched) Append(ctx context.Context, d journal.Draft, e journal.Expect) (journal.Receipt, error) {
	r, err := w.Journal.Append(ctx, d, e)
	w.durable, w.draft = time.Now(), d
	return r, err
}

// Ahead passes on what the store says of itself.
func (w *watched) Ahead(seq journal.Seq) bool { return w.Journal.(*stream.Stream).Ahead(seq) }

func middle(d []time.Duration) time.Duration {
	slices.Sort(d)
	return d[len(d)/2]
}

// BenchmarkSentenceToDurable measures a sentence of three scans (a bag, COUNT,
// a number) at the kiosk from the first character to the fact on disk, against
// an append of the same bytes to a store beside it, and a bare publish of them
// with an id and an expectation to a third, in turns.
func BenchmarkSentenceToDurable(b *testing.B) {
	ctx := b.Context()
	open := func(name string) *stream.Stream {
		s, err := stream.Open(stream.Config{Shop: "hill", Terminal: "hub", Dir: filepath.Join(b.TempDir(), name), MaxStoreBytes: 1 << 30})
		require.NoError(b, err)
		b.Cleanup(func() { require.NoError(b, s.Close()) })
		return s
	}
	store, beside, third := open("store"), open("beside"), open("third")
	text, err := os.ReadFile("../../testdata/plans/sorrel-i4-20.yaml")
	require.NoError(b, err)
	w := &watched{Journal: store}
	t, err := sitDown(ctx, w, nil, settings{Shop: "hill"}, "b2", map[string]string{"sorrel-i4-20": string(text)}, wallClock)
	require.NoError(b, err)
	scan := func(lines ...string) {
		for _, l := range lines {
			_, err := t.Scan(ctx, l)
			require.NoError(b, err)
		}
	}
	scan("job 4K7", "engine Sorrel", "plan sorrel-i4-20", "OPEN JOB", "job 4K7")
	issuer, err := code.NewIssuer(code.Ranges()[0]) // the first terminal of a shop
	require.NoError(b, err)
	label, _, _ := issuer.Next(code.Bag, 0)
	bag := string(label)
	scan("joint coils", bag, "4")
	told := t.Told()
	require.IsType(b, events.PiecesOut{}, told[len(told)-1].Event, t.View().Lines)
	var sentence, alone, bare []time.Duration
	var seq, last journal.Seq
	n := uint32(0)
	for b.Loop() {
		start := time.Now()
		scan(bag, "COUNT", "4")
		require.Len(b, t.Told(), 1, t.View().Lines)
		sentence = append(sentence, w.durable.Sub(start))
		n++
		d := journal.Draft{Terminal: "b3", N: n, Job: "other", Data: slices.Clone(w.draft.Data)}
		start = time.Now()
		r, err := beside.Append(ctx, d, journal.Recorded(seq))
		alone = append(alone, time.Since(start))
		require.NoError(b, err)
		seq = r.Seq
		start = time.Now()
		last, err = third.Bare(ctx, d, last)
		bare = append(bare, time.Since(start))
		require.NoError(b, err)
	}
	s, a, p := middle(sentence), middle(alone), middle(bare)
	b.ReportMetric(float64(s.Microseconds()), "p50-us/sentence")
	b.ReportMetric(float64(p.Microseconds()), "p50-us/publish")
	b.ReportMetric(float64(s)/float64(a), "ratio-to-append")
	b.ReportMetric(float64(s)/float64(p), "ratio-to-publish")
}
