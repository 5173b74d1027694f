package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"countback/kiosk/term"
)

func kioskCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "kiosk", Short: "Fill this terminal with a kiosk's screen", GroupID: "work",
		Long: `Fills the terminal with the screen of a bench, for a scanner that types like a
keyboard, or for typing: a code, or a noun or word in full. It runs until
somebody leaves it. Where there is no terminal to fill, as under a service with
a serial scanner, use: countback scan`,
		Example: `  countback kiosk --terminal bench-1
  countback kiosk --job 4K7 --theme light
  countback kiosk --training --store /tmp/training`,
		Args: arguments(cobra.NoArgs),
	}
	addListen(cmd.Flags())
	job := cmd.Flags().String("job", "", "begin with this job on the screen")
	completeFlag(cmd, "job", completeJobs)
	theme := cmd.Flags().String("theme", "dark", "dark or light")
	letters := cmd.Flags().String("letters", "auto", "how to draw: auto, blocks or plain")
	training := cmd.Flags().Bool("training", false, "say TRAINING on the screen; needs a store of its own, named with --store")
	completeFlag(cmd, "theme", cobra.FixedCompletions([]string{"dark", "light"}, noFiles))
	completeFlag(cmd, "letters", cobra.FixedCompletions([]string{"auto", "blocks", "plain"}, noFiles))
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		s, err := readSettings(cmd)
		if err != nil {
			return err
		}
		config := term.Config{Training: *training}
		if config.Theme, err = term.ParseTheme(*theme); err != nil {
			return usage("%w", err)
		}
		if config.Letters, err = term.ParseLetters(*letters); err != nil {
			return usage("%w", err)
		}
		if *training && !cmd.Flags().Changed("store") {
			return usage("training needs a store of its own, so that it touches no real job: name one with --store")
		}
		if !live(cmd.InOrStdin()) || !live(cmd.OutOrStdout()) {
			return usage("there is no terminal here to fill; use: countback scan")
		}
		return runKiosk(cmd, s, *job, config)
	}
	return cmd
}

func runKiosk(cmd *cobra.Command, s settings, job string, config term.Config) error {
	ctx := cmd.Context()
	plans, err := plansIn(s.Plans)
	if err != nil {
		return err
	}
	t, err := openTerminal(ctx, s, plans, wallClock)
	if err != nil {
		return err
	}
	if err := t.begin(ctx, job); err != nil {
		return t.close(err)
	}
	config.Terminal = t.Terminal
	if err = term.Run(ctx, config); err != nil {
		err = fmt.Errorf("kiosk: %w", err)
	}
	return t.close(err)
}
