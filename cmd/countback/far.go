package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"strings"
	"time"

	"countback/events/journal"
	"countback/events/stream"
	"countback/kiosk/bench"
)

// openFar puts a terminal on a server of the shop. What it is told while the
// server cannot be reached is kept in a file of its own beside the place of the
// store, and sent when the server is back.
func openFar(ctx context.Context, s settings, plans map[string]string, clock func() int64) (*terminal, error) {
	list, err := readPasswords(s.Passwords)
	if err != nil {
		return nil, err
	}
	password, ok := list[string(s.Terminal)]
	if !ok {
		return nil, usage("terminal %s has no password for %s; name the file that has it with --passwords", s.Terminal, s.Server)
	}
	box, err := bench.OpenBox(s.Store + ".outbox-" + string(s.Terminal))
	if err != nil {
		return nil, storeError(err)
	}
	r := s.remote()
	r.Password, r.HighWaterPath = password, s.Store+".acknowledged-"+string(s.Terminal)
	store, err := reach(ctx, r, s.Patient)
	if err != nil {
		return nil, errors.Join(storeError(err), box.Close())
	}
	t, err := sitDown(ctx, store, box, s, s.Terminal, plans, clock)
	if err != nil {
		return nil, errors.Join(err, store.Close(), box.Close())
	}
	return &terminal{t, store, box}, nil
}

// knockEvery is how often a patient terminal tries to reach its server.
const knockEvery = 2 * time.Second

// reach connects to a server; a patient terminal waits until it is there, and
// says so once.
func reach(ctx context.Context, r stream.Remote, patient bool) (*stream.Stream, error) {
	said := false
	for {
		store, err := stream.Connect(ctx, r)
		if err == nil || !patient || !errors.Is(err, journal.ErrOffline) || refused(err) {
			return store, err
		}
		if !said {
			fmt.Fprintf(os.Stderr, "countback: %v\ncountback: waiting for the server; what was told before and not sent is kept\n", err)
			said = true
		}
		select {
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-time.After(knockEvery):
		}
	}
}

// refused reports whether a server is there and does not let the terminal in.
func refused(err error) bool { return strings.Contains(err.Error(), "Authorization Violation") }
