package stream

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/events/journal"
	"countback/events/stream/vault"
)

// The test program runs itself as another process: childEnv says what to do,
// and where.
const childEnv = "COUNTBACK_STREAM_TEST_CHILD"

func runChild(what string) int {
	task, dir, _ := strings.Cut(what, " ")
	cfg := Config{Shop: "sorrel", Terminal: "child", Dir: dir, MinFreeBytes: -1, MaxStoreBytes: 1 << 30}
	var err error
	switch task {
	case "write":
		err = childWrites(cfg)
	case "nobody":
		err = errors.Join(syscall.Setgid(65534), syscall.Setuid(65534))
		if err == nil {
			_, err = Open(cfg)
		}
	default:
		err = fmt.Errorf("unknown task %q", task)
	}
	if err != nil {
		fmt.Println("ERROR", err)
		return 1
	}
	return 0
}

// childWrites appends as four terminals until it is killed, and prints each
// id that was acknowledged.
func childWrites(cfg Config) error {
	s, err := Open(cfg)
	if err != nil {
		return err
	}
	var wg sync.WaitGroup
	errs := make([]error, 4)
	for w := range errs {
		wg.Go(func() {
			t := events.Terminal(fmt.Sprint("b", w))
			last, _, err := s.Last(testCtx, t)
			for ; err == nil; last.N++ {
				d := journal.Draft{Terminal: t, N: last.N + 1, Job: "J1", Data: fmt.Appendf(nil, `{"n":%d,"pad":%q}`, last.N+1, strings.Repeat("x", 200+int(last.N)%3000))}
				var r journal.Receipt
				if r, err = s.Append(testCtx, d, journal.Recorded(last.Seq)); err == nil {
					last.Seq = r.Seq
					fmt.Fprintf(os.Stdout, "%s %d\n", d.ID(), r.Seq)
				}
			}
			errs[w] = err
		})
	}
	wg.Wait()
	return errors.Join(errs...)
}

func childCommand(task string) *exec.Cmd {
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), childEnv+"="+task)
	return cmd
}

// kill -9, again and again: everything acknowledged is there, once, in order,
// and the next process goes on.
func TestKilledProcessLosesNothing(t *testing.T) {
	cfg := testConfig(t)
	acked := map[string]journal.Seq{}
	for round := range 5 {
		cmd := childCommand("write " + cfg.Dir)
		out, err := cmd.StdoutPipe()
		require.NoError(t, err)
		require.NoError(t, cmd.Start())
		lines := bufio.NewReader(out)
		for range 150 + 40*round {
			read(t, lines, acked)
		}
		require.NoError(t, cmd.Process.Kill())
		for { // what it had printed before
			if !read(t, lines, acked) {
				break
			}
		}
		require.Error(t, cmd.Wait())

		report, err := Check(cfg)
		require.NoError(t, err)
		require.Empty(t, report.Faults)
		require.False(t, report.InUse)
		s, err := Open(cfg)
		require.NoError(t, err)
		got := map[string]journal.Seq{}
		n := map[events.Terminal]uint32{}
		require.NoError(t, s.Read(t.Context(), 0, journal.Filter{}, func(m journal.Message) error {
			n[m.Terminal]++
			require.Equal(t, n[m.Terminal], m.N)
			got[m.ID()] = m.Seq
			return nil
		}))
		for id, seq := range acked {
			require.Equal(t, seq, got[id], id)
		}
		require.LessOrEqual(t, len(got)-len(acked), 4*(round+1), "one in doubt for each writer and kill")
		if round%2 == 0 { // every other time the next one finds it as the kill left it
			require.NoError(t, s.Close())
		} else {
			require.NoError(t, s.end(false))
			require.NoError(t, s.vault.Close(false))
		}
	}
}

func read(t *testing.T, lines *bufio.Reader, acked map[string]journal.Seq) bool {
	t.Helper()
	line, err := lines.ReadString('\n')
	if errors.Is(err, io.EOF) {
		return false
	}
	require.NoError(t, err)
	var id string
	var seq journal.Seq
	_, err = fmt.Sscanf(line, "%s %d\n", &id, &seq)
	require.NoError(t, err, line)
	require.NotContains(t, acked, id)
	acked[id] = seq
	return true
}

// While one process has the store, another is told which one, and changes
// nothing.
func TestStoreInUse(t *testing.T) {
	cfg := testConfig(t)
	cfg.Terminal = "b2"
	s := opened(t, cfg)
	fill(t, s, "b2", 3, 100)
	_, err := Open(cfg)
	var used *vault.InUse
	require.ErrorAs(t, err, &used)
	require.Contains(t, used.Holder, fmt.Sprintf("b2 (process %d on ", os.Getpid()))
	require.ErrorContains(t, err, "close it there, or connect to it")
	out, err := childCommand("write " + cfg.Dir).CombinedOutput()
	require.Error(t, err)
	require.Contains(t, string(out), "is in use by b2 (process")
	_, err = Restore(cfg, false)
	require.ErrorAs(t, err, &used)
	report, err := Check(cfg)
	require.NoError(t, err)
	require.True(t, report.InUse)
	require.Empty(t, report.Faults)
	fill(t, s, "b2", 3, 100)
	require.Equal(t, 6, count(t, s))
}

// Another user must be told, and the server must not see the store: it would
// remove a stream that it cannot read.
func TestStoreOfAnotherUser(t *testing.T) {
	if os.Getuid() != 0 {
		require.Empty(t, os.Getenv("CI"), "this test becomes another user, so it needs to be root")
		t.Log("not root: cannot become another user")
		return
	}
	for _, test := range []struct {
		name  string
		spoil func(s spoilt)
		says  string
	}{
		{"folder not writable", func(s spoilt) {}, "permission denied; this user needs to read and write there"},
		{"one block not readable", func(s spoilt) {
			s.give(s.cfg.Dir)
			require.NoError(s.t, os.Chown(s.block(2), 0, 0))
			require.NoError(s.t, os.Chmod(s.block(2), 0o600))
		}, "2.blk: permission denied"},
		{"stream's folder not readable", func(s spoilt) {
			s.give(s.cfg.Dir)
			require.NoError(s.t, os.Chown(s.stream(), 0, 0))
			require.NoError(s.t, os.Chmod(s.stream(), 0o700))
		}, "permission denied"},
	} {
		t.Run(test.name, func(t *testing.T) {
			s := newSpoilt(t, false)
			require.NoError(t, os.Chmod(filepath.Dir(filepath.Dir(s.cfg.Dir)), 0o755)) // it is the test's own otherwise
			s.give(s.cfg.Dir + ".guard")
			s.give(s.cfg.Dir + ".mark")
			test.spoil(s)
			before := tree(t, s.cfg.Dir)
			cmd := childCommand("nobody " + s.cfg.Dir)
			out, err := cmd.CombinedOutput()
			require.Error(t, err)
			require.Contains(t, string(out), test.says)
			require.Equal(t, before, tree(t, s.cfg.Dir))
			require.NoError(t, os.Chmod(s.stream(), 0o755))
			s.whole()
		})
	}
}

// give makes everything below a path the other user's.
func (s spoilt) give(path string) {
	out, err := exec.Command("chown", "-R", "65534:65534", path).CombinedOutput()
	require.NoError(s.t, err, string(out))
}
