package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/kiosk"
	"countback/projections/engine"
)

type ordersReport struct {
	Job    string     `json:"job"`
	Orders []orderRow `json:"orders"` // oldest first
	Kits   []kitRow   `json:"kits"`   // that were opened, oldest first
	head   string
	today  events.Day
}

type orderRow struct {
	Order    string         `json:"order"`
	Supplier string         `json:"supplier"`
	State    string         `json:"state"` // ordered, part received, received, closed
	Why      string         `json:"why"`   // it was closed
	Due      int            `json:"due"`   // pieces still to come
	Lines    []orderLineRow `json:"lines"`
	Promises []promiseRow   `json:"promises"` // every word that was given, oldest first
	told     *engine.Order
}

type orderLineRow struct {
	Kind     string `json:"kind"`
	Name     string `json:"name"`
	Ordered  int    `json:"ordered"` // 0: it came though nobody had ordered it
	Received int    `json:"received"`
	Returned int    `json:"returned"`
	Short    int    `json:"short"` // delivered short: they come no more
	Due      int    `json:"due"`
	Promised string `json:"promised"` // the last word; empty: nobody said
}

type promiseRow struct {
	Told string `json:"told"` // when it was said
	Kind string `json:"kind"` // one line of the order; empty: all of it
	Day  string `json:"day"`  // empty: it was taken back
	text string
}

type kitRow struct {
	Kit   string       `json:"kit"`
	Lot   string       `json:"lot"`
	Again bool         `json:"again"` // the same kit was opened before
	Short int          `json:"short"` // pieces that it lacks for this engine
	Extra int          `json:"extra"` // pieces that will be left over
	Lines []kitLineRow `json:"lines"`
}

type kitLineRow struct {
	Kind    string `json:"kind"`
	Name    string `json:"name"`
	Listed  int    `json:"listed"`  // by the plan; 0: it is not on the list
	Surplus int    `json:"surplus"` // of these not for this engine
	Counted int    `json:"counted"`
}

func ordersCommand() *cobra.Command {
	return &cobra.Command{
		Use: "orders JOB [ORDER]", Short: "List what was ordered and what came of it", GroupID: "report",
		Long: `Lists the orders of a job: ordered, received, sent back, and when the rest was
promised, with every word that was given; then the kits that were opened, with
what they lacked and what will be left over of them. With ORDER it tells about
that one only. Exit status 1 if something was promised for a day that is past.`,
		Example:           "  countback orders 4K7\n  countback orders 4K7 o12-b2\n  countback orders 4K7 --json",
		Args:              arguments(cobra.RangeArgs(1, 2)),
		ValidArgsFunction: completeJobThen(completeOrders),
		RunE: aboutJob(func(cmd *cobra.Command, s settings, id events.Job, j *engine.Job, rest []string) error {
			r := ordersReport{Job: string(id), head: title(id, j), today: j.Today(), Orders: []orderRow{}, Kits: []kitRow{}}
			overdue := false
			for _, o := range j.State().Orders() {
				if len(rest) == 1 && o.ID != rest[0] {
					continue
				}
				row, late := newOrderRow(j, o, r.today)
				overdue = overdue || late
				r.Orders = append(r.Orders, row)
			}
			if len(rest) == 1 && len(r.Orders) == 0 {
				return unknown("job %s has no order %s%s; see all with: countback orders %s", id, rest[0], nearest(rest[0], orderNames(j)), id)
			}
			if len(rest) == 0 {
				for _, k := range j.State().Kits() {
					r.Kits = append(r.Kits, newKitRow(j, k))
				}
			}
			if err := write(cmd, s, r); err != nil {
				return err
			}
			if overdue {
				return no()
			}
			return nil
		}),
	}
}

func completeOrders(j *engine.Job) []string {
	var list []string
	for _, o := range j.State().Orders() {
		list = append(list, o.ID+"\t"+o.Supplier)
	}
	return list
}

func newOrderRow(j *engine.Job, o *engine.Order, today events.Day) (row orderRow, late bool) {
	s := j.State()
	row = orderRow{Order: o.ID, Supplier: o.Supplier, State: o.State(), Why: o.Why, Due: o.Due(), Lines: []orderLineRow{}, Promises: []promiseRow{}, told: o}
	for i := range o.Lines {
		l := &o.Lines[i]
		out := orderLineRow{Kind: string(l.Kind), Name: s.KindWords(l.Kind), Ordered: l.Ordered, Received: l.Received, Returned: l.Returned, Short: l.Short, Due: l.Due(), Promised: string(l.Promised)}
		if o.Closed != 0 {
			out.Due = 0
		}
		late = late || out.Due > 0 && l.Promised.Valid() && l.Promised < today
		row.Lines = append(row.Lines, out)
	}
	for _, p := range s.Promises("order " + o.ID) {
		told := ""
		if r := s.Fact(p.Fact); r != nil {
			told = stamp(r.At)
		}
		row.Promises = append(row.Promises, promiseRow{told, string(p.Kind), string(p.Day), s.Tells(p.Promised)})
	}
	return row, late
}

func newKitRow(j *engine.Job, k *engine.KitCount) kitRow {
	row := kitRow{Kit: k.Kit, Lot: string(k.Lot), Again: k.Again, Lines: []kitLineRow{}}
	for i := range k.Lines {
		l := &k.Lines[i]
		row.Short += l.Short()
		row.Extra += l.Extra()
		row.Lines = append(row.Lines, kitLineRow{string(l.Kind), j.State().KindWords(l.Kind), l.Listed, l.Surplus, l.Counted})
	}
	return row
}

func (r ordersReport) text(w io.Writer) {
	if len(r.Orders)+len(r.Kits) == 0 {
		fmt.Fprintf(w, "%s. Nothing was ordered.\n", r.head)
		return
	}
	due := 0
	for _, o := range r.Orders {
		due += o.Due
	}
	fmt.Fprintf(w, "%s. %s, %s to come.\n", r.head, many(len(r.Orders), "order", "orders"), many(due, "piece", "pieces"))
	for _, o := range r.Orders {
		fmt.Fprintf(w, "\n%s\n", upper(kiosk.OrderHead(o.told)))
		for i, l := range o.Lines {
			fmt.Fprintf(w, "  %s\n", kiosk.OrderText(l.Name, &o.told.Lines[i], r.today))
		}
		for _, p := range o.Promises {
			fmt.Fprintf(w, "      said %s: %s\n", p.Told, p.text)
		}
	}
	for _, k := range r.Kits {
		again := ""
		if k.Again {
			again = ", opened before"
		}
		fmt.Fprintf(w, "\nKit %s, lot %s%s: %d short, %d will be left over\n", k.Kit, k.Lot, again, k.Short, k.Extra)
		for _, l := range k.Lines {
			if l.Counted != l.Listed {
				fmt.Fprintf(w, "  %d of %d %s\n", l.Counted, l.Listed, l.Name)
			}
		}
	}
}

// orderNames are the names of a job's orders.
func orderNames(j *engine.Job) (list []string) {
	for _, o := range j.State().Orders() {
		list = append(list, o.ID)
	}
	return list
}
