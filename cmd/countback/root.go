package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"
)

// Run is the whole program without its process: it returns how it would end.
func run(ctx context.Context, args []string, in io.Reader, out, errOut io.Writer) status {
	root := newRoot()
	root.SetArgs(args)
	root.SetIn(in)
	root.SetOut(out)
	root.SetErr(errOut)
	err := root.ExecuteContext(ctx)
	if err == nil {
		return statusDone
	}
	if ctx.Err() != nil && errors.Is(err, context.Canceled) {
		fmt.Fprintln(errOut, "countback: stopped")
		return statusInterrupted
	}
	if v := (verdict{}); !errors.As(err, &v) {
		fmt.Fprintln(errOut, "countback: "+err.Error())
	}
	return statusOf(err)
}

func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:   "countback",
		Short: "Know where every part and fastener of an engine is",
		Long: `Countback counts every part and fastener of an engine at the moment of
removal, asks again at the moment of fitting, and says what is missing, mixed,
broken, left over or left inside before the engine is closed and started.`,
		Example: `  countback demo
  countback job open --plan testdata/plans/sorrel-i4-20.yaml --engine "Sorrel, blue van"
  countback scan --terminal bench-1`,
		SilenceUsage:  true,
		SilenceErrors: true,
		RunE:          withoutCommand,
		Args:          cobra.ArbitraryArgs,
	}
	addSettings(root.PersistentFlags())
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return usage("%w; see: %s --help", err, cmd.CommandPath())
	})
	root.AddGroup(
		&cobra.Group{ID: "work", Title: "At the bench:"},
		&cobra.Group{ID: "report", Title: "Reports:"},
		&cobra.Group{ID: "keep", Title: "Plans, store and program:"},
	)
	root.AddCommand(commands()...)
	root.AddCommand(exitTopic(), settingsTopic(), shapesTopic())
	root.SetHelpCommandGroupID("keep")
	root.SetCompletionCommandGroupID("keep")
	return root
}

// withoutCommand answers "countback" and "countback something-else".
func withoutCommand(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return cmd.Help()
	}
	err := fmt.Errorf("there is no command %q", args[0])
	cmd.SuggestionsMinimumDistance = 2
	if near := cmd.SuggestionsFor(args[0]); len(near) > 0 {
		err = fmt.Errorf("%w; did you mean %s?", err, strings.Join(near, " or "))
	} else {
		err = fmt.Errorf("%w; see: %s --help", err, cmd.CommandPath())
	}
	return &failure{statusUsage, err}
}

// group makes a command that only has commands below it.
func group(cmd *cobra.Command, below ...*cobra.Command) *cobra.Command {
	cmd.RunE, cmd.Args = withoutCommand, cobra.ArbitraryArgs
	cmd.AddCommand(below...)
	return cmd
}

// arguments wraps a rule about the number of arguments so that breaking it is
// a usage error which names the command.
func arguments(rule cobra.PositionalArgs) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if err := rule(cmd, args); err != nil {
			return usage("%w; usage: %s", err, cmd.UseLine())
		}
		return nil
	}
}
