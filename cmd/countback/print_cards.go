package main

import (
	"github.com/spf13/cobra"

	"countback/kiosk/scan"
	"countback/labels/code"
	"countback/labels/page"
	"countback/labels/sheet"
)

func printCardsCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "cards FILE.pdf", Short: "The cards of the wall: verbs, answers, numbers",
		Long: `Makes the cards that hang on the wall. They are the same in every shop and for
ever, so that they are printed once.`,
		Example:           "  countback print cards cards.pdf\n  countback print cards cards.pdf --paper Letter",
		Args:              arguments(cobra.ExactArgs(1)),
		ValidArgsFunction: cobra.NoFileCompletions,
	}
	paper := addPaper(cmd.Flags())
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		s, err := readSettings(cmd)
		if err != nil {
			return err
		}
		set, err := sheetSettings(*paper)
		if err != nil {
			return err
		}
		d, err := sheet.Cards{Groups: cardGroups(), Columns: 3, Rows: 7}.Draw(set)
		if err != nil {
			return err
		}
		return saveDocument(cmd, s, args[0], "", d)
	}
	return cmd
}

// cardGroups are the cards by what they are for. Each group has a shape.
func cardGroups() []sheet.Group {
	words := func(name string, shape page.Shape, list []scan.Word) sheet.Group {
		g := sheet.Group{Name: name}
		for _, w := range list {
			if c, ok := w.Card(); ok {
				g.Cards = append(g.Cards, sheet.Card{Word: string(w), Shape: shape, Code: c})
			}
		}
		return g
	}
	numbers := sheet.Group{Name: "Numbers"}
	for n := range code.MaxWholeNumber + 1 {
		if c, ok := code.WholeNumber(n); ok {
			numbers.Cards = append(numbers.Cards, sheet.Card{Word: itoa(n), Shape: page.ShapeOf(2), Code: c})
		}
	}
	return []sheet.Group{
		words("Verbs", page.ShapeOf(0), scan.Verbs()),
		words("Answers", page.ShapeOf(1), scan.Answers()),
		numbers,
	}
}
