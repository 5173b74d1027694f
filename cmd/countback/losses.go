package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"countback/projections"
)

type lossesReport struct {
	Jobs    int          `json:"jobs"`
	Total   lossSums     `json:"total"`
	Where   []lossSum    `json:"where"`   // where in the process, by its order
	Caught  []lossSum    `json:"caught"`  // which count caught them, the earliest first
	Repeats []lossRepeat `json:"repeats"` // positions that lose more often than by chance
	Lines   []lossLine   `json:"lines"`   // by job, then in the order in which they were missed
	// How often what was told had to be put right, by the kind of fact; never by person.
	Corrections []lossCorrected `json:"corrections"`
	Holes       []lossHole      `json:"holes"` // where fasteners broke and pieces were missed, the most first
}

type lossCorrected struct {
	Kind      string  `json:"kind"` // of fact, as it is stored
	Told      int     `json:"told"`
	Corrected int     `json:"corrected"`
	Percent   float64 `json:"percent"`
}

type lossHole struct {
	Family  string `json:"family"`
	Hole    string `json:"hole"` // joint:hole; of losses the joint or part
	Broken  int    `json:"broken"`
	Lost    int    `json:"lost"`
	Engines int    `json:"engines"`
}

// lossSums are numbers of pieces.
type lossSums struct {
	Handled    int     `json:"handled"` // moved by a hand from one place to another, each move counted
	Opened     int     `json:"opened"`  // missed, found again or not
	PerMille   float64 `json:"permille"`
	Low        float64 `json:"low"` // 95 % interval of permille
	High       float64 `json:"high"`
	Found      int     `json:"found"`
	Miscount   int     `json:"miscount"`
	PlanWrong  int     `json:"planwrong"`
	Borrowed   int     `json:"borrowed"`
	WrittenOff int     `json:"writtenoff"`
	Open       int     `json:"open"`
	Over       int     `json:"over"`      // too many, in counts above the book
	Broken     int     `json:"broken"`    // cases of broken fasteners
	OtherEnds  int     `json:"otherends"` // ends of broken fasteners that were not in hand; not among opened
	Arrival    int     `json:"arrival"`   // missing when the engine came; not among opened
}

type lossSum struct {
	Name   string `json:"name"`
	Pieces int    `json:"pieces"`
}

type lossRepeat struct {
	Family   string  `json:"family"`
	Position string  `json:"position"`
	Lost     int     `json:"lost"`
	Expected float64 `json:"expected"`
	Ratio    float64 `json:"ratio"`
	Engines  int     `json:"engines"`
}

type lossLine struct {
	Job      string  `json:"job"`
	Short    string  `json:"short"` // its lasting name: the fact that showed it, and its ordinal there
	Kind     string  `json:"kind"`
	Qty      int     `json:"qty"`
	Open     int     `json:"open"`
	Where    string  `json:"where"` // in the process
	Place    string  `json:"place"`
	Caught   string  `json:"caught"` // by which count
	Position string  `json:"position"`
	Missed   string  `json:"missed"`
	Hours    float64 `json:"hours"`  // between the last good count and the first short one
	Ending   string  `json:"ending"` // empty: it is open
	Days     float64 `json:"days"`   // from missed to explained
	missed   int64
	at       string // the place for people
}

func lossesCommand() *cobra.Command {
	return &cobra.Command{
		Use: "losses", Short: "Tell what was lost on each job, where in the process, and how it ended", GroupID: "report",
		Long: `Lists every count that missed something, over all jobs: what, where in the process,
which count caught it, and how it ended. Rates are per 1,000 pieces handled, with
their 95 % interval, since a job with 100 bolts is no job with 400. It names
nobody: whoever counts well finds more. How often what was told had to be put right
stands by the kind of fact, for whoever looks after the words on the screen; where
fasteners broke and pieces were missed, by hole, over all engines of a family.`,
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
	all := b.Losses()
	r := lossesReport{Jobs: len(all.Jobs), Total: newLossSums(&all.Total), Where: []lossSum{}, Caught: []lossSum{}, Repeats: []lossRepeat{}, Lines: []lossLine{},
		Corrections: []lossCorrected{}, Holes: []lossHole{}}
	for _, stage := range projections.Stages() {
		if n := all.Total.Where[stage]; n > 0 {
			r.Where = append(r.Where, lossSum{string(stage), n})
		}
	}
	for _, catch := range projections.Catches() {
		if n := all.Total.Caught[catch]; n > 0 {
			r.Caught = append(r.Caught, lossSum{string(catch), n})
		}
	}
	for _, p := range b.Repeats() {
		r.Repeats = append(r.Repeats, lossRepeat{p.Family, p.Position, p.Lost, p.Expected, p.Ratio, p.Engines})
	}
	for _, c := range b.Corrections() {
		r.Corrections = append(r.Corrections, lossCorrected{c.Kind, c.Told, c.Corrected, c.Percent()})
	}
	for _, h := range b.Holes() {
		r.Holes = append(r.Holes, lossHole{h.Family, string(h.Hole), h.Broken, h.Lost, h.Engines})
	}
	for _, j := range all.Jobs {
		for _, l := range j.Lines {
			r.Lines = append(r.Lines, lossLine{
				Job: string(j.Job), Short: fmt.Sprintf("%s-%d.%d", l.Short.Terminal, l.Short.N, l.Short.K),
				Kind: string(l.Kind), Qty: l.Qty, Open: l.Open, Where: string(l.Where), Place: string(l.Place),
				Caught: string(l.Caught), Position: l.Position, Missed: stamp(l.Shown), Hours: l.Hours,
				Ending: string(l.Ending), Days: l.Days, missed: l.Shown, at: l.At,
			})
		}
	}
	return r
}

func newLossSums(s *projections.Sum) lossSums {
	rate, low, high := s.PerThousand()
	return lossSums{
		Handled: s.Handled, Opened: s.Opened, PerMille: rate, Low: low, High: high, Found: s.Found, Miscount: s.Miscount,
		PlanWrong: s.PlanWrong, Borrowed: s.Borrowed, WrittenOff: s.WrittenOff, Open: s.Open, Over: s.Over,
		Broken: s.Broken, OtherEnds: s.OtherEnds, Arrival: s.Arrival,
	}
}

func (r lossesReport) text(w io.Writer) {
	t := r.Total
	fmt.Fprintf(w, "%s, %s handled. Missed: %d, which is %.1f per 1,000 handled (%.1f to %.1f). Still open: %d.\n",
		many(r.Jobs, "job", "jobs"), many(t.Handled, "piece", "pieces"), t.Opened, t.PerMille, t.Low, t.High, t.Open)
	tab := newTable(w)
	for _, s := range r.Where {
		tab.row("  missed at", s.Name, s.Pieces)
	}
	for _, s := range r.Caught {
		tab.row("  caught by", s.Name, s.Pieces)
	}
	for _, row := range []lossSum{{"found", t.Found}, {"miscount", t.Miscount}, {"plan wrong", t.PlanWrong}, {"borrowed", t.Borrowed}, {"written off", t.WrittenOff}} {
		if row.Pieces > 0 {
			tab.row("  ended as", row.Name, row.Pieces)
		}
	}
	for _, row := range []lossSum{{"too many", t.Over}, {"broken fasteners", t.Broken}, {"other ends not in hand", t.OtherEnds}, {"missing on arrival", t.Arrival}} {
		if row.Pieces > 0 {
			tab.row("  besides", row.Name, row.Pieces)
		}
	}
	for _, p := range r.Repeats {
		tab.row("  repeats", p.Family+" "+p.Position, fmt.Sprintf("%d on %d engines, %.1f times what chance gives", p.Lost, p.Engines, p.Ratio))
	}
	for _, h := range r.Holes[:min(len(r.Holes), 10)] {
		tab.row("  trouble at", h.Hole, fmt.Sprintf("%d broken, %d missed on %s", h.Broken, h.Lost, many(h.Engines, "engine", "engines")))
	}
	for _, c := range r.Corrections {
		tab.row("  put right", c.Kind, fmt.Sprintf("%d of %d told, %.1f %%", c.Corrected, c.Told, c.Percent))
	}
	tab.end()
	r.table(w)
}

func (r lossesReport) table(w io.Writer) {
	if len(r.Lines) == 0 {
		return
	}
	fmt.Fprintln(w)
	t := newTable(w)
	t.row("JOB", "QTY", "WHAT", "MISSED AT", "PLACE", "FIRST MISSED", "ENDED AS", "AFTER")
	for _, l := range r.Lines {
		after := ""
		if l.Ending != "" {
			after = fmt.Sprintf("%.1f days", l.Days)
		}
		t.row(l.Job, l.Qty, l.Kind, l.Where, l.at, when(l.missed), dash(l.Ending), after)
	}
	t.end()
}
