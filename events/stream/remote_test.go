package stream

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/url"
	"sync/atomic"
	"testing"
	"time"

	"github.com/nats-io/nats-server/v2/server"
	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"
	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/events/journal"
	"countback/events/journal/conformance"
)

// quick are waits for tests in which answers get lost.
var quick = Timing{AckWait: time.Second, Heartbeat: 200 * time.Millisecond, Duplicate: 100 * time.Millisecond}

// startServer runs a server as an operator would, without any of our care.
func startServer(t testing.TB, change func(*server.Options)) *server.Server {
	t.Helper()
	srv := launch(t, change)
	require.True(t, srv.ReadyForConnections(10*time.Second))
	return srv
}

func launch(t testing.TB, change func(*server.Options)) *server.Server {
	t.Helper()
	opts := &server.Options{
		Host: "127.0.0.1", Port: server.RANDOM_PORT, NoSigs: true, NoLog: true,
		JetStream: true, StoreDir: t.TempDir(), SyncAlways: true,
		JetStreamMaxStore: 1 << 30, JetStreamMaxMemory: 64 << 20, DisableJetStreamBanner: true,
	}
	if change != nil {
		change(opts)
	}
	srv, err := server.NewServer(opts)
	require.NoError(t, err)
	srv.Start()
	t.Cleanup(func() { stop(srv) })
	return srv
}

// startCluster runs three servers that form one cluster.
func startCluster(t testing.TB) []*server.Server {
	t.Helper()
	var ports []int
	var routes []*url.URL
	var kept []net.Listener
	for range 3 { // each must know the others before it starts
		l, err := net.Listen("tcp", "127.0.0.1:0")
		require.NoError(t, err)
		defer l.Close()
		kept, ports = append(kept, l), append(ports, l.Addr().(*net.TCPAddr).Port)
		routes = append(routes, &url.URL{Scheme: "nats", Host: l.Addr().String()})
	}
	var all []*server.Server
	for i, port := range ports {
		require.NoError(t, kept[i].Close()) // not before: another program could take the port
		all = append(all, launch(t, func(o *server.Options) {
			o.ServerName = fmt.Sprint("node", i)
			o.Cluster = server.ClusterOpts{Name: "shop", Host: "127.0.0.1", Port: port}
			o.Routes = routes
		}))
	}
	require.Eventually(t, func() bool {
		for _, srv := range all {
			if srv.JetStreamIsLeader() && len(srv.JetStreamClusterPeers()) == 3 {
				return true
			}
		}
		return false
	}, time.Minute, 10*time.Millisecond)
	return all
}

func connected(t testing.TB, r Remote) *Stream {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 20*time.Second)
	defer cancel()
	s, err := Connect(ctx, r)
	require.NoError(t, err)
	return s
}

// broken makes a line lose what a test wants lost, until it is mended: cut,
// and connected again.
func broken(t testing.TB, ln *line, j journal.Journal, f journal.Fault) func() {
	ln.lose(f)
	return func() {
		nc := j.(*Stream).nc
		before := nc.Stats().Reconnects
		ln.mend()
		require.Eventually(t, func() bool { return nc.Stats().Reconnects > before && nc.IsConnected() }, 10*time.Second, 5*time.Millisecond)
	}
}

// forget waits until the server has forgotten the id of the last message: it
// is asked to store it again, under a condition that it looks at only after
// the id and that does not hold.
func forget(t testing.TB, j journal.Journal, condition string) {
	s := j.(*Stream)
	state, err := s.state(t.Context())
	require.NoError(t, err)
	last, err := s.st.GetMsg(t.Context(), state.LastSeq)
	require.NoError(t, err)
	require.Eventually(t, func() bool {
		ack, err := s.js.PublishMsg(t.Context(), &nats.Msg{
			Subject: last.Subject, Header: nats.Header{idHeader: {last.Header.Get(idHeader)}, condition: {"999999"}},
		})
		var api *jetstream.APIError
		if errors.As(err, &api) {
			return true
		}
		require.NoError(t, err)
		require.True(t, ack.Duplicate)
		return false
	}, 10*time.Second, 20*time.Millisecond)
	after, err := s.state(t.Context())
	require.NoError(t, err)
	require.Equal(t, state.LastSeq, after.LastSeq)
}

func TestRemoteConforms(t *testing.T) {
	t.Parallel() // it mostly waits for answers that never come
	conformance.Run(t, func(t testing.TB) conformance.Store {
		srv := startServer(t, nil)
		ln := newLine(t, srv.Addr().String())
		return conformance.Store{
			Open: func(t testing.TB) journal.Journal {
				return connected(t, Remote{URLs: []string{ln.url()}, Shop: "sorrel", Create: true, Timing: quick})
			},
			Break:  func(t testing.TB, j journal.Journal, f journal.Fault) func() { return broken(t, ln, j, f) },
			Forget: func(t testing.TB, j journal.Journal) { forget(t, j, jetstream.ExpectedLastMsgIDHeader) },
			Behead: behead,
		}
	})
}

func TestClusterConforms(t *testing.T) {
	t.Parallel()
	ln := newLine(t, startCluster(t)[0].Addr().String())
	var shops atomic.Int32
	timing := quick
	timing.Duplicate = 2 * time.Second // so that repeats are answered from memory, too
	timing.AckWait = 2 * time.Second
	conformance.Run(t, func(t testing.TB) conformance.Store {
		shop := events.Shop(fmt.Sprint("shop-", shops.Add(1)))
		return conformance.Store{
			Open: func(t testing.TB) journal.Journal {
				return connected(t, Remote{URLs: []string{ln.url()}, Shop: shop, Create: true, Replicas: 3, Timing: timing,
					options: []nats.Option{nats.IgnoreDiscoveredServers()}})
			},
			Break:  func(t testing.TB, j journal.Journal, f journal.Fault) func() { return broken(t, ln, j, f) },
			Forget: func(t testing.TB, j journal.Journal) { forget(t, j, expectHeader) },
			Behead: behead,
		}
	})
}
