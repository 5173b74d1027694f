package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/projections/engine"
	"countback/projections/ledger"
)

type historyReport struct {
	Job   string        `json:"job"`
	Facts []historyLine `json:"facts"` // in the order in which they are folded
	head  string
}

type historyLine struct {
	eventLine
	Kind string `json:"kind"` // stored name
	Job  string `json:"job"`
}

func historyCommand() *cobra.Command {
	return &cobra.Command{
		Use: "history JOB", Short: "Tell everything that was recorded of a job, fact by fact", GroupID: "report",
		Long: `Tells each fact of a job in one sentence, in the order of what people knew, which
is not always the order in which messages arrived. A fact that was corrected
stays in the list, and so does its correction.`,
		Example:           "  countback history 4K7\n  countback history 4K7 --json",
		Args:              arguments(cobra.ExactArgs(1)),
		ValidArgsFunction: completeJobThen(nil),
		RunE: aboutJob(func(cmd *cobra.Command, s settings, id events.Job, j *engine.Job, _ []string) error {
			r := historyReport{Job: string(id), head: title(id, j), Facts: []historyLine{}}
			for i := range j.Facts() {
				f := &j.Facts()[i]
				r.Facts = append(r.Facts, historyLine{
					Kind: events.NameOf(f.Event), Job: string(f.Job),
					eventLine: eventLine{
						ID: factID(f.ID()), Time: stamp(f.At), Who: who(f),
						Text: j.State().Sentence(ledger.Fact(i + 1)), From: stamp(f.From), To: stamp(f.To), at: f.At,
					},
				})
			}
			return write(cmd, s, r)
		}),
	}
}

// who is the person of a fact, or the terminal where nobody had scanned a
// badge.
func who(r *events.Record) string {
	if r.Operator != "" {
		return string(r.Operator)
	}
	return "at " + string(r.Terminal)
}

func (r historyReport) text(w io.Writer) {
	fmt.Fprintf(w, "%s. %s.\n", r.head, many(len(r.Facts), "fact", "facts"))
	for _, l := range r.Facts {
		l.text(w)
	}
}
