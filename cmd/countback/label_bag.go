package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/labels"
	"countback/labels/code"
	"countback/projections/engine"
	"countback/projections/ledger"
	"countback/projections/plan"
)

func labelBagCommand() *cobra.Command {
	var f labelFlags
	cmd := &cobra.Command{
		Use: "bag CODE", Short: "The label of a bag, with what is in it by the book",
		Long: `Draws the label of a bag: its code, the joint in words, what is in it, which
holes the sizes go into, its condition, what goes back with it, and who counted
it. With --again it is a reprint: the label says so, and the job's history keeps
it with the reason. Where the print queue prints the labels of this terminal, it
prints the reprint too; see: countback print --help`,
		Example: `  countback label bag BHTTG2Z5 --to front-cover.png
  countback label bag BHTTG2Z5 --printer bench --size 50x30
  countback label bag BHTTG2Z5 --again --why "label torn"`,
		Args: arguments(cobra.ExactArgs(1)), ValidArgsFunction: completeBags,
	}
	f.addLabel(cmd)
	again := cmd.Flags().Bool("again", false, "print it once more, on the record")
	why := cmd.Flags().String("why", "", "reason of --again")
	completeFlag(cmd, "why", cobra.NoFileCompletions)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if *why != "" && !*again {
			return usage("--why is the reason of --again")
		}
		s, b, err := openBooks(cmd)
		if err != nil {
			return err
		}
		w, c, err := b.bagWords(args[0])
		if err != nil {
			return err
		}
		if *again {
			return f.again(cmd, s, w, c, *why)
		}
		p, err := f.target(s)
		if err != nil {
			return err
		}
		d, err := f.labels(p, []labels.Label{w.bag(c, w.reprints(c))})
		if err != nil {
			return err
		}
		return f.deliver(cmd, s, d)
	}
	return cmd
}

// bag is the label of a bag as the book has it now.
func (w labelWords) bag(c code.Code, reprint int) labels.Bag {
	b, _ := w.st.Bag(events.Code(c))
	l := labels.Bag{Code: c, Job: string(w.id), Engine: w.st.Opened.Engine, Reprint: reprint, Training: w.b.training}
	lines := w.st.At(b.Place())
	l.Condition = w.condition(b, lines)
	l.Lines = w.lines(b, lines)
	if b.Part != "" {
		l.Joint = w.part(b.Part)
	}
	if b.Joint != "" {
		l.Joint = w.joint(b.Joint)
		w.aboutJoint(&l, b.Joint)
	}
	if len(lines) == 0 {
		l.End = "EMPTY by the book"
	}
	l.Bag, l.Of = w.which(b)
	l.Before, l.After = w.neighbours(b)
	account, _ := w.st.Book().Lookup(b.Place())
	last := b.Since
	if n := w.st.Book().LastCount(account); n.Fact != 0 {
		last = n.Fact
	}
	l.Date, l.Initials = w.by(last)
	return l
}

// lines are the pieces in a bag by kind, in the order of their first hole, with
// the holes of each where sizes differ.
func (w labelWords) lines(b *engine.Bag, at []events.Line) []labels.Line {
	at = slices.Clone(at)
	order := w.kindsOf(b.Joint)
	place := func(k events.Kind) int {
		if i := slices.Index(order, k); i >= 0 {
			return i
		}
		return len(order)
	}
	slices.SortStableFunc(at, func(a, b events.Line) int { return place(a.Kind) - place(b.Kind) })
	var list []labels.Line
	var kinds []events.Kind
	for _, l := range at {
		if i := slices.Index(kinds, l.Kind); i >= 0 {
			list[i].Count += l.Qty
			continue
		}
		kinds = append(kinds, l.Kind)
		list = append(list, labels.Line{Spec: w.kind(l.Kind), Count: l.Qty})
	}
	short := w.shortOf(b)
	holes, several := w.holesOf(b.Joint)
	for i, k := range kinds {
		if n := short[k]; n > 0 {
			list[i].Expected = list[i].Count + n
		}
		if several {
			list[i].Holes = holes[k]
		}
	}
	return list
}

// shortOf is how many pieces of each kind a count of this bag showed to be
// missing, and still are.
func (w labelWords) shortOf(b *engine.Bag) map[events.Kind]int {
	short := map[events.Kind]int{}
	for _, d := range w.j.Differences() {
		if d.Sign != ledger.Short || len(d.Facts) == 0 {
			continue
		}
		ev, _ := w.j.Standing(d.Facts[0])
		to := events.Place("")
		switch e := ev.(type) {
		case events.PiecesOut:
			to = e.To
		case events.PartRemoved:
			to = e.To
		case events.Counted:
			to = e.Place
		case events.BagClosed:
			to = events.Place("bag/" + string(e.Bag))
		}
		if to == b.Place() {
			short[d.Kind] += d.Qty
		}
	}
	return short
}

// holesOf are the holes of a joint by the kind that comes out of them; several
// says whether there is more than one size of what is turned.
func (w labelWords) holesOf(joint events.Joint) (holes map[events.Kind][]string, several bool) {
	holes = map[events.Kind][]string{}
	ix, ok := w.p.Joint(joint)
	if !ok {
		return holes, false
	}
	main := map[events.Kind]bool{}
	for _, s := range w.p.Joints[ix].Seats {
		seat := &w.p.Seats[s]
		if w.st.Now().Seat(s) == plan.SeatAbsent {
			continue
		}
		if k := comesOut(seat); k != "" {
			main[k] = true
		}
		for _, m := range seat.Members {
			if !m.Stays {
				holes[m.Kind] = append(holes[m.Kind], w.p.HoleName(ix, s))
			}
		}
	}
	return holes, len(main) > 1
}

// comesOut is the piece that is turned out of a hole, else the first one that
// comes out of it; empty if none does.
func comesOut(s *plan.Seat) events.Kind {
	if m, ok := s.Turned(); ok && !m.Stays {
		return m.Kind
	}
	for _, m := range s.Members {
		if !m.Stays && m.Role == plan.RoleNut {
			return m.Kind
		}
	}
	for _, m := range s.Members {
		if !m.Stays {
			return m.Kind
		}
	}
	return ""
}

// which says which bag of how many of its joint or part this is, among those
// that are in use; 0 if it is the only one.
func (w labelWords) which(b *engine.Bag) (n, of int) {
	for _, o := range w.st.Bags() {
		if o.Joint == b.Joint && o.Part == b.Part && (o.Retired == 0 || o == b) {
			if of++; o == b {
				n = of
			}
		}
	}
	if of < 2 {
		return 0, 0
	}
	return n, of
}

// neighbours are the bags before and after this one in the order in which they
// were filled.
func (w labelWords) neighbours(b *engine.Bag) (before, after string) {
	name := func(o *engine.Bag) string {
		what := w.part(o.Part)
		if o.Joint != "" {
			what = w.joint(o.Joint)
		}
		return strings.TrimSpace(string(o.Code) + " " + what)
	}
	list := w.st.Bags()
	for i, o := range list {
		if o != b {
			continue
		}
		if i > 0 {
			before = name(list[i-1])
		}
		if i+1 < len(list) {
			after = name(list[i+1])
		}
	}
	return before, after
}

func completeBags(cmd *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	b := completeBooks(cmd)
	if b == nil || len(args) > 0 {
		return nil, noFiles
	}
	var list []string
	for _, id := range b.Jobs() {
		j, _ := b.Job(id)
		w := b.words(id, j)
		for _, bag := range j.State().Bags() {
			list = append(list, fmt.Sprintf("%s\t%s", bag.Code, w.joint(bag.Joint)))
		}
	}
	return list, noFiles
}
