package main

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"strings"
	"testing"

	cloudevents "github.com/cloudevents/sdk-go/v2"
	"github.com/stretchr/testify/require"

	"countback/events"
)

// natsProgram is the peer that reads a store as a stranger; empty where it is
// not installed.
func natsProgram(t *testing.T) string {
	t.Helper()
	path, err := exec.LookPath("nats")
	if err != nil && os.Getenv("CI") == "" {
		t.Log("the nats program is not here: go install github.com/nats-io/natscli/nats@v0.5.0")
		return ""
	}
	require.NoError(t, err)
	return path
}

// A program that knows nothing of Countback reads the whole stream of a store
// that listens, and each message is a CloudEvents 1.0 event by that standard's
// own library.
func TestTheNATSProgramReadsTheStreamAsCloudEvents(t *testing.T) {
	nats := natsProgram(t)
	if nats == "" {
		return
	}
	s := sorrelShop(t)
	s.feed("job J1\nmark checked-in\nDONE\njoint oil-pan\nhole 7\nMISSING ON ARRIVAL\nSELLER\n", "scan").ends(statusDone)
	_, _, line := s.start("scan", "--listen", "127.0.0.1:0")
	server := "nats://" + strings.TrimPrefix(line, "countback: listening on ")
	ask := func(args ...string) (string, error) {
		cmd := exec.Command(nats, append([]string{"--server", server, "--no-context", "--timeout", "5s"}, args...)...)
		cmd.Env = s.env
		var out, errOut bytes.Buffer
		cmd.Stdout, cmd.Stderr = &out, &errOut
		err := cmd.Run()
		return out.String() + errOut.String(), err
	}

	out, err := ask("stream", "ls", "--names")
	require.NoError(t, err, out)
	require.Equal(t, "countback-workshop", strings.TrimSpace(out))

	lines := strings.Split(strings.TrimSpace(s.run("store", "export").ends(statusDone).out), "\n")
	out, err = ask("sub", "--stream", "countback-workshop", "--all", "--raw", "--count", itoa(len(lines)), "countback.workshop.>")
	require.NoError(t, err, out)
	var got []string
	for _, line := range strings.Split(out, "\n") {
		if !strings.HasPrefix(line, "{") {
			continue
		}
		got = append(got, line)
		var e cloudevents.Event
		require.NoError(t, json.Unmarshal([]byte(line), &e), line)
		require.NoError(t, e.Validate(), line)
		require.Equal(t, "1.0", e.SpecVersion())
		require.True(t, strings.HasPrefix(e.Source(), "/countback/workshop/"), e.Source())
		name, ok := strings.CutPrefix(e.Type(), "countback.")
		require.True(t, ok, e.Type())
		_, known := events.Zero(name)
		require.True(t, known, name)
	}
	require.Equal(t, lines, got, "the stream is what the export says it is, byte for byte")

	for _, forbidden := range [][]string{
		{"pub", "countback.workshop.b1.J1", "nonsense"},
		{"stream", "rm", "-f", "countback-workshop"},
		{"stream", "purge", "-f", "countback-workshop"},
	} {
		out, err := ask(forbidden...)
		require.Error(t, err, "a stranger may only read: %s", out)
	}
	s.run("job", "list", "--server", server).ends(statusDone).says("J1", "Sorrel, blue van")
	require.Equal(t, s.run("store", "export").out, s.run("store", "export", "--server", server).ends(statusDone).out)
}
