package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"countback/kiosk/scan"
)

type sentencesReport struct {
	Sentences []sentenceLine `json:"sentences"` // where two match, the first one stands
}

type sentenceLine struct {
	Subject string   `json:"subject"` // nouns in their order; ? one or none, * any number, + at least one
	Verb    string   `json:"verb"`    // empty: the numbers are the verb
	Asks    []string `json:"asks"`    // what is asked after the verb
	Nature  string   `json:"nature"`  // tell, ask, query, screen
	Source  string   `json:"source"`  // the noun that pieces come from
	Event   string   `json:"event"`   // stored name
	Does    string   `json:"does"`
	Example string   `json:"example"`
}

var natureWords = map[scan.Nature]string{scan.Tell: "tell", scan.AskFor: "ask", scan.Query: "query", scan.Self: "screen"}

func sentencesCommand() *cobra.Command {
	return &cobra.Command{
		Use: "sentences", Short: "Print every sentence that can be scanned", GroupID: "keep",
		Long: `Prints the table of sentences: nouns first, then a verb or numbers. A tell reports
what a hand has done and is always stored; an ask wants leave and may be refused;
a query stores nothing. In a subject ? means one or none, * any number, + at
least one.`,
		Example: "  countback sentences\n  countback sentences --json",
		Args:    arguments(cobra.NoArgs),
		RunE: func(cmd *cobra.Command, _ []string) error {
			s, err := readSettings(cmd)
			if err != nil {
				return err
			}
			r := sentencesReport{Sentences: []sentenceLine{}}
			for _, row := range scan.Sentences {
				l := sentenceLine{
					Subject: row.Subject, Verb: string(row.Verb), Asks: []string{}, Nature: natureWords[row.Nature],
					Source: row.Source, Event: row.Event, Does: row.Does, Example: row.Try,
				}
				for _, a := range row.Asks {
					l.Asks = append(l.Asks, a.Prompt)
				}
				r.Sentences = append(r.Sentences, l)
			}
			return write(cmd, s, r)
		},
	}
}

func (r sentencesReport) text(w io.Writer) {
	for i, l := range r.Sentences {
		if i > 0 {
			fmt.Fprintln(w)
		}
		verb := l.Verb
		if verb == "" {
			verb = "numbers"
		}
		fmt.Fprintln(w, strings.TrimSpace(l.Subject+"  "+verb))
		for _, row := range []struct{ name, text string }{
			{"does", l.Does}, {"asks", strings.Join(l.Asks, "; ")}, {"from", l.Source}, {"stores", l.Event}, {"scan", l.Example},
		} {
			if row.text != "" {
				fmt.Fprintf(w, "    %-7s %s\n", row.name, row.text)
			}
		}
	}
}
