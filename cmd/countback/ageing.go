package main

import (
	"fmt"
	"io"
	"time"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/projections/engine"
)

type ageingReport struct {
	Job   string     `json:"job"`
	Lines []agedLine `json:"lines"` // what is due first, then the oldest
	head  string
}

type agedLine struct {
	Code  string `json:"code"` // bare-iron, old-oil, preserved, desiccant, lot, lot-used
	On    string `json:"on"`
	Text  string `json:"text"`
	Scan  string `json:"scan"` // what clears it; empty: nothing is due
	Since string `json:"since"`
	Days  int    `json:"days"` // since then; of a lot the days that it is good for, below zero when past
	Due   bool   `json:"due"`
}

// maxDays bounds a flag: a hundred years.
const maxDays = 36_500

func ageingCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "ageing JOB", Short: "Tell what gets no better by lying", GroupID: "report",
		Long: `Lists what waits badly: parts of iron or steel that are off and bare, oil and
desiccant that have done their time, lots of sealant or thread lock past their
day and what they were used for. The times are common practice; the limits
bare-iron, oiled and desiccant of the settings set others, a flag does for once.
What a part is made of is said in the plan (material). Exit status 1 while
anything is due.`,
		Example:           "  countback ageing 4K7\n  countback ageing 4K7 --bare 1 --oiled 30",
		Args:              arguments(cobra.ExactArgs(1)),
		ValidArgsFunction: completeJobThen(nil),
	}
	bare := cmd.Flags().Int("bare", 0, "days that iron or steel may lie bare (default: limit bare-iron, or 3); 0: never asked")
	oiled := cmd.Flags().Int("oiled", 0, "days that oil or wax keeps it (default: limit oiled, or 42); 0: never asked")
	dries := cmd.Flags().Int("desiccant", 0, "days that desiccant dries (default: limit desiccant, or 56); 0: never asked")
	for _, f := range []string{"bare", "oiled", "desiccant"} {
		completeFlag(cmd, f, cobra.NoFileCompletions)
	}
	cmd.RunE = aboutJob(func(cmd *cobra.Command, s settings, id events.Job, j *engine.Job, _ []string) error {
		limits := j.Limits()
		for _, l := range []struct {
			name string
			days int
			to   *time.Duration
		}{{"bare", *bare, &limits.BareIron}, {"oiled", *oiled, &limits.Oiled}, {"desiccant", *dries, &limits.Desiccant}} {
			if !cmd.Flags().Changed(l.name) {
				continue
			}
			if l.days < 0 || l.days > maxDays {
				return usage("--%s %d: 0 to %d days are wanted", l.name, l.days, maxDays)
			}
			*l.to = time.Duration(l.days) * 24 * time.Hour
		}
		j.Use(limits)
		r := ageingReport{Job: string(id), head: title(id, j), Lines: []agedLine{}}
		due := false
		for _, a := range j.Ageing() {
			due = due || a.Due
			r.Lines = append(r.Lines, agedLine{a.Code, a.On, a.Text, a.Scan, stamp(a.Since), a.Days, a.Due})
		}
		if err := write(cmd, s, r); err != nil {
			return err
		}
		if due {
			return no()
		}
		return nil
	})
	return cmd
}

func (r ageingReport) text(w io.Writer) {
	if len(r.Lines) == 0 {
		fmt.Fprintf(w, "%s. Nothing lies badly.\n", r.head)
		return
	}
	fmt.Fprintf(w, "%s. Lying:\n", r.head)
	for _, l := range r.Lines {
		if l.Due {
			fmt.Fprintf(w, "  DUE  %s: %s\n", l.Text, l.Scan)
		} else {
			fmt.Fprintf(w, "       %s\n", l.Text)
		}
	}
}
