package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/projections/engine"
)

type missingReport struct {
	Job   string        `json:"job"`
	Lines []missingLine `json:"lines"` // in the order of the steps
	head  string
}

type missingLine struct {
	Step    string          `json:"step"`
	Name    string          `json:"name"`
	Kind    string          `json:"kind"`
	Need    int             `json:"need"`    // pieces that still have to go in
	Have    int             `json:"have"`    // that may go in and that no earlier step takes
	Missing int             `json:"missing"` // need less have
	Seats   []string        `json:"seats"`
	From    []missingSource `json:"from"`
	Why     []string        `json:"why"`  // what there is of it and may not go in
	Look    []string        `json:"look"` // where the missing ones may be, likeliest first
	Robs    string          `json:"robs"` // a later step that goes short instead
	RobsQty int             `json:"robsqty"`
}

type missingSource struct {
	Place string `json:"place"`
	Kind  string `json:"kind"`
	Cond  string `json:"cond"`
	Qty   int    `json:"qty"`
	at    string // the place for people
}

func missingCommand() *cobra.Command {
	return &cobra.Command{
		Use: "missing JOB", Short: "List what is missing before each step on", GroupID: "report",
		Long: `Gives every step on the pieces that it needs, in step order, from the bags, the
benches and the stock of the job; no step robs an earlier one, and condemned
pieces and samples are never used. What remains is missing. Exit status 1 if
anything is.`,
		Example:           "  countback missing 4K7",
		Args:              arguments(cobra.ExactArgs(1)),
		ValidArgsFunction: completeJobThen(nil),
		RunE: aboutJob(func(cmd *cobra.Command, s settings, id events.Job, j *engine.Job, _ []string) error {
			r := missingReport{Job: string(id), head: title(id, j), Lines: []missingLine{}}
			short := false
			for _, f := range j.Missing() {
				short = short || f.Missing > 0
				r.Lines = append(r.Lines, newMissingLine(j.State(), f))
			}
			if err := write(cmd, s, r); err != nil {
				return err
			}
			if short {
				return no()
			}
			return nil
		}),
	}
}

func newMissingLine(st *engine.State, f engine.Shortfall) missingLine {
	l := missingLine{
		Step: string(f.Step), Name: f.Name, Kind: string(f.Kind), Need: f.Need, Have: f.Have, Missing: f.Missing,
		Seats: texts(f.Seats), From: sources(st, f.From), Why: append([]string{}, f.Why...), Look: append([]string{}, f.Look...),
		Robs: string(f.Robs), RobsQty: f.RobsQty,
	}
	return l
}

func sources(st *engine.State, list []engine.Source) []missingSource {
	out := []missingSource{}
	for _, s := range list {
		out = append(out, missingSource{string(s.Place), string(s.Kind), string(s.Cond), s.Qty, st.PlaceOfKind(s.Kind, s.Place)})
	}
	return out
}

func (r missingReport) text(w io.Writer) {
	if len(r.Lines) == 0 {
		fmt.Fprintf(w, "%s. Nothing is missing.\n", r.head)
		return
	}
	fmt.Fprintf(w, "%s. Missing before each step:\n", r.head)
	step := ""
	for _, l := range r.Lines {
		if l.Step != step {
			fmt.Fprintf(w, "\n%s (%s)\n", l.Name, l.Step)
			step = l.Step
		}
		fmt.Fprintf(w, "  %d of %d missing: %s\n", l.Missing, l.Need, l.Kind)
		for _, y := range l.Why {
			fmt.Fprintf(w, "      %s\n", y)
		}
		if l.Robs != "" {
			fmt.Fprintf(w, "      then %d are missing at %s\n", l.RobsQty, l.Robs)
		}
		if len(l.Look) > 0 {
			fmt.Fprintf(w, "      look in: %s\n", strings.Join(l.Look, ", "))
		}
	}
}
