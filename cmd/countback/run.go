package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/projections/engine"
)

type runReport struct {
	Job         string          `json:"job"`
	MayStart    bool            `json:"maystart"`
	Against     []runBlocker    `json:"against"` // what stands against a start now
	Runs        bool            `json:"runs"`
	Starts      []runStart      `json:"starts"`
	HeatCycles  int             `json:"heatcycles"` // warm, and cold again
	Minutes     int             `json:"minutes"`    // of running
	Km          float64         `json:"km"`         // since the first reading of it
	Readings    []runReading    `json:"readings"`   // since the last start
	Output      []runOutput     `json:"output"`
	Obligations []runObligation `json:"obligations"`
	Open        int             `json:"open"` // lines that hold the release
	head        string
}

type runBlocker struct {
	Text  string `json:"text"`
	Clear string `json:"clear"` // the one thing that clears it
}

type runStart struct {
	Started string   `json:"started"`
	Without []string `json:"without"` // what should have come before
	Stopped string   `json:"stopped"` // empty: it runs
	Warm    bool     `json:"warm"`
	Cold    string   `json:"cold"`
}

type runReading struct {
	Reading string    `json:"reading"`
	Of      string    `json:"of"`
	Within  int       `json:"within"` // seconds after the start; 0: not said
	Source  string    `json:"source"`
	Gauge   string    `json:"gauge"`
	Reads   []runRead `json:"reads"`
	Advice  string    `json:"advice"` // the next action; empty: none
}

type runRead struct {
	Time    string `json:"time"`
	Value   string `json:"value"`   // digits as they were read, with the unit
	RPM     int    `json:"rpm"`     // 0: not said
	Seconds int64  `json:"seconds"` // since the start
	Limits  string `json:"limits"`  // at this speed
	Verdict string `json:"verdict"`
	words   string
}

type runOutput struct {
	RPM    int     `json:"rpm"`
	Power  float64 `json:"power"` // worked out where it was not read
	Torque float64 `json:"torque"`
	Units  string  `json:"units"`
	Read   string  `json:"read"`  // power, torque or both
	Doubt  string  `json:"doubt"` // they do not agree, and were told to be so
	words  string
}

type runObligation struct {
	Obligation string `json:"obligation"`
	What       string `json:"what"`
	After      string `json:"after"` // when it falls due
	Far        string `json:"far"`   // how far that is
	Due        bool   `json:"due"`
	Met        string `json:"met"` // when; empty: not
}

func runCommand() *cobra.Command {
	return &cobra.Command{
		Use: "run JOB", Short: "Tell how it ran, and what falls due after that; status 1 while something holds the release", GroupID: "report",
		Long: `Lists the starts, heat cycles, minutes and distance, the readings of the last start
against the limits of their speed, power and torque, and what falls due: by heat
cycles, minutes of running, distance or marks. Before the first start it says
what stands against one. Exit status 1 while a reading or something due is open.`,
		Example:           "  countback run 4K7\n  countback run 4K7 --json",
		Args:              arguments(cobra.ExactArgs(1)),
		ValidArgsFunction: completeJobThen(nil),
		RunE: aboutJob(func(cmd *cobra.Command, s settings, id events.Job, j *engine.Job, _ []string) error {
			r := newRunReport(id, j)
			if err := write(cmd, s, r); err != nil {
				return err
			}
			if r.Open > 0 {
				return no()
			}
			return nil
		}),
	}
}

func newRunReport(id events.Job, j *engine.Job) runReport {
	s := j.State()
	at := func(micro int64) string { return stamp(micro) }
	r := runReport{Job: string(id), head: title(id, j), Against: []runBlocker{}, Runs: s.Runs(), Starts: []runStart{}, HeatCycles: s.HeatCycles(),
		Minutes: s.MinutesRun(), Km: s.Km(), Readings: []runReading{}, Output: []runOutput{}, Obligations: []runObligation{}}
	for _, b := range j.MayStart() {
		r.Against = append(r.Against, runBlocker{b.Text, b.Clear})
	}
	r.MayStart = len(r.Against) == 0
	for _, st := range s.Starts() {
		line := runStart{Started: at(st.At), Without: append([]string{}, st.Without...), Warm: st.Warm, Stopped: at(st.Off)}
		if f := s.Fact(st.Cold); f != nil {
			line.Cold = at(f.At)
		}
		r.Starts = append(r.Starts, line)
	}
	for _, n := range j.Running() {
		line := runReading{Reading: n.Reading, Of: n.Of, Within: n.Within, Source: n.Source, Gauge: n.Gauge, Reads: []runRead{}, Advice: n.Advice}
		for _, l := range n.Reads {
			read := runRead{Value: l.Read.String(), RPM: l.RPM, Seconds: l.Secs, Verdict: l.Verdict.Place.String(), words: l.Words()}
			if l.Limits.Service.Known() {
				read.Limits = l.Limits.Service.String()
			}
			if f := s.Fact(l.Fact); f != nil {
				read.Time = at(f.At)
			}
			line.Reads = append(line.Reads, read)
		}
		if len(r.Starts) > 0 && n.Known && n.Advice != "" {
			r.Open++
		}
		r.Readings = append(r.Readings, line)
	}
	for _, l := range j.OutputLines() {
		read := "both"
		switch {
		case l.Power == 0:
			read = "torque"
		case l.Torque == 0:
			read = "power"
		}
		r.Output = append(r.Output, runOutput{l.RPM, l.PowerOf, l.TorqueOf, l.Units, read, l.Doubt, l.Words()})
	}
	for _, o := range j.Obligations() {
		line := runObligation{Obligation: o.ID, What: o.What, After: o.After, Far: o.Far, Due: o.Due}
		if f := s.Fact(o.Met); f != nil {
			line.Met = at(f.At)
		} else if o.Due {
			r.Open++
		}
		r.Obligations = append(r.Obligations, line)
	}
	return r
}

func (r runReport) text(w io.Writer) {
	if len(r.Starts) == 0 {
		fmt.Fprintf(w, "%s. It was not started yet.\n", r.head)
		for _, b := range r.Against {
			fmt.Fprintf(w, "  before a start: %s\n", engine.Blocker{Text: b.Text, Clear: b.Clear})
		}
		return
	}
	fmt.Fprintf(w, "%s. %s, %s, %s of running", r.head, many(len(r.Starts), "start", "starts"), many(r.HeatCycles, "heat cycle", "heat cycles"), many(r.Minutes, "minute", "minutes"))
	if r.Km > 0 {
		fmt.Fprintf(w, ", %g km", r.Km)
	}
	if r.Runs {
		fmt.Fprint(w, "; it runs")
	}
	fmt.Fprintln(w, ".")
	for _, st := range r.Starts {
		for _, without := range st.Without {
			fmt.Fprintf(w, "  started without: %s\n", without)
		}
	}
	fmt.Fprint(w, "\nReadings since the last start:\n")
	for _, n := range r.Readings {
		if len(n.Reads) == 0 {
			fmt.Fprintf(w, "  %-24s not read\n", n.Of)
		}
		for _, l := range n.Reads {
			fmt.Fprintf(w, "  %-24s %s\n", n.Of, l.words)
		}
		if n.Advice != "" {
			fmt.Fprintf(w, "  %-24s -> %s\n", "", n.Advice)
		}
	}
	if len(r.Output) > 0 {
		fmt.Fprint(w, "\nPower and torque:\n")
	}
	for _, o := range r.Output {
		fmt.Fprintf(w, "  %s\n", o.words)
	}
	fmt.Fprint(w, "\nFalls due:\n")
	for _, o := range r.Obligations {
		state := "later, " + o.Far
		switch {
		case o.Met != "":
			state = "done"
		case o.Due:
			state = "DUE"
		}
		fmt.Fprintf(w, "  %-26s %s (after %s)\n", state, o.What, o.After)
	}
}
