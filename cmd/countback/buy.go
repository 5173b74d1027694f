package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/projections/engine"
)

type buyReport struct {
	Job    string     `json:"job"`
	Today  string     `json:"today"`
	Groups []buyGroup `json:"groups"` // by supplier, the one to be ordered from first is first
	head   string
	today  events.Day
}

type buyGroup struct {
	Supplier string    `json:"supplier"` // empty: nobody said who
	OrderBy  string    `json:"orderby"`  // the earliest of its lines; empty: not known
	Overdue  bool      `json:"overdue"`
	Lines    []buyLine `json:"lines"`
}

type buyLine struct {
	Kind     string     `json:"kind"`
	Name     string     `json:"name"`
	Need     int        `json:"need"`     // not here: ordered and buy together
	Ordered  int        `json:"ordered"`  // of need, on order or in an unopened kit
	Buy      int        `json:"buy"`      // of need, not on order
	Received int        `json:"received"` // of the kind, with all orders
	Returned int        `json:"returned"` // of the kind, sent back
	Causes   []buyCause `json:"causes"`   // why; they add up to need
	Maybe    []string   `json:"maybe"`    // what may make it less
	Steps    []string   `json:"steps"`    // that wait for it, in the order of the work
	NeededBy string     `json:"neededby"` // empty: no start is planned
	OrderBy  string     `json:"orderby"`
	Overdue  bool       `json:"overdue"`
	Coming   string     `json:"coming"` // when all that is ordered is here, in words
	Late     bool       `json:"late"`   // some of that comes later than its step is to start
	Days     int        `json:"days"`   // that the supplier takes; -1: not said
	Kit      string     `json:"kit"`    // the kit of the plan that has it
	coming   engine.When
}

type buyCause struct {
	Why string `json:"why"`
	Qty int    `json:"qty"`
}

func buyCommand() *cobra.Command {
	return &cobra.Command{
		Use: "buy JOB", Short: "List what has to come from outside, and by when to order it", GroupID: "report",
		Long: `Lists by supplier what the steps on need and is neither here nor on order: from
the moment at which a single-use piece is out, something broke, was condemned
or given up, or a kit came short. Each line says why it is there, by when it is
needed (the planned start of the first step that waits for it) and by when it
has to be ordered (that day less the supplier's lead time). Planned starts, lead
times, orders and promises are told at a bench: PLANNED, LEAD TIME, ORDERED,
PROMISED. Exit status 1 if anything is still to be bought.`,
		Example:           "  countback buy 4K7\n  countback buy 4K7 --json",
		Args:              arguments(cobra.ExactArgs(1)),
		ValidArgsFunction: completeJobThen(nil),
		RunE: aboutJob(func(cmd *cobra.Command, s settings, id events.Job, j *engine.Job, _ []string) error {
			list := j.Buy()
			r := buyReport{Job: string(id), Today: string(list.Today), today: list.Today, head: title(id, j), Groups: []buyGroup{}}
			open := false
			for _, g := range list.Groups {
				out := buyGroup{Supplier: g.Supplier, OrderBy: string(g.OrderBy), Overdue: g.Overdue, Lines: []buyLine{}}
				for _, l := range g.Lines {
					open = open || l.Buy > 0
					out.Lines = append(out.Lines, newBuyLine(l, list.Today))
				}
				r.Groups = append(r.Groups, out)
			}
			if err := write(cmd, s, r); err != nil {
				return err
			}
			if open {
				return no()
			}
			return nil
		}),
	}
}

func newBuyLine(l engine.BuyLine, today events.Day) buyLine {
	out := buyLine{
		Kind: string(l.Kind), Name: l.Name, Need: l.Need, Ordered: l.Ordered, Buy: l.Buy, Received: l.Received, Returned: l.Returned,
		Causes: []buyCause{}, Maybe: append([]string{}, l.Maybe...), Steps: texts(l.Steps), NeededBy: string(l.NeededBy),
		OrderBy: string(l.OrderBy), Overdue: l.Overdue, Late: l.Late, Days: l.Days, Kit: l.Kit, coming: l.Coming,
	}
	for _, c := range l.Causes {
		out.Causes = append(out.Causes, buyCause{c.Why, c.Qty})
	}
	if l.Ordered > 0 {
		out.Coming = l.Coming.Words(today)
	}
	return out
}

func (r buyReport) text(w io.Writer) {
	if len(r.Groups) == 0 {
		fmt.Fprintf(w, "%s. Nothing has to come from outside.\n", r.head)
		return
	}
	fmt.Fprintf(w, "%s. To come from outside, seen from %s:\n", r.head, r.today.Words())
	for _, g := range r.Groups {
		name := g.Supplier
		if name == "" {
			name = "Supplier not said"
		}
		switch {
		case g.Overdue:
			name += ": order it now, it was to be ordered by " + events.Day(g.OrderBy).Short(r.today)
		case g.OrderBy != "":
			name += ": order together by " + events.Day(g.OrderBy).Short(r.today)
		}
		fmt.Fprintf(w, "\n%s\n", name)
		for _, l := range g.Lines {
			l.text(w, r.today)
		}
	}
}

func (l buyLine) text(w io.Writer, today events.Day) {
	what := fmt.Sprintf("%4d to buy", l.Buy)
	if l.Buy == 0 {
		what = "   not yet "
	}
	if l.Buy == 0 && l.Ordered > 0 {
		what = fmt.Sprintf("%4d ordered", l.Ordered)
	}
	fmt.Fprintf(w, "%s  %s%s\n", what, l.Name, inKit(l.Kit))
	for _, c := range l.Causes {
		fmt.Fprintf(w, "             %d %s\n", c.Qty, c.Why)
	}
	for _, m := range l.Maybe {
		fmt.Fprintf(w, "             %s\n", m)
	}
	if l.Ordered > 0 {
		late := ""
		if l.Late {
			late = ": later than it is needed"
		}
		fmt.Fprintf(w, "             %d on order, here %s%s\n", l.Ordered, l.Coming, late)
	}
	if l.Received+l.Returned > 0 {
		fmt.Fprintf(w, "             %d received, %d sent back\n", l.Received, l.Returned)
	}
	if len(l.Steps) > 0 {
		fmt.Fprintf(w, "             blocks %s%s\n", strings.Join(l.Steps, ", "), byWhen(l, today))
	}
}

func inKit(kit string) string {
	if kit == "" {
		return ""
	}
	return " (kit " + kit + ")"
}

func byWhen(l buyLine, today events.Day) string {
	text := ""
	if l.NeededBy != "" {
		text += "; needed by " + events.Day(l.NeededBy).Short(today)
	}
	if l.OrderBy != "" {
		text += "; order by " + events.Day(l.OrderBy).Short(today)
	}
	if l.Overdue {
		text += ", overdue"
	}
	return text
}
