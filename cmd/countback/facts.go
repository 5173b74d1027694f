package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"countback/events/journal"
	"countback/events/stream"
	"countback/events/stream/vault"
)

// place is where the settings say that the store is.
func (s settings) place() vault.Place {
	return vault.Place{Shop: s.Shop, Dir: s.Store, Guard: s.Guard, Mark: s.Mark}
}

// readFacts hands out every stored message, oldest first: from a store that
// listens if one is named, else straight from the files, every byte of which
// is verified. Neither disturbs a program that has the store open.
func readFacts(ctx context.Context, s settings, filter journal.Filter, fn func(journal.Message) error) error {
	if s.Server != "" {
		return readServer(ctx, s, filter, fn)
	}
	report, err := sound(s)
	if err != nil {
		return err
	}
	if report.Fresh {
		return unknown("there is no store in %s yet; name another one with --store, or begin with: countback job open", s.Store)
	}
	err = s.place().Read(ctx, 1, journal.Seq(report.Events), func(m journal.Message) error {
		if !filter.Match(m.Job) {
			return nil
		}
		return fn(m)
	})
	return wrapStore(err)
}

// sound looks at the store's files and refuses a store that lost something.
func sound(s settings) (vault.Report, error) {
	if err := readableParent(s.Store); err != nil {
		return vault.Report{}, storeError(err)
	}
	report, err := stream.Check(s.stream())
	if err == nil {
		err = report.Err()
	}
	return report, storeError(err)
}

// readableParent says that a folder cannot be looked into, which otherwise
// looks like a store that does not exist.
func readableParent(dir string) error {
	if _, err := os.Stat(dir); os.IsPermission(err) {
		return fmt.Errorf("store %s: this user may not look into %s", dir, filepath.Dir(dir))
	}
	return nil
}

func readServer(ctx context.Context, s settings, filter journal.Filter, fn func(journal.Message) error) error {
	j, err := stream.Connect(ctx, s.remote())
	if err != nil {
		return storeError(err)
	}
	defer j.Close()
	return wrapStore(j.Read(ctx, 1, filter, fn))
}

// wrapStore marks errors of reading as the store's, unless the reader stopped
// for a reason of its own.
func wrapStore(err error) error {
	switch err.(type) {
	case nil, *failure, verdict:
		return err
	}
	if statusOf(err) == statusInterrupted {
		return err
	}
	return storeError(err)
}
