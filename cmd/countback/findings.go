package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/projections/engine"
	"countback/projections/ledger"
)

type findingsReport struct {
	Job      string        `json:"job"`
	Open     int           `json:"open"` // not decided, or not done
	Findings []findingLine `json:"findings"`
	head     string
}

type findingLine struct {
	Finding  string        `json:"finding"`
	On       string        `json:"on"`   // a noun: "part head"
	Name     string        `json:"name"` // the same in words
	What     string        `json:"what"`
	By       string        `json:"by"`
	Time     string        `json:"time"`
	State    string        `json:"state"`    // not decided, waits for the owner, to be repaired, to be replaced, to be sent out, done, used as it is
	Decision string        `json:"decision"` // use, repair, replace, send-out; empty: open
	Why      string        `json:"why"`
	Decider  string        `json:"decider"`
	Decided  string        `json:"decided"`
	Cost     int           `json:"cost"` // in whole units of the shop's money; 0: not said
	Shop     string        `json:"shop"`
	Asked    string        `json:"asked"`    // when the owner was asked
	Question string        `json:"question"` // what
	Answer   string        `json:"answer"`   // yes, no; empty: none
	Answered string        `json:"answered"` // when
	Said     string        `json:"said"`     // in his words
	Done     string        `json:"done"`
	Buy      []findingPart `json:"buy"`   // what has to come from outside
	Send     []string      `json:"send"`  // parts for a slip
	Holds    []string      `json:"holds"` // steps that it holds up
	Next     string        `json:"next"`
}

type findingPart struct {
	Kind string `json:"kind"`
	Qty  int    `json:"qty"`
}

func findingsCommand() *cobra.Command {
	return &cobra.Command{
		Use: "findings JOB", Short: "List what was found and what was decided; status 1 while something is open", GroupID: "report",
		Long: `Lists every finding with its decision, the owner's answer, and what it adds: work,
pieces to buy, parts for a slip, and the steps that it holds up. A finding is open
until it is decided, and until what the decision adds is done. Exit status 1
while any is open.`,
		Example:           "  countback findings 4K7\n  countback findings 4K7 --json",
		Args:              arguments(cobra.ExactArgs(1)),
		ValidArgsFunction: completeJobThen(nil),
		RunE: aboutJob(func(cmd *cobra.Command, s settings, id events.Job, j *engine.Job, _ []string) error {
			r := findingsReport{Job: string(id), head: title(id, j), Findings: []findingLine{}}
			for _, f := range j.FindingsNow() {
				if f.Next != "" {
					r.Open++
				}
				r.Findings = append(r.Findings, newFindingLine(j, f))
			}
			if err := write(cmd, s, r); err != nil {
				return err
			}
			if r.Open > 0 {
				return no()
			}
			return nil
		}),
	}
}

func newFindingLine(j *engine.Job, f engine.FindingNow) findingLine {
	s := j.State()
	at := func(n ledger.Fact) string {
		if r := s.Fact(n); r != nil {
			return stamp(r.At)
		}
		return ""
	}
	l := findingLine{
		Finding: f.ID, On: f.On, Name: s.NounWords(f.On), What: f.What, By: string(f.By), Time: at(f.Since), State: f.State,
		Decision: f.Decision, Why: f.Why, Decider: string(f.Decider), Decided: at(f.Decided), Cost: f.Cost, Shop: f.Shop,
		Asked: at(f.Asked), Question: f.Ask, Answer: f.Answer.String(), Answered: at(f.Told), Said: f.Said, Done: at(f.Done),
		Buy: []findingPart{}, Send: texts(f.Send), Holds: texts(f.Holds), Next: f.Next,
	}
	for _, b := range f.Buy {
		l.Buy = append(l.Buy, findingPart{string(b.Kind), b.Qty})
	}
	return l
}

func (r findingsReport) text(w io.Writer) {
	if len(r.Findings) == 0 {
		fmt.Fprintf(w, "%s. Nothing was found.\n", r.head)
		return
	}
	fmt.Fprintf(w, "%s. %s, %d open.\n", r.head, many(len(r.Findings), "finding", "findings"), r.Open)
	for _, l := range r.Findings {
		fmt.Fprintf(w, "\n%s  %s: %s (%s)\n", l.Finding, l.Name, l.What, l.State)
		l.text(w)
	}
}

func (l findingLine) text(w io.Writer) {
	say := func(format string, args ...any) { fmt.Fprintf(w, "      "+format+"\n", args...) }
	if l.By != "" {
		say("found by %s", l.By)
	}
	if l.Asked != "" {
		answer := "no answer yet"
		if l.Answer != "" {
			answer = "he said " + l.Answer + " on " + l.Answered
			if l.Said != "" {
				answer += ": " + l.Said
			}
		}
		say("owner asked: %s", strings.TrimSuffix(strings.TrimPrefix(l.Question+"; "+answer, "; "), "; "))
	}
	if l.Decision != "" {
		text := l.Decision
		if l.Shop != "" {
			text += " to " + l.Shop
		}
		if l.Why != "" {
			text += ": " + l.Why
		}
		say("decided by %s: %s", l.Decider, text)
	}
	if l.Cost > 0 {
		say("costs %d", l.Cost)
	}
	for _, b := range l.Buy {
		say("to buy: %d %s", b.Qty, b.Kind)
	}
	if len(l.Send) > 0 {
		say("slip: %s", strings.Join(l.Send, ", "))
	}
	if len(l.Holds) > 0 {
		say("holds: %s", strings.Join(l.Holds, ", "))
	}
	if l.Next != "" {
		say("-> %s", l.Next)
	}
}
