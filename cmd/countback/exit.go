package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"github.com/spf13/cobra"

	"countback/events/journal"
	"countback/events/stream/vault"
	"countback/projections/engine"
)

// Status is how the program ends, for scripts.
type status int

// The exit statuses. They never change their meaning.
const (
	statusDone        status = 0
	statusNo          status = 1
	statusUsage       status = 2
	statusStore       status = 3
	statusUnknown     status = 4
	statusFailed      status = 5
	statusInterrupted status = 130
)

// statuses explains them, in the order of their numbers.
var statuses = []struct {
	status status
	name   string
	text   string
}{
	{statusDone, "done", "Everything was done, and there is nothing to look at."},
	{statusNo, "no", "The answer is no: an audit is red, pieces are missing, a scan was refused or misread, a plan or a store has faults. The report says which."},
	{statusUsage, "usage", "The command line or a setting makes no sense; nothing was done."},
	{statusStore, "store", "The store cannot be opened, read or written: in use, damaged, of another version, no room, no rights. Nothing was half-written."},
	{statusUnknown, "unknown", "There is no such job, code, file or name."},
	{statusFailed, "failed", "Anything else went wrong; the message says what."},
	{statusInterrupted, "interrupted", "It was stopped by Ctrl-C or by the system. What had been confirmed before is stored."},
}

// Verdict is an answer of no that has been reported already: it sets the exit
// status and prints nothing more.
type verdict struct{ status status }

func (v verdict) Error() string { return fmt.Sprintf("exit status %d", v.status) }

// No ends a command whose report says no.
func no() error { return verdict{statusNo} }

// Fault is an error with the status that it ends in.
type failure struct {
	status status
	err    error
}

func (f *failure) Error() string { return f.err.Error() }
func (f *failure) Unwrap() error { return f.err }

func usage(format string, args ...any) error {
	return &failure{statusUsage, fmt.Errorf(format, args...)}
}

func unknown(format string, args ...any) error {
	return &failure{statusUnknown, fmt.Errorf(format, args...)}
}

// storeError marks an error as one of the store.
func storeError(err error) error {
	if err == nil {
		return nil
	}
	return &failure{statusStore, err}
}

// statusOf sorts an error into the exit statuses.
func statusOf(err error) status {
	var v verdict
	var f *failure
	var refusal *engine.Refusal
	switch {
	case err == nil:
		return statusDone
	case errors.As(err, &v):
		return v.status
	case errors.Is(err, context.Canceled):
		return statusInterrupted
	case errors.As(err, &f):
		return f.status
	case errors.As(err, &refusal):
		return statusNo
	case ofStore(err):
		return statusStore
	case errors.Is(err, fs.ErrNotExist):
		return statusUnknown
	}
	return statusFailed
}

// ofStore reports whether an error is one of the journal or its files.
func ofStore(err error) bool {
	var (
		inUse    *vault.InUse
		damaged  *vault.Damaged
		mark     *vault.DamagedMark
		version  *vault.OtherVersion
		missing  *vault.Incomplete
		gap      *journal.Gap
		stale    *journal.Stale
		conflict *journal.Conflict
		skipped  *journal.Skipped
		unclear  *journal.Unclear
	)
	for _, target := range []any{&inUse, &damaged, &mark, &version, &missing, &gap, &stale, &conflict, &skipped, &unclear} {
		if errors.As(err, target) {
			return true
		}
	}
	return errors.Is(err, journal.ErrFull) || errors.Is(err, journal.ErrOffline) || errors.Is(err, journal.ErrClosed)
}

// exitTopic is "countback help exit".
func exitTopic() *cobra.Command {
	var b strings.Builder
	b.WriteString("Exit statuses, for scripts:\n\n")
	for _, s := range statuses {
		fmt.Fprintf(&b, "  %3d  %-12s %s\n", s.status, s.name, s.text)
	}
	return &cobra.Command{Use: "exit", Short: "The exit statuses, for scripts", Long: strings.TrimRight(b.String(), "\n")}
}
