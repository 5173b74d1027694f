package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"countback/events"
	"countback/events/journal"
	"countback/events/stream"
	"countback/kiosk"
	"countback/kiosk/bench"
	"countback/labels/code"
	"countback/projections/plan"
)

// terminal is a kiosk at work on the store that the settings name.
type terminal struct {
	*bench.Terminal
	store *stream.Stream
	box   *bench.Box // of a terminal of a server; nil: the store is here
}

// wallClock is the clock of this machine, in microseconds since 1970.
func wallClock() int64 { return time.Now().UnixMicro() }

// openTerminal opens the store, makes it if there is none, and puts a terminal
// on it that has two letters of its own for labels.
func openTerminal(ctx context.Context, s settings, plans map[string]string, clock func() int64) (*terminal, error) {
	if s.Server != "" {
		return openFar(ctx, s, plans, clock)
	}
	store, err := stream.Open(s.stream())
	if err != nil {
		return nil, storeError(err)
	}
	t, err := sitDown(ctx, store, nil, s, s.Terminal, plans, clock)
	if err != nil {
		return nil, errors.Join(err, store.Close())
	}
	return &terminal{Terminal: t, store: store}, nil
}

// sitDown puts a terminal on a store that is open.
func sitDown(ctx context.Context, store journal.Journal, box bench.Outbox, s settings, name events.Terminal, plans map[string]string, clock func() int64) (*bench.Terminal, error) {
	letters, err := lettersFor(ctx, store, name)
	if err != nil {
		return nil, storeError(err)
	}
	t, err := bench.Open(ctx, bench.Config{
		Shop: s.Shop, Name: name, Home: store, Outbox: box, Clock: clock, Plans: plans, Settings: kiosk.UsualSettings(), Limits: s.Limits,
	})
	if err != nil {
		return nil, storeError(err)
	}
	if letters == "" {
		return t, nil
	}
	for _, line := range []string{"range " + letters, "bench " + string(name), "RESERVE"} {
		if _, err := t.Scan(ctx, line); err != nil {
			return nil, storeError(err)
		}
	}
	if told := t.Told(); len(told) != 1 {
		why := store.Health(ctx)
		if why == nil {
			why = errors.New(strings.Join(append(t.View().Lines, t.View().Ask), ": "))
		}
		return nil, storeError(fmt.Errorf("terminal %s got no letters for its labels: %w", name, why))
	}
	t.Heard()
	return t, nil
}

// lettersFor finds the first two letters that no terminal has; empty if this
// one has some.
func lettersFor(ctx context.Context, store journal.Journal, name events.Terminal) (string, error) {
	taken := map[string]bool{}
	own := false
	var d events.Decoder
	err := store.Read(ctx, 1, journal.Filter{}, func(m journal.Message) error {
		var r events.Record
		if err := d.Decode(m.Data, &r); err != nil {
			return fmt.Errorf("message %d (%s): %w", m.Seq, m.ID(), err)
		}
		if e, ok := r.Event.(events.RangeReserved); ok {
			taken[e.Range] = true
			own = own || e.For == string(name)
		}
		return nil
	})
	if err != nil || own {
		return "", err
	}
	for _, letters := range code.Ranges() {
		if !taken[letters] {
			return letters, nil
		}
	}
	return "", fmt.Errorf("all %d pairs of letters for labels are taken", len(code.Ranges()))
}

// begin puts a job on the screen, if one is named.
func (t *terminal) begin(ctx context.Context, job string) error {
	if job == "" {
		return nil
	}
	if _, err := t.Scan(ctx, "job "+job); err != nil {
		return storeError(err)
	}
	if t.Screen().Job() == "" {
		return unknown("there is no job %s; see them with: countback job list", job)
	}
	return nil
}

// sick says why the store takes nothing; nil where something else was wrong.
// Being cut off from a server is no sickness: what is told meanwhile is kept.
func (t *terminal) sick(ctx context.Context) error {
	err := t.store.Health(ctx)
	if t.box != nil && errors.Is(err, journal.ErrOffline) {
		return nil
	}
	return storeError(err)
}

// close stops the terminal and its store.
func (t *terminal) close(err error) error {
	if n := t.Kept(); n > 0 {
		fmt.Fprintf(os.Stderr, "countback: %s on this terminal and not sent; at its next start it goes to the server\n", many(n, "fact is kept", "facts are kept"))
	}
	closed := t.store.Close()
	if t.box != nil {
		closed = errors.Join(closed, t.box.Close())
	}
	if closed != nil && err == nil {
		return storeError(closed)
	}
	return err
}

// plansIn reads the plans that the shop keeps in a folder, by the names of
// their files; there need not be such a folder.
func plansIn(dir string) (map[string]string, error) {
	plans := map[string]string{}
	entries, err := os.ReadDir(dir)
	if errors.Is(err, os.ErrNotExist) {
		return plans, nil
	}
	if err != nil {
		return nil, fmt.Errorf("plans: %w", err)
	}
	for _, e := range entries {
		if ext := filepath.Ext(e.Name()); e.IsDir() || ext != ".yaml" && ext != ".yml" {
			continue
		}
		p, err := plan.Load(filepath.Join(dir, e.Name()))
		if err != nil {
			continue // plan check tells why; the others can still be used
		}
		plans[planName(e.Name())] = string(p.Source)
	}
	return plans, nil
}

// planName is what a plan file is called at the kiosk.
func planName(file string) string {
	base := filepath.Base(file)
	return strings.TrimSuffix(base, filepath.Ext(base))
}
