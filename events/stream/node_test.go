package stream

import (
	"context"
	"fmt"
	"log/slog"
	"net"
	"os"
	"path/filepath"
	"reflect"
	"testing"
	"time"

	"github.com/nats-io/nats-server/v2/server"
	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/events/journal"
)

func fleet(nodes ...string) Fleet {
	f := Fleet{Shop: "elm-street", Owner: "owner-of-it-all", Secret: "between-the-nodes",
		Terminals: map[events.Terminal]string{"b1": "secret-of-bench-1", "b2": "secret-of-bench-2"}}
	for i, host := range nodes {
		f.Nodes = append(f.Nodes, Member{fmt.Sprint("node-", i+1), host})
	}
	return f
}

func configFile(t testing.TB, f Fleet, i int) string {
	text, err := f.Config(i)
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "node.conf")
	require.NoError(t, os.WriteFile(file, []byte(text), 0o600))
	return file
}

// The server's own parser reads the configuration to what the program sets
// itself for a server inside a terminal.
func TestConfigOfANode(t *testing.T) {
	for _, n := range []int{1, 3} {
		hosts := []string{"10.0.0.1", "10.0.0.2", "shop-3.lan"}[:n]
		f := fleet(hosts...)
		for i := range n {
			opts, err := server.ProcessConfigFile(configFile(t, f, i))
			require.NoError(t, err)
			require.Equal(t, fmt.Sprint("node-", i+1), opts.ServerName)
			require.True(t, opts.JetStream && opts.SyncAlways)
			require.Equal(t, "/var/lib/countback/node", opts.StoreDir)
			require.Equal(t, int32(journal.MaxData+64<<10), opts.MaxPayload)
			require.Equal(t, guestUser, opts.NoAuthUser)
			require.Len(t, opts.Users, 4)
			require.Len(t, opts.Routes, n-1)
			byName := map[string]*server.User{}
			for _, u := range opts.Users {
				byName[u.Username] = u
			}
			require.Nil(t, byName[ownerUser].Permissions)
			for name, publish := range map[string][]string{guestUser: nil, "b1": {events.TerminalFilter("elm-street", "b1")}} {
				want := permissions("elm-street", publish...)
				require.True(t, reflect.DeepEqual(want.Publish.Allow, byName[name].Permissions.Publish.Allow), name)
				require.Equal(t, want.Subscribe.Allow, byName[name].Permissions.Subscribe.Allow, name)
			}
			require.Equal(t, "secret-of-bench-2", byName["b2"].Password)
		}
	}
}

func TestFleetsThatCannotWork(t *testing.T) {
	for _, row := range []struct {
		change func(*Fleet)
		want   string
	}{
		{func(f *Fleet) { f.Nodes = f.Nodes[:2] }, "fleet of 2 nodes: want 1, 3 or 5"},
		{func(f *Fleet) { f.Nodes = nil }, "fleet of 0 nodes"},
		{func(f *Fleet) { f.Nodes[1].Name = "node-1" }, "node node-1 is named twice"},
		{func(f *Fleet) { f.Nodes[1].Host = "10.0.0.2:6222" }, `host "10.0.0.2:6222"`},
		{func(f *Fleet) { f.Nodes[1].Name = "a node" }, "node"},
		{func(f *Fleet) { f.Shop = "elm street" }, "shop"},
		{func(f *Fleet) { f.Terminals["b 3"] = "secret-of-bench-3" }, "terminal"},
		{func(f *Fleet) { f.Terminals["b3"] = "short" }, "password of terminal b3: want 12 and more"},
		{func(f *Fleet) { f.Terminals["b3"] = `"; listen: 1.2.3.4` }, "password of terminal b3"},
		{func(f *Fleet) { f.Owner = "" }, "password of owner"},
		{func(f *Fleet) { f.Secret = "" }, "password of nodes"},
	} {
		f := fleet("10.0.0.1", "10.0.0.2", "10.0.0.3")
		row.change(&f)
		_, err := f.Config(0)
		require.ErrorContains(t, err, row.want)
	}
	_, err := fleet("10.0.0.1").Config(1)
	require.ErrorContains(t, err, "node 2 of 1")
}

func TestNodesThatDoNotStart(t *testing.T) {
	for text, want := range map[string]string{
		"port: [": "node", "port: 1": "sync_interval: always", "jetstream { store_dir: /tmp/x, sync_interval: 2m }": "sync_interval: always",
	} {
		file := filepath.Join(t.TempDir(), "bad.conf")
		require.NoError(t, os.WriteFile(file, []byte(text), 0o600))
		_, err := StartNode(file, slog.New(slog.DiscardHandler))
		require.ErrorContains(t, err, want)
	}
	_, err := StartNode(filepath.Join(t.TempDir(), "none.conf"), slog.New(slog.DiscardHandler))
	require.Error(t, err)
}

// freePort is a port that nobody listens on now.
func freePort(t testing.TB) int {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	defer l.Close()
	return l.Addr().(*net.TCPAddr).Port
}

// Three nodes by their own configuration files keep what two benches tell, go on
// with one of them dead, and give it all back when it returns.
func TestFleetOfThreeWithOneKilled(t *testing.T) {
	t.Parallel()
	f := fleet("127.0.0.1", "127.0.0.2", "127.0.0.3") // all of them are this machine
	f.Port, f.RoutePort = freePort(t), freePort(t)
	var nodes []*Node
	var files, urls []string
	for i := range 3 {
		f.Dir = t.TempDir()
		files = append(files, configFile(t, f, i))
		n, err := StartNode(files[i], slog.New(slog.DiscardHandler))
		require.NoError(t, err)
		nodes = append(nodes, n)
		urls = append(urls, "nats://"+n.Addr())
	}
	defer func() {
		for _, n := range nodes {
			n.Stop()
		}
	}()
	slow := Timing{AckWait: 2 * time.Second, Heartbeat: 500 * time.Millisecond, Duplicate: time.Second}
	var owner *Stream
	require.Eventually(t, func() bool {
		s, err := Connect(t.Context(), Remote{URLs: urls, Shop: "elm-street", Terminal: Owner, Password: "owner-of-it-all", Create: true, Replicas: 3, Timing: slow})
		owner = s
		return err == nil
	}, 30*time.Second, 100*time.Millisecond)
	defer owner.Close()
	bench := func(name events.Terminal, password string) *Stream {
		return connected(t, Remote{URLs: urls, Shop: "elm-street", Terminal: name, Password: password, Timing: slow})
	}
	one, two := bench("b1", "secret-of-bench-1"), bench("b2", "secret-of-bench-2")
	defer one.Close()
	defer two.Close()
	fill(t, one, "b1", 3, 100)
	fill(t, two, "b2", 2, 100)
	require.Equal(t, 5, count(t, one))
	_, err := one.Append(t.Context(), journal.Draft{Terminal: "b2", N: 3, Job: "J1", Data: []byte("{}")}, journal.Recorded(5))
	require.Error(t, err, "one bench as another")

	nodes[2].srv.Shutdown()
	require.Eventually(t, func() bool {
		last, _, err := one.Last(t.Context(), "b1")
		if err != nil {
			return false
		}
		d := journal.Draft{Terminal: "b1", N: 4, Job: "J1", Data: []byte(`{"n":4}`)}
		_, err = one.Append(t.Context(), d, journal.Recorded(last.Seq))
		if err == nil || last.N == 4 {
			return true
		}
		_, stored, err := one.Settle(t.Context(), d)
		return err == nil && stored
	}, 30*time.Second, 50*time.Millisecond, "two of three are enough")
	require.Eventually(t, func() bool { return readable(two) == 6 }, 20*time.Second, 50*time.Millisecond)
	nodes[2].srv.WaitForShutdown()
	nodes[2], err = StartNode(files[2], slog.New(slog.DiscardHandler))
	require.NoError(t, err)
	back, err := Connect(t.Context(), Remote{URLs: []string{urls[2]}, Shop: "elm-street", Terminal: "b2", Password: "secret-of-bench-2", Timing: slow})
	require.NoError(t, err)
	defer back.Close()
	require.Eventually(t, func() bool { return readable(back) == 6 }, 20*time.Second, 50*time.Millisecond)
}

// readable is how many events can be read now; -1 while they cannot.
func readable(j journal.Journal) int {
	n := 0
	if err := j.Read(context.Background(), 0, journal.Filter{}, func(journal.Message) error { n++; return nil }); err != nil {
		return -1
	}
	return n
}
