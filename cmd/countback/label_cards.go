package main

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/kiosk/panel"
	"countback/kiosk/scan"
	"countback/labels/code"
	"countback/labels/page"
	"countback/labels/sheet"
	"countback/projections/engine"
	"countback/projections/fastener"
)

func labelCardsCommand() *cobra.Command {
	var f labelFlags
	cmd := &cobra.Command{
		Use: "cards", Short: "The cards of the wall: verbs, answers, reasons, numbers, sizes",
		Long: `Draws the cards that hang on the wall. Verbs, answers, reasons and the whole
numbers from 0 to 40 are the same in every shop and for ever; with --job the
sizes of an engine come too: threads and lengths.`,
		Example: "  countback label cards --to cards.pdf\n  countback label cards --job 4K7 --paper Letter --printer office",
		Args:    arguments(cobra.NoArgs),
	}
	f.addSheet(cmd)
	job := cmd.Flags().String("job", "", "with the sizes of this job's engine")
	completeFlag(cmd, "job", completeJobs)
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		if *job != "" {
			return f.sheetOf(cmd, *job, func(w labelWords, set sheet.Settings) (page.Document, error) {
				return drawCards(set, append(wallGroups(), w.sizeCards()...))
			})
		}
		s, err := readSettings(cmd)
		if err != nil {
			return err
		}
		return f.drawTo(cmd, s, func(set sheet.Settings) (page.Document, error) { return drawCards(set, wallGroups()) })
	}
	return cmd
}

// drawCards draws three cards in a row, or two where the dots of the printer
// are so coarse that three have no room.
func drawCards(set sheet.Settings, groups []sheet.Group) (page.Document, error) {
	d, err := sheet.Cards{Groups: groups, Columns: 3}.Draw(set)
	if err != nil {
		if d, narrow := (sheet.Cards{Groups: groups, Columns: 2}).Draw(set); narrow == nil {
			return d, nil
		}
	}
	return d, err
}

// wallGroups are the cards by what they are for; each group has a shape of its
// own, so that a card in the wrong place is seen.
func wallGroups() []sheet.Group {
	words := func(name, hint string, shape page.Shape, list []scan.Word) sheet.Group {
		g := sheet.Group{Name: name}
		for _, w := range list {
			if c, ok := w.Card(); ok {
				g.Cards = append(g.Cards, sheet.Card{Word: string(w), Hint: hint, Shape: shape, Code: c})
			}
		}
		return g
	}
	verbs := words("Verbs", "", page.ShapeOf(0), scan.Verbs())
	for i := range verbs.Cards {
		verbs.Cards[i].Hint = doesOf(scan.Word(verbs.Cards[i].Word))
	}
	var answers, reasons []scan.Word
	for _, w := range scan.Answers() {
		if reasonWords()[w] {
			reasons = append(reasons, w)
		} else {
			answers = append(answers, w)
		}
	}
	numbers := sheet.Group{Name: "Numbers"}
	for n := range code.MaxWholeNumber + 1 {
		if c, ok := code.WholeNumber(n); ok {
			numbers.Cards = append(numbers.Cards, sheet.Card{Word: itoa(n), Shape: page.ShapeOf(2), Code: c})
		}
	}
	groups := []sheet.Group{verbs, words("Answers", "answer", page.ShapeOf(1), answers),
		words("Reasons", "reason", page.ShapeOf(3), reasons), numbers}
	return slices.DeleteFunc(groups, func(g sheet.Group) bool { return len(g.Cards) == 0 })
}

// doesOf is what a verb does: with a bag, where it can be said of one.
func doesOf(w scan.Word) string {
	does := ""
	for _, s := range scan.Sentences {
		ofBag := strings.HasPrefix(s.Subject, "container") || strings.HasPrefix(s.Subject, "bag")
		switch {
		case s.Verb != w:
		case ofBag:
			return s.Does
		case does == "":
			does = s.Does
		}
	}
	return does
}

// reasonWords are the words that answer "why?".
func reasonWords() map[scan.Word]bool {
	words := map[scan.Word]bool{}
	for _, s := range scan.Sentences {
		for _, a := range s.Asks {
			if a.Key == "why" {
				for _, w := range a.Words {
					words[w] = true
				}
			}
		}
	}
	return words
}

// sizeCards are the sizes of an engine, threads and lengths as they are read
// off a fastener.
func (w labelWords) sizeCards() []sheet.Group {
	g := sheet.Group{Name: fmt.Sprintf("Sizes of job %s, %s", w.id, w.st.Opened.Engine)}
	for i := range w.p.Seats {
		for _, m := range w.p.Seats[i].Members {
			c, ok := w.code("size " + string(m.Kind))
			if !ok || slices.ContainsFunc(g.Cards, func(o sheet.Card) bool { return o.Code == c }) {
				continue
			}
			size, rest := sizeWords(m.Kind)
			g.Cards = append(g.Cards, sheet.Card{Word: size, Hint: rest, Shape: page.ShapeOf(4), Code: c})
		}
	}
	slices.SortStableFunc(g.Cards, func(a, b sheet.Card) int { return compareSizes(a.Word, b.Word) })
	if len(g.Cards) == 0 {
		return nil
	}
	return []sheet.Group{g}
}

// sizeWords are what is read off a fastener, thread and length, and the rest of
// its spec.
func sizeWords(k events.Kind) (size, rest string) {
	sp, err := fastener.Parse(string(k))
	if err != nil || !sp.Thread.Known() {
		return string(k), ""
	}
	size = sp.Size()
	return size, strings.TrimSpace(strings.TrimPrefix(string(k), size))
}

// compareSizes orders sizes as people look for them: by their numbers, one
// after the other.
func compareSizes(a, b string) int {
	x, y := numbersIn(a), numbersIn(b)
	if c := slices.Compare(x, y); c != 0 {
		return c
	}
	return strings.Compare(a, b)
}

var aNumber = regexp.MustCompile(`[0-9]+(\.[0-9]+)?`)

func numbersIn(text string) []float64 {
	var list []float64
	for _, n := range aNumber.FindAllString(text, -1) {
		f, _ := strconv.ParseFloat(n, 64) // digits only
		list = append(list, f)
	}
	return list
}

// handOverParts are the lists of a hand-over, each with the shape of what it
// is about.
func handOverParts(j *engine.Job) []sheet.HandOverPart {
	var list []sheet.HandOverPart
	for _, g := range panel.OfHandOver(j).Groups {
		p := sheet.HandOverPart{Name: g.Head}
		for _, r := range g.Rows {
			line := r.Text
			if r.More != "" {
				line += ": " + r.More
			}
			p.Lines = append(p.Lines, line)
		}
		if len(p.Lines) > 0 {
			list = append(list, p)
		}
	}
	if len(list) == 0 {
		list = []sheet.HandOverPart{{Name: "Nothing is open", Lines: []string{"Seen by both"}}}
	}
	return list
}
