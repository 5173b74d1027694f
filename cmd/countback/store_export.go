package main

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/events/journal"
)

func storeExportCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "export [FILE]", Short: "Write every event as a line of CloudEvents JSON",
		Long: `Writes every stored event as one line of JSON, a CloudEvents 1.0 event in its
structured mode, in the order in which the store has them, byte for byte as
stored. The plans of the jobs ride along in the events that opened them.
Without FILE, or with -, they go to standard output; a FILE appears only once
it is complete, and one that is there already is left alone.`,
		Example: "  countback store export everything.jsonl\n  countback store export --job 4K7 | wc -l",
		Args:    arguments(cobra.MaximumNArgs(1)),
	}
	job := cmd.Flags().String("job", "", "only the events of this job")
	completeFlag(cmd, "job", completeJobs)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		s, err := readSettings(cmd)
		if err != nil {
			return err
		}
		filter := journal.Filter{Job: events.Job(*job)}
		if err := filter.Check(); err != nil {
			return usage("%w", err)
		}
		to := func(w io.Writer) error { return export(cmd, s, filter, w) }
		if len(args) == 0 || args[0] == "-" {
			return to(cmd.OutOrStdout())
		}
		return newFile(args[0], to)
	}
	return cmd
}

func export(cmd *cobra.Command, s settings, filter journal.Filter, to io.Writer) error {
	w := bufio.NewWriterSize(to, 1<<16)
	n := 0
	err := readFacts(cmd.Context(), s, filter, func(m journal.Message) error {
		n++
		if _, err := w.Write(m.Data); err != nil {
			return &failure{statusFailed, fmt.Errorf("export: %w", err)}
		}
		if err := w.WriteByte('\n'); err != nil {
			return &failure{statusFailed, fmt.Errorf("export: %w", err)}
		}
		return nil
	})
	if err != nil {
		return err
	}
	if n == 0 && filter.Job != "" {
		return unknown("there is no job %s; see them with: countback job list", filter.Job)
	}
	if err := w.Flush(); err != nil {
		return fmt.Errorf("export: %w", err)
	}
	return nil
}

// newFile writes a file that must not exist yet. It appears under its name
// only when all of it is on disk.
func newFile(path string, content func(io.Writer) error) error {
	if _, err := os.Lstat(path); err == nil {
		return usage("%s is there already; name another file, or remove it", path)
	}
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*")
	if err != nil {
		return err
	}
	err = content(f)
	if err == nil {
		err = f.Sync()
	}
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = os.Chmod(f.Name(), 0o644)
	}
	if err == nil {
		err = os.Link(f.Name(), path)
	}
	if gone := os.Remove(f.Name()); err == nil {
		err = gone
	}
	return err
}
