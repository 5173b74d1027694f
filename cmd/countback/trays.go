package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/projections/engine"
)

type traysReport struct {
	Job   string     `json:"job"`
	Trays []trayLine `json:"trays"`
	Sort  []trayPile `json:"sort"`  // of the place that was named: what lies mixed in it, and where it goes
	Rest  []string   `json:"rest"`  // what would still be missing, what stays and why
	Place string     `json:"place"` // that was named; empty: none
	head  string
}

type trayLine struct {
	Tray   string          `json:"tray"`
	At     string          `json:"at"`   // where it stands; empty: see with
	With   string          `json:"with"` // who has it; both empty: nobody said
	Since  string          `json:"since"`
	Holds  int             `json:"holds"`  // pieces that it takes; 0: not said
	Over   string          `json:"over"`   // more than it takes, in words
	Others []string        `json:"others"` // other jobs that have pieces in it
	Pieces []missingSource `json:"pieces"`
	up     []string
}

type trayPile struct {
	To    string          `json:"to"`
	Name  string          `json:"name"`
	Fresh bool            `json:"fresh"` // the joint has no bag: label one
	Lines []missingSource `json:"lines"`
	words string
}

func traysCommand() *cobra.Command {
	return &cobra.Command{
		Use: "trays JOB [PLACE...]", Short: "Tell where the trays of a job are, and what is in them", GroupID: "report",
		Long: `Lists the trays of a job: what is in each, where it stands, who has it. With
PLACE ("tray 7", "place dish", "bag B2KCZ6EE") it tells where what lies mixed in
that place belongs. Exit status 1 if a tray holds pieces of two jobs or more
than it takes, or if pieces of PLACE would still be missing somewhere.`,
		Example:           "  countback trays 4K7\n  countback trays 4K7 place dish",
		Args:              arguments(cobra.MinimumNArgs(1)),
		ValidArgsFunction: completeJobThen(nil),
		RunE: func(cmd *cobra.Command, args []string) error {
			s, b, err := openBooks(cmd)
			if err != nil {
				return err
			}
			id, j, err := b.find(args[0])
			if err != nil {
				return err
			}
			r := traysReport{Job: string(id), head: title(id, j), Trays: []trayLine{}, Sort: []trayPile{}, Rest: []string{}}
			bad := false
			for _, t := range j.State().Trays() {
				l := b.trayLine(id, j, t)
				bad = bad || l.Over != "" || len(l.Others) > 0
				r.Trays = append(r.Trays, l)
			}
			if len(args) > 1 {
				lacks, err := r.sort(j, strings.Join(args[1:], " "))
				if err != nil {
					return err
				}
				bad = bad || lacks
			}
			if err := write(cmd, s, r); err != nil {
				return err
			}
			if bad {
				return no()
			}
			return nil
		},
	}
}

func (b *books) trayLine(id events.Job, j *engine.Job, t engine.Tray) trayLine {
	st := j.State()
	l := trayLine{Tray: string(t.Place), At: string(t.At), With: string(t.With), Holds: t.Holds, Over: st.TooMany(t.Place, 0), Others: []string{},
		Pieces: pieceLines(st.At(t.Place)), up: st.Holder(t.Place)}
	if f := st.Fact(t.Since); f != nil {
		l.Since = stamp(f.At)
	}
	for _, o := range b.Jobs() {
		other, _ := b.Job(o)
		if o != id && len(pieceLines(st.At(t.Place))) > 0 && len(other.State().At(t.Place)) > 0 {
			l.Others = append(l.Others, string(o))
		}
	}
	return l
}

func pieceLines(lines []events.Line) []missingSource {
	out := []missingSource{}
	for _, l := range lines {
		out = append(out, missingSource{Kind: string(l.Kind), Cond: string(l.Cond), Qty: l.Qty})
	}
	return out
}

// sort works out where what lies mixed in a place belongs.
func (r *traysReport) sort(j *engine.Job, name string) (lacks bool, err error) {
	word, rest, _ := strings.Cut(name, " ")
	place := events.Place(word + "/" + rest)
	if word == "tray" {
		place = engine.TrayPlace(rest)
	}
	switch word {
	case "tray", "place", "bag", "stock", "bench", "rack":
	default:
		return false, usage(`place %q: name it by its noun, as in "tray 7", "place dish" or "bag B2KCZ6EE"`, name)
	}
	st := j.State()
	if rest == "" || len(st.At(place)) == 0 {
		return false, unknown("%s holds nothing of job %s by the book; count it first", name, r.Job)
	}
	r.Place = string(place)
	so := j.Sort(place, "")
	_, r.Rest = st.SortWords(&so)
	r.Rest = append([]string{}, r.Rest...)
	for _, p := range so.Into {
		pile := trayPile{To: string(p.To), Name: p.Name, Fresh: p.Fresh, Lines: pieceLines(p.Lines), words: st.PileWords(p)}
		if p.Fresh {
			pile.To = ""
		}
		r.Sort = append(r.Sort, pile)
	}
	return len(so.Lacks) > 0, nil
}

func (r traysReport) text(w io.Writer) {
	fmt.Fprintf(w, "%s. %s.\n", r.head, many(len(r.Trays), "tray", "trays"))
	for _, l := range r.Trays {
		var words []string
		for _, p := range l.Pieces {
			words = append(words, fmt.Sprintf("%d %s", p.Qty, p.Kind))
		}
		if len(words) == 0 {
			words = []string{"empty"}
		}
		fmt.Fprintf(w, "  %-12s %s\n", engine.PlaceName(strings.TrimPrefix(l.Tray, "place/")), strings.Join(words, ", "))
		for _, up := range l.up {
			fmt.Fprintf(w, "  %-12s %s\n", "", up)
		}
		if l.Over != "" {
			fmt.Fprintf(w, "  %-12s TOO MANY: %s\n", "", l.Over)
		}
		if len(l.Others) > 0 {
			fmt.Fprintf(w, "  %-12s TWO JOBS IN ONE TRAY: also %s\n", "", strings.Join(l.Others, ", "))
		}
	}
	if r.Place == "" {
		return
	}
	fmt.Fprintf(w, "%s, sorted:\n", r.Place)
	for _, p := range r.Sort {
		fmt.Fprintf(w, "  %s\n", p.words)
	}
	for _, text := range r.Rest {
		fmt.Fprintf(w, "  %s\n", text)
	}
}
