package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"countback/labels/page"
	"countback/labels/sheet"
	"countback/labels/symbol"
)

func printCommand() *cobra.Command {
	return group(&cobra.Command{
		Use: "print", Short: "Make PDF files of cards, labels and job sheets", GroupID: "work",
		Long: `Makes PDF files for an office printer. Every symbol in them was read back by a
decoder of its own before the file is written. Print at full size: fitting to
the page makes the bars uneven.`,
		Example: "  countback print cards cards.pdf\n  countback print labels bags.pdf --terminal bench-1\n  countback print job J1 job.pdf",
	}, printCardsCommand(), printLabelsCommand(), printJobCommand())
}

type printReport struct {
	File  string `json:"file"`
	Pages int    `json:"pages"`
	Codes int    `json:"codes"` // that were drawn and read back
	next  string
}

func (r printReport) text(w io.Writer) {
	fmt.Fprintf(w, "%s: %s, %s drawn and read back.\n", r.File, many(r.Pages, "page", "pages"), many(r.Codes, "code", "codes"))
	if r.next != "" {
		fmt.Fprintln(w, r.next)
	}
}

// addPaper declares the paper that a sheet is made for.
func addPaper(flags *pflag.FlagSet) *string {
	return flags.String("paper", "A4", "A4 or Letter")
}

// sheetSettings are those of an office printer.
func sheetSettings(paper string) (sheet.Settings, error) {
	p, err := sheet.PaperOf(paper)
	if err != nil {
		return sheet.Settings{}, usage("%w", err)
	}
	return sheet.Settings{Paper: p, DPI: symbol.DPI600}, nil
}

// saveDocument writes a document to a new file.
func saveDocument(cmd *cobra.Command, s settings, file, next string, d page.Document) error {
	pdf, err := d.PDF()
	if err != nil {
		return fmt.Errorf("print: %w", err)
	}
	err = newFile(file, func(w io.Writer) error {
		_, err := w.Write(pdf)
		return err
	})
	if err != nil {
		return err
	}
	return write(cmd, s, printReport{File: file, Pages: d.Pages(), Codes: len(d.Codes()), next: next})
}
