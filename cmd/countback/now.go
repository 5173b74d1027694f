package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/projections/engine"
	"countback/projections/plan"
)

type nowReport struct {
	Job   string    `json:"job"`
	Steps []nowStep `json:"steps"` // in the plan's order
	Work  []nowWork `json:"work"`  // that decided findings added and nobody has done
	head  string
	all   bool
	dated bool // somebody keeps dates in this job
}

type nowStep struct {
	Step     string       `json:"step"`
	Name     string       `json:"name"`
	Section  string       `json:"section"`  // off, bench apart, bench together, on
	State    string       `json:"state"`    // blocked, can start, part done, done
	Blockers []nowBlocker `json:"blockers"` // why it cannot start or go on
	Left     []string     `json:"left"`     // what a part-done step still has to do
	EitherOr []string     `json:"eitheror"` // could start too, but not both
	Optional bool         `json:"optional"` // one way among others
	Earliest nowWhen      `json:"earliest"` // when the last of blockers goes away
	Planned  string       `json:"planned"`  // a day, as said or as it follows; empty: not planned
	Until    string       `json:"until"`    // sealant is on: closed by then; empty: none is open
	section  plan.Section
}

type nowWork struct {
	Finding string        `json:"finding"`
	On      string        `json:"on"` // a noun: "hole oil-pan:3"
	Text    string        `json:"text"`
	Clear   string        `json:"clear"` // the one thing that ends it
	Buy     []findingPart `json:"buy"`   // what it needs from outside
	Holds   []string      `json:"holds"` // steps that wait for it
}

type nowBlocker struct {
	Text  string `json:"text"`
	Clear string `json:"clear"` // the one thing that clears it
	When  string `json:"when"`  // now, unknown, a day, or a time
	// Say are the sentences of Clear, each as its scans with commas between them.
	Say []string `json:"say"`
}

type nowWhen struct {
	When string `json:"when"` // now, unknown, a day, or a time
	text string
}

func nowCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "now JOB [STEP]", Short: "Tell what can be done now, and what waits for what", GroupID: "report",
		Long: `Lists the steps that can start and those that are part done, and the work that
decided findings added, each with what ends it. With --all it
lists those that wait too, each with every reason and the one thing that clears
it, and when the step can start at the earliest: the day that was promised last
for what it waits for, or that nobody promised. With STEP it tells about that step only, and ends with status 1 if the step
cannot be done now.`,
		Example:           "  countback now 4K7\n  countback now 4K7 cover-on\n  countback now 4K7 --all",
		Args:              arguments(cobra.RangeArgs(1, 2)),
		ValidArgsFunction: completeJobThen(completeSteps),
	}
	all := cmd.Flags().Bool("all", false, "steps that wait or are done too")
	cmd.RunE = aboutJob(func(cmd *cobra.Command, s settings, id events.Job, j *engine.Job, rest []string) error {
		r := nowReport{Job: string(id), head: title(id, j), all: *all, Steps: []nowStep{}, Work: []nowWork{}}
		r.dated = len(j.State().Orders())+len(j.State().Promises("")) > 0
		steps := j.WhatNow()
		if len(steps) == 0 {
			return unknown("job %s has no plan with steps; open a job with a plan, or make one with: countback plan save %s", id, id)
		}
		if len(rest) == 1 {
			return oneStep(cmd, s, r, steps, rest[0])
		}
		for _, n := range steps {
			r.Steps = append(r.Steps, newNowStep(n))
		}
		for _, f := range j.FindingWork() {
			r.Work = append(r.Work, newNowWork(f))
		}
		return write(cmd, s, r)
	})
	return cmd
}

func oneStep(cmd *cobra.Command, s settings, r nowReport, steps []engine.StepNow, step string) error {
	for _, n := range steps {
		if string(n.Step) != step {
			continue
		}
		r.all = true
		r.Steps = append(r.Steps, newNowStep(n))
		if err := write(cmd, s, r); err != nil {
			return err
		}
		if len(n.Blockers) > 0 {
			return no()
		}
		return nil
	}
	return unknown("job %s has no step %s%s; see all with: countback now %s --all", r.Job, step, nearest(step, idsOfSteps(steps)), r.Job)
}

func newNowStep(n engine.StepNow) nowStep {
	out := nowStep{
		Step: string(n.Step), Name: n.Name, Section: n.Section.String(), State: n.State.String(), Optional: n.Optional,
		Blockers: []nowBlocker{}, Left: append([]string{}, n.Left...), EitherOr: []string{}, section: n.Section,
	}
	for i, b := range n.Blockers {
		out.Blockers = append(out.Blockers, nowBlocker{b.Text, b.Clear, whenOf(n.When[i]), engine.ScansOf(b.Clear)})
	}
	out.Earliest = nowWhen{whenOf(n.Earliest), n.Earliest.Words("")}
	out.Planned = string(n.Planned)
	if n.Until > 0 {
		out.Until = stamp(n.Until)
	}
	for _, e := range n.EitherOr {
		out.EitherOr = append(out.EitherOr, string(e))
	}
	return out
}

func newNowWork(f engine.FindingNow) nowWork {
	w := nowWork{Finding: f.ID, On: f.On, Text: f.Work, Clear: f.Next, Buy: []findingPart{}, Holds: []string{}}
	for _, l := range f.Buy {
		w.Buy = append(w.Buy, findingPart{string(l.Kind), l.Qty})
	}
	for _, h := range f.Holds {
		w.Holds = append(w.Holds, string(h))
	}
	return w
}

func (n nowWork) text(w io.Writer) {
	fmt.Fprintf(w, "  %-20s %s\n", "finding "+n.Finding, n.Text)
	for _, b := range n.Buy {
		fmt.Fprintf(w, "      to buy: %d %s\n", b.Qty, b.Kind)
	}
	if len(n.Holds) > 0 {
		fmt.Fprintf(w, "      holds: %s\n", strings.Join(n.Holds, ", "))
	}
	fmt.Fprintf(w, "      %s\n", n.Clear)
}

// whenOf is when a reason goes away, as a program reads it.
func whenOf(w engine.When) string {
	switch {
	case !w.Known:
		return "unknown"
	case w.At == 0:
		return "now"
	case w.Day != "":
		return string(w.Day)
	}
	return stamp(w.At)
}

func (r nowReport) text(w io.Writer) {
	fmt.Fprintf(w, "%s. %s.\n", r.head, r.progress())
	for i, n := range r.Work {
		if i == 0 {
			fmt.Fprintf(w, "\nDecided, and not done:\n")
		}
		n.text(w)
	}
	for _, state := range []engine.StepState{engine.PartDone, engine.CanStart, engine.Blocked, engine.Done} {
		if state != engine.PartDone && state != engine.CanStart && !r.all {
			continue
		}
		first := true
		for _, n := range r.Steps {
			if n.State != state.String() {
				continue
			}
			if first {
				fmt.Fprintf(w, "\n%s:\n", upper(n.State))
				first = false
			}
			n.text(w, r.dated)
		}
	}
}

func (n nowStep) text(w io.Writer, dated bool) {
	fmt.Fprintf(w, "  %-20s %s", n.Step, n.Name)
	if n.Optional {
		fmt.Fprint(w, " (one way among others)")
	}
	if len(n.EitherOr) > 0 {
		fmt.Fprintf(w, " (this or %s)", strings.Join(n.EitherOr, " or "))
	}
	fmt.Fprintln(w)
	switch {
	case n.Earliest.When == "now":
	case n.Earliest.When == "unknown" && !dated:
	case n.Earliest.When == "unknown":
		fmt.Fprintln(w, "      nobody promised all that it waits for")
	default:
		fmt.Fprintf(w, "      not before %s\n", n.Earliest.text)
	}
	if n.Planned != "" && n.State != engine.Done.String() {
		fmt.Fprintf(w, "      planned for %s\n", events.Day(n.Planned).Words())
	}
	if n.Until != "" {
		fmt.Fprintf(w, "      sealant is on: close it by %s\n", n.Until)
	}
	for _, l := range n.Left {
		fmt.Fprintf(w, "      left: %s\n", l)
	}
	for _, b := range n.Blockers {
		fmt.Fprintf(w, "      %s\n", engine.Blocker{Text: b.Text, Clear: b.Clear})
	}
}

// progress counts the steps that are done.
func (r nowReport) progress() string {
	var done, all [3]int
	for _, n := range r.Steps {
		k := 1
		switch n.section {
		case plan.Off:
			k = 0
		case plan.On:
			k = 2
		}
		if n.Optional {
			continue
		}
		all[k]++
		if n.State == engine.Done.String() {
			done[k]++
		}
	}
	return fmt.Sprintf("%d of %d states off, %d of %d on the bench, %d of %d on", done[0], all[0], done[1], all[1], done[2], all[2])
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func idsOfSteps(steps []engine.StepNow) (list []string) {
	for _, n := range steps {
		list = append(list, string(n.Step))
	}
	return list
}
