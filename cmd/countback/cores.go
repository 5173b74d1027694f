package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/kiosk"
	"countback/projections/engine"
)

type coresReport struct {
	Job   string    `json:"job"`
	Cores []coreRow `json:"cores"` // in the order in which their terms were agreed
	head  string
}

// Amounts are in the smallest unit of the currency: cents.
type coreRow struct {
	Part        string         `json:"part"`
	Name        string         `json:"name"`
	Supplier    string         `json:"supplier"`
	Deposit     int64          `json:"deposit"`
	Currency    string         `json:"currency"`
	Due         string         `json:"due"`      // a day; empty: none was said
	DaysLeft    int            `json:"daysleft"` // below zero: past
	With        []string       `json:"with"`     // parts that must be with it
	Whole       bool           `json:"whole"`    // it must not be taken apart
	Lacks       []string       `json:"lacks"`    // what keeps it from going back for the whole deposit
	Void        string         `json:"void"`     // since when the credit is void; empty: it is not
	VoidBy      string         `json:"voidby"`
	Sent        string         `json:"sent"`
	Credited    string         `json:"credited"` // when
	Credit      int64          `json:"credit"`
	Deductions  []deductionRow `json:"deductions"`
	Unexplained int64          `json:"unexplained"` // of the deposit neither paid back nor taken off with a reason
	text        string
}

type deductionRow struct {
	Amount int64  `json:"amount"`
	Why    string `json:"why"`
}

func coresCommand() *cobra.Command {
	return &cobra.Command{
		Use: "cores JOB", Short: "List old parts that go back to who sold the new ones", GroupID: "report",
		Long: `Gives every core of a job: to whom it goes back, the deposit, the days left, what
must be with it, whether it must stay whole, when it was sent, what was credited and
what was taken off. Exit status 1 if the day is past, the credit is void, something
that must be with it is not, or money is missing without a reason.`,
		Example:           "  countback cores 4K7\n  countback cores 4K7 --json",
		Args:              arguments(cobra.ExactArgs(1)),
		ValidArgsFunction: completeJobThen(nil),
		RunE: aboutJob(func(cmd *cobra.Command, s settings, id events.Job, j *engine.Job, _ []string) error {
			r := coresReport{Job: string(id), head: title(id, j), Cores: []coreRow{}}
			look := false
			for _, v := range j.Cores() {
				r.Cores = append(r.Cores, newCoreRow(j.State(), &v))
				look = look || v.Unexplained != 0 || v.Open() && (v.Void != 0 || len(v.Lacks) > 0 || v.Sent == 0 && v.Due.Valid() && v.DaysLeft < 0)
			}
			if err := write(cmd, s, r); err != nil {
				return err
			}
			if look {
				return no()
			}
			return nil
		}),
	}
}

func newCoreRow(st *engine.State, v *engine.CoreView) coreRow {
	r := coreRow{Part: string(v.Part), Name: v.Name, Supplier: v.Supplier, Deposit: v.Deposit, Currency: v.Currency, Due: string(v.Due), DaysLeft: v.DaysLeft,
		With: texts(v.With), Whole: v.Whole, Lacks: append([]string{}, v.Lacks...), VoidBy: v.VoidBy, Credit: v.Credit.Credit,
		Deductions: []deductionRow{}, Unexplained: v.Unexplained, text: kiosk.CoreText(v)}
	for _, at := range []struct {
		text *string
		rec  *events.Record
	}{{&r.Void, st.Fact(v.Void)}, {&r.Sent, st.Fact(v.Sent)}, {&r.Credited, st.Fact(v.Credited)}} {
		if at.rec != nil {
			*at.text = stamp(at.rec.At)
		}
	}
	for _, d := range v.Credit.Off {
		r.Deductions = append(r.Deductions, deductionRow{d.Amount, d.Why})
	}
	return r
}

func (r coresReport) text(w io.Writer) {
	if len(r.Cores) == 0 {
		fmt.Fprintf(w, "%s. No old part goes back.\n", r.head)
		return
	}
	fmt.Fprintf(w, "%s. Old parts that go back:\n", r.head)
	for _, c := range r.Cores {
		fmt.Fprintf(w, "  %s\n", c.text)
	}
}
