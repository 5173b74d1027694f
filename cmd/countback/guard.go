package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/projections/engine"
)

type guardReport struct {
	Job  string     `json:"job"`
	Acts []guardAct `json:"acts"`
	head string
}

type guardAct struct {
	Act     string        `json:"act"`
	May     bool          `json:"may"`
	Against []guardReason `json:"against"` // none: it may be done
}

type guardReason struct {
	Text string `json:"text"`
	Scan string `json:"scan"` // what clears it
}

// guardedActs are the acts that are asked about, and how they are said.
var guardedActs = []struct {
	act  events.Act
	said string
}{{events.Turning, "turn it over by hand"}, {events.Cranking, "crank it"}, {events.Heating, "flame or weld near it"}}

func guardCommand() *cobra.Command {
	return &cobra.Command{
		Use: "guard JOB [ACT]", Short: "Tell whether the engine may be turned, cranked or heated now", GroupID: "report",
		Long: `Lists what stands against turning the engine over, cranking it, or flame and weld
near it: what is in it and must be out, what lies loose, what may have dropped
into it, what is not tight, battery and fuel that nobody has looked at today;
each with what to scan. By common practice: what the maker says comes first.
ACT is turning, cranking or heating; without it all three are shown. Exit status 1
while anything stands against one of them.`,
		Example: "  countback guard 4K7\n  countback guard 4K7 cranking --json",
		Args:    arguments(cobra.RangeArgs(1, 2)),
		ValidArgsFunction: completeJobThen(func(*engine.Job) []string {
			var list []string
			for _, g := range guardedActs {
				list = append(list, string(g.act))
			}
			return list
		}),
		RunE: aboutJob(func(cmd *cobra.Command, s settings, id events.Job, j *engine.Job, rest []string) error {
			r := guardReport{Job: string(id), head: title(id, j)}
			held := false
			for _, g := range guardedActs {
				if len(rest) > 0 && rest[0] != string(g.act) {
					continue
				}
				a := guardAct{Act: string(g.act), Against: []guardReason{}}
				for _, b := range j.MayDo(g.act) {
					a.Against = append(a.Against, guardReason{b.Text, b.Clear})
				}
				a.May = len(a.Against) == 0
				held = held || !a.May
				r.Acts = append(r.Acts, a)
			}
			if len(r.Acts) == 0 {
				return usage("nothing is known about %s; ask for turning, cranking or heating", rest[0])
			}
			if err := write(cmd, s, r); err != nil {
				return err
			}
			if held {
				return no()
			}
			return nil
		}),
	}
}

func (r guardReport) text(w io.Writer) {
	fmt.Fprintf(w, "%s. By common practice; what the maker says comes first.\n", r.head)
	for _, a := range r.Acts {
		said := a.Act
		for _, g := range guardedActs {
			if string(g.act) == a.Act {
				said = g.said
			}
		}
		if a.May {
			fmt.Fprintf(w, "\nYes: %s\n", said)
			continue
		}
		fmt.Fprintf(w, "\nNot yet: %s\n", said)
		for _, x := range a.Against {
			fmt.Fprintf(w, "  %s: %s\n", x.Text, x.Scan)
		}
	}
}
