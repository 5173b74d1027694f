package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/projections/engine"
)

type slipsReport struct {
	Job   string    `json:"job"`   // empty: of every job
	Slips []slipRow `json:"slips"` // in the order in which they went out
	head  string
}

type slipRow struct {
	Job          string        `json:"job"`
	Slip         string        `json:"slip"`
	Shop         string        `json:"shop"`
	Work         string        `json:"work"`
	Limits       string        `json:"limits"`
	Parts        []string      `json:"parts"`
	Away         []string      `json:"away"` // of them, still
	Sent         string        `json:"sent"`
	Back         string        `json:"back"`     // when the last of it came back; empty: not yet
	Promised     string        `json:"promised"` // a day; empty: nobody said
	Promises     int           `json:"promises"` // how often a day was given
	DaysAway     int           `json:"daysaway"`
	Overdue      int           `json:"overdue"` // days; 0: not overdue
	Lines        []slipLineRow `json:"lines"`
	Unlooked     []string      `json:"unlooked"` // back, and nobody has looked it over
	Blocks       []slipStepRow `json:"blocks"`
	NeededBy     string        `json:"neededby"`  // planned start of the first step that it blocks; empty: not planned
	SlackDays    int           `json:"slackdays"` // from the promised day, or today, to neededby
	SlackSteps   int           `json:"slacksteps"`
	SlackMinutes int           `json:"slackminutes"` // of the steps that can be done meanwhile
	Readings     []slipReading `json:"readings"`
	state        string
}

type slipLineRow struct {
	Kind    string `json:"kind"`
	Name    string `json:"name"`
	Went    int    `json:"went"`
	Came    int    `json:"came"`
	Away    int    `json:"away"`
	Missing int    `json:"missing"` // below zero: more came than went
}

type slipStepRow struct {
	Step   string `json:"step"`
	Name   string `json:"name"`
	Direct bool   `json:"direct"` // it works on what is away
}

type slipReading struct {
	Measurement string   `json:"measurement"`
	At          string   `json:"at"`
	Before      *float64 `json:"before"` // null: not measured before it went
	After       *float64 `json:"after"`  // null: not measured since
	Unit        string   `json:"unit"`
}

func slipsCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "slips [JOB]", Short: "List what is at other shops, what it blocks, and what came back", GroupID: "report",
		Long: `Gives every slip of a job: where it went, the work asked and its limits, what
travels with it line by line and what is left of that on return, the promised day
and how long it is overdue, the steps that wait for it, and how much other work
there is before everything waits for it. Readings from before it went stand beside
those since. Without JOB it gives the slips of every job, and --at only those to
one shop: where are my parts, if it closes? Exit status 1 if one is overdue, a line lacks pieces or has too many,
or something is back that nobody has looked over.`,
		Example:           "  countback slips 4K7\n  countback slips --at Bakke\n  countback slips 4K7 --json",
		Args:              arguments(cobra.MaximumNArgs(1)),
		ValidArgsFunction: completeJobThen(nil),
	}
	shop := cmd.Flags().String("at", "", "only what went to this other shop")
	completeFlag(cmd, "at", completeShops)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		s, b, err := openBooks(cmd)
		if err != nil {
			return err
		}
		r, jobs := slipsReport{Slips: []slipRow{}, head: "All jobs"}, b.Jobs()
		if len(args) == 1 {
			id, j, err := b.find(args[0])
			if err != nil {
				return err
			}
			jobs, r.Job, r.head = []events.Job{id}, string(id), title(id, j)
		}
		look := false
		for _, id := range jobs {
			j, ok := b.Job(id)
			look = ok && r.add(id, j, *shop) || look
		}
		if err := write(cmd, s, r); err != nil {
			return err
		}
		if look {
			return no()
		}
		return nil
	}
	return cmd
}

// add takes in the slips of one job, and says whether one is to be looked at.
func (r *slipsReport) add(id events.Job, j *engine.Job, shop string) (look bool) {
	for _, v := range j.Slips() {
		if shop != "" && !strings.EqualFold(v.Shop, shop) {
			continue
		}
		row := newSlipRow(&v)
		row.Job = string(id)
		r.Slips = append(r.Slips, row)
		look = look || v.Overdue > 0 || len(v.Unlooked) > 0
		for _, l := range v.Lines {
			look = look || l.Missing != 0
		}
	}
	return look
}

// completeShops offers the shops that something went to.
func completeShops(cmd *cobra.Command, _ []string, _ string) ([]string, cobra.ShellCompDirective) {
	b := completeBooks(cmd)
	if b == nil {
		return nil, noFiles
	}
	var list []string
	for _, id := range b.Jobs() {
		if j, ok := b.Job(id); ok {
			for _, v := range j.Slips() {
				if v.Shop != "" && !slices.Contains(list, v.Shop) {
					list = append(list, v.Shop)
				}
			}
		}
	}
	return list, noFiles
}

func newSlipRow(v *engine.SlipView) slipRow {
	r := slipRow{Slip: string(v.Code), Shop: v.Shop, Work: v.Scope, Limits: v.Limits, Parts: texts(v.Parts), Away: texts(v.Out),
		Sent: stamp(v.Sent), Back: stamp(v.Returned), Promised: string(v.Promised), Promises: v.Words, DaysAway: v.DaysAway, Overdue: v.Overdue,
		Lines: []slipLineRow{}, Unlooked: texts(v.Unlooked), Blocks: []slipStepRow{}, NeededBy: string(v.NeededBy), SlackDays: v.SlackDays,
		SlackSteps: v.SlackWork.Steps, SlackMinutes: v.SlackWork.Minutes, Readings: []slipReading{}}
	for _, l := range v.Lines {
		r.Lines = append(r.Lines, slipLineRow{string(l.Kind), l.Name, l.Went, l.Came, l.Away, l.Missing})
	}
	for _, b := range v.Blocks {
		r.Blocks = append(r.Blocks, slipStepRow{string(b.Step), b.Name, b.Direct})
	}
	for _, m := range v.Readings {
		one := slipReading{Measurement: m.Measurement, At: string(m.At)}
		if m.Before != nil {
			one.Before, one.Unit = &m.Before.Value, m.Before.Unit
		}
		if m.After != nil {
			one.After, one.Unit = &m.After.Value, m.After.Unit
		}
		r.Readings = append(r.Readings, one)
	}
	r.state = slipState(v)
	return r
}

func slipState(v *engine.SlipView) string {
	switch {
	case v.Returned != 0:
		return "back " + when(v.Returned) + ", after " + many(v.DaysAway, "day", "days")
	case v.Promised == "":
		return "away for " + many(v.DaysAway, "day", "days") + ", no day promised"
	case v.Overdue > 0:
		return "away for " + many(v.DaysAway, "day", "days") + ", promised " + string(v.Promised) + ": " + many(v.Overdue, "day", "days") + " OVERDUE"
	}
	return "away for " + many(v.DaysAway, "day", "days") + ", promised " + string(v.Promised)
}

func (r slipsReport) text(w io.Writer) {
	if len(r.Slips) == 0 {
		fmt.Fprintf(w, "%s. Nothing went to another shop.\n", r.head)
		return
	}
	fmt.Fprintf(w, "%s. %s:\n", r.head, many(len(r.Slips), "slip", "slips"))
	for i := range r.Slips {
		r.Slips[i].text(w)
	}
}

func (o *slipRow) text(w io.Writer) {
	shop := ""
	if o.Shop != "" {
		shop = " to " + o.Shop
	}
	fmt.Fprintf(w, "\n%s, job %s%s: %s; %s\n", o.Slip, o.Job, shop, strings.Join(o.Parts, ", "), o.state)
	if len(o.Away) > 0 && len(o.Away) < len(o.Parts) {
		fmt.Fprintf(w, "  still away: %s\n", strings.Join(o.Away, ", "))
	}
	for _, l := range []string{o.Work, o.Limits} {
		if l != "" {
			fmt.Fprintf(w, "  %s\n", l)
		}
	}
	t := newTable(w)
	t.row("  went", "came", "away", "lacks", "what")
	for _, l := range o.Lines {
		lacks := ""
		if l.Missing != 0 {
			lacks = fmt.Sprintf("%d LOOK", l.Missing)
		}
		t.row(fmt.Sprintf("  %d", l.Went), l.Came, l.Away, lacks, l.Name)
	}
	t.end()
	for _, p := range o.Unlooked {
		fmt.Fprintf(w, "  %s is back and nobody has looked it over: part %s, LOOKED\n", p, p)
	}
	if len(o.Away) > 0 {
		o.slackText(w)
	}
	for _, m := range o.Readings {
		fmt.Fprintf(w, "  %s %s: before %s, after %s %s\n", m.Measurement, m.At, orNone(m.Before), orNone(m.After), m.Unit)
	}
}

func (o *slipRow) slackText(w io.Writer) {
	fmt.Fprintf(w, "  blocks %s", many(len(o.Blocks), "step", "steps"))
	var direct []string
	for _, b := range o.Blocks {
		if b.Direct {
			direct = append(direct, b.Step)
		}
	}
	if len(direct) > 0 {
		fmt.Fprintf(w, ", first %s", strings.Join(direct[:min(3, len(direct))], ", "))
	}
	fmt.Fprintf(w, "; meanwhile %s can be done", many(o.SlackSteps, "step", "steps"))
	if o.SlackMinutes > 0 {
		fmt.Fprintf(w, ", %s", engine.HoursWords(o.SlackMinutes))
	}
	fmt.Fprintln(w)
	if o.NeededBy != "" {
		fmt.Fprintf(w, "  needed on %s: %s to spare\n", o.NeededBy, many(o.SlackDays, "day", "days"))
	}
}

func orNone(v *float64) string {
	if v == nil {
		return "none"
	}
	return fmt.Sprintf("%g", *v)
}
