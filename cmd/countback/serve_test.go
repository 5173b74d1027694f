package main

import (
	"bytes"
	"fmt"
	"io"
	"net"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// process is a run of the program that goes on beside the test.
type process struct {
	t   *testing.T
	cmd *exec.Cmd
	in  io.WriteCloser

	mu  sync.Mutex
	out bytes.Buffer
}

// Write implements io.Writer.
func (p *process) Write(b []byte) (int, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.out.Write(b)
}

func (p *process) text() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.out.String()
}

// launch runs the program beside the test; it is killed at the end.
func (s *shop) launch(args ...string) *process {
	s.t.Helper()
	p := &process{t: s.t, cmd: exec.Command(program, append(s.args, args...)...)}
	p.cmd.Env, p.cmd.Dir, p.cmd.Stdout, p.cmd.Stderr = s.env, s.dir, p, p
	var err error
	p.in, err = p.cmd.StdinPipe()
	require.NoError(s.t, err)
	require.NoError(s.t, p.cmd.Start())
	s.t.Cleanup(p.kill)
	return p
}

// kill ends a process as a power cut does.
func (p *process) kill() {
	if p.cmd.ProcessState == nil {
		_ = p.cmd.Process.Kill()
		_ = p.cmd.Wait()
	}
}

// scan types lines.
func (p *process) scan(lines ...string) {
	p.t.Helper()
	_, err := io.WriteString(p.in, strings.Join(lines, "\n")+"\n")
	require.NoError(p.t, err)
}

// sees waits until a process has written a text.
func (p *process) sees(text string) {
	p.t.Helper()
	saw := func() bool { return strings.Contains(p.text(), text) }
	if !assert.Eventually(p.t, saw, 40*time.Second, 20*time.Millisecond) {
		require.Fail(p.t, fmt.Sprintf("%s has not said %q", strings.Join(p.cmd.Args[1:], " "), text), p.text())
	}
}

// ends closes the input and waits for the end.
func (p *process) ends() string {
	p.t.Helper()
	require.NoError(p.t, p.in.Close())
	done := make(chan error, 1)
	go func() { done <- p.cmd.Wait() }()
	select {
	case <-done:
	case <-time.After(time.Minute):
		require.Fail(p.t, "it does not end", p.text())
	}
	return p.text()
}

func portOf(t *testing.T) int {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	defer l.Close()
	return l.Addr().(*net.TCPAddr).Port
}

// bench are the flags of a terminal on a server: a machine of its own.
func (s *shop) bench(name, server string) []string {
	return []string{"--server", server, "--passwords", s.path("passwords"), "--terminal", name, "--store", s.path(name, "store")}
}

// Two terminals on one server see each other's facts. One is cut off, goes on,
// and is merged when the server is back.
func TestTwoTerminalsOnOneServer(t *testing.T) {
	s := newShop(t)
	s.run("store", "passwords", "passwords", "bench-1", "bench-2").ends(statusDone).says("bench-2 has a password now.", "countback.owner")
	s.run("store", "passwords", "passwords", "bench-2", "bench-3").ends(statusDone).says("bench-2 had one already; it is kept.")
	address := fmt.Sprint("127.0.0.1:", portOf(t))
	server := "nats://" + address
	serve := func() *process {
		p := s.launch("serve", "--listen", address, "--passwords", s.path("passwords"), "--store", s.path("server", "store"))
		p.sees("Shop workshop is served at " + address + " to 3 terminals.")
		return p
	}
	running := serve()
	s.run(append([]string{"job", "open", "--plan", sorrel(t), "--engine", "Sorrel"}, s.bench("bench-1", server)...)...).ends(statusDone)
	one := s.launch(append([]string{"scan", "--all", "--job", "J1"}, s.bench("bench-1", server)...)...)
	two := s.launch(append([]string{"scan", "--all", "--job", "J1"}, s.bench("bench-2", server)...)...)
	one.scan("joint coils", "ALL OUT")
	one.sees("Coils out and loose on this bench")
	two.scan("part coils", "WHERE IS")
	two.sees("bench-1")

	running.kill()
	one.scan("joint flywheel", "ALL OUT")
	one.sees("This bench is cut off: saved here, sent later")
	two.scan("joint alternator", "ALL OUT")
	two.sees("This bench is cut off: saved here, sent later")
	one.kill() // the power goes, and what was confirmed lies on its disk
	running = serve()
	two.scan("joint compressor", "ALL OUT")
	two.sees("Compressor out and loose on this bench")
	one = s.launch(append([]string{"scan", "--all", "--job", "J1"}, s.bench("bench-1", server)...)...)
	one.scan("joint flywheel", "CANCEL")
	one.sees("Flywheel: out")
	require.Eventually(t, func() bool {
		out := s.run("history", "J1", "--server", server).out
		return strings.Contains(out, "Flywheel out") && strings.Contains(out, "Alternator out") && strings.Contains(out, "Compressor out") && strings.Contains(out, "Coils out")
	}, 20*time.Second, 200*time.Millisecond)
	one.scan("joint compressor")
	one.sees("Compressor: out")
	require.NotContains(t, one.ends(), "not sent")
	running.kill()
	two.scan("joint intake", "ALL OUT")
	two.sees("This bench is cut off")
	require.Contains(t, two.ends(), "1 fact is kept on this terminal and not sent")
	running.kill()
	s.run("store", "check", "--store", s.path("server", "store")).ends(statusDone).says("nothing is wrong")
}

func TestServersThatDoNotServe(t *testing.T) {
	s := newShop(t)
	s.run("store", "passwords", "passwords", "bench-1").ends(statusDone)
	require.NoError(t, os.WriteFile(s.path("broken"), []byte("bench-1\n"), 0o600))
	require.NoError(t, os.WriteFile(s.path("twice"), []byte("a 1\na 2\n"), 0o600))
	for _, row := range []struct {
		args   []string
		status status
		want   string
	}{
		{[]string{"serve"}, statusUsage, "say where to listen"},
		{[]string{"serve", "--listen", "0.0.0.0:0"}, statusStore, "other machines can reach it; name the terminals and their passwords"},
		{[]string{"serve", "--listen", "127.0.0.1:0", "--server", "nats://127.0.0.1:1"}, statusUsage, "leave out --server"},
		{[]string{"serve", "--listen", "127.0.0.1:0", "--passwords", "nowhere"}, statusUsage, "make them with: countback store passwords"},
		{[]string{"serve", "--listen", "127.0.0.1:0", "--passwords", s.path("broken")}, statusUsage, "broken:1: want a name and a password"},
		{[]string{"serve", "--listen", "127.0.0.1:0", "--passwords", s.path("twice")}, statusUsage, "twice:2: a is there already"},
		{[]string{"serve", "--node", "nowhere.conf"}, statusStore, "node"},
		{[]string{"scan", "--server", "nats://127.0.0.1:1", "--passwords", "passwords", "--terminal", "bench-9"}, statusUsage, "terminal bench-9 has no password"},
		{[]string{"scan", "--server", "nats://127.0.0.1:1", "--passwords", "passwords", "--terminal", "bench-1"}, statusStore, "cannot be reached"},
		{[]string{"store", "passwords", "passwords", "a terminal"}, statusUsage, "terminal"},
		{[]string{"store", "push"}, statusUsage, "say which server"},
		{[]string{"store", "push", "--server", "nats://127.0.0.1:1", "--replicas", "2"}, statusUsage, "want 1, 3 or 5"},
		{[]string{"store", "nodes", "conf", "--passwords", "passwords"}, statusUsage, "want 1, 3 or 5"},
		{[]string{"store", "nodes", "conf", "--passwords", "passwords", "--node", "a"}, statusUsage, "want NAME=HOST"},
	} {
		s.feed("", row.args...).ends(row.status).warns(row.want)
	}
}

// From one machine to a cluster of three and back: nothing is lost on the way,
// one node is killed, and the benches go on.
func TestFromOneMachineToAClusterAndBack(t *testing.T) {
	s := newShop(t)
	s.run("store", "passwords", "passwords", "bench-1", "bench-2").ends(statusDone)
	s.run("job", "open", "--plan", sorrel(t), "--engine", "Sorrel").ends(statusDone)
	s.feed("joint coils\nALL OUT\n", "scan", "--terminal", "bench-1", "--job", "J1").ends(statusDone)

	port := portOf(t)
	var urls []string
	args := []string{"store", "nodes", "conf", "--passwords", "passwords", "--port", fmt.Sprint(port), "--route-port", fmt.Sprint(portOf(t))}
	for i, name := range []string{"a", "b", "c"} {
		host := fmt.Sprint("127.0.0.", i+1)
		args = append(args, "--node", name+"="+host)
		urls = append(urls, fmt.Sprint("nats://", host, ":", port))
	}
	s.run(args...).ends(statusDone).says("conf/c.conf")
	s.run(args...).ends(statusUsage).warns("conf/a.conf is there already")
	server := strings.Join(urls, ",")
	var nodes []*process
	for _, name := range []string{"a", "b", "c"} {
		file := s.path("conf", name+".conf")
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		text = bytes.Replace(text, []byte("/var/lib/countback/node"), []byte(s.path("node-"+name)), 1)
		require.NoError(t, os.WriteFile(file, text, 0o600))
		nodes = append(nodes, s.launch("serve", "--node", file))
	}
	for _, n := range nodes {
		n.sees("Node is up")
	}
	push := []string{"store", "push", "--server", server, "--passwords", "passwords", "--replicas", "3"}
	require.Eventually(t, func() bool { return s.run(push...).status == statusDone }, 40*time.Second, 200*time.Millisecond, "the nodes have found each other")
	s.run(push...).ends(statusDone).says("0 events are new")

	one := s.launch(append([]string{"scan", "--all", "--job", "J1"}, s.bench("bench-1", server)...)...)
	two := s.launch(append([]string{"scan", "--all", "--job", "J1"}, s.bench("bench-2", server)...)...)
	one.scan("joint flywheel", "ALL OUT")
	one.sees("Flywheel out and loose on this bench")
	nodes[2].kill()
	two.scan("joint alternator", "ALL OUT")
	two.sees("Alternator out and loose on this bench")
	// News travel by the nodes that are left, in their own time.
	require.Eventually(t, func() bool { one.scan("joint alternator"); return strings.Contains(one.text(), "Alternator: out") },
		40*time.Second, 500*time.Millisecond, "bench-1 hears of it")
	one.ends()
	two.ends()
	pull := []string{"store", "pull", "--server", server, "--store", s.path("backup", "store")}
	require.Eventually(t, func() bool { return strings.Contains(s.run(pull...).out, "has what") }, 40*time.Second, 200*time.Millisecond)
	require.Eventually(t, func() bool { return strings.Contains(s.run(pull...).out, "0 events are new") }, 40*time.Second, 200*time.Millisecond)
	s.run("store", "check", "--store", s.path("backup", "store")).ends(statusDone).says("nothing is wrong")
	s.run("history", "J1", "--store", s.path("backup", "store")).ends(statusDone).says("Coils out", "Flywheel out", "Alternator out")

	// The first store went its own way meanwhile: nothing is brought over what is there.
	s.feed("joint coils\nALL IN\n", "scan", "--terminal", "bench-1", "--job", "J1")
	require.Eventually(t, func() bool {
		d := s.run(push...)
		return d.status == statusStore && strings.Contains(d.err, "the two have gone different ways")
	}, 40*time.Second, 200*time.Millisecond)
}
