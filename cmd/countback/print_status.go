package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"countback/labels/spool"
)

// queueReport is how the print queue stands. It also lies in the queue's folder
// as status.json, for kiosks.
type queueReport struct {
	At       string         `json:"at"`       // RFC 3339: when it stood so
	Working  bool           `json:"working"`  // a program works the queue
	Cursor   uint64         `json:"cursor"`   // facts up to this one are in it
	Printers []queuePrinter `json:"printers"` // as in the settings
	Trouble  []string       `json:"trouble"`  // what keeps labels out of the queue
}

type queuePrinter struct {
	Name   string       `json:"name"`
	State  string       `json:"state"` // idle, printing, held, look at the printer, not set up
	Reason string       `json:"reason"`
	Since  string       `json:"since"`
	Open   []queueOrder `json:"open"` // that are not printed
}

type queueOrder struct {
	N     uint64 `json:"n"`
	Title string `json:"title"`
	State string `json:"state"`
	Why   string `json:"why"`
}

// status is how the queue stands now.
func (q *queue) status(working bool) queueReport {
	r := reportOf(q.spool)
	r.Working = working
	for _, u := range q.taker.undrawn {
		r.Trouble = append(r.Trouble, fmt.Sprintf("bag %s: %s", u.wanted.bag, u.why))
	}
	if q.taker.trouble != "" {
		r.Trouble = append(r.Trouble, q.taker.trouble)
	}
	return r
}

func reportOf(sp *spool.Spool) queueReport {
	r := queueReport{At: time.Now().UTC().Format(time.RFC3339), Printers: []queuePrinter{}, Trouble: []string{}}
	r.Cursor, _ = sp.Cursor()
	for _, q := range sp.Queues() {
		p := queuePrinter{Name: q.Printer, State: string(q.State), Reason: q.Reason, Open: []queueOrder{}}
		if !q.Since.IsZero() {
			p.Since = q.Since.UTC().Format(time.RFC3339)
		}
		for _, e := range q.Open {
			p.Open = append(p.Open, queueOrder{e.N, e.Title, string(e.State), e.Why})
		}
		r.Printers = append(r.Printers, p)
	}
	return r
}

func statusFile(s settings) string { return filepath.Join(s.queueDir(), "status.json") }

// save leaves the report where kiosks look.
func (r queueReport) save(s settings) error {
	data, err := json.MarshalIndent(r, "", "  ")
	if err != nil {
		return err
	}
	return replaceFile(statusFile(s), append(data, '\n'))
}

// savedStatus is the last report that a program at work left.
func savedStatus(s settings) (r queueReport, err error) {
	data, err := os.ReadFile(statusFile(s))
	if err != nil {
		return r, err
	}
	return r, json.Unmarshal(data, &r)
}

// printStatus says how the queue stands: from the program that works it, or
// from its folder.
func printStatus(cmd *cobra.Command, s settings) error {
	if _, err := os.Stat(s.queueDir()); errors.Is(err, os.ErrNotExist) {
		return unknown("there is no print queue in %s yet; begin with: countback print", s.queueDir())
	}
	q, err := openQueue(s)
	if errors.Is(err, spool.ErrInUse) {
		r, err := savedStatus(s)
		if err != nil {
			return storeError(fmt.Errorf("print queue: %w", err))
		}
		return r.report(cmd, s)
	}
	if err != nil {
		return err
	}
	r := q.status(false)
	if err := q.spool.Close(); err != nil {
		return storeError(err)
	}
	if saved, err := savedStatus(s); err == nil {
		r.remember(saved)
	}
	return r.report(cmd, s)
}

// remember takes over why printers held, and what was not drawn, when the
// queue was worked last: its folder keeps orders and no reasons.
func (r *queueReport) remember(saved queueReport) {
	for i := range r.Printers {
		p := &r.Printers[i]
		for _, o := range saved.Printers {
			if o.Name == p.Name && len(p.Open) > 0 && spool.QueueState(p.State) == spool.Idle {
				p.State, p.Reason, p.Since = o.State, o.Reason, o.Since
			}
		}
	}
	r.Trouble = append(r.Trouble, saved.Trouble...)
}

// report writes a report, and ends with no while anything needs a person.
func (r queueReport) report(cmd *cobra.Command, s settings) error {
	if err := write(cmd, s, r); err != nil {
		return err
	}
	if len(r.needs()) > 0 {
		return no()
	}
	return nil
}

// needs are the lines for a person: printers that hold or wait for an answer,
// and labels that were not drawn.
func (r queueReport) needs() []string {
	var list []string
	for _, p := range r.Printers {
		state := spool.QueueState(p.State)
		waits := many(len(p.Open), "label waits", "labels wait")
		switch {
		case len(p.Open) == 0:
		case state != spool.Idle && state != spool.Prints:
			list = append(list, fmt.Sprintf("Printer %s: %s, %s; %s", p.Name, p.State, waits, p.Reason))
		case !r.Working:
			list = append(list, fmt.Sprintf("Printer %s: %s, and nobody prints; start: countback print", p.Name, waits))
		}
	}
	return append(list, r.Trouble...)
}

func (r queueReport) text(w io.Writer) {
	working := "nobody works it"
	if r.Working {
		working = "a program works it"
	}
	fmt.Fprintf(w, "Print queue: %s; facts up to %d are in it.\n", working, r.Cursor)
	for _, p := range r.Printers {
		fmt.Fprintf(w, "%s: %s", p.Name, p.State)
		if p.Reason != "" {
			fmt.Fprintf(w, ": %s", p.Reason)
		}
		if p.Since != "" {
			fmt.Fprintf(w, " (since %s)", p.Since)
		}
		fmt.Fprintln(w)
		for _, o := range p.Open {
			fmt.Fprintf(w, "  %d  %s  %s", o.N, o.Title, o.State)
			if o.Why != "" {
				fmt.Fprintf(w, ": %s; after a look at the printer: countback print answer %d printed, or again", o.Why, o.N)
			}
			fmt.Fprintln(w)
		}
	}
	for _, t := range r.Trouble {
		fmt.Fprintf(w, "not drawn: %s\n", t)
	}
}
