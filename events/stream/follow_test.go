package stream

import (
	"context"
	"path/filepath"
	"testing"
	"time"

	"github.com/nats-io/nats-server/v2/server"
	"github.com/stretchr/testify/require"

	"countback/events/journal"
)

// A follower goes on where it was when the line, or the server, comes back.
func TestFollowOverBrokenLine(t *testing.T) {
	srv := startServer(t, nil)
	ln := newLine(t, srv.Addr().String())
	near := connected(t, Remote{URLs: []string{srv.ClientURL()}, Shop: "sorrel", Create: true, Timing: quick})
	defer near.Close()
	far := connected(t, Remote{URLs: []string{ln.url()}, Shop: "sorrel", Timing: quick})
	defer far.Close()
	got := make(chan journal.Seq, 100)
	ended := make(chan error, 1)
	ctx, cancel := context.WithCancel(t.Context())
	go func() {
		ended <- far.Follow(ctx, 0, journal.Filter{}, func(m journal.Message) error { got <- m.Seq; return nil })
	}()
	next := journal.Seq(1)
	for round := range 4 {
		if round == 2 {
			ln.lost.Store(true) // nothing arrives any more, and nobody says so
		}
		fill(t, near, "b1", 5, 100)
		if round > 0 {
			ln.mend()
		}
		for range 5 {
			select {
			case seq := <-got:
				require.Equal(t, next, seq)
				next++
			case err := <-ended:
				require.FailNow(t, "follow ended", "%v", err)
			case <-time.After(20 * time.Second):
				require.FailNow(t, "follow stands still", "after %d", next-1)
			}
		}
	}
	cancel()
	require.ErrorIs(t, <-ended, context.Canceled)
}

// Without a line everything says at once that it is offline, and an append
// that nothing was stored.
func TestOffline(t *testing.T) {
	srv := startServer(t, nil)
	far := connected(t, Remote{URLs: []string{srv.ClientURL()}, Shop: "sorrel", Create: true, Timing: quick})
	defer far.Close()
	fill(t, far, "b1", 2, 100)
	stop(srv)
	require.Eventually(t, func() bool { return !far.nc.IsConnected() }, 5*time.Second, 5*time.Millisecond)
	_, err := far.Append(t.Context(), journal.Draft{Terminal: "b1", N: 3, Job: "J1", Data: []byte("{}")}, journal.Recorded(2))
	require.ErrorIs(t, err, journal.ErrOffline)
	require.ErrorContains(t, err, "event b1-3 not stored")
	require.NotErrorAs(t, err, new(*journal.Unclear))
	require.ErrorIs(t, far.Health(t.Context()), journal.ErrOffline)
	_, err = far.Head(t.Context())
	require.ErrorIs(t, err, journal.ErrOffline)
	require.ErrorIs(t, far.Read(t.Context(), 0, journal.Filter{}, func(journal.Message) error { return nil }), journal.ErrOffline)
	_, err = Connect(t.Context(), Remote{URLs: []string{srv.ClientURL()}, Shop: "sorrel"})
	require.ErrorIs(t, err, journal.ErrOffline)
}

// The mark of a terminal notices a journal elsewhere that lost something.
func TestRemoteMark(t *testing.T) {
	mark := filepath.Join(t.TempDir(), "mark")
	dir := t.TempDir()
	srv := startServer(t, func(o *server.Options) { o.StoreDir = dir })
	r := Remote{URLs: []string{srv.ClientURL()}, Shop: "sorrel", Create: true, HighWaterPath: mark, Timing: quick}
	s := connected(t, r)
	fill(t, s, "b1", 3, 100)
	require.NoError(t, s.Close())
	s = connected(t, r)
	fill(t, s, "b1", 1, 100)
	require.NoError(t, s.js.DeleteStream(t.Context(), s.name))
	require.NoError(t, s.Close())

	_, err := Connect(t.Context(), r)
	require.ErrorContains(t, err, "there is no stream countback-sorrel any more, but event 4 (b1-4) was acknowledged to this terminal")
	other := r
	other.HighWaterPath = ""
	require.Eventually(t, func() bool { // the server is still tidying up after the removal
		s, err = Connect(t.Context(), other)
		return err == nil
	}, 10*time.Second, 10*time.Millisecond)
	fill(t, s, "b1", 2, 100)
	_, err = Connect(t.Context(), r)
	require.ErrorContains(t, err, "ends with event 2, but event 4 (b1-4) was acknowledged")
	fill(t, s, "b2", 2, 100)
	_, err = Connect(t.Context(), r)
	require.ErrorContains(t, err, "event 4 of stream countback-sorrel is b2-2, but b1-4 was acknowledged to this terminal: this is another stream")
	require.NoError(t, s.Close())
}

// A stream is made elsewhere only when told to.
func TestConnectMakesNothingByItself(t *testing.T) {
	srv := startServer(t, nil)
	_, err := Connect(t.Context(), Remote{URLs: []string{srv.ClientURL()}, Shop: "sorrel", Timing: quick})
	require.ErrorContains(t, err, "there is no stream countback-sorrel; is it the right server?")
	_, err = Connect(t.Context(), Remote{URLs: []string{srv.ClientURL()}, Shop: "no shop", Timing: quick})
	require.ErrorContains(t, err, "character ' '")
}

// A message that some program put into the stream past the contract is handed
// out as what it is, and stops the terminal whose name it used.
func TestForeignMessage(t *testing.T) {
	s := opened(t, testConfig(t))
	fill(t, s, "b1", 1, 100)
	for _, subject := range []string{"countback.sorrel.b2.J1", "countback.sorrel.b2.J1.more"} {
		_, err := s.js.Publish(t.Context(), subject, []byte("hello"))
		require.NoError(t, err)
	}
	for name, read := range map[string]func(fn func(journal.Message) error) error{
		"blocks": func(fn func(journal.Message) error) error { return s.Read(t.Context(), 2, journal.Filter{}, fn) },
		"consumer": func(fn func(journal.Message) error) error {
			_, err := s.deliver(t.Context(), 2, 3, journal.Filter{}, fn)
			return err
		},
	} {
		var got []journal.Message
		require.NoError(t, read(func(m journal.Message) error {
			require.Equal(t, "hello", string(m.Data))
			m.Data = nil
			got = append(got, m)
			return nil
		}), name)
		require.Equal(t, []journal.Message{{Seq: 2, Terminal: "b2", Job: "J1"}, {Seq: 3, Terminal: "b2", Job: "J1.more"}}, got)
	}
	_, err := s.Append(t.Context(), journal.Draft{Terminal: "b2", N: 1, Job: "J1", Data: []byte("{}")}, journal.Recorded(0))
	require.ErrorContains(t, err, "number 3 was not written by a terminal of the shop; give the terminal another name")
}
