package main

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/kiosk/scan"
	"countback/labels/code"
	"countback/projections/engine"
)

type codesReport struct {
	Job   string     `json:"job"`
	Codes []codeLine `json:"codes"` // by noun
	Cards []cardLine `json:"cards"` // of the wall; the same in every shop
	head  string
}

type codeLine struct {
	Code string `json:"code"`
	Noun string `json:"noun"`
	Void bool   `json:"void"` // taken out of use
}

type cardLine struct {
	Code string `json:"code"`
	Word string `json:"word"`
	Kind string `json:"kind"` // verb, answer, number
}

func codesCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "codes [JOB]", Short: "List the codes of a job, and the cards of the wall", GroupID: "work",
		Long: `Lists the code of every label that a job has been given, with the noun that it
is on, and the codes of the cards on the wall: verbs, answers, and the whole
numbers from 0 to 40. Without JOB it lists the cards only. A scanned code and a
typed one are the same, and so is a noun or a word typed in full.`,
		Example:           "  countback codes\n  countback codes 4K7\n  countback codes 4K7 --json",
		Args:              arguments(cobra.MaximumNArgs(1)),
		ValidArgsFunction: completeJobThen(nil),
	}
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if len(args) == 0 {
			s, err := readSettings(cmd)
			if err != nil {
				return err
			}
			return write(cmd, s, codesReport{Codes: []codeLine{}, Cards: wallCards()})
		}
		return aboutJob(func(cmd *cobra.Command, s settings, id events.Job, j *engine.Job, _ []string) error {
			return write(cmd, s, codesReport{Job: string(id), Codes: codesOf(j), Cards: wallCards(), head: title(id, j)})
		})(cmd, args)
	}
	return cmd
}

// codesOf lists the labels of a job by their nouns.
func codesOf(j *engine.Job) []codeLine {
	void := map[events.Code]bool{}
	noun := containersOf(j.State())
	for i := range j.Facts() {
		switch e := j.Facts()[i].Event.(type) {
		case events.TagsIssued:
			for _, t := range e.Tags {
				noun[t.Code] = t.Noun
			}
		case events.PiecesOut:
			nameContainer(noun, e.To, string(e.Joint))
		case events.PartRemoved:
			nameContainer(noun, e.To, string(e.Part))
		case events.TagVoided:
			void[e.Code] = true
		}
	}
	list := []codeLine{}
	for c, n := range noun {
		list = append(list, codeLine{string(c), n, void[c]})
	}
	slices.SortFunc(list, func(a, b codeLine) int {
		return strings.Compare(a.Noun+"\x00"+a.Code, b.Noun+"\x00"+b.Code)
	})
	return list
}

// nameContainer names a bag or a rack by what first went into it.
func nameContainer(noun map[events.Code]string, place events.Place, of string) {
	what, c, _ := strings.Cut(string(place), "/")
	if of != "" && (what == "bag" || what == "rack") && (noun[events.Code(c)] == "" || noun[events.Code(c)] == what) {
		noun[events.Code(c)] = what + " of " + of
	}
}

// containersOf names the labels that were used up on what holds pieces.
func containersOf(s *engine.State) map[events.Code]string {
	noun := map[events.Code]string{}
	for _, b := range s.Bags() {
		noun[b.Code] = "bag"
		nameContainer(noun, b.Place(), string(b.Joint)+string(b.Part))
	}
	for _, c := range s.Cases() {
		noun[c.Code] = "case of hole " + string(c.Joint) + ":" + string(c.Hole)
	}
	for _, sl := range s.Slips() {
		noun[sl.Code] = "slip of " + joined(sl.Parts)
	}
	return noun
}

func wallCards() []cardLine {
	list := []cardLine{}
	add := func(kind string, words []scan.Word) {
		for _, w := range words {
			if c, ok := w.Card(); ok {
				list = append(list, cardLine{string(c), string(w), kind})
			}
		}
	}
	add("verb", scan.Verbs())
	add("answer", scan.Answers())
	for n := range code.MaxWholeNumber + 1 {
		if c, ok := code.WholeNumber(n); ok {
			list = append(list, cardLine{string(c), itoa(n), "number"})
		}
	}
	return list
}

func (r codesReport) text(w io.Writer) {
	if r.Job != "" {
		fmt.Fprintf(w, "%s\n", r.head)
		t := newTable(w)
		for _, l := range r.Codes {
			void := ""
			if l.Void {
				void = "out of use"
			}
			t.row("  "+l.Code, l.Noun, void)
		}
		t.end()
	}
	for _, kind := range []string{"verb", "answer", "number"} {
		fmt.Fprintf(w, "Cards of the wall: %ss\n", kind)
		column := 0
		for _, c := range r.Cards {
			if c.Kind != kind {
				continue
			}
			fmt.Fprintf(w, "  %s  %-20s", c.Code, c.Word)
			if column++; column%3 == 0 {
				fmt.Fprintln(w)
			}
		}
		if column%3 != 0 {
			fmt.Fprintln(w)
		}
	}
}

func itoa(n int) string { return strconv.Itoa(n) }
