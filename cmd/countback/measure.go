package main

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/projections/engine"
	"countback/projections/gauge"
)

type measureReport struct {
	Job   string        `json:"job"`
	Sizes []measureLine `json:"sizes"` // in the plan's order, place by place
	Sets  []measureSet  `json:"sets"`  // of loose fasteners, oldest first
	head  string
}

type measureLine struct {
	Measurement string        `json:"measurement"`
	Of          string        `json:"of"`
	At          string        `json:"at"`      // empty: it has one place
	Kind        string        `json:"kind"`    // size, taper, out-of-round, clearance, gap, end-play, warpage, thinning, stretch
	New         string        `json:"new"`     // limits for new parts, with their unit
	Service     string        `json:"service"` // limits for parts that have run
	Source      string        `json:"source"`  // of the limits
	Gauge       string        `json:"gauge"`   // what it is to be read with
	Reads       []measureRead `json:"reads"`   // those that decide, oldest first
	Size        string        `json:"size"`    // what counts, with its unit
	Mm          float64       `json:"mm"`      // the same in millimetres, of lengths
	How         string        `json:"how"`     // how it was worked out; empty: it was read
	Verdict     string        `json:"verdict"` // as new, in service, beyond its limit, read it again, readings disagree, no limits, not comparable
	Fit         string        `json:"fit"`     // how it goes with its neighbour
	Stands      string        `json:"stands"`  // how it differs from its siblings
	Doubts      []string      `json:"doubts"`
	Decided     string        `json:"decided"` // what was decided about it
	Advice      string        `json:"advice"`  // the next action; empty: none
	words       string
	limits      string
}

type measureSet struct {
	Measurement string   `json:"measurement"`
	Kind        string   `json:"kind"`
	Place       string   `json:"place"`
	Reads       []string `json:"reads"` // one for each, as they were read
	Gauge       string   `json:"gauge"`
	Good        int      `json:"good"`      // may be used again
	Condemned   int      `json:"condemned"` // not
	Again       int      `json:"again"`     // too near to the limit to tell
	All         bool     `json:"all"`       // one that failed took the set with it
	Why         []string `json:"why"`
	words       string
}

type measureRead struct {
	Fact    string  `json:"fact"`
	Time    string  `json:"time"`
	By      string  `json:"by"`
	Point   string  `json:"point"`   // station and direction
	Reading string  `json:"reading"` // digits as they were read, with the unit
	Gauge   string  `json:"gauge"`
	Sure    bool    `json:"sure"` // it was doubted, and told to be so
	Celsius float64 `json:"celsius"`
}

func measureCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "measure JOB [MEASUREMENT]", Short: "Write the worksheet of what was measured; status 1 while something is to look at", GroupID: "report",
		Long: `Holds every reading against the limits for new and for used parts, with the guard
band of its gauge: limit, gauge, what was read at each place, what follows from
it, how that stands, and what to do next. Taper, out-of-round and clearance are
worked out. Without MEASUREMENT it lists what was read; with --all also what was
not. Exit status 1 while something wants another reading or a decision.`,
		Example:           "  countback measure 4K7\n  countback measure 4K7 main-journal\n  countback measure 4K7 --all --json",
		Args:              arguments(cobra.RangeArgs(1, 2)),
		ValidArgsFunction: completeJobThen(completeMeasurements),
	}
	all := cmd.Flags().Bool("all", false, "what was not read too")
	cmd.RunE = aboutJob(func(cmd *cobra.Command, s settings, id events.Job, j *engine.Job, rest []string) error {
		r := measureReport{Job: string(id), head: title(id, j), Sizes: []measureLine{}, Sets: []measureSet{}}
		look, known := false, len(rest) == 0
		for _, m := range j.Measures() {
			if len(rest) == 1 && m.Measurement != rest[0] {
				continue
			}
			known = true
			if m.Fact == 0 && len(rest) == 0 && !*all {
				continue
			}
			look = look || m.Advice != ""
			r.Sizes = append(r.Sizes, newMeasureLine(j, m))
		}
		for _, f := range j.State().Sets() {
			if len(rest) == 0 || f.Measurement == rest[0] {
				r.Sets = append(r.Sets, newMeasureSet(f))
				look = look || f.Near > 0
			}
		}
		if !known {
			return unknown("job %s measures no %s%s; see all with: countback measure %s --all", id, rest[0], nearestOf(j.State().Plan(), rest[0], "measurement"), id)
		}
		if err := write(cmd, s, r); err != nil {
			return err
		}
		if look {
			return no()
		}
		return nil
	})
	return cmd
}

func completeMeasurements(j *engine.Job) []string {
	var list []string
	for _, m := range j.State().Plan().Measurements {
		list = append(list, m.ID+"\t"+m.Of)
	}
	return list
}

func newMeasureLine(j *engine.Job, m engine.Measure) measureLine {
	l := measureLine{
		Measurement: m.Measurement, Of: m.Of, At: string(m.At), Kind: string(m.Kind), Source: m.Limits.Source, Gauge: m.Gauge, How: m.How,
		Verdict: m.Verdict.Place.String(), Fit: m.Fit, Stands: m.Stands, Doubts: append([]string{}, m.Doubts...), Decided: m.Decided, Advice: m.Advice,
		Reads: []measureRead{}, words: m.Short(), limits: m.LimitsText(),
	}
	if m.Limits.New.Known() {
		l.New = m.Limits.New.String()
	}
	if m.Limits.Service.Known() {
		l.Service = m.Limits.Service.String()
	}
	if m.Size.Known() {
		l.Size = m.Size.String()
		if m.Size.Unit().Dimension() == gauge.Length {
			l.Mm = m.Size.Mm()
		}
	}
	for _, r := range m.Reads {
		read := measureRead{Time: stamp(r.Time), By: string(r.Who), Point: r.Point, Reading: r.Reading.String(), Gauge: r.Gauge, Sure: r.Sure, Celsius: r.Celsius}
		if f := j.State().Fact(r.Fact); f != nil {
			read.Fact = factID(f.ID())
		}
		l.Reads = append(l.Reads, read)
	}
	return l
}

func (r measureReport) text(w io.Writer) {
	if len(r.Sizes)+len(r.Sets) == 0 {
		fmt.Fprintf(w, "%s. Nothing was measured.\n", r.head)
		return
	}
	fmt.Fprintf(w, "%s. Worksheet:\n", r.head)
	last := ""
	for _, l := range r.Sizes {
		if l.Measurement != last {
			l.heading(w)
			last = l.Measurement
		}
		l.text(w)
	}
	if len(r.Sets) > 0 {
		fmt.Fprint(w, "\nLoose fasteners:\n")
	}
	for _, f := range r.Sets {
		fmt.Fprintf(w, "  %s, %d %s in %s: %s\n", f.Measurement, len(f.Reads), f.Kind, f.Place, strings.Join(f.Reads, ", "))
		fmt.Fprintf(w, "         %s\n", f.words)
		for _, y := range f.Why {
			fmt.Fprintf(w, "         %s\n", y)
		}
	}
	fmt.Fprintf(w, "\nCountersigned: ______________________  %s\n", "Date: ______________")
}

func (l measureLine) heading(w io.Writer) {
	fmt.Fprintf(w, "\n%s (%s)\n", upper(l.Of), l.Measurement)
	var more []string
	if l.limits != "" {
		more = append(more, "limits: "+l.limits)
	}
	if l.Source != "" {
		more = append(more, "from "+l.Source)
	}
	if l.Gauge != "" {
		more = append(more, "gauge: "+l.Gauge)
	}
	if len(more) > 0 {
		fmt.Fprintf(w, "  %s\n", strings.Join(more, "; "))
	}
}

func (l measureLine) text(w io.Writer) {
	place := l.At
	if place == "" {
		place = "-"
	}
	if len(l.Reads) == 0 {
		fmt.Fprintf(w, "  %-6s not read\n", place)
		return
	}
	var reads []string
	for _, r := range l.Reads {
		text := r.Reading
		if r.Point != "" {
			text = r.Point + " " + text
		}
		if r.Sure {
			text += " (doubted, and said again)"
		}
		reads = append(reads, text)
	}
	text := strings.Join(reads, ", ")
	if l.How != "" {
		text += ": " + l.Size + ", " + l.How
	}
	fmt.Fprintf(w, "  %-6s %s\n", place, text)
	for _, more := range append([]string{l.words, l.Fit, l.Stands, l.Decided}, l.Doubts...) {
		if more != "" {
			fmt.Fprintf(w, "         %s\n", more)
		}
	}
	if l.Advice != "" && !strings.HasSuffix(l.words, l.Advice) {
		fmt.Fprintf(w, "         -> %s\n", l.Advice)
	}
}

func newMeasureSet(f engine.FastenerSet) measureSet {
	m := measureSet{Measurement: f.Measurement, Kind: string(f.Kind), Place: string(f.Place), Reads: []string{}, Gauge: f.Gauge,
		Good: f.Good, Condemned: f.Bad, Again: f.Near, All: f.All, Why: append([]string{}, f.Why...), words: f.Words()}
	for _, p := range f.Reads {
		digits, unit := p.Text, p.Unit
		if digits == "" {
			digits = strconv.FormatFloat(p.Value, 'f', -1, 64)
		}
		if unit == "" {
			unit = f.Unit
		}
		m.Reads = append(m.Reads, digits+" "+unit)
	}
	return m
}
