package main

import (
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/kiosk"
	"countback/labels/page"
	"countback/labels/sheet"
	"countback/projections/engine"
)

func labelCoresCommand() *cobra.Command {
	var f labelFlags
	cmd := &cobra.Command{
		Use: "cores JOB", Short: "The sheet that goes with old parts to who sold the new ones",
		Long: `Draws the old parts that go back, by supplier: the deposit, the day by which each
has to be there, what must be with it, whether it must stay whole, and what keeps
it from going; with a column to count into and lines to sign on.`,
		Example: "  countback label cores 4K7 --to cores.pdf\n  countback label cores 4K7 --supplier fjord --printer office",
		Args:    arguments(cobra.ExactArgs(1)), ValidArgsFunction: completeJobThen(nil),
	}
	f.addSheet(cmd)
	supplier := cmd.Flags().String("supplier", "", "what goes to this supplier only")
	completeFlag(cmd, "supplier", cobra.NoFileCompletions)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		return f.sheetOf(cmd, args[0], func(w labelWords, set sheet.Settings) (page.Document, error) {
			t, err := w.cores(*supplier)
			if err != nil {
				return page.Document{}, err
			}
			return t.Draw(set)
		})
	}
	return cmd
}

func labelOwnerCommand() *cobra.Command {
	var f labelFlags
	cmd := &cobra.Command{
		Use: "owner JOB", Short: "The sheet of the owner's property",
		Long: `Draws what the owner brought, with how much of it is fitted, used up, given back
and here, and what the owner wants to see or have of what is replaced; with a
column to count into and lines for the owner to sign on.`,
		Example: "  countback label owner 4K7 --to owner.pdf",
		Args:    arguments(cobra.ExactArgs(1)), ValidArgsFunction: completeJobThen(nil),
	}
	f.addSheet(cmd)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		return f.sheetOf(cmd, args[0], func(w labelWords, set sheet.Settings) (page.Document, error) {
			t, err := w.owners()
			if err != nil {
				return page.Document{}, err
			}
			return t.Draw(set)
		})
	}
	return cmd
}

// tally is an empty sheet about the job.
func (w labelWords) tally(kind, name string) (sheet.Tally, error) {
	card, err := w.card()
	return sheet.Tally{Kind: kind, Code: card, Job: string(w.id), Engine: w.st.Opened.Engine, Name: name,
		Date: time.UnixMicro(w.j.LatestAt()), Training: w.b.training}, err
}

// cores lists the old parts that go back, those of one supplier together.
func (w labelWords) cores(only string) (sheet.Tally, error) {
	t, err := w.tally("CORES GOING BACK", "Old parts that go back")
	if err != nil {
		return t, err
	}
	t.Count, t.Back = "pieces", "received, count"
	t.Sign = []string{"sent by, date", "received by, date", "credited, date"}
	var sums []engine.Money
	for _, v := range w.j.Cores() {
		if only != "" && !strings.EqualFold(v.Supplier, only) {
			continue
		}
		head := "To " + or(v.Supplier, "whoever sold the new one")
		at := len(t.Groups) - 1
		for i := range t.Groups {
			if t.Groups[i].Name == head {
				at = i
			}
		}
		if at < 0 || t.Groups[at].Name != head {
			t.Groups, at = append(t.Groups, sheet.TallyPart{Name: head}), len(t.Groups)
		}
		t.Groups[at].Lines = append(t.Groups[at].Lines, sheet.SlipLine{What: upper(v.Name), Count: w.partPieces(v.Part), Note: w.coreNote(&v)})
		for _, with := range v.With {
			t.Groups[at].Lines = append(t.Groups[at].Lines, sheet.SlipLine{What: "with it: " + w.part(with), Count: w.partPieces(with), Level: 1})
		}
		if v.Open() && v.Deposit > 0 {
			sums = add(sums, v.Deposit, v.Currency)
		}
	}
	if len(t.Groups) == 0 && only != "" {
		return t, unknown("no old part of job %s goes back to %s; see: countback cores %s", w.id, only, w.id)
	}
	if len(t.Groups) == 0 {
		return t, unknown("no old part of job %s goes back; say at a terminal: a part, a supplier, CORE", w.id)
	}
	for _, s := range sums {
		t.Notes = append(t.Notes, "deposits not credited yet: "+s.String())
	}
	return t, nil
}

// add sums amounts of each currency.
func add(sums []engine.Money, amount int64, currency string) []engine.Money {
	for i := range sums {
		if sums[i].Currency == currency {
			sums[i].Amount += amount
			return sums
		}
	}
	return append(sums, engine.Money{Amount: amount, Currency: currency})
}

// partPieces is how many pieces a part has.
func (w labelWords) partPieces(id events.Part) int {
	if ix, ok := w.p.Part(id); ok {
		return max(1, w.p.Parts[ix].Count)
	}
	return 1
}

// coreNote is the deposit, the day, the terms, and what is wrong.
func (w labelWords) coreNote(v *engine.CoreView) string {
	var list []string
	if v.Deposit > 0 {
		list = append(list, "deposit "+engine.Money{Amount: v.Deposit, Currency: v.Currency}.String())
	}
	if v.Due.Valid() {
		list = append(list, "back by "+v.Due.Words())
	}
	if v.Whole {
		list = append(list, "DO NOT STRIP")
	}
	switch {
	case v.Credited != 0:
		list = append(list, "credited "+engine.Money{Amount: v.Credit.Credit, Currency: v.Credit.Currency}.String())
	case v.Sent != 0:
		at, who := w.by(v.Sent)
		list = append(list, strings.TrimSpace("sent "+at.Format("2 Jan 2006")+" "+who))
	case v.Void != 0:
		list = append(list, "CREDIT VOID: "+v.VoidBy+" came off")
	}
	return strings.Join(append(list, v.Lacks...), "; ")
}

// owners is the owner's property: what was brought, and what is wanted of what
// comes off.
func (w labelWords) owners() (sheet.Tally, error) {
	o := w.j.Owner()
	t, err := w.tally("OWNER'S PROPERTY", or(o.Name, "The owner's things"))
	if err != nil {
		return t, err
	}
	if len(o.Items)+len(o.Wishes) == 0 {
		return t, unknown("the owner of job %s brought nothing and wants nothing; say at a terminal: a place, a part, OWNER BROUGHT", w.id)
	}
	t.Count, t.Back = "brought", "given back"
	t.Sign = []string{"for the shop, date", "the owner, date"}
	brought := sheet.TallyPart{Name: "Brought", None: "nothing"}
	here := 0
	for i := range o.Items {
		it := &o.Items[i]
		brought.Lines = append(brought.Lines, sheet.SlipLine{What: upper(it.Name), Count: it.In, Note: ownerNote(it)})
		here += it.Here
	}
	t.Groups = []sheet.TallyPart{brought}
	wants := sheet.HandOverPart{Name: "Old parts"}
	for i := range o.Wishes {
		wants.Lines = append(wants.Lines, upper(kiosk.OwnerWishText(&o.Wishes[i])))
	}
	if len(wants.Lines) > 0 {
		t.Lists = []sheet.HandOverPart{wants}
	}
	t.Notes = []string{many(here, "piece", "pieces") + " here and not fitted"}
	return t, nil
}

// ownerNote is the balance of one kind: what went where of what was brought.
func ownerNote(it *engine.OwnerItem) string {
	list := []string{time.UnixMicro(it.Since).UTC().Format("2 Jan 2006")}
	switch it.Sealed {
	case events.SealWhole:
		list = append(list, "sealed")
	case events.SealOpen:
		list = append(list, "OPENED when it came: not under this shop's warranty")
	}
	for _, n := range []struct {
		n    int
		what string
	}{{it.Fitted, "fitted"}, {it.Consumed, "used up"}, {it.Out, "given back"}} {
		if n.n > 0 {
			list = append(list, fmt.Sprintf("%d %s", n.n, n.what))
		}
	}
	if it.Here > 0 {
		list = append(list, fmt.Sprintf("%d here in %s", it.Here, strings.Join(it.Places, ", ")))
	}
	return strings.Join(list, "; ")
}
