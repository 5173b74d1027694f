package stream

import (
	"bytes"
	"log/slog"
	"os"
	"path/filepath"
	"runtime"
	"runtime/pprof"
	"testing"
	"time"

	"github.com/nats-io/nats.go/jetstream"
	"github.com/stretchr/testify/require"

	"countback/events/journal"
	"countback/events/stream/vault"
)

func TestOpenRefuses(t *testing.T) {
	file := func(t *testing.T, path, text string) {
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	}
	for _, row := range []struct {
		name   string
		change func(t *testing.T, c *Config)
		says   string
	}{
		{"no shop", func(t *testing.T, c *Config) { c.Shop = "" }, "shop: name is empty"},
		{"shop of two words", func(t *testing.T, c *Config) { c.Shop = "a.b" }, `character '.'`},
		{"terminal of two words", func(t *testing.T, c *Config) { c.Terminal = "bench 2" }, `character ' '`},
		{"no folder", func(t *testing.T, c *Config) { c.Dir = "" }, "no folder named"},
		{"mark in the store", func(t *testing.T, c *Config) { c.HighWaterPath = filepath.Join(c.Dir, "mark") }, "would be lost with it"},
		{"guard in the store", func(t *testing.T, c *Config) { c.GuardDir = c.Dir }, "would be lost with it"},
		{"file in place of the folder", func(t *testing.T, c *Config) { file(t, c.Dir, "x") }, "is a file; name a folder for the store"},
		{"file above the folder", func(t *testing.T, c *Config) {
			file(t, filepath.Dir(c.Dir)+"/f", "x")
			c.Dir = filepath.Dir(c.Dir) + "/f/store"
		}, "not a directory"},
		{"folder with something else", func(t *testing.T, c *Config) { file(t, c.Dir+"/letters.txt", "x") }, "holds letters.txt and is no store; name an empty or new folder"},
		{"guard with something else", func(t *testing.T, c *Config) { file(t, c.Dir+".guard/letters.txt", "x") }, "is not empty and is no copy of a store"},
		{"store of a later version", func(t *testing.T, c *Config) { file(t, c.Dir+"/format", "countback store 2\nshop sorrel\n") }, `has format "2", this program knows only 1`},
		{"guard of a later version", func(t *testing.T, c *Config) { file(t, c.Dir+".guard/copy", "countback copy 7\nshop sorrel\n") }, `has format "7"`},
		{"store of another shop", func(t *testing.T, c *Config) { file(t, c.Dir+"/format", "countback store 1\nshop bay\n") }, "belongs to shop bay, not to shop sorrel"},
		{"no format at all", func(t *testing.T, c *Config) { file(t, c.Dir+"/format", "hello") }, "is no format file"},
		{"negative size", func(t *testing.T, c *Config) { c.MaxStoreBytes = -1 }, "at most -1 bytes"},
		{"listen nowhere", func(t *testing.T, c *Config) { c.Listen = "somewhere" }, "missing port"},
		{"listen to all without terminals", func(t *testing.T, c *Config) { c.Listen = ":4222" }, "other machines can reach it"},
		{"listen on a name", func(t *testing.T, c *Config) { c.Listen = "bench:4222" }, "other machines can reach it"},
		{"terminal without password", func(t *testing.T, c *Config) { c.Terminals = terminals("b1", "") }, "empty password"},
		{"terminal with a dot", func(t *testing.T, c *Config) { c.Terminals = terminals("b.1", "x") }, "character"},
	} {
		t.Run(row.name, func(t *testing.T) {
			cfg := testConfig(t)
			row.change(t, &cfg)
			_, err := Open(cfg)
			require.ErrorContains(t, err, row.says)
		})
	}
}

func TestOtherVersionIsTold(t *testing.T) {
	cfg := testConfig(t)
	require.NoError(t, opened(t, cfg).Close())
	require.NoError(t, os.WriteFile(filepath.Join(cfg.Dir, "format"), []byte("countback store 2\nshop sorrel\n"), 0o644))
	var other *vault.OtherVersion
	require.ErrorAs(t, openAgain(cfg), &other)
	_, err := Check(cfg)
	require.ErrorAs(t, err, &other)
	_, err = Restore(cfg, false)
	require.ErrorAs(t, err, &other)
	_, err = Backup(cfg, t.TempDir())
	require.ErrorAs(t, err, &other)
}

// A first start that was cut short at any moment before anything could be
// acknowledged is simply done again.
func TestFirstStartCutShort(t *testing.T) {
	for name, undo := range map[string]func(t *testing.T, dir string){
		"only the lock":   func(t *testing.T, dir string) { require.NoError(t, os.RemoveAll(dir+"/js")) },
		"no guard, mark":  func(t *testing.T, dir string) { os.RemoveAll(dir + ".guard"); os.Remove(dir + ".mark") },
		"no mark":         func(t *testing.T, dir string) { os.Remove(dir + ".mark") },
		"no format":       func(t *testing.T, dir string) {},
		"format half":     func(t *testing.T, dir string) { os.WriteFile(dir+"/format.tmp", []byte("count"), 0o644) },
		"mark just begun": func(t *testing.T, dir string) { os.WriteFile(dir+".mark", nil, 0o644) },
	} {
		t.Run(name, func(t *testing.T) {
			cfg := testConfig(t)
			require.NoError(t, opened(t, cfg).Close())
			require.NoError(t, os.Remove(filepath.Join(cfg.Dir, "format")))
			undo(t, cfg.Dir)
			s := opened(t, cfg)
			fill(t, s, "b1", 3, 100)
			require.Equal(t, 3, count(t, s))
		})
	}
}

// An empty store that was once made is not made again behind its owner's
// back, but nothing is missing either.
func TestEmptyStoreStays(t *testing.T) {
	cfg := testConfig(t)
	require.NoError(t, opened(t, cfg).Close())
	require.NoError(t, os.RemoveAll(filepath.Join(cfg.Dir, "js")))
	require.ErrorAs(t, openAgain(cfg), new(*vault.Damaged))
	_, err := Restore(cfg, false)
	require.NoError(t, err)
	s := opened(t, cfg)
	fill(t, s, "b1", 1, 100)
}

// Opened and closed many times, nothing stays behind.
func TestNoGoroutineStays(t *testing.T) {
	cfg := testConfig(t)
	require.NoError(t, opened(t, cfg).Close())
	before := runtime.NumGoroutine()
	for i := range 100 {
		s, err := Open(cfg)
		require.NoError(t, err)
		if i%10 == 0 {
			fill(t, s, "b1", 1, 100)
			followed := make(chan error, 1)
			go func() {
				followed <- s.Follow(testCtx, 0, journal.Filter{Job: "J0"}, func(journal.Message) error { return nil })
			}()
			require.Positive(t, count(t, s))
			require.NoError(t, s.Close())
			require.ErrorIs(t, <-followed, journal.ErrClosed)
			continue
		}
		require.NoError(t, s.Close())
	}
	tick := time.NewTicker(10 * time.Millisecond)
	defer tick.Stop()
	for range 500 { // some end a moment after they have let go
		if runtime.NumGoroutine() <= before {
			return
		}
		<-tick.C
	}
	require.NoError(t, pprof.Lookup("goroutine").WriteTo(os.Stdout, 1))
	require.Fail(t, "goroutines stay", "%d, %d before", runtime.NumGoroutine(), before)
}

// The server's own settings that would lose events or hide them are seen.
func TestSettingsAreChecked(t *testing.T) {
	for name, row := range map[string]struct {
		change func(c *jetstream.StreamConfig)
		says   string
	}{
		"limit":       {func(c *jetstream.StreamConfig) { c.MaxMsgs = 1000 }, "it holds 1000 events at most"},
		"age":         {func(c *jetstream.StreamConfig) { c.MaxAge = time.Hour }, "events go after 1h0m0s"},
		"per subject": {func(c *jetstream.StreamConfig) { c.MaxMsgsPerSubject = 9 }, "it holds 9 events of a terminal and job at most"},
		"discard":     {func(c *jetstream.StreamConfig) { c.Discard = jetstream.DiscardOld }, "old events give way"},
		"compressed":  {func(c *jetstream.StreamConfig) { c.Compression = jetstream.S2Compression }, "it is compressed"},
		"direct":      {func(c *jetstream.StreamConfig) { c.AllowDirect = true }, "answered by a replica that is behind"},
		"small":       {func(c *jetstream.StreamConfig) { c.MaxMsgSize = 500 }, "it takes messages of 500 bytes at most"},
		"transformed": {func(c *jetstream.StreamConfig) {
			c.SubjectTransform = &jetstream.SubjectTransformConfig{Source: "countback.sorrel.>", Destination: "countback.sorrel.x.>"}
		}, "subjects are changed"},
		"no answers": {func(c *jetstream.StreamConfig) { c.NoAck = true }, "nothing is acknowledged"},
	} {
		t.Run(name, func(t *testing.T) {
			cfg := testConfig(t)
			s := opened(t, cfg)
			settings := s.settings(1)
			row.change(&settings)
			_, err := s.js.UpdateStream(t.Context(), settings)
			require.NoError(t, err)
			require.NoError(t, s.Close())
			err = openAgain(cfg)
			require.ErrorContains(t, err, row.says)
			require.ErrorContains(t, err, "put them right with: nats stream edit countback-sorrel")
			require.NotErrorAs(t, openAgain(cfg), new(*vault.InUse))
		})
	}
}

// The store can lie on one disk and what protects it on another.
func TestPlacesOfTheirOwn(t *testing.T) {
	cfg := testConfig(t)
	cfg.GuardDir, cfg.HighWaterPath = filepath.Join(t.TempDir(), "a", "guard"), filepath.Join(t.TempDir(), "mark")
	s := opened(t, cfg)
	fill(t, s, "b1", 5, 1000)
	require.NoError(t, s.Close())
	require.FileExists(t, filepath.Join(cfg.GuardDir, "1.blk"))
	require.NoFileExists(t, cfg.Dir+".mark")
	require.NoError(t, os.RemoveAll(cfg.Dir))
	require.ErrorAs(t, openAgain(cfg), new(*vault.Damaged))
	r, err := Restore(cfg, false)
	require.NoError(t, err)
	require.Equal(t, vault.Restored{Events: 5, LastID: "b1-5"}, r)
	require.Equal(t, 5, count(t, opened(t, cfg)))
}

// What the keeper meets shows in Health, once in the log, and takes nothing
// from those who append.
func TestKeeperComplains(t *testing.T) {
	cfg := testConfig(t)
	var log bytes.Buffer
	cfg.Logger = slog.New(slog.NewTextHandler(&log, nil))
	s, err := Open(cfg)
	require.NoError(t, err)
	defer s.Close()
	fill(t, s, "b1", 1, 100)
	require.NoError(t, os.RemoveAll(cfg.Dir+".guard"))
	require.NoError(t, os.WriteFile(cfg.Dir+".guard", nil, 0o644))
	s.kept(s.keepOnce(t.Context()))
	s.kept(s.keepOnce(t.Context()))
	require.ErrorContains(t, s.Health(t.Context()), "protected copy")
	fill(t, s, "b1", 1, 100)
	require.Equal(t, 1, bytes.Count(log.Bytes(), []byte("goes on without protection")))
	require.NoError(t, os.Remove(cfg.Dir+".guard"))
	require.Error(t, s.keepOnce(t.Context()), "the folder is gone, and stays so until the next start")
}

// Others' events reach the mark and the copy, too.
func TestKeeperFollowsOthers(t *testing.T) {
	cfg := testConfig(t)
	cfg.Listen, cfg.Terminals = "127.0.0.1:0", terminals("b7", "secret")
	s := opened(t, cfg)
	far := connected(t, Remote{URLs: []string{"nats://" + s.Addr()}, Shop: "sorrel", Terminal: "b7", Password: "secret"})
	defer far.Close()
	fill(t, far, "b7", 4, 100)
	require.NoError(t, s.keepOnce(t.Context()))
	require.Eventually(t, func() bool { // the mark has a writer of its own
		report, err := Check(cfg)
		return err == nil && report.Mark == 4 && report.Guarded == 4
	}, 10*time.Second, 5*time.Millisecond)
}
