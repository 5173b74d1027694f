package stream

import (
	"context"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"countback/events/journal"
	"countback/events/stream/vault"
)

// Whatever ends the wait for an answer, it is unclear what became of the
// message, and the journal keeps that in mind.
func TestWaitEnds(t *testing.T) {
	for name, end := range map[string]func(s *Stream, cancel func()){
		"by the caller":        func(s *Stream, cancel func()) { cancel() },
		"because it is closed": func(s *Stream, cancel func()) { s.Close() },
		"because it is cut":    func(s *Stream, cancel func()) { s.nc.ForceReconnect() },
	} {
		t.Run(name, func(t *testing.T) {
			srv := startServer(t, nil)
			ln := newLine(t, srv.Addr().String())
			timing := quick
			timing.AckWait = time.Minute
			s := connected(t, Remote{URLs: []string{ln.url()}, Shop: "sorrel", Create: true, Timing: timing})
			defer s.Close()
			fill(t, s, "b1", 1, 100)
			ln.lose(journal.LoseAnswer)
			ctx, cancel := context.WithCancel(t.Context())
			defer cancel()
			d := journal.Draft{Terminal: "b1", N: 2, Job: "J1", Data: []byte("{}")}
			got := make(chan error, 1)
			go func() {
				_, err := s.Append(ctx, d, journal.Recorded(1))
				got <- err
			}()
			require.Eventually(t, ln.lost.Load, 10*time.Second, time.Millisecond)
			end(s, cancel)
			var unclear *journal.Unclear
			require.ErrorAs(t, <-got, &unclear)
			ln.mend()

			s2 := connected(t, Remote{URLs: []string{ln.url()}, Shop: "sorrel", Timing: quick})
			defer s2.Close()
			r, stored, err := s2.Settle(t.Context(), d)
			require.NoError(t, err)
			require.True(t, stored)
			require.Equal(t, journal.Receipt{Seq: 2, Repeated: true}, r)
		})
	}
}

// What the server finds is compared with what was seen before it started:
// here the store changes in between, as if the server itself had done it.
func TestServerLosesStoreWhileStarting(t *testing.T) {
	for name, row := range map[string]struct {
		spoil func(s spoilt)
		says  string
	}{
		"all":     {func(s spoilt) { s.remove(s.stream()) }, "server did not find the stream in a store with 50 events"},
		"the end": {func(s spoilt) { s.remove(s.block(3)) }, "server has 36 events up to number 50, the store has 50"},
	} {
		t.Run(name, func(t *testing.T) {
			s := newSpoilt(t, false)
			cfg, err := s.cfg.full()
			require.NoError(t, err)
			v, err := vault.Open(cfg.place(), "test")
			require.NoError(t, err)
			row.spoil(s)
			_, err = open(cfg, v)
			require.ErrorContains(t, err, row.says)
			require.ErrorContains(t, err, "countback store restore")
			require.NoError(t, v.Close(false))
			require.ErrorAs(t, openAgain(cfg), new(*vault.Damaged))
			_, err = Restore(cfg, false)
			require.NoError(t, err)
			s.whole()
		})
	}
}

// Readers leave nothing behind on the server.
func TestReadersAreDismissed(t *testing.T) {
	s := opened(t, testConfig(t))
	fill(t, s, "b1", 10, 100)
	ctx, cancel := context.WithCancel(t.Context())
	seen := make(chan struct{}, 10)
	done := make(chan error, 1)
	go func() {
		done <- s.Follow(ctx, 10, journal.Filter{Job: "J4"}, func(journal.Message) error { seen <- struct{}{}; return nil })
	}()
	<-seen
	for range 3 {
		require.NoError(t, s.Read(t.Context(), 0, journal.Filter{Job: "J1"}, func(journal.Message) error { return nil }))
	}
	cancel()
	require.ErrorIs(t, <-done, context.Canceled)
	state, err := s.state(t.Context())
	require.NoError(t, err)
	require.Zero(t, state.Consumers)
	files, err := os.ReadDir(spoilt{cfg: Config{Dir: s.vault.Place().Dir}}.stream("obs"))
	require.NoError(t, err)
	require.Empty(t, files)
}
