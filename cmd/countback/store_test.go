package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	cloudevents "github.com/cloudevents/sdk-go/v2"
	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/events/journal"
	"countback/events/stream"
)

// keep opens a shop's store in the test itself, as a kiosk would have it open.
func keep(t *testing.T, s *shop, terminal events.Terminal) *stream.Stream {
	t.Helper()
	j, err := stream.Open(stream.Config{Shop: "workshop", Dir: s.store(), Terminal: terminal})
	require.NoError(t, err)
	t.Cleanup(func() { _ = j.Close() })
	return j
}

// tell stores n more facts of one terminal about one job.
func tell(t *testing.T, j *stream.Stream, terminal events.Terminal, job events.Job, n int) {
	t.Helper()
	ctx := context.Background()
	last, _, err := j.Last(ctx, terminal)
	require.NoError(t, err)
	for range n {
		var event events.Event = events.JobOpened{Engine: "a bench engine"}
		if last.N > 0 {
			event = events.MarkMade{Mark: "checked-in"}
		}
		at := int64(1764060140307456) + int64(last.N)
		data, err := events.Append(nil, &events.Record{Shop: "workshop", Job: job, Terminal: terminal, N: last.N + 1, Time: at, At: at, Event: event})
		require.NoError(t, err)
		r, err := j.Append(ctx, journal.Draft{Terminal: terminal, N: last.N + 1, Job: job, Data: data}, journal.Recorded(last.Seq))
		require.NoError(t, err)
		last.N, last.Seq = last.N+1, r.Seq
	}
}

// filledShop is a shop with a closed store of n facts.
func filledShop(t *testing.T, n int) *shop {
	t.Helper()
	s := newShop(t)
	j := keep(t, s, "b1")
	tell(t, j, "b1", "4K7", n)
	require.NoError(t, j.Close())
	return s
}

func TestStoreExportIsCloudEventsByteForByte(t *testing.T) {
	s := filledShop(t, 5)
	lines := strings.Split(strings.TrimSuffix(s.run("store", "export").ends(statusDone).out, "\n"), "\n")
	require.Len(t, lines, 5)
	for i, line := range lines {
		var e cloudevents.Event
		require.NoError(t, json.Unmarshal([]byte(line), &e))
		require.NoError(t, e.Validate())
		var d events.Decoder
		var r events.Record
		require.NoError(t, d.Decode([]byte(line), &r))
		require.Equal(t, uint32(i+1), r.N)
	}
	file := s.path("out.jsonl")
	s.run("store", "export", file).ends(statusDone)
	b, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Equal(t, strings.Join(lines, "\n")+"\n", string(b))
	require.NoError(t, os.WriteFile(file, []byte("mine"), 0o644))
	s.run("store", "export", file).ends(statusUsage).warns("is there already")
	b, err = os.ReadFile(file)
	require.NoError(t, err)
	require.Equal(t, "mine", string(b))
	s.run("store", "export", "--job", "4K7").ends(statusDone).says("checked-in")
	s.run("store", "export", "--job", "nope").ends(statusUnknown).warns("there is no job nope")
	s.run("store", "export", "--job", "no dots.").ends(statusUsage)
}

func TestStoreCheckTellsWhatIsThere(t *testing.T) {
	s := newShop(t)
	s.run("store", "check").ends(statusUnknown).says("there is none yet")
	_, err := os.Stat(s.store())
	require.ErrorIs(t, err, os.ErrNotExist, "a check makes no store")

	s = filledShop(t, 3)
	s.run("store", "check").ends(statusDone).says("nothing is wrong", "3 in 1 blocks")
	var r storeReport
	require.NoError(t, json.Unmarshal([]byte(s.run("store", "check", "--json").ends(statusDone).out), &r))
	require.True(t, r.Exists && r.Sound && !r.InUse)
	require.Equal(t, []uint64{3, 3, 3}, []uint64{r.Events, r.Guarded, r.Marked})
	require.Equal(t, "b1-3", r.Last)
}

// block is the path of the first file of events of a shop.
func block(t *testing.T, s *shop) string {
	t.Helper()
	found, err := filepath.Glob(filepath.Join(s.store(), "js", "jetstream", "*", "streams", "*", "msgs", "1.blk"))
	require.NoError(t, err)
	require.Len(t, found, 1)
	return found[0]
}

func TestABrokenBlockIsRefusedAndMended(t *testing.T) {
	s := filledShop(t, 20)
	whole := s.run("store", "export").ends(statusDone).out
	path := block(t, s)
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	b[len(b)/2] ^= 0x10
	require.NoError(t, os.WriteFile(path, b, 0o644))

	s.run("store", "check").ends(statusNo).says("WRONG", "countback store restore")
	for _, args := range [][]string{{"store", "export"}, {"store", "backup", s.path("backup")}, {"job", "list"}, {"scan"}} {
		s.run(args...).ends(statusStore).warns("is damaged", "countback store restore")
	}
	damaged, err := os.ReadFile(path)
	require.NoError(t, err)
	require.True(t, bytes.Equal(b, damaged), "nothing was changed by looking")
	_, err = os.Stat(s.path("backup"))
	require.ErrorIs(t, err, os.ErrNotExist)

	s.run("store", "restore").ends(statusDone).says("20 events", "What was there before is in")
	s.run("store", "check").ends(statusDone)
	require.Equal(t, whole, s.run("store", "export").ends(statusDone).out)
}

func TestBackupAndRestoreElsewhere(t *testing.T) {
	s := newShop(t)
	j := keep(t, s, "b1")
	tell(t, j, "b1", "4K7", 4)
	backup := s.path("stick", "backup")
	s.run("store", "backup", backup).ends(statusDone).says("up to event 4")
	tell(t, j, "b1", "4K7", 3)
	s.run("store", "backup", backup).ends(statusDone).says("up to event 7")
	require.NoError(t, j.Close())
	whole := s.run("store", "export").ends(statusDone).out

	other := newShop(t)
	var r restoreReport
	require.NoError(t, json.Unmarshal([]byte(other.run("store", "restore", "--json", backup).ends(statusDone).out), &r))
	require.Equal(t, restoreReport{Store: other.store(), Events: 7, Last: "b1-7", Aside: []string{}}, r)
	require.Equal(t, whole, other.run("store", "export").ends(statusDone).out)
	other.run("store", "restore", s.path("nowhere")).ends(statusStore).warns("no backup")
	other.run("store", "backup").ends(statusUsage)
	require.NoError(t, os.MkdirAll(s.path("full"), 0o755))
	require.NoError(t, os.WriteFile(s.path("full", "letter.txt"), []byte("x"), 0o644))
	other.run("store", "backup", s.path("full")).ends(statusStore).warns("is not empty")
}

func TestALostTailIsNotGivenUpInSilence(t *testing.T) {
	s := filledShop(t, 6)
	path := block(t, s)
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, b[:len(b)*2/3], 0o644))
	require.NoError(t, os.RemoveAll(s.store()+".guard"))
	s.run("store", "check").ends(statusNo)
	s.run("store", "restore").ends(statusStore).warns("are in none of the sources", "--accept-loss")
	var r restoreReport
	require.NoError(t, json.Unmarshal([]byte(s.run("store", "restore", "--accept-loss", "--json").ends(statusDone).out), &r))
	require.Equal(t, uint64(6), r.Events+r.Lost)
	require.Positive(t, r.Lost)
	s.run("store", "check").ends(statusDone)
}

func TestAStoreOfAnotherVersionIsLeftAlone(t *testing.T) {
	s := filledShop(t, 2)
	format := filepath.Join(s.store(), "format")
	b, err := os.ReadFile(format)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(format, bytes.Replace(b, []byte("store 1"), []byte("store 99"), 1), 0o644))
	for _, args := range [][]string{{"store", "check"}, {"store", "export"}, {"job", "list"}, {"scan"}, {"store", "restore"}} {
		s.run(args...).ends(statusStore).warns(`"99"`, "use the program that wrote it")
	}
}

func TestAStoreOfAnotherShopIsLeftAlone(t *testing.T) {
	s := filledShop(t, 2)
	for _, args := range [][]string{{"store", "check"}, {"job", "list"}, {"scan"}} {
		s.run(append(args, "--shop", "next-door")...).ends(statusStore).warns("belongs to shop workshop")
	}
}

func TestAStoreInUseNamesItsHolder(t *testing.T) {
	s := newShop(t)
	j := keep(t, s, "bench-7")
	tell(t, j, "bench-7", "4K7", 3)
	s.feed("WHAT NOW\n", "scan").ends(statusStore).warns("is in use by bench-7", "close it there")
	s.run("store", "restore").ends(statusStore).warns("is in use by bench-7")
	s.run("job", "list").ends(statusDone).says("4K7")
	s.run("store", "check").ends(statusDone).says("in use")
	tell(t, j, "bench-7", "4K7", 1)
	s.run("store", "export").ends(statusDone)
}

func TestAFolderWithoutRightsIsSaid(t *testing.T) {
	s := filledShop(t, 2)
	attr := &syscall.SysProcAttr{}
	require.NoError(t, os.Chmod(s.store(), 0o000))
	t.Cleanup(func() { _ = os.Chmod(s.store(), 0o755) })
	if os.Geteuid() == 0 { // to root every folder is open
		attr.Credential = &syscall.Credential{Uid: 65534, Gid: 65534}
		for _, dir := range []string{filepath.Dir(program), s.dir, filepath.Dir(s.dir)} {
			require.NoError(t, os.Chmod(dir, 0o755))
		}
	}
	for _, args := range [][]string{{"store", "check"}, {"store", "export"}, {"job", "list"}, {"scan"}} {
		cmd := exec.Command(program, args...)
		cmd.Env, cmd.SysProcAttr = s.env, attr
		out, err := cmd.CombinedOutput()
		var exit *exec.ExitError
		require.True(t, errors.As(err, &exit), "%v: %v: %s", args, err, out)
		require.Equal(t, int(statusStore), exit.ExitCode(), "%v: %s", args, out)
		require.Contains(t, string(out), "permission denied", "%v", args)
	}
}

func TestAFileInThePlaceOfAStore(t *testing.T) {
	s := newShop(t)
	file := s.path("letter.txt")
	require.NoError(t, os.WriteFile(file, []byte("dear shop"), 0o644))
	for _, args := range [][]string{{"store", "check"}, {"job", "list"}, {"scan"}} {
		s.run(append(args, "--store", file)...).ends(statusStore).warns("is a file; name a folder")
	}
	dir := s.path("letters")
	require.NoError(t, os.MkdirAll(dir, 0o755))
	require.NoError(t, os.Rename(file, filepath.Join(dir, "letter.txt")))
	s.run("scan", "--store", dir).ends(statusStore).warns("is no store")
}
