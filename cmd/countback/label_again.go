package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/kiosk"
	"countback/labels"
	"countback/labels/code"
)

// reprints is how many further labels of a bag were ordered so far: what a
// label drawn now says of itself.
func (w labelWords) reprints(c code.Code) int {
	n := 0
	facts := w.j.Facts()
	for i := range facts {
		if e, ok := facts[i].Event.(events.LabelReprinted); ok && e.Code == events.Code(c) {
			n++
		}
	}
	return n
}

// again puts a reprint on the record, and prints it where no queue does. The
// label is drawn before anything is stored, so that one that has no room is no
// fact.
func (f *labelFlags) again(cmd *cobra.Command, s settings, w labelWords, c code.Code, why string) error {
	queued := ""
	for _, p := range s.Printers {
		if p.prints(string(s.Terminal)) && queued == "" {
			queued = p.Name
		}
	}
	if queued != "" {
		if f.to != "" || f.printer != "" {
			return usage("the print queue prints the labels of terminal %s on %s, this one too; leave out --to and --printer", s.Terminal, queued)
		}
		if err := tellAgain(cmd, s, w.id, c, why); err != nil {
			return err
		}
		return write(cmd, s, labelReport{Files: []string{}, Reprint: w.reprints(c) + 1,
			Notes: []string{"Ordered on " + queued + "; the print queue prints it: countback print --status"}})
	}
	p, err := f.target(s)
	if err != nil {
		return err
	}
	d, err := f.labels(p, []labels.Label{w.bag(c, w.reprints(c)+1)})
	if err != nil {
		return err
	}
	if err := tellAgain(cmd, s, w.id, c, why); err != nil {
		return err
	}
	return f.deliver(cmd, s, d)
}

// tellAgain says PRINT AGAIN at a terminal of its own.
func tellAgain(cmd *cobra.Command, s settings, job events.Job, c code.Code, why string) (err error) {
	t, err := openTerminal(cmd.Context(), s, nil, wallClock)
	if err != nil {
		return err
	}
	defer func() { err = t.close(err) }()
	reason := "OK"
	if why != "" {
		reason = "text " + why
	}
	if err := t.begin(cmd.Context(), string(job)); err != nil {
		return err
	}
	t.Heard()
	for _, line := range []string{string(c), "PRINT AGAIN", reason} {
		view, err := t.Scan(cmd.Context(), line)
		if err != nil {
			return storeError(err)
		}
		if slices.Contains(t.Heard(), kiosk.Refusing) {
			return &failure{statusNo, usage("label of %s: %s", c, strings.Join(append(view.Lines, view.Ask), ": "))}
		}
	}
	return nil
}
