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
)

func labelBuyCommand() *cobra.Command {
	var f labelFlags
	cmd := &cobra.Command{
		Use: "buy JOB", Short: "The buy list as a sheet to tick",
		Long: `Draws what has to come from outside, by supplier: each line with a box to tick,
why it is there, which steps wait for it, and by when it is needed and has to be
ordered. What is on order has a dot in place of the box.`,
		Example: "  countback label buy 4K7 --to buy.pdf\n  countback label buy 4K7 --printer office",
		Args:    arguments(cobra.ExactArgs(1)), ValidArgsFunction: completeJobThen(nil),
	}
	f.addSheet(cmd)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		return f.sheetOf(cmd, args[0], func(w labelWords, set sheet.Settings) (page.Document, error) { return w.buy(set) })
	}
	return cmd
}

func (w labelWords) buy(set sheet.Settings) (page.Document, error) {
	card, err := w.card()
	if err != nil {
		return page.Document{}, err
	}
	list := w.j.Buy()
	out := sheet.Buy{Code: card, Job: string(w.id), Engine: w.st.Opened.Engine, Date: time.UnixMicro(w.j.LatestAt()), Training: w.b.training}
	buy, ordered := 0, 0
	for _, g := range list.Groups {
		part := sheet.BuyPart{Name: kiosk.BuyHead(g, list.Today)}
		for _, l := range g.Lines {
			buy += l.Buy
			ordered += l.Ordered
			part.Lines = append(part.Lines, w.buyRow(newBuyLine(l, list.Today), list.Today))
		}
		out.Groups = append(out.Groups, part)
	}
	out.Notes = []string{many(buy, "piece", "pieces") + fmt.Sprintf(" to buy, %d on order, seen from %s", ordered, list.Today.Words())}
	return out.Draw(set)
}

func (w labelWords) buyRow(l buyLine, today events.Day) sheet.BuyRow {
	row := sheet.BuyRow{What: fmt.Sprintf("%d %s%s", l.Buy, l.Name, inKit(l.Kit)), Done: l.Buy == 0}
	if l.Ordered > 0 {
		row.What += fmt.Sprintf("; %d on order, here %s", l.Ordered, l.Coming)
	}
	var why []string
	for _, c := range l.Causes {
		why = append(why, fmt.Sprintf("%d %s", c.Qty, c.Why))
	}
	row.Notes = append(row.Notes, strings.Join(append(why, l.Maybe...), "; "))
	if len(l.Steps) > 0 {
		var names []string
		for _, s := range l.Steps {
			if ix, ok := w.p.Step(events.Step(s)); ok {
				names = append(names, w.p.Steps[ix].Name)
			}
		}
		row.Notes = append(row.Notes, "for "+strings.Join(names, ", ")+byWhen(l, today))
	}
	return row
}
