package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/projections/engine"
)

type whereReport struct {
	Noun  string      `json:"noun"`
	Found []whereLine `json:"found"` // one for each job that has met it
}

type whereLine struct {
	Job     string          `json:"job"`
	Noun    string          `json:"noun"`
	Now     []string        `json:"now"`     // where it is, the innermost place first
	Seen    string          `json:"seen"`    // when a fact last looked at it or moved it; empty: never
	Name    string          `json:"name"`    // for people
	Sources []missingSource `json:"sources"` // of a size: which bags, racks and benches have it
	Hole    *whereHole      `json:"hole"`    // of a hole
	History []eventLine     `json:"history"`
	head    string
	seen    int64
}

type whereHole struct {
	Wants  []string `json:"wants"` // from the host outwards
	Now    string   `json:"now"`
	Became string   `json:"became"` // an insert, an oversize thread
	Window string   `json:"window"`
	Stages int      `json:"stages"`
	Of     int      `json:"of"`
	Under  []string `json:"under"`
	Next   []string `json:"next"`
}

// eventLine is one fact as a sentence.
type eventLine struct {
	ID   string `json:"id"`
	Time string `json:"time"` // when it was recorded
	Who  string `json:"who"`
	Text string `json:"text"`
	From string `json:"happened_from,omitempty"` // between when it happened, if that was told
	To   string `json:"happened_to,omitempty"`
	at   int64
}

func whereCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "where CODE|NOUN...", Short: "Tell where a thing is, and where it was", GroupID: "report",
		Long: `Tells where a piece, a bag, a part, a hole or a loan is now, and everything that
was ever said about it. It is named by the code on its label or by its noun:
"bag B2KCZ6EE", "joint front-cover", "hole front-cover:18", "part head",
"loan crank-pin", or a size. Exit status 4 if no job has met it.`,
		Example: `  countback where B2KCZ6EE
  countback where hole front-cover:18
  countback where "M8x1.25x45"
  countback where part head --job 4K7`,
		Args:              arguments(cobra.MinimumNArgs(1)),
		ValidArgsFunction: cobra.NoFileCompletions,
	}
	job := cmd.Flags().String("job", "", "look in this job only")
	completeFlag(cmd, "job", completeJobs)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		s, b, err := openBooks(cmd)
		if err != nil {
			return err
		}
		jobs := b.Jobs()
		if *job != "" {
			id, _, err := b.find(*job)
			if err != nil {
				return err
			}
			jobs = []events.Job{id}
		}
		r := whereReport{Noun: strings.Join(args, " "), Found: []whereLine{}}
		for _, id := range jobs {
			j, _ := b.Job(id)
			if at := j.Where(r.Noun); at.Known {
				r.Found = append(r.Found, newWhereLine(id, j, at))
			}
		}
		if len(r.Found) == 0 {
			var met []*engine.Job
			for _, id := range jobs {
				if j, ok := b.Job(id); ok {
					met = append(met, j)
				}
			}
			return unknown("no job has met %s%s; name it as its label does, or as in: countback where --help", r.Noun, nearNoun(met, r.Noun))
		}
		return write(cmd, s, r)
	}
	return cmd
}

func newWhereLine(id events.Job, j *engine.Job, at engine.Whereabouts) whereLine {
	l := whereLine{
		Job: string(id), Noun: at.Noun, Now: append([]string{}, at.Now...), Seen: stamp(at.Seen),
		Name: at.Name, Sources: sources(j.State(), at.Sources), History: []eventLine{}, head: title(id, j), seen: at.Seen,
	}
	for _, h := range at.History {
		l.History = append(l.History, newEventLine(h))
	}
	if h := at.Hole; h != nil {
		l.Hole = &whereHole{Wants: texts(h.Wants), Now: h.Now, Became: h.Became, Window: h.Window,
			Stages: h.Stages, Of: h.Of, Under: append([]string{}, h.Under...), Next: texts(h.Next)}
	}
	return l
}

func newEventLine(h engine.HistoryLine) eventLine {
	return eventLine{ID: factID(h.Fact), Time: stamp(h.Time), Who: h.Who, Text: h.Text, From: stamp(h.From), To: stamp(h.To), at: h.Time}
}

// texts is a list of ids as plain texts.
func texts[T ~string](list []T) []string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = string(s)
	}
	return out
}

func joined[T ~string](list []T) string { return strings.Join(texts(list), ", ") }

func factID(id events.FactID) string { return fmt.Sprintf("%s-%d", id.Terminal, id.N) }

func (r whereReport) text(w io.Writer) {
	for i, l := range r.Found {
		if i > 0 {
			fmt.Fprintln(w)
		}
		fmt.Fprintf(w, "%s. %s\n", l.head, upper(l.Name))
		for _, n := range l.Now {
			fmt.Fprintf(w, "  now      %s\n", n)
		}
		for _, f := range l.Sources {
			fmt.Fprintf(w, "  has some %s\n", strings.TrimSpace(fmt.Sprintf("%s: %d %s %s", f.at, f.Qty, f.Kind, f.Cond)))
		}
		if l.Hole != nil {
			l.Hole.text(w)
		}
		if l.seen != 0 {
			fmt.Fprintf(w, "  seen     %s\n", when(l.seen))
		}
		for _, h := range l.History {
			h.text(w)
		}
	}
}

func (h *whereHole) text(w io.Writer) {
	fmt.Fprintf(w, "  wants    %s\n", strings.Join(h.Wants, ", "))
	fmt.Fprintf(w, "  has      %s\n", h.Now)
	for _, row := range []struct{ name, text string }{
		{"became", h.Became}, {"fits", h.Window}, {"holds", strings.Join(h.Under, ", ")}, {"filled by", strings.Join(h.Next, ", ")},
	} {
		if row.text != "" {
			fmt.Fprintf(w, "  %-8s %s\n", row.name, row.text)
		}
	}
	if h.Of > 0 {
		fmt.Fprintf(w, "  stages   %d of %d\n", h.Stages, h.Of)
	}
}

func (l eventLine) text(w io.Writer) {
	fmt.Fprintf(w, "  %-17s  %-12s  %s\n", when(l.at), l.Who, l.Text)
}
