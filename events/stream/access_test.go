package stream

import (
	"os"
	"os/exec"
	"testing"
	"time"

	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"
	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/events/journal"
)

func terminals(name, password string) map[events.Terminal]string {
	return map[events.Terminal]string{events.Terminal(name): password}
}

func TestNobodyCanConnectUnlessListening(t *testing.T) {
	s := opened(t, testConfig(t))
	require.Empty(t, s.Addr())
}

func listening(t *testing.T) (Config, *Stream) {
	cfg := testConfig(t)
	cfg.Listen, cfg.Terminals = "127.0.0.1:0", terminals("b7", "secret")
	s := opened(t, cfg)
	fill(t, s, "b1", 3, 100)
	return cfg, s
}

// A terminal appends as itself, and reads what the others wrote.
func TestTerminalOverTheNetwork(t *testing.T) {
	_, s := listening(t)
	far := connected(t, Remote{URLs: []string{"nats://" + s.Addr()}, Shop: "sorrel", Terminal: "b7", Password: "secret", Timing: quick})
	defer far.Close()
	fill(t, far, "b7", 2, 100)
	require.Equal(t, 5, count(t, far))
	require.Equal(t, 5, count(t, s))
	require.NoError(t, far.Health(t.Context()))

	_, err := far.Append(t.Context(), journal.Draft{Terminal: "b1", N: 4, Job: "J1", Data: []byte("{}")}, journal.Recorded(3))
	require.Error(t, err, "as another terminal")
	require.Equal(t, 5, count(t, s))
}

func TestWrongPasswordIsRefused(t *testing.T) {
	_, s := listening(t)
	_, err := Connect(t.Context(), Remote{URLs: []string{"nats://" + s.Addr()}, Shop: "sorrel", Terminal: "b7", Password: "guess"})
	require.ErrorContains(t, err, "Authorization Violation")
	require.ErrorIs(t, err, journal.ErrOffline)
}

// Whoever comes without a name may read, and can break nothing.
func TestGuestsOnlyRead(t *testing.T) {
	_, s := listening(t)
	url := "nats://" + s.Addr()
	guest := connected(t, Remote{URLs: []string{url}, Shop: "sorrel", Timing: quick})
	defer guest.Close()
	require.Equal(t, 3, count(t, guest))
	_, err := guest.Append(t.Context(), journal.Draft{Terminal: "b9", N: 1, Job: "J1", Data: []byte("{}")}, journal.Recorded(0))
	require.Error(t, err)

	denied := 0
	nc, err := nats.Connect(url, nats.ErrorHandler(func(*nats.Conn, *nats.Subscription, error) { denied++ }))
	require.NoError(t, err)
	defer nc.Close()
	js, err := jetstream.New(nc, jetstream.WithDefaultTimeout(100*time.Millisecond))
	require.NoError(t, err)
	name := s.name
	attacks := map[string]func() error{
		"delete": func() error { return js.DeleteStream(t.Context(), name) },
		"limit": func() error {
			_, err := js.UpdateStream(t.Context(), jetstream.StreamConfig{Name: name, MaxMsgs: 1})
			return err
		},
		"create": func() error {
			_, err := js.CreateStream(t.Context(), jetstream.StreamConfig{Name: "x", Subjects: []string{"y"}})
			return err
		},
		"purge": func() error {
			_, err := nc.Request("$JS.API.STREAM.PURGE."+name, nil, 100*time.Millisecond)
			return err
		},
		"delete one": func() error {
			_, err := nc.Request("$JS.API.STREAM.MSG.DELETE."+name, []byte(`{"seq":1}`), 100*time.Millisecond)
			return err
		},
		"restore": func() error {
			_, err := nc.Request("$JS.API.STREAM.RESTORE."+name, nil, 100*time.Millisecond)
			return err
		},
		"store": func() error { _, err := js.Publish(t.Context(), "countback.sorrel.b1.J1", []byte("{}")); return err },
		"remove peer": func() error {
			_, err := nc.Request("$JS.API.STREAM.PEER.REMOVE."+name, nil, 100*time.Millisecond)
			return err
		},
	}
	for what, attack := range attacks {
		require.Error(t, attack(), what)
	}
	require.NoError(t, nc.Flush())
	require.Equal(t, 3, count(t, s))
	fill(t, s, "b1", 1, 100)
}

// The usual command line tool can look at the stream, and back it up.
func TestNatsCommand(t *testing.T) {
	tool, err := exec.LookPath("nats")
	if err != nil {
		require.Empty(t, os.Getenv("CI"), "the nats command is not installed")
		t.Log("the nats command is not installed")
		return
	}
	_, s := listening(t)
	run := func(args ...string) (string, error) {
		cmd := exec.Command(tool, append([]string{"--server", s.Addr(), "--no-context"}, args...)...)
		cmd.Env = append(os.Environ(), "HOME="+t.TempDir(), "NO_COLOR=1")
		out, err := cmd.CombinedOutput()
		return string(out), err
	}
	out, err := run("stream", "info", s.name)
	require.NoError(t, err, out)
	require.Contains(t, out, "Messages: 3")
	out, err = run("stream", "backup", s.name, t.TempDir()+"/backup")
	require.NoError(t, err, out)
	out, err = run("stream", "rm", "-f", s.name, "--timeout=300ms")
	require.Error(t, err, out)
	require.Equal(t, 3, count(t, s))
}
