package stream

import (
	"fmt"
	"log/slog"
	"net"
	"time"

	"github.com/nats-io/nats.go"

	"countback/events"
	"countback/events/journal"
	"countback/events/stream/vault"
)

// Config describes a store that this program opens itself.
type Config struct {
	Shop events.Shop
	Dir  string // of the store; made if it does not exist

	// Terminal names this program for others: in the lock of the store, and
	// to the server.
	Terminal events.Terminal

	// GuardDir and HighWaterPath are where the protected copy and the
	// high-water mark lie; empty means beside Dir. Another disk is better.
	GuardDir, HighWaterPath string

	// MaxStoreBytes is how much the server may store. Beyond it an append is
	// refused at once; a full disk would be noticed only after a while. 0
	// means what there is and nine tenths of what is free now.
	MaxStoreBytes int64
	// MinFreeBytes of the disk are left alone: an append that would touch
	// them is refused. 0 means 64 MiB, negative none.
	MinFreeBytes int64

	// Listen is an address for other terminals and for the nats command, such
	// as "127.0.0.1:4222". Empty means that nobody outside this program can
	// connect. Whoever connects without a name may only read; an address
	// that other machines reach needs Terminals.
	Listen string
	// Terminals may append, each as itself only. The value is its password.
	Terminals map[events.Terminal]string

	Timing
	Logger *slog.Logger // of the server and of what concerns the store; nil means none

	maxStream int64 // of tests: a stream that is limited to little has small blocks
}

// Remote describes a journal on a server that runs elsewhere: a shop's own
// that listens, or a cluster.
type Remote struct {
	URLs     []string // all servers of a cluster
	Shop     events.Shop
	Terminal events.Terminal
	Password string // of the terminal; empty to connect without a name
	CAFile   string // certificates to trust, beside the system's

	// Create makes the stream if it is missing. It is refused if the mark
	// says that the stream has held events.
	Create   bool
	Replicas int // of a stream that is created; 0 means 1

	// HighWaterPath is where this terminal remembers the last event that was
	// acknowledged to it. Empty means that it does not.
	HighWaterPath string

	Timing
	Logger *slog.Logger

	options []nats.Option // of tests
}

// Timing says how long to wait for what. The zero values are good for a shop.
type Timing struct {
	AckWait   time.Duration // for an answer, before it is unclear; 0: 5 s
	SickAfter time.Duration // between looks at the server's health while waiting; 0: 100 ms
	KeepEvery time.Duration // between additions to the protected copy and the mark; 0: 5 s
	Heartbeat time.Duration // of the server to readers; 0: 2 s
	Duplicate time.Duration // the server's own window for repeated ids; 0: 2 min
}

func (t Timing) full() Timing {
	for _, d := range []struct {
		field *time.Duration
		value time.Duration
	}{
		{&t.AckWait, 5 * time.Second},
		{&t.SickAfter, 100 * time.Millisecond},
		{&t.KeepEvery, 5 * time.Second},
		{&t.Heartbeat, 2 * time.Second},
		{&t.Duplicate, 2 * time.Minute},
	} {
		if *d.field <= 0 {
			*d.field = d.value
		}
	}
	return t
}

func (c Config) place() vault.Place {
	return vault.Place{Shop: c.Shop, Dir: c.Dir, Guard: c.GuardDir, Mark: c.HighWaterPath}
}

// full fills in the defaults and refuses what cannot work.
func (c Config) full() (Config, error) {
	c.Timing = c.Timing.full()
	if c.Logger == nil {
		c.Logger = slog.New(slog.DiscardHandler)
	}
	switch {
	case c.MinFreeBytes == 0:
		c.MinFreeBytes = 64 << 20
	case c.MinFreeBytes < 0:
		c.MinFreeBytes = 0
	}
	if c.MaxStoreBytes < 0 {
		return c, fmt.Errorf("store %s: at most %d bytes to store", c.Dir, c.MaxStoreBytes)
	}
	if c.Terminal != "" {
		if err := journal.CheckName("terminal", string(c.Terminal)); err != nil {
			return c, fmt.Errorf("store %s: %w", c.Dir, err)
		}
	}
	for t, password := range c.Terminals {
		if err := journal.CheckName("terminal", string(t)); err != nil {
			return c, fmt.Errorf("store %s: %w", c.Dir, err)
		}
		if password == "" {
			return c, fmt.Errorf("store %s: terminal %s has an empty password", c.Dir, t)
		}
	}
	if c.Listen == "" {
		return c, nil
	}
	host, _, err := net.SplitHostPort(c.Listen)
	if err != nil {
		return c, fmt.Errorf("store %s: listen on %q: %w", c.Dir, c.Listen, err)
	}
	if ip := net.ParseIP(host); (ip == nil || !ip.IsLoopback()) && len(c.Terminals) == 0 {
		return c, fmt.Errorf("store %s: listen on %q: other machines can reach it; name the terminals and their passwords, or listen on 127.0.0.1", c.Dir, c.Listen)
	}
	return c, nil
}
