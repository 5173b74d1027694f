package stream

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"countback/events/journal"
)

// sample is a store of three blocks that every damage is tried on, as closed
// and as found after a crash, and one that is older by some events.
type sample struct {
	cfg    Config
	events int
	older  string // folder with store, guard and mark as they were before
	crash  string // the same after a crash
}

const sampleOlder = 20

var makeSample = sync.OnceValues(func() (sample, error) {
	dir, err := os.MkdirTemp("", "countback-sample-")
	if err != nil {
		return sample{}, err
	}
	sampleDir = dir
	cfg := Config{Shop: "sorrel", Terminal: "hub", Dir: filepath.Join(dir, "now", "store"), MinFreeBytes: -1, MaxStoreBytes: 1 << 30, maxStream: 127_000}
	s := sample{cfg: cfg, events: 50, older: filepath.Join(dir, "older"), crash: filepath.Join(dir, "crash")}
	write := func(n int, before func() error) error {
		j, err := Open(cfg)
		if err != nil {
			return err
		}
		last, _, err := j.Last(testCtx, "b1")
		if err != nil {
			return err
		}
		for range n {
			last.N++
			d := journal.Draft{Terminal: "b1", N: last.N, Job: "J1", Data: bytes.Repeat([]byte{'a' + byte(last.N%26)}, 1_500)}
			r, err := j.Append(testCtx, d, journal.Recorded(last.Seq))
			if err != nil {
				return err
			}
			last.Seq = r.Seq
		}
		if err := before(); err != nil {
			return err
		}
		return j.Close()
	}
	nothing := func() error { return nil }
	if err := write(sampleOlder, nothing); err != nil {
		return s, err
	}
	if err := os.CopyFS(s.older, os.DirFS(filepath.Join(dir, "now"))); err != nil {
		return s, err
	}
	return s, write(s.events-sampleOlder, func() error {
		if err := markSays(cfg.Dir+".mark", s.events); err != nil {
			return err
		}
		return os.CopyFS(s.crash, os.DirFS(filepath.Join(dir, "now")))
	})
})

// markSays waits until the mark on the disk has a number: it is written behind
// the acknowledgement.
func markSays(path string, seq int) error {
	tick := time.NewTicker(5 * time.Millisecond)
	defer tick.Stop()
	for range 2000 {
		b, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		if bytes.Contains(b, fmt.Appendf(nil, " seq %d ", seq)) {
			return nil
		}
		<-tick.C
	}
	return fmt.Errorf("%s: no event %d after ten seconds", path, seq)
}

// spoilt is a copy of a sample for one test.
type spoilt struct {
	t      testing.TB
	sample sample
	cfg    Config
}

func newSpoilt(t testing.TB, crashed bool) spoilt {
	s, err := makeSample()
	require.NoError(t, err)
	from, dir := filepath.Dir(s.cfg.Dir), t.TempDir()
	if crashed {
		from = s.crash
	}
	require.NoError(t, os.CopyFS(dir, os.DirFS(from)))
	cfg := s.cfg
	cfg.Dir = filepath.Join(dir, "store")
	return spoilt{t, s, cfg}
}

func (s spoilt) stream(names ...string) string {
	return filepath.Join(append([]string{s.cfg.Dir, "js", "jetstream", "$G", "streams", "countback-sorrel"}, names...)...)
}

func (s spoilt) block(i int) string { return s.stream("msgs", fmt.Sprint(i, ".blk")) }

func (s spoilt) edit(path string, change func(b []byte) []byte) {
	b, err := os.ReadFile(path)
	require.NoError(s.t, err)
	require.NoError(s.t, os.WriteFile(path, change(b), 0o644))
}

func (s spoilt) flip(path string, at func(b []byte) int) {
	s.edit(path, func(b []byte) []byte { b[at(b)] ^= 0x10; return b })
}

func (s spoilt) remove(path string) { require.NoError(s.t, os.RemoveAll(path)) }

func (s spoilt) folder(path string) {
	s.remove(path)
	require.NoError(s.t, os.Mkdir(path, 0o755))
}

// fromOlder puts one of the older store's parts in place of the present one.
func (s spoilt) fromOlder(suffix string) {
	s.remove(s.cfg.Dir + suffix)
	from := filepath.Join(s.sample.older, "store"+suffix)
	info, err := os.Stat(from)
	require.NoError(s.t, err)
	if info.IsDir() {
		require.NoError(s.t, os.CopyFS(s.cfg.Dir+suffix, os.DirFS(from)))
		return
	}
	b, err := os.ReadFile(from)
	require.NoError(s.t, err)
	require.NoError(s.t, os.WriteFile(s.cfg.Dir+suffix, b, 0o644))
}

func middle(b []byte) int { return len(b) / 2 }
func end(b []byte) int    { return len(b) - 100 }

// headersLength is where the first record says how long its headers are,
// which the server's checksum does not cover.
func headersLength(b []byte) int { return 22 + int(binary.LittleEndian.Uint16(b[20:])) + 1 }

// tree is a sum over the contents of a folder, except for the lock.
func tree(t testing.TB, dir string) string {
	h := crc32.NewIEEE()
	require.NoError(t, filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.Name() == "lock" {
			return err
		}
		fmt.Fprintln(h, path[len(dir):], e.Type())
		if e.Type().IsRegular() {
			b, err := os.ReadFile(path)
			h.Write(b)
			return err
		}
		return nil
	}))
	return fmt.Sprintf("%x", h.Sum(nil))
}

// whole requires every event of the sample to be there, and the store to go
// on.
func (s spoilt) whole() {
	s.t.Helper()
	j, err := Open(s.cfg)
	require.NoError(s.t, err)
	require.Equal(s.t, s.sample.events, count(s.t, j))
	n := 0
	require.NoError(s.t, j.deliverAll(func(m journal.Message) error {
		n++
		require.Equal(s.t, bytes.Repeat([]byte{'a' + byte(m.N%26)}, 1_500), m.Data)
		return nil
	}))
	require.Equal(s.t, s.sample.events, n, "through the server")
	fill(s.t, j, "b1", 1, 100)
	require.NoError(s.t, j.Health(s.t.Context()))
	require.NoError(s.t, j.Close())
	r, err := Check(s.cfg)
	require.NoError(s.t, err)
	require.Empty(s.t, r.Faults)
	require.Empty(s.t, r.Warnings)
	require.EqualValues(s.t, s.sample.events+1, r.Events)
	require.EqualValues(s.t, s.sample.events+1, r.Guarded)
}

// deliverAll reads the shop through the server, past the blocks.
func (s *Stream) deliverAll(fn func(journal.Message) error) error {
	head, err := s.head(testCtx)
	if err != nil {
		return err
	}
	_, err = s.deliver(testCtx, 1, head, journal.Filter{}, fn)
	return err
}
