package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/projections/engine"
)

type jobsReport struct {
	Jobs []jobLine `json:"jobs"` // in the order in which they were opened
	Gaps []jobGap  `json:"gaps"` // facts that a terminal stated and that are not here
}

// jobGap is a run of a terminal's own numbers that no fact here has.
type jobGap struct {
	Terminal string `json:"terminal"`
	From     uint32 `json:"from"`
	To       uint32 `json:"to"`
}

type jobLine struct {
	Job     string `json:"job"`
	Card    string `json:"card"` // the code on its job card
	Engine  string `json:"engine"`
	Family  string `json:"family"`
	Owner   string `json:"owner"`
	State   string `json:"state"` // open, released, handed-back, suspended
	Facts   int    `json:"facts"`
	Opened  string `json:"opened"` // time of its first fact
	Latest  string `json:"latest"` // time of its last fact
	Red     int    `json:"red"`    // lines that are not as they should be
	Shorts  int    `json:"shorts"` // open shorts and overs
	first   int64
	current int64
}

func jobListCommand() *cobra.Command {
	return &cobra.Command{
		Use: "list", Short: "List the jobs of the shop",
		Example: "  countback job list\n  countback job list --json",
		Args:    arguments(cobra.NoArgs),
		RunE: func(cmd *cobra.Command, _ []string) error {
			s, b, err := openBooks(cmd)
			if err != nil {
				return err
			}
			r := jobsReport{Jobs: []jobLine{}, Gaps: []jobGap{}}
			for _, id := range b.Jobs() {
				if j, ok := b.Job(id); ok {
					r.Jobs = append(r.Jobs, newJobLine(id, j))
				}
			}
			for _, g := range b.Gaps() {
				r.Gaps = append(r.Gaps, jobGap{string(g.Terminal), g.From, g.To})
			}
			return write(cmd, s, r)
		},
	}
}

func newJobLine(id events.Job, j *engine.Job) jobLine {
	s := j.State()
	l := jobLine{
		Job: string(id), Engine: s.Opened.Engine, Family: s.Opened.Family, Owner: s.Opened.Owner, State: "open",
		Facts: len(j.Facts()), Latest: stamp(j.LatestAt()), Red: len(j.Red()), Shorts: len(s.OpenShorts()), current: j.LatestAt(),
	}
	if c, ok := s.CodeOf("job " + string(id)); ok {
		l.Card = string(c)
	}
	if s.Ended != nil {
		l.State = string(s.Ended.How)
	}
	if facts := j.Facts(); len(facts) > 0 {
		l.first = facts[0].At
		l.Opened = stamp(l.first)
	}
	return l
}

func (r jobsReport) text(w io.Writer) {
	if len(r.Jobs) == 0 {
		fmt.Fprintln(w, "There is no job yet. Open one with: countback job open")
		return
	}
	t := newTable(w)
	t.row("JOB", "CARD", "ENGINE", "STATE", "OPENED", "LAST FACT", "FACTS", "SHORTS", "RED")
	for _, l := range r.Jobs {
		t.row(l.Job, dash(l.Card), l.Engine, l.State, when(l.first), when(l.current), l.Facts, l.Shorts, l.Red)
	}
	t.end()
	for _, g := range r.Gaps {
		fmt.Fprintf(w, "Not here yet: what terminal %s told as its facts %d to %d\n", g.Terminal, g.From, g.To)
	}
}

func dash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}
