package main

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"countback/labels/page"
	"countback/labels/sheet"
	"countback/projections/engine"
)

func labelScopeCommand() *cobra.Command {
	var f labelFlags
	var sf scopeFlags
	cmd := &cobra.Command{
		Use: "scope JOB PART|STEP...", Short: "The sheet of what must come off after all",
		Long: `Draws what it takes for something to come off after all: the ways beside each
other, then what to do, what to buy and what to do again, each with a box to tick,
and lines for who decides and why.`,
		Example: "  countback label scope 4K7 cam-intake --to scope.pdf\n  countback label scope 4K7 head --after cover-on --printer office",
		Args:    arguments(cobra.MinimumNArgs(2)), ValidArgsFunction: completeScope,
	}
	f.addSheet(cmd)
	sf.add(cmd)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		return f.sheetOf(cmd, args[0], func(w labelWords, set sheet.Settings) (page.Document, error) {
			r, err := sf.report(w.id, w.j, args[1:])
			if err != nil {
				return page.Document{}, err
			}
			if len(r.Ways) == 0 {
				return page.Document{}, &failure{statusNo, errOff(r.Name)}
			}
			return w.scope(r, set)
		})
	}
	return cmd
}

func (w labelWords) scope(r scopeReport, set sheet.Settings) (page.Document, error) {
	card, err := w.card()
	if err != nil {
		return page.Document{}, err
	}
	const most = 5
	heads, compared := r.heads(), r.compared
	if n := len(heads); n > most { // the least, the cheapest others, and the last one set against it
		heads = append(heads[:most-1:most-1], heads[n-1])
		compared = append(compared[:most-1:most-1], compared[n-1])
	}
	out := sheet.Scope{Code: card, Job: string(w.id), Engine: w.st.Opened.Engine, Name: upper(r.Name) + ": must come off",
		Heads: heads, Date: time.UnixMicro(w.j.LatestAt()), Training: w.b.training}
	if d := w.st.ScopeChosen(r.Goal); d != nil {
		out.Notes = append(out.Notes, w.st.Tells(d.ScopeDecided)+", "+string(d.By))
	}
	for _, row := range engine.WayRows(compared, r.today) {
		out.Rows = append(out.Rows, sheet.ScopeRow{What: row.What, Cells: row.Cells})
	}
	one := &r.Ways[0]
	var buy, slips []string
	for _, u := range one.Uses {
		if u.Buy > 0 {
			buy = append(buy, many(u.Buy, u.Name, u.Name)+", "+eachWords(u.Each, one.Money.Currency))
		}
	}
	for _, sl := range one.Slips {
		slips = append(slips, sl.Text)
	}
	out.Parts = []sheet.HandOverPart{{Name: "Way 1, there", Lines: stepNames(one.Steps)}, {Name: "To buy for it", Lines: buy},
		{Name: "To be done again", Lines: stepNames(one.Again)}, {Name: "Back", Lines: stepNames(one.Back)}}
	for i := range r.Ways {
		w := &r.Ways[i]
		if i > 0 && (w.Goal == r.Name && len(w.After) == 0 || len(w.Risks) == 0) {
			continue // another way to the same has the same risks, or more
		}
		part := sheet.HandOverPart{Name: fmt.Sprintf("Risks of way %d", w.No)}
		for _, x := range w.Risks {
			part.Lines = append(part.Lines, x.Text)
		}
		out.Parts = append(out.Parts, part)
	}
	if len(slips) > 0 {
		out.Parts = append(out.Parts, sheet.HandOverPart{Name: "Slips", Lines: slips})
	}
	return out.Draw(set)
}

func stepNames(list []scopeStep) []string {
	var names []string
	for _, s := range list {
		names = append(names, s.Name)
	}
	return names
}
