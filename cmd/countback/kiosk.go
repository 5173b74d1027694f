package main

import (
	"context"
	"time"

	"github.com/spf13/cobra"

	"countback/kiosk/term"
)

func kioskCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "kiosk", Short: "Fill this terminal with a kiosk's screen", GroupID: "work",
		Long: `Fills the terminal with the screen of a bench, for a scanner that types like a
keyboard, or for typing: a code, or a noun or word in full. The next thing to do
is the largest thing on the screen. The bell sounds once when a fact is on disk,
and twice when it is on disk and there is something to look at; nothing else
rings it. F12 shows the keys; Ctrl-C twice leaves.

With --training it works on a store of its own beside the real one, with labels
of its own, and says TRAINING all the time. Real jobs cannot be reached from it.

Where there is no terminal to fill, as under a service with a serial scanner,
use: countback scan`,
		Example: `  countback kiosk --terminal bench-1
  countback kiosk --job 4K7 --theme light
  countback kiosk --training --plan sorrel-i4-20.yaml`,
		Args: arguments(cobra.NoArgs),
	}
	addListen(cmd.Flags())
	k := &kioskFlags{}
	cmd.Flags().StringVar(&k.job, "job", "", "begin with this job on the screen")
	cmd.Flags().StringVar(&k.theme, "theme", "dark", "dark or light")
	cmd.Flags().StringVar(&k.letters, "letters", "auto", "how to draw: auto, blocks or plain")
	cmd.Flags().DurationVar(&k.countIdle, "count-idle", 3*time.Minute, "drop a count aloud after so long without a scan; below 0: never")
	cmd.Flags().BoolVar(&k.training, "training", false, "practise on a store of its own, beside the one that --store names")
	cmd.Flags().StringVar(&k.plan, "plan", "", "with --training: open a job to practise on with this plan, if there is none")
	completeFlag(cmd, "job", completeJobs)
	completeFlag(cmd, "plan", completePlanFiles)
	completeFlag(cmd, "theme", cobra.FixedCompletions([]string{"dark", "light"}, noFiles))
	completeFlag(cmd, "letters", cobra.FixedCompletions([]string{"auto", "blocks", "plain"}, noFiles))
	cmd.RunE = func(cmd *cobra.Command, _ []string) error { return k.run(cmd) }
	return cmd
}

type kioskFlags struct {
	job, theme, letters, plan string
	countIdle                 time.Duration
	training                  bool
}

func (k *kioskFlags) run(cmd *cobra.Command) error {
	config, err := k.config()
	if err != nil {
		return err
	}
	s, err := readSettings(cmd)
	if err != nil {
		return err
	}
	if k.training {
		s = forTraining(s)
		err = checkTraining(s)
	} else {
		err = notForTraining(s)
	}
	if err != nil {
		return err
	}
	if !live(cmd.InOrStdin()) || !live(cmd.OutOrStdout()) {
		return usage("there is no terminal here to fill; use: countback scan")
	}
	s.Patient = true
	t, err := k.open(cmd.Context(), s)
	if err != nil {
		return err
	}
	if err := t.begin(cmd.Context(), k.job); err != nil {
		return t.close(err)
	}
	config.Terminal, config.Notices = t.Terminal, printNotices(s, time.Now)
	return t.close(term.Run(cmd.Context(), config))
}

// config reads the flags about how the screen looks.
func (k *kioskFlags) config() (c term.Config, err error) {
	if c.Theme, err = term.ParseTheme(k.theme); err != nil {
		return c, usage("%w", err)
	}
	if c.Letters, err = term.ParseLetters(k.letters); err != nil {
		return c, usage("%w", err)
	}
	if k.plan != "" && !k.training {
		return c, usage("--plan goes with --training; a real job is opened with: countback job open --plan %s", k.plan)
	}
	c.Training, c.CountIdle = k.training, k.countIdle
	return c, nil
}

// open opens the store, and in training makes a job to practise on.
func (k *kioskFlags) open(ctx context.Context, s settings) (*terminal, error) {
	plans, err := plansIn(s.Plans)
	if err != nil {
		return nil, err
	}
	if k.training {
		return openTraining(ctx, s, plans, k.plan)
	}
	return openTerminal(ctx, s, plans, wallClock)
}
