package stream

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"countback/events/journal"
)

// fillUp appends until it fails, and returns the drafts that were
// acknowledged, the one that was not, and why.
func fillUp(t *testing.T, s *Stream, size int) (acked []journal.Draft, refused journal.Draft, err error) {
	last, _, err := s.Last(t.Context(), "b1")
	require.NoError(t, err)
	for range 10_000 {
		d := journal.Draft{Terminal: "b1", N: last.N + 1, Job: "J1", Data: make([]byte, size)}
		r, err := s.Append(t.Context(), d, journal.Recorded(last.Seq))
		if err != nil {
			return acked, d, err
		}
		last.N, last.Seq, acked = d.N, r.Seq, append(acked, d)
	}
	require.Fail(t, "it never gets full")
	return nil, journal.Draft{}, nil
}

// The server's own limit answers at once, and takes nothing back.
func TestServerLimit(t *testing.T) {
	cfg := testConfig(t)
	cfg.MaxStoreBytes = 1 << 20
	s := opened(t, cfg)
	acked, refused, err := fillUp(t, s, 50_000)
	require.ErrorIs(t, err, journal.ErrFull)
	require.ErrorContains(t, err, "event "+refused.ID()+" not stored: no room for more events")
	require.NotErrorAs(t, err, new(*journal.Unclear))
	require.InDelta(t, 20, len(acked), 2)
	require.Equal(t, len(acked), count(t, s))
	require.NoError(t, s.Close())
	cfg.MaxStoreBytes = 2 << 20
	s = opened(t, cfg)
	r, err := s.Append(t.Context(), refused, journal.Recorded(journal.Seq(len(acked))))
	require.NoError(t, err)
	require.EqualValues(t, len(acked)+1, r.Seq)
}

// The reserve is left alone, without asking the server.
func TestReserve(t *testing.T) {
	s := opened(t, testConfig(t))
	acked := fill(t, s, "b1", 3, 100)
	s.room.left = 0 // there was plenty, so it would not be asked for a second
	s.room.keep, s.room.free = 64<<20, func() (int64, error) { return 64<<20 + 1000, nil }
	d := journal.Draft{Terminal: "b1", N: 4, Job: "J1", Data: []byte("{}")}
	_, err := s.Append(t.Context(), d, journal.Recorded(3))
	require.ErrorIs(t, err, journal.ErrFull)
	require.ErrorContains(t, err, "64 MiB are free on the disk of ")
	require.ErrorIs(t, s.Health(t.Context()), journal.ErrFull)
	r, err := s.Append(t.Context(), acked[1], journal.Recorded(0))
	require.NoError(t, err, "a repeat needs no room")
	require.True(t, r.Repeated)
	s.room.free = func() (int64, error) { return 1 << 30, nil }
	_, err = s.Append(t.Context(), d, journal.Recorded(3))
	require.NoError(t, err)
	s.room.free = func() (int64, error) { return 0, errors.New("no such disk") }
	_, err = s.Append(t.Context(), d, journal.Recorded(3))
	require.NoError(t, err, "a repeat")
	require.ErrorContains(t, s.Health(t.Context()), "no such disk")
}

// tmpfs is a disk of a size of its own.
func tmpfs(t *testing.T, size string) (string, func(size string)) {
	dir := t.TempDir()
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", "size="+size, "tmpfs", dir).CombinedOutput(); err != nil {
		require.Empty(t, os.Getenv("CI"), "cannot mount a small disk: %s", out)
		t.Logf("cannot mount a small disk: %s", out)
		return "", nil
	}
	t.Cleanup(func() {
		out, err := exec.Command("umount", dir).CombinedOutput()
		require.NoError(t, err, string(out))
	})
	return dir, func(size string) {
		out, err := exec.Command("mount", "-o", "remount,size="+size, dir).CombinedOutput()
		require.NoError(t, err, string(out))
	}
}

// A disk that really is full: the server gives no answer, so the append asks
// how it is and says so soon; nothing that was acknowledged is lost, nothing
// is stored by half, and after a new start with more room it goes on.
func TestFullDisk(t *testing.T) {
	dir, resize := tmpfs(t, "12m")
	if dir == "" {
		return
	}
	cfg := testConfig(t)
	cfg.GuardDir, cfg.HighWaterPath = cfg.Dir+".guard", cfg.Dir+".mark"
	cfg.Dir = filepath.Join(dir, "store")
	cfg.AckWait = time.Hour // it must not take that long to notice
	s, err := Open(cfg)
	require.NoError(t, err)
	t.Cleanup(func() { s.Close() })
	_, _, err = fillUp(t, s, 100_000)
	require.ErrorContains(t, err, "0 MiB are free on the disk of")
	s.room.left, s.room.free = 0, func() (int64, error) { return 1 << 40, nil } // as if another program took the rest just now
	var acked []journal.Draft
	require.NoError(t, s.Read(t.Context(), 0, journal.Filter{}, func(m journal.Message) error {
		acked = append(acked, journal.Draft{Terminal: m.Terminal, N: m.N, Job: m.Job, Data: bytes.Clone(m.Data)})
		return nil
	}))
	some, refused, err := fillUp(t, s, 1000)
	acked = append(acked, some...)
	require.ErrorIs(t, err, journal.ErrFull)
	require.ErrorContains(t, err, "no space left on device")
	require.ErrorContains(t, err, "make room on the disk, then start again")
	require.ErrorIs(t, s.Health(t.Context()), journal.ErrFull)
	require.NoError(t, s.Read(t.Context(), 0, journal.Filter{}, func(journal.Message) error { return nil }), "reading goes on")
	s.Close()

	resize("40m")
	s = opened(t, cfg)
	_, stored, err := s.Settle(t.Context(), refused)
	require.NoError(t, err)
	require.False(t, stored)
	n := 0
	require.NoError(t, s.Read(t.Context(), 0, journal.Filter{}, func(m journal.Message) error {
		require.Equal(t, acked[n].ID(), m.ID())
		require.Equal(t, acked[n].Data, m.Data)
		n++
		return nil
	}))
	require.Len(t, acked, n)
	_, err = s.Append(t.Context(), refused, journal.Recorded(journal.Seq(n)))
	require.NoError(t, err)
	require.NoError(t, s.Health(t.Context()))
}

// The disk of the protected copy may fill up, too: that is no reason to stop.
func TestFullDiskOfTheGuard(t *testing.T) {
	dir, resize := tmpfs(t, "1m")
	if dir == "" {
		return
	}
	cfg := testConfig(t)
	cfg.GuardDir = filepath.Join(dir, "guard")
	s, err := Open(cfg)
	require.NoError(t, err)
	t.Cleanup(func() { s.Close() })
	fill(t, s, "b1", 30, 100_000)
	s.kept(s.keepOnce(t.Context()))
	require.ErrorContains(t, s.Health(t.Context()), "no space left on device")
	fill(t, s, "b1", 1, 100_000)
	s.Close()
	resize("10m")
	s = opened(t, cfg)
	require.Equal(t, 31, count(t, s))
	require.NoError(t, s.Health(t.Context()))
	report, err := Check(cfg)
	require.NoError(t, err)
	require.EqualValues(t, 31, report.Guarded)
	require.Empty(t, report.Warnings)
}
