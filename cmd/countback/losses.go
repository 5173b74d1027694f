package main

import (
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/projections/engine"
	"countback/projections/ledger"
)

type lossesReport struct {
	Jobs     int        `json:"jobs"`
	Handled  int        `json:"handled"`  // pieces that a hand moved from one place to another, each move counted
	Opened   int        `json:"opened"`   // shorts, in pieces
	Open     int        `json:"open"`     // of those not explained yet
	Overs    int        `json:"overs"`    // pieces that were too many
	PerMille float64    `json:"permille"` // opened per 1,000 handled
	Where    []lossSum  `json:"where"`    // by where they were missed, most of them first
	Endings  []lossSum  `json:"endings"`
	Lines    []lossLine `json:"lines"` // by job, then by number
}

type lossSum struct {
	Name   string `json:"name"`
	Pieces int    `json:"pieces"`
}

type lossLine struct {
	Job     string  `json:"job"`
	No      int     `json:"no"`   // its number on screens now
	Sign    string  `json:"sign"` // short, over
	Kind    string  `json:"kind"`
	Qty     int     `json:"qty"`
	Open    int     `json:"open"`
	Place   string  `json:"place"`
	State   string  `json:"state"`   // first word of the place: fitted, bag, bench, rack, slip …
	Counted string  `json:"counted"` // when it was last counted right there; empty: never
	Missed  string  `json:"missed"`  // when a count first differed
	Ended   string  `json:"ended"`   // when its last piece was explained; empty: it is open
	Ending  string  `json:"ending"`
	Days    float64 `json:"days"` // from missed to ended
	missed  int64
}

func lossesCommand() *cobra.Command {
	return &cobra.Command{
		Use: "losses", Short: "Tell what was lost on each job, where in the process, and how it ended", GroupID: "report",
		Long: `Lists every count that differed from the book, over all jobs: what was missed or
too many, where, since when, and how it ended. Rates are per 1,000 pieces
handled, since a job with 100 bolts is no job with 400. It names nobody: whoever
counts well finds more.`,
		Example: "  countback losses\n  countback losses --json",
		Args:    arguments(cobra.NoArgs),
		RunE: func(cmd *cobra.Command, _ []string) error {
			s, b, err := openBooks(cmd)
			if err != nil {
				return err
			}
			return write(cmd, s, lossesOf(b))
		},
	}
}

func lossesOf(b *books) lossesReport {
	r := lossesReport{Jobs: len(b.order), Where: []lossSum{}, Endings: []lossSum{}, Lines: []lossLine{}}
	for _, id := range b.order {
		s := b.jobs[id].State()
		for _, p := range s.Book().Log() {
			if p.Hand {
				r.Handled += int(p.Qty)
			}
		}
		for k := 1; k <= s.Book().Entries(); k++ {
			r.add(newLossLine(id, s, s.Book().Entry(ledger.EntryNo(k))))
		}
	}
	if r.Handled > 0 {
		r.PerMille = float64(r.Opened) * 1000 / float64(r.Handled)
	}
	for _, sums := range [][]lossSum{r.Where, r.Endings} {
		slices.SortStableFunc(sums, func(a, b lossSum) int { return b.Pieces - a.Pieces })
	}
	return r
}

func newLossLine(id events.Job, s *engine.State, e ledger.Entry) lossLine {
	l := lossLine{
		Job: string(id), No: int(e.No), Sign: "short", Kind: string(s.Book().ItemName(e.Item).Kind),
		Qty: int(e.Qty), Open: int(e.Open), Place: string(s.Book().Path(e.Place)),
		State: s.Book().Class(e.Place).String(), Ending: string(e.Ending),
	}
	if e.Sign == ledger.Over {
		l.Sign = "over"
	}
	if f := s.Fact(e.After); f != nil {
		l.Counted = stamp(f.At)
	}
	if f := s.Fact(e.Shown); f != nil {
		l.missed, l.Missed = f.At, stamp(f.At)
	}
	if f := s.Fact(e.Closed); f != nil && e.Open == 0 {
		l.Ended = stamp(f.At)
		l.Days = float64(f.At-l.missed) / (24 * 3600 * 1e6)
	}
	return l
}

func (r *lossesReport) add(l lossLine) {
	r.Lines = append(r.Lines, l)
	if l.Sign == "over" {
		r.Overs += l.Qty
	} else {
		r.Opened += l.Qty
		r.Open += l.Open
		r.Where = addSum(r.Where, l.State, l.Qty)
	}
	if l.Ending != "" {
		r.Endings = addSum(r.Endings, l.Ending, l.Qty-l.Open)
	}
}

func addSum(list []lossSum, name string, n int) []lossSum {
	for i := range list {
		if list[i].Name == name {
			list[i].Pieces += n
			return list
		}
	}
	return append(list, lossSum{name, n})
}

func (r lossesReport) text(w io.Writer) {
	fmt.Fprintf(w, "%s, %s handled. Missed: %s, %.1f per 1,000 handled; still open: %d. Too many: %d.\n",
		many(r.Jobs, "job", "jobs"), many(r.Handled, "piece", "pieces"), many(r.Opened, "piece", "pieces"), r.PerMille, r.Open, r.Overs)
	for _, row := range []struct {
		name string
		sums []lossSum
	}{{"missed in", r.Where}, {"ended as", r.Endings}} {
		for _, s := range row.sums {
			fmt.Fprintf(w, "  %-10s %-12s %d\n", row.name, s.Name, s.Pieces)
		}
	}
	if len(r.Lines) == 0 {
		return
	}
	fmt.Fprintln(w)
	t := newTable(w)
	t.row("JOB", "NO", "", "QTY", "WHAT", "WHERE", "MISSED", "ENDED AS", "AFTER")
	for _, l := range r.Lines {
		after := ""
		if l.Ended != "" {
			after = fmt.Sprintf("%.1f days", l.Days)
		}
		t.row(l.Job, l.No, l.Sign, l.Qty, l.Kind, l.Place, when(l.missed), dash(l.Ending), after)
	}
	t.end()
}
