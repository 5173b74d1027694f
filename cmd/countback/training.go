package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"countback/events"
	"countback/events/journal"
	"countback/events/stream"
	"countback/kiosk"
	"countback/kiosk/bench"
	"countback/labels/code"
)

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
// store that was made for training has it.
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

// checkTraining refuses a store that is there and was not made for training:
// it may hold real jobs.
func checkTraining(s settings) error {
	if s.Server != "" {
		return usage("training needs a store of its own, not a server; leave out --server")
	}
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
	return nil
}

// openTraining opens a training store, marks it as one, and opens a job to
// practise on where a plan is named and there is no such job.
func openTraining(ctx context.Context, s settings, plans map[string]string, file string) (*terminal, error) {
	if file != "" {
		p, err := loadPlan(file)
		if err != nil {
			return nil, err
		}
		plans[planName(file)] = string(p.Source)
	}
	if err := errors.Join(os.MkdirAll(filepath.Dir(s.Store), 0o755), os.WriteFile(trainingMark(s), []byte(trainingText), 0o644)); err != nil {
		return nil, storeError(fmt.Errorf("training store: %w", err))
	}
	store, err := stream.Open(s.stream())
	if err != nil {
		return nil, storeError(err)
	}
	t, err := practise(ctx, store, s, plans, file)
	if err != nil {
		return nil, errors.Join(err, store.Close())
	}
	return &terminal{Terminal: t, store: store}, nil
}

// practiceJob is the job that is opened in a training store.
const practiceJob = "PRACTICE"

func practise(ctx context.Context, store journal.Journal, s settings, plans map[string]string, file string) (*bench.Terminal, error) {
	if err := reserveLast(ctx, store, s); err != nil {
		return nil, err
	}
	t, err := sitDown(ctx, store, nil, s, s.Terminal, plans, wallClock)
	if err != nil || file == "" {
		return t, err
	}
	last, err := store.LastOfJob(ctx, practiceJob)
	if err != nil || last > 0 {
		return t, storeError(err)
	}
	return t, sayAll(ctx, t, "job "+practiceJob, "engine to practise on", "plan "+planName(file), "OPEN JOB")
}

// sayAll says a sentence that may not be refused.
func sayAll(ctx context.Context, t *bench.Terminal, lines ...string) error {
	for _, line := range lines {
		view, err := t.Scan(ctx, line)
		if err != nil {
			return storeError(err)
		}
		if slices.Contains(t.Heard(), kiosk.Refusing) {
			return &failure{statusNo, fmt.Errorf("%s: %s", line, strings.Join(append(view.Lines, view.Ask), ": "))}
		}
	}
	t.Told()
	return nil
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
	return sayAll(ctx, t, "range "+letters, "bench "+string(s.Terminal), "RESERVE")
}
