package stream

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events/stream/vault"
)

// Each of these must be refused before anything is changed, with what is
// wrong and what to do; then be restored with every event in it.
func TestDamageIsRefusedAndRestored(t *testing.T) {
	tests := []struct {
		name    string
		crashed bool
		spoil   func(s spoilt)
		says    string
	}{
		{"bit in the first block", false, func(s spoilt) { s.flip(s.block(1), middle) }, "1.blk: event 10 cannot be read: checksum does not match"},
		{"bit in the first block, no index", false, func(s spoilt) { s.flip(s.block(1), middle); s.remove(s.stream("msgs", "index.db")) }, "checksum does not match"},
		{"bit in a length", false, func(s spoilt) { s.flip(s.block(2), func([]byte) int { return 2 }) }, "2.blk: event"},
		{"bit in the length of the headers", false, func(s spoilt) { s.flip(s.block(2), headersLength) }, "headers"},
		{"bit in the last block", false, func(s spoilt) { s.flip(s.block(3), middle) }, "3.blk: event"},
		{"bit in the last event", false, func(s spoilt) { s.flip(s.block(3), end) }, "3.blk: event 50 cannot be read"},
		{"last block cut short", false, func(s spoilt) { s.edit(s.block(3), func(b []byte) []byte { return b[:len(b)-100] }) }, "3.blk: event 50 cannot be read"},
		{"last block cut between events", false, func(s spoilt) {
			s.edit(s.block(3), func(b []byte) []byte { return b[:binary.LittleEndian.Uint32(b)&^(1<<31)] })
		}, "are missing, or this is an older copy"},
		{"last block empty", false, func(s spoilt) { s.edit(s.block(3), func(b []byte) []byte { return nil }) }, "are missing, or this is an older copy"},
		{"end of the last block zeroed", false, func(s spoilt) { s.edit(s.block(3), func(b []byte) []byte { clear(b[len(b)-1000:]); return b }) }, "3.blk: event 50 cannot be read"},
		{"block in the middle cut short", false, func(s spoilt) { s.edit(s.block(2), func(b []byte) []byte { return b[:len(b)/3+7] }) }, "2.blk: event"},
		{"block in the middle cut between events", false, func(s spoilt) {
			s.edit(s.block(2), func(b []byte) []byte { return b[:binary.LittleEndian.Uint32(b)&^(1<<31)] })
		}, "3.blk: begins with event 37, event 20 is the next one"},
		{"block in the middle empty", false, func(s spoilt) { s.edit(s.block(2), func(b []byte) []byte { return nil }) }, "2.blk: is empty"},
		{"first block missing", false, func(s spoilt) { s.remove(s.block(1)) }, "1.blk: is missing"},
		{"block in the middle missing", false, func(s spoilt) { s.remove(s.block(2)) }, "2.blk: is missing"},
		{"last block missing", false, func(s spoilt) { s.remove(s.block(3)) }, "are missing, or this is an older copy"},
		{"all blocks missing", false, func(s spoilt) { s.folder(s.stream("msgs")) }, "50 are missing"},
		{"block is a folder", false, func(s spoilt) { s.folder(s.block(1)) }, "1.blk"},
		{"block is a dead link", false, func(s spoilt) {
			s.remove(s.block(2))
			require.NoError(s.t, os.Symlink("/nowhere", s.block(2)))
		}, "2.blk: no such file"},
		{"settings emptied", false, func(s spoilt) { s.edit(s.stream("meta.inf"), func([]byte) []byte { return nil }) }, "meta.inf: checksum does not match"},
		{"settings changed", false, func(s spoilt) { s.flip(s.stream("meta.inf"), middle) }, "meta.inf: checksum does not match"},
		{"sum of the settings missing", false, func(s spoilt) { s.remove(s.stream("meta.sum")) }, "settings of the stream"},
		{"stream removed", false, func(s spoilt) { s.remove(s.stream()) }, "50 are missing"},
		{"server's folder removed", false, func(s spoilt) { s.remove(filepath.Join(s.cfg.Dir, "js")) }, "50 are missing"},
		{"everything in the store removed", false, func(s spoilt) { s.folder(s.cfg.Dir) }, "is missing"},
		{"store removed", false, func(s spoilt) { s.remove(s.cfg.Dir) }, "is missing"},
		{"store and mark removed", false, func(s spoilt) { s.remove(s.cfg.Dir); s.remove(s.cfg.Dir + ".mark") }, "is missing"},
		{"format file missing", false, func(s spoilt) { s.remove(filepath.Join(s.cfg.Dir, "format")) }, "format: is missing"},
		{"older store", false, func(s spoilt) { s.fromOlder("") }, "ends with event 20, but events up to 50 were acknowledged: 30 are missing, or this is an older copy"},
		{"older store and mark", false, func(s spoilt) { s.fromOlder(""); s.fromOlder(".mark") }, "ends with event 20, but events up to 50 are in the protected copy: 30 are missing"},
		{"mark unreadable", false, func(s spoilt) {
			s.edit(s.cfg.Dir+".mark", func(b []byte) []byte { return bytes.Repeat([]byte("x"), len(b)) })
		}, "high-water mark cannot be read"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			s := newSpoilt(t, test.crashed)
			test.spoil(s)
			before := tree(t, filepath.Dir(s.cfg.Dir))
			_, err := Open(s.cfg)
			var damaged *vault.Damaged
			require.ErrorAs(t, err, &damaged)
			require.Contains(t, damaged.Report.String(), test.says)
			require.ErrorContains(t, err, "nothing was changed")
			require.ErrorContains(t, err, "countback store check")
			require.ErrorContains(t, err, "countback store restore")
			require.NotErrorAs(t, openAgain(s.cfg), new(*vault.InUse), "let go of it")
			after := tree(t, filepath.Dir(s.cfg.Dir))
			if _, err := os.Stat(s.cfg.Dir); err == nil && test.name != "store removed" && test.name != "store and mark removed" {
				require.Equal(t, before, after)
			}
			report, err := Check(s.cfg)
			require.NoError(t, err)
			require.Equal(t, damaged.Report.Faults, report.Faults)

			restored, err := Restore(s.cfg, false)
			require.NoError(t, err)
			require.EqualValues(t, s.sample.events, restored.Events)
			require.Zero(t, restored.Lost)
			s.whole()
		})
	}
}

func openAgain(cfg Config) error {
	_, err := Open(cfg)
	return err
}

// What can be made again from the rest is, and nothing is missing after it.
func TestHarmlessDamageIsRepaired(t *testing.T) {
	half := func(b []byte) []byte { return append(b, b[:60]...) }
	tests := []struct {
		name    string
		crashed bool
		spoil   func(s spoilt)
	}{
		{"nothing", false, func(spoilt) {}},
		{"a crash", true, func(spoilt) {}},
		{"no index", false, func(s spoilt) { s.remove(s.stream("msgs", "index.db")) }},
		{"bit in the index", false, func(s spoilt) { s.flip(s.stream("msgs", "index.db"), middle) }},
		{"index of an older store", false, func(s spoilt) {
			b, err := os.ReadFile(filepath.Join(s.sample.older, "store", "js", "jetstream", "$G", "streams", "countback-sorrel", "msgs", "index.db"))
			require.NoError(s.t, err)
			require.NoError(s.t, os.WriteFile(s.stream("msgs", "index.db"), b, 0o644))
		}},
		{"half an event at the end, after a crash", true, func(s spoilt) { s.edit(s.block(3), half) }},
		{"zeros at the end, after a crash", true, func(s spoilt) {
			s.edit(s.block(3), func(b []byte) []byte { return append(b, make([]byte, 4096)...) })
		}},
		{"no protected copy", false, func(s spoilt) { s.remove(s.cfg.Dir + ".guard") }},
		{"older protected copy", false, func(s spoilt) { s.fromOlder(".guard") }},
		{"block of the protected copy missing", false, func(s spoilt) { s.remove(filepath.Join(s.cfg.Dir+".guard", "1.blk")) }},
		{"block of the protected copy cut short", false, func(s spoilt) {
			s.edit(filepath.Join(s.cfg.Dir+".guard", "2.blk"), func(b []byte) []byte { return b[:len(b)/2] })
		}},
		{"half an event at the end of the protected copy", false, func(s spoilt) {
			s.edit(filepath.Join(s.cfg.Dir+".guard", "3.blk"), func(b []byte) []byte { return b[:len(b)-100] })
		}},
		{"bit in the last block of the protected copy", false, func(s spoilt) { s.flip(filepath.Join(s.cfg.Dir+".guard", "3.blk"), middle) }},
		{"no mark", false, func(s spoilt) { s.remove(s.cfg.Dir + ".mark") }},
		{"older mark", false, func(s spoilt) { s.fromOlder(".mark") }},
		{"one slot of the mark torn", true, func(s spoilt) {
			s.edit(s.cfg.Dir+".mark", func(b []byte) []byte { b[4096+40] ^= 1; return b })
		}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			s := newSpoilt(t, test.crashed)
			test.spoil(s)
			s.whole()
		})
	}
}

// An event is taken from wherever it is unharmed, within one block, too.
func TestRestoreTakesTheBestOfAll(t *testing.T) {
	s := newSpoilt(t, false)
	backup := filepath.Join(t.TempDir(), "backup")
	last, err := Backup(s.cfg, backup)
	require.NoError(t, err)
	require.EqualValues(t, 50, last)
	guard := s.cfg.Dir + ".guard"
	s.flip(s.block(1), func([]byte) int { return 700 })
	s.flip(filepath.Join(guard, "1.blk"), middle)
	s.remove(s.block(2))
	s.edit(filepath.Join(guard, "2.blk"), func(b []byte) []byte { return b[:len(b)/2] })
	s.flip(s.block(3), func([]byte) int { return 700 })
	s.flip(filepath.Join(guard, "3.blk"), func([]byte) int { return 700 })

	_, err = Restore(s.cfg, false)
	var incomplete *vault.Incomplete
	require.ErrorAs(t, err, &incomplete)
	require.Less(t, incomplete.Have, incomplete.Next)
	require.ErrorContains(t, err, "--from")
	require.ErrorContains(t, err, fmt.Sprintf("or give up all events from %d to 50", incomplete.Have+1))
	require.ErrorAs(t, openAgain(s.cfg), new(*vault.Damaged), "nothing was changed")

	restored, err := Restore(s.cfg, false, backup)
	require.NoError(t, err)
	require.EqualValues(t, 50, restored.Events)
	require.NotEmpty(t, restored.Aside)
	for _, path := range restored.Aside {
		require.DirExists(t, filepath.Dir(path))
		_, err := os.Stat(path)
		require.NoError(t, err, "nothing is thrown away")
	}
	s.whole()
}

// The protected copy is some seconds behind. What was acknowledged within
// them and is damaged by the crash is lost, and must not go unnoticed.
func TestLastEventLostInCrash(t *testing.T) {
	for name, spoil := range map[string]func(s spoilt){
		"bit":       func(s spoilt) { s.flip(s.block(3), end) },
		"cut short": func(s spoilt) { s.edit(s.block(3), func(b []byte) []byte { return b[:len(b)-100] }) },
	} {
		t.Run(name, func(t *testing.T) {
			s := newSpoilt(t, true)
			spoil(s)
			_, err := Open(s.cfg)
			require.ErrorContains(t, err, "3.blk: event 50 cannot be read")
			_, err = Restore(s.cfg, false)
			var incomplete *vault.Incomplete
			require.ErrorAs(t, err, &incomplete)
			require.Equal(t, vault.Incomplete{Have: 49, Wanted: 50}, *incomplete)
			restored, err := Restore(s.cfg, true)
			require.NoError(t, err)
			require.EqualValues(t, 1, restored.Lost)
			s.sample.events = 49
			s.whole()
		})
	}
}

// Where something in the middle is gone for good, the rest must go, too: a
// journal cannot have holes. It stays where it was moved to.
func TestRestoreUpToAHole(t *testing.T) {
	s := newSpoilt(t, false)
	s.flip(s.block(2), middle)
	s.remove(s.cfg.Dir + ".guard")
	_, err := Restore(s.cfg, false)
	var incomplete *vault.Incomplete
	require.ErrorAs(t, err, &incomplete)
	require.Equal(t, vault.Incomplete{Have: 27, Next: 29, Wanted: 50}, *incomplete)
	require.ErrorContains(t, err, "events 28 to 28 are in none of the sources")
	restored, err := Restore(s.cfg, true)
	require.NoError(t, err)
	require.EqualValues(t, 27, restored.Events)
	require.EqualValues(t, 23, restored.Lost)
	require.Len(t, restored.Aside, 1)
	require.FileExists(t, filepath.Join(restored.Aside[0], "jetstream", "$G", "streams", "countback-sorrel", "msgs", "3.blk"))
	s.sample.events = 27
	s.whole()
}

// Where the end is gone for good, going on without it must be said aloud.
func TestRestoreAcceptsLossOnlyIfTold(t *testing.T) {
	s := newSpoilt(t, false)
	s.fromOlder("")
	s.fromOlder(".guard")
	_, err := Open(s.cfg)
	require.ErrorContains(t, err, "events up to 50 were acknowledged: 30 are missing")
	_, err = Restore(s.cfg, false)
	var incomplete *vault.Incomplete
	require.ErrorAs(t, err, &incomplete)
	require.Equal(t, vault.Incomplete{Have: 20, Wanted: 50}, *incomplete)
	require.ErrorContains(t, err, "events 21 to 50 are in none of the sources")
	_, err = Open(s.cfg)
	require.Error(t, err, "still")

	restored, err := Restore(s.cfg, true)
	require.NoError(t, err)
	require.EqualValues(t, 20, restored.Events)
	require.EqualValues(t, 30, restored.Lost)
	s.sample.events = 20
	s.whole()
}

// A store of the same shop, as long as ours, but not ours.
func TestOtherStoreIsRefused(t *testing.T) {
	s := newSpoilt(t, false)
	other := s.cfg
	other.Dir = filepath.Join(t.TempDir(), "store")
	j := opened(t, other)
	fill(t, j, "b1", 60, 1000)
	require.NoError(t, j.Close())
	s.remove(s.cfg.Dir)
	require.NoError(t, os.CopyFS(s.cfg.Dir, os.DirFS(other.Dir)))
	_, err := Open(s.cfg)
	require.ErrorContains(t, err, "this is another store")
	s.remove(s.cfg.Dir + ".mark")
	_, err = Open(s.cfg)
	require.ErrorContains(t, err, "one of them is of another store")
}
