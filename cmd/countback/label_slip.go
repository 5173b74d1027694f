package main

import (
	"time"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/labels/code"
	"countback/labels/page"
	"countback/labels/sheet"
	"countback/projections/engine"
	"countback/projections/ledger"
)

func labelHandoverCommand() *cobra.Command {
	var f labelFlags
	cmd := &cobra.Command{
		Use: "handover JOB", Short: "The sheet of a shift change: what is begun, open, short, next",
		Long: `Draws the sheet for whoever takes over: what is begun, what is in and not tight,
every difference, what stands open, and what can be done next, each with a box
to tick.`,
		Example: "  countback label handover 4K7 --to handover.pdf",
		Args:    arguments(cobra.ExactArgs(1)), ValidArgsFunction: completeJobThen(nil),
	}
	f.addSheet(cmd)
	from := cmd.Flags().String("from", "", "who hands over")
	to := cmd.Flags().String("to-whom", "", "who takes over (default: a line to write on)")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		return f.sheetOf(cmd, args[0], func(w labelWords, set sheet.Settings) (page.Document, error) {
			card, err := w.card()
			if err != nil {
				return page.Document{}, err
			}
			return sheet.HandOver{Code: card, Job: string(w.id), Engine: w.st.Opened.Engine, From: or(*from, w.lastHand()), To: *to,
				Date: time.UnixMicro(w.j.LatestAt()), Parts: handOverParts(w.j), Training: w.b.training}.Draw(set)
		})
	}
	return cmd
}

// lastHand is who told the last fact under a name.
func (w labelWords) lastHand() string {
	facts := w.j.Facts()
	for i := len(facts) - 1; i >= 0; i-- {
		if facts[i].Operator != "" {
			return string(facts[i].Operator)
		}
	}
	return ""
}

func labelSlipCommand() *cobra.Command {
	var f labelFlags
	cmd := &cobra.Command{
		Use: "slip CODE", Short: "The sheet that goes to another shop with parts",
		Long: `Draws the slip of parts that were sent out: what went, with everything that was
still in it, and a column to count into when it is back.`,
		Example: "  countback label slip SHTBR6K7 --to slip.pdf",
		Args:    arguments(cobra.ExactArgs(1)), ValidArgsFunction: cobra.NoFileCompletions,
	}
	f.addSheet(cmd)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		c, err := code.Parse(args[0])
		if err != nil {
			return unknown("%w", err)
		}
		if c.Type() != code.Slip {
			return usage("%s is the code of a %s, not of a slip", c, c.Type())
		}
		return f.sheetOf(cmd, string(c), func(w labelWords, set sheet.Settings) (page.Document, error) {
			sl, err := w.slip(c)
			if err != nil {
				return page.Document{}, err
			}
			return sl.Draw(set)
		})
	}
	return cmd
}

// slip is what was sent out: as it went, by the fact that sent it.
func (w labelWords) slip(c code.Code) (sheet.Slip, error) {
	var found *engine.Slip
	for _, s := range w.st.Slips() {
		if s.Code == events.Code(c) {
			found = s
		}
	}
	if found == nil {
		return sheet.Slip{}, unknown("no job has sent anything out with slip %s", c)
	}
	out := sheet.Slip{Code: c, Job: string(w.id), Engine: w.st.Opened.Engine, To: found.Shop, Work: found.Scope, Training: w.b.training}
	out.Sent, _ = w.by(found.Since)
	if v, ok := w.j.SlipNow(found.Code); ok && v.Promised.Valid() {
		out.Due = time.UnixMicro(v.Promised.Start()).UTC()
	}
	if found.Limits != "" {
		out.Notes = append(out.Notes, found.Limits)
	}
	then := w.before(found.Since)
	for _, p := range found.Parts {
		out.Lines = append(out.Lines, sheet.SlipLine{What: w.part(p), Count: 1})
		for _, l := range then.Contents(p) {
			out.Lines = append(out.Lines, sheet.SlipLine{What: w.kind(l.Kind), Count: l.Qty, Level: 1})
		}
	}
	return out, nil
}

// before is the job as it stood after a fact.
func (w labelWords) before(f ledger.Fact) *engine.State {
	facts := w.j.Facts()
	last := w.st.Fact(f)
	n := 0
	for n < len(facts) && !last.Before(&facts[n]) {
		n++
	}
	var then engine.Job
	then.Load(facts[:n])
	return then.State()
}
