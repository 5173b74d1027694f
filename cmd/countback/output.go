package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"text/tabwriter"

	"github.com/spf13/cobra"
)

// report is an answer that can be written in both ways. Its JSON form is part
// of what the program promises: members are added, never renamed or given
// another meaning.
type report interface {
	// text writes the answer for people.
	text(w io.Writer)
}

// write writes a report as the settings ask.
func write(cmd *cobra.Command, s settings, r report) error {
	var b bytes.Buffer
	if s.JSON {
		e := json.NewEncoder(&b)
		e.SetEscapeHTML(false)
		e.SetIndent("", "  ")
		if err := e.Encode(r); err != nil {
			return fmt.Errorf("write report: %w", err)
		}
	} else {
		r.text(&b)
	}
	if _, err := cmd.OutOrStdout().Write(b.Bytes()); err != nil {
		return fmt.Errorf("write report: %w", err)
	}
	return nil
}

// table lines up columns; row takes as many values as there are columns.
type table struct{ w *tabwriter.Writer }

func newTable(w io.Writer) table {
	return table{tabwriter.NewWriter(w, 0, 8, 2, ' ', 0)}
}

func (t table) row(cells ...any) {
	for i, c := range cells {
		if i > 0 {
			fmt.Fprint(t.w, "\t")
		}
		fmt.Fprint(t.w, c)
	}
	fmt.Fprintln(t.w)
}

func (t table) end() { _ = t.w.Flush() }

// many writes a number with its noun: "1 bolt", "3 bolts".
func many(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, more)
}
