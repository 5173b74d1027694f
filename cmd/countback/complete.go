package main

import (
	"context"
	"time"

	"github.com/spf13/cobra"

	"countback/projections/engine"
)

type completer = func(cmd *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective)

const noFiles = cobra.ShellCompDirectiveNoFileComp

// completeFlag ties a completion to a flag that the command has.
func completeFlag(cmd *cobra.Command, flag string, c completer) {
	if err := cmd.RegisterFlagCompletionFunc(flag, c); err != nil {
		panic("unreachable: " + err.Error())
	}
}

// completeWithin bounds what a person waits for after the Tab key.
const completeWithin = 3 * time.Second

// completeBooks reads the store for the shell; nil where it cannot, since a
// completion has nobody to complain to.
func completeBooks(cmd *cobra.Command) *books {
	s, err := readSettings(cmd)
	if err != nil {
		return nil
	}
	ctx, cancel := context.WithTimeout(commandContext(cmd), completeWithin)
	defer cancel()
	b, err := readBooks(ctx, s, now())
	if err != nil {
		return nil
	}
	return b
}

// completeJobs offers the jobs of the store, with what stands there.
func completeJobs(cmd *cobra.Command, _ []string, _ string) ([]string, cobra.ShellCompDirective) {
	b := completeBooks(cmd)
	if b == nil {
		return nil, noFiles
	}
	var list []string
	for _, id := range b.Jobs() {
		j, _ := b.Job(id)
		list = append(list, string(id)+"\t"+j.State().Opened.Engine)
	}
	return list, noFiles
}

// completeJobThen offers jobs for the first argument, and for the second what
// next finds in that job.
func completeJobThen(next func(*engine.Job) []string) completer {
	return func(cmd *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
		switch {
		case len(args) == 0:
			return completeJobs(cmd, args, begun)
		case len(args) > 1 || next == nil:
			return nil, noFiles
		}
		b := completeBooks(cmd)
		if b == nil {
			return nil, noFiles
		}
		_, j, err := b.find(args[0])
		if err != nil {
			return nil, noFiles
		}
		return next(j), noFiles
	}
}

func completeSteps(j *engine.Job) []string {
	var list []string
	for _, s := range j.State().Plan().Steps {
		list = append(list, string(s.ID)+"\t"+s.Name)
	}
	return list
}

func completeAuditPoints(j *engine.Job) []string { return auditPoints(j) }

// completePlanFiles offers plan files to the shell.
func completePlanFiles(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
}

// completeFolders offers folders to the shell.
func completeFolders(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return nil, cobra.ShellCompDirectiveFilterDirs
}
