package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/events/journal"
	"countback/events/stream"
	"countback/kiosk"
	"countback/kiosk/bench"
	"countback/kiosk/term"
	"countback/labels/code"
)

func kioskCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "kiosk", Short: "Work a bench on a full screen, by scanner or keyboard", GroupID: "work",
		Long: `Works one bench on a full screen: everything by scanner, everything also by
keyboard. The next thing to do is the largest thing on the screen. The bell
sounds once when a fact is on disk, and twice when it is on disk and there is
something to look at; nothing else rings it. F12 shows the keys, Ctrl-C twice
leaves.

With --training it works on a store of its own beside the real one, with labels
of its own, and says TRAINING all the time; real jobs cannot be reached from it,
and no real store can be opened as a training store.`,
		Example: `  countback kiosk --terminal bench-1
  countback kiosk --terminal bench-1 --job 4K7 --theme light
  countback kiosk --training --plan sorrel-i4-20.yaml`,
		Args: arguments(cobra.NoArgs),
	}
	addListen(cmd.Flags())
	k := &kioskFlags{}
	cmd.Flags().StringVar(&k.job, "job", "", "begin with this job on the screen")
	cmd.Flags().StringVar(&k.theme, "theme", "dark", "dark or light")
	cmd.Flags().StringVar(&k.letters, "letters", "auto", "large letters: auto, blocks, or plain for terminals without Unicode")
	cmd.Flags().DurationVar(&k.countIdle, "count-idle", 3*time.Minute, "drop a count aloud after so long without a scan")
	cmd.Flags().BoolVar(&k.training, "training", false, "practise on a store of its own")
	cmd.Flags().StringVar(&k.plan, "plan", "", "with --training: open a job to practise on with this plan, if there is none")
	completeFlag(cmd, "job", completeJobs)
	completeFlag(cmd, "plan", completePlanFiles)
	for flag, words := range map[string][]string{"theme": {"dark", "light"}, "letters": {"auto", "blocks", "plain"}} {
		completeFlag(cmd, flag, cobra.FixedCompletions(words, noFiles))
	}
	cmd.RunE = func(cmd *cobra.Command, _ []string) error { return k.run(cmd) }
	return cmd
}

type kioskFlags struct {
	job, theme, letters, plan string
	countIdle                 time.Duration
	training                  bool
}

func (k *kioskFlags) run(cmd *cobra.Command) error {
	c, err := k.config()
	if err != nil {
		return err
	}
	s, err := readSettings(cmd)
	if err != nil {
		return err
	}
	plans, err := plansIn(s.Plans)
	if err != nil {
		return err
	}
	var t *terminal
	if k.training {
		t, err = k.practise(cmd.Context(), s, plans)
	} else if err = notForTraining(s); err == nil {
		t, err = openTerminal(cmd.Context(), s, plans, wallClock)
	}
	if err != nil {
		return err
	}
	if addr := t.store.Addr(); addr != "" {
		fmt.Fprintf(cmd.ErrOrStderr(), "countback: listening on %s\n", addr)
	}
	c.Terminal = t.Terminal
	return t.close(k.work(cmd.Context(), c))
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

// work puts the job on the screen and runs the screen until somebody leaves.
func (k *kioskFlags) work(ctx context.Context, c term.Config) error {
	if k.job != "" {
		view, err := c.Terminal.Scan(ctx, "job "+k.job)
		if err != nil {
			return storeError(err)
		}
		if string(c.Terminal.Screen().Job()) != k.job {
			return unknown("job %s is not in this store: %s", k.job, strings.Join(view.Lines, " "))
		}
		c.Terminal.Heard()
	}
	if err := term.Run(ctx, c); err != nil {
		if ofStore(err) {
			return storeError(err)
		}
		return err
	}
	return nil
}

// trainingEnd is what the paths of a training store end in.
const trainingEnd = ".training"

// forTraining are the settings of the training store beside a real one. Its
// copy and its mark go along, so that nothing of the real store is touched.
func forTraining(s settings) settings {
	for _, path := range []*string{&s.Store, &s.Guard, &s.Mark} {
		if *path != "" {
			*path += trainingEnd
		}
	}
	return s
}

// trainingMark is the file that says that a store is for training. Only a
// store that this program made for training has it.
func trainingMark(s settings) string { return s.Store + ".txt" }

const trainingText = "The store beside this file is for practice: nothing in it is a real job.\nMade by countback kiosk --training; do not remove this file.\n"

// notForTraining refuses to work for real in a training store.
func notForTraining(s settings) error {
	_, err := os.Stat(trainingMark(s))
	switch {
	case err == nil:
		return usage("%s is a training store; work in it with: countback kiosk --training --store %s", s.Store, strings.TrimSuffix(s.Store, trainingEnd))
	case errors.Is(err, fs.ErrNotExist):
		return nil
	}
	return storeError(err)
}

// markTraining makes the mark of a fresh training store, and refuses a store
// that is there and has none: it may hold real jobs.
func markTraining(s settings) error {
	if _, err := os.Stat(trainingMark(s)); err == nil {
		return nil
	}
	report, err := stream.Check(s.stream())
	if err != nil {
		return storeError(err)
	}
	if !report.Fresh {
		return usage("%s was not made for training and may hold real jobs; move it away, or name another --store", s.Store)
	}
	if err := os.WriteFile(trainingMark(s), []byte(trainingText), 0o644); err != nil {
		return storeError(fmt.Errorf("training store: %w", err))
	}
	return nil
}

// practise opens the training store, with a job to practise on.
func (k *kioskFlags) practise(ctx context.Context, s settings, plans map[string]string) (*terminal, error) {
	s = forTraining(s)
	if s.Server != "" {
		return nil, usage("training needs a store of its own, not a server; leave out --server")
	}
	if err := markTraining(s); err != nil {
		return nil, err
	}
	if k.plan != "" {
		p, err := loadPlan(k.plan)
		if err != nil {
			return nil, err
		}
		plans[planName(k.plan)] = string(p.Source)
	}
	store, err := stream.Open(s.stream())
	if err != nil {
		return nil, storeError(err)
	}
	t, err := k.practiseOn(ctx, store, s, plans)
	if err != nil {
		return nil, errors.Join(err, store.Close())
	}
	return &terminal{t, store}, nil
}

// practiceJob is the job that --plan opens in a training store.
const practiceJob = "PRACTICE"

func (k *kioskFlags) practiseOn(ctx context.Context, store journal.Journal, s settings, plans map[string]string) (*bench.Terminal, error) {
	if err := reserveLast(ctx, store, s); err != nil {
		return nil, err
	}
	t, err := sitDown(ctx, store, s, s.Terminal, plans, wallClock)
	if err != nil || k.plan == "" {
		return t, err
	}
	last, err := store.LastOfJob(ctx, practiceJob)
	if err != nil || last > 0 {
		return t, storeError(err)
	}
	for _, line := range []string{"job " + practiceJob, "engine to practise on", "plan " + planName(k.plan), "OPEN JOB"} {
		view, err := t.Scan(ctx, line)
		if err != nil {
			return nil, storeError(err)
		}
		if slices.Contains(t.Heard(), kiosk.Refusing) {
			return nil, &failure{statusNo, fmt.Errorf("job %s was not opened: %s", practiceJob, strings.Join(append(view.Lines, view.Ask), ": "))}
		}
	}
	t.Told()
	return t, nil
}

// reserveLast gives a training terminal its letters from the end of the list,
// where no real terminal has any: a practice label that is scanned at a real
// bench was never issued there.
func reserveLast(ctx context.Context, store journal.Journal, s settings) error {
	taken := map[string]bool{}
	var d events.Decoder
	err := store.Read(ctx, 1, journal.Filter{Job: events.ShopJob}, func(m journal.Message) error {
		var r events.Record
		if err := d.Decode(m.Data, &r); err != nil {
			return fmt.Errorf("message %d (%s): %w", m.Seq, m.ID(), err)
		}
		if e, ok := r.Event.(events.RangeReserved); ok {
			taken[e.Range] = true
			taken["for "+e.For] = true
		}
		return nil
	})
	if err != nil || taken["for "+string(s.Terminal)] {
		return storeError(err)
	}
	for _, letters := range slices.Backward(code.Ranges()) {
		if !taken[letters] {
			return reserve(ctx, store, s, letters)
		}
	}
	return storeError(fmt.Errorf("all %d pairs of letters for labels are taken", len(code.Ranges())))
}

func reserve(ctx context.Context, store journal.Journal, s settings, letters string) error {
	t, err := bench.Open(ctx, bench.Config{Shop: s.Shop, Name: s.Terminal, Home: store, Clock: wallClock, Settings: kiosk.UsualSettings()})
	if err != nil {
		return storeError(err)
	}
	for _, line := range []string{"range " + letters, "bench " + string(s.Terminal), "RESERVE"} {
		if _, err := t.Scan(ctx, line); err != nil {
			return storeError(err)
		}
	}
	if len(t.Told()) != 1 {
		return storeError(fmt.Errorf("training terminal %s got no letters for its labels: %s", s.Terminal, strings.Join(t.View().Lines, " ")))
	}
	return nil
}
