package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/projections/engine"
)

type handoverReport struct {
	Job    string         `json:"job"`
	From   string         `json:"from"` // of the last hand-over; empty: there was none
	To     string         `json:"to"`
	Time   string         `json:"time"`
	Note   string         `json:"note"`
	Items  []handoverItem `json:"items"`  // what the next person takes over now
	Second []handoverGate `json:"second"` // second counts that were owed
	Next   []string       `json:"next"`   // steps that can start, the first ones
	head   string
}

type handoverItem struct {
	About   string `json:"about"`
	Text    string `json:"text"`
	Next    string `json:"next"`
	Restart bool   `json:"restart"` // a stage that other hands begin anew
	With    string `json:"with"`    // not taken over: it stays with this person
}

type handoverGate struct {
	Step   string `json:"step"`
	By     string `json:"by"` // empty: nobody counted
	Agreed bool   `json:"agreed"`
	Alone  bool   `json:"alone"`  // one person, by a fresh count after a gap of hours
	Passed bool   `json:"passed"` // counted, or let pass
}

// nextUp is how many steps a hand-over names as the next ones.
const nextUp = 5

func handoverCommand() *cobra.Command {
	return &cobra.Command{
		Use: "handover JOB", Short: "Write the hand-over sheet: what the next person takes over", GroupID: "report",
		Long: `Lists what is begun, joints that are not tightened to the end and stages that were
broken off, clocks that run, what is in the engine and does not belong there,
shorts, open bags, broken fasteners, holds and findings, what is away, second
counts, and what can be done next. What was not accepted at the last hand-over
stays with the one who handed over.`,
		Example:           "  countback handover 4K7\n  countback handover 4K7 --json",
		Args:              arguments(cobra.ExactArgs(1)),
		ValidArgsFunction: completeJobThen(nil),
		RunE: aboutJob(func(cmd *cobra.Command, s settings, id events.Job, j *engine.Job, _ []string) error {
			return write(cmd, s, newHandoverReport(id, j))
		}),
	}
}

func newHandoverReport(id events.Job, j *engine.Job) handoverReport {
	r := handoverReport{Job: string(id), head: title(id, j), Items: []handoverItem{}, Second: []handoverGate{}, Next: []string{}}
	if from, e, fact, ok := j.State().LastHandOver(); ok {
		r.From, r.To, r.Note = string(from), string(e.To), e.Note
		if f := j.State().Fact(fact); f != nil {
			r.Time = stamp(f.At)
		}
	}
	for _, i := range j.HandOver() {
		r.Items = append(r.Items, handoverItem{i.About, i.Text, i.Next, i.Restart, string(i.With)})
	}
	for _, g := range j.State().Gates() {
		if !g.Owed {
			continue
		}
		line := handoverGate{Step: string(g.Step), Passed: g.Passed}
		if g.Check != nil {
			line.By, line.Agreed, line.Alone = string(g.Check.Second), g.Check.Agreed, g.Check.Alone
		}
		r.Second = append(r.Second, line)
	}
	for _, n := range j.NextUp(nextUp) {
		r.Next = append(r.Next, n.Name)
	}
	return r
}

func (r handoverReport) text(w io.Writer) {
	fmt.Fprintf(w, "%s. Hand-over: %s open.\n", r.head, many(len(r.Items), "thing", "things"))
	if r.To != "" {
		fmt.Fprintf(w, "Last handed over by %s to %s on %s", r.From, r.To, r.Time)
		if r.Note != "" {
			fmt.Fprintf(w, ": %s", r.Note)
		}
		fmt.Fprintln(w)
	}
	about := ""
	for _, i := range r.Items {
		if i.About != about {
			fmt.Fprintf(w, "\n%s:\n", upper(i.About))
			about = i.About
		}
		text := i.Text
		if i.With != "" {
			text += " (stays with " + i.With + ")"
		}
		fmt.Fprintf(w, "  [ ] %s\n", engine.Blocker{Text: text, Clear: i.Next})
	}
	if len(r.Second) > 0 {
		fmt.Fprint(w, "\nSecond counts:\n")
	}
	for _, g := range r.Second {
		state := "not counted yet"
		switch {
		case g.By != "" && !g.Agreed:
			state = "counted by " + g.By + ", and it differs"
		case g.Alone:
			state = "counted again by " + g.By + " alone, after a gap"
		case g.By != "":
			state = "counted by " + g.By
		case g.Passed:
			state = "let pass without a count"
		}
		fmt.Fprintf(w, "  %-20s %s\n", g.Step, state)
	}
	if len(r.Next) > 0 {
		fmt.Fprint(w, "\nWhat can be done next:\n")
	}
	for _, n := range r.Next {
		fmt.Fprintf(w, "  %s\n", n)
	}
	fmt.Fprint(w, "\nTaken over, spoken at the engine: ______________________\n")
}
