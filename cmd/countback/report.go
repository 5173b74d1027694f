package main

import (
	"context"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/projections/engine"
)

// aboutJob makes the body of a report about one job, which its first argument
// names.
func aboutJob(answer func(cmd *cobra.Command, s settings, id events.Job, j *engine.Job, rest []string) error) func(*cobra.Command, []string) error {
	return func(cmd *cobra.Command, args []string) error {
		s, b, err := openBooks(cmd)
		if err != nil {
			return err
		}
		id, j, err := b.find(args[0])
		if err != nil {
			return err
		}
		return answer(cmd, s, id, j, args[1:])
	}
}

// openBooks reads the settings and every job.
func openBooks(cmd *cobra.Command) (settings, *books, error) {
	s, err := readSettings(cmd)
	if err != nil {
		return s, nil, err
	}
	b, err := readBooks(commandContext(cmd), s, now())
	return s, b, err
}

// commandContext is the command's context; shell completion has none.
func commandContext(cmd *cobra.Command) context.Context {
	if ctx := cmd.Context(); ctx != nil {
		return ctx
	}
	return context.Background()
}
