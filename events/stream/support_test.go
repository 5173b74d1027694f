package stream

import (
	"context"
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"github.com/nats-io/nats.go/jetstream"
	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/events/journal"
)

// testConfig is a store in a folder of the test's own.
func testConfig(t testing.TB) Config {
	return Config{
		Shop: "sorrel", Terminal: "hub", Dir: filepath.Join(t.TempDir(), "store"),
		MinFreeBytes: -1, MaxStoreBytes: 1 << 30,
	}
}

// behead takes the first message out, past everything that is meant to
// prevent it: a limit is set that the stream exceeds by one.
func behead(t testing.TB, j journal.Journal) {
	s := j.(*Stream)
	ctx, cancel := context.WithTimeout(t.Context(), 10*time.Second)
	defer cancel()
	state, err := s.state(ctx)
	require.NoError(t, err)
	cfg := s.settings(s.st.CachedInfo().Config.Replicas)
	cfg.Discard = jetstream.DiscardOld
	cfg.MaxMsgs = int64(state.Msgs) - 1
	_, err = s.js.UpdateStream(ctx, cfg)
	require.NoError(t, err)
}

func opened(t testing.TB, cfg Config) *Stream {
	t.Helper()
	s, err := Open(cfg)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, s.Close()) })
	return s
}

// fill appends n facts of one terminal, size bytes each, and returns their
// drafts.
func fill(t testing.TB, j journal.Journal, terminal events.Terminal, n, size int) []journal.Draft {
	t.Helper()
	last, _, err := j.Last(t.Context(), terminal)
	require.NoError(t, err)
	drafts := make([]journal.Draft, n)
	for i := range drafts {
		d := journal.Draft{Terminal: terminal, N: last.N + 1, Job: events.Job(fmt.Sprint("J", i%5)), Data: make([]byte, size)}
		copy(d.Data, fmt.Sprintf(`{"n":%d}`, d.N))
		r, err := j.Append(t.Context(), d, journal.Recorded(last.Seq))
		require.NoError(t, err)
		last.N, last.Seq, drafts[i] = d.N, r.Seq, d
	}
	return drafts
}

// count reads everything and returns how much it was.
func count(t testing.TB, j journal.Journal) int {
	t.Helper()
	n := 0
	require.NoError(t, j.Read(t.Context(), 0, journal.Filter{}, func(journal.Message) error { n++; return nil }))
	return n
}
