package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/kiosk"
	"countback/projections/engine"
)

type ownerReport struct {
	Job      string         `json:"job"`
	Owner    string         `json:"owner"` // as the job was opened
	Items    []ownerItemRow `json:"items"`
	OldParts []oldPartRow   `json:"oldparts"`
	Settled  bool           `json:"settled"` // nothing is left to fit, to give back or to show
	head     string
}

type ownerItemRow struct {
	Kind     string   `json:"kind"`
	Name     string   `json:"name"`
	Sealed   string   `json:"sealed"` // sealed, opened; empty: nobody said
	Since    string   `json:"since"`
	In       int      `json:"in"`
	Fitted   int      `json:"fitted"`
	Consumed int      `json:"consumed"`
	Out      int      `json:"out"`  // given back
	Here     int      `json:"here"` // in less fitted, consumed and out
	Places   []string `json:"places"`
	text     string
}

type oldPartRow struct {
	Part  string   `json:"part"`
	Name  string   `json:"name"`
	Wish  string   `json:"wish"`  // show, give-back; empty: nothing any more
	Where []string `json:"where"` // the old one, while it is off
	Shown bool     `json:"shown"`
	Given bool     `json:"given"`
	Gone  bool     `json:"gone"` // thrown away before that
	Open  bool     `json:"open"` // not settled, and it is off
	text  string
}

func ownerCommand() *cobra.Command {
	return &cobra.Command{
		Use: "owner JOB", Short: "List what belongs to the owner, and which old parts are wanted", GroupID: "report",
		Long: `Gives what the owner brought besides the engine, sealed or not: in, fitted, used up,
given back, and what is still here; and old parts that the owner wants to see or to
have. Exit status 1 while something of it is not settled.`,
		Example:           "  countback owner 4K7\n  countback owner 4K7 --json",
		Args:              arguments(cobra.ExactArgs(1)),
		ValidArgsFunction: completeJobThen(nil),
		RunE: aboutJob(func(cmd *cobra.Command, s settings, id events.Job, j *engine.Job, _ []string) error {
			r := newOwnerReport(id, j)
			if err := write(cmd, s, r); err != nil {
				return err
			}
			if !r.Settled {
				return no()
			}
			return nil
		}),
	}
}

func newOwnerReport(id events.Job, j *engine.Job) ownerReport {
	o := j.Owner()
	r := ownerReport{Job: string(id), head: title(id, j), Owner: o.Name, Items: []ownerItemRow{}, OldParts: []oldPartRow{}, Settled: true}
	for i := range o.Items {
		it := &o.Items[i]
		r.Settled = r.Settled && it.Here == 0
		r.Items = append(r.Items, ownerItemRow{string(it.Kind), it.Name, string(it.Sealed), stamp(it.Since), it.In, it.Fitted, it.Consumed, it.Out, it.Here,
			append([]string{}, it.Places...), kiosk.OwnerItemText(it)})
	}
	for i := range o.Wishes {
		w := &o.Wishes[i]
		open := w.Wish.Open() && w.Off
		r.Settled = r.Settled && !open
		r.OldParts = append(r.OldParts, oldPartRow{string(w.Part), w.Name, string(w.OwnerAsked.Wish), append([]string{}, w.Where...),
			w.Shown != 0, w.Given != 0, w.Gone != 0, open, kiosk.OwnerWishText(w)})
	}
	return r
}

func (r ownerReport) text(w io.Writer) {
	who := "the owner"
	if r.Owner != "" {
		who = r.Owner
	}
	if len(r.Items)+len(r.OldParts) == 0 {
		fmt.Fprintf(w, "%s. Nothing but the engine is %s's, and no old part is wanted.\n", r.head, who)
		return
	}
	fmt.Fprintf(w, "%s. Of %s:\n", r.head, who)
	for _, it := range r.Items {
		fmt.Fprintf(w, "  %s\n", it.text)
	}
	for _, p := range r.OldParts {
		fmt.Fprintf(w, "  %s\n", p.text)
	}
}
