package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"countback/labels"
	"countback/labels/printer"
	"countback/labels/sheet"
	"countback/labels/symbol"
)

// What labels are printed on where nobody says otherwise.
const (
	labelSize  = "100x60" // mm
	labelDPI   = symbol.DPI203
	labelPaper = "A4"
	sheetDPI   = symbol.DPI600
)

func labelCommand() *cobra.Command {
	return group(&cobra.Command{
		Use: "label", Short: "Draw labels, sheets and cards, and print them", GroupID: "work",
		Long: `Draws labels and sheets from what the store knows, reads every code back with a
decoder of its own, and writes them to a file or a folder (--to) or sends them to
a printer (--printer). A label whose code cannot be read is refused, with what
would fit. Print sheets at full size: fitting to the page makes bars uneven.`,
		Example: `  countback label bag BHTTG2Z5 --to front-cover.png
  countback label bag BHTTG2Z5 --size 50x30 --dpi 300 --to out/
  countback label job 4K7 --to job.pdf
  countback label cards --paper Letter --printer office
  countback label roll --terminal bench-1 --count 50 --printer bench`,
	}, labelBagCommand(), labelJobCommand(), labelTagsCommand(), labelCardsCommand(),
		labelPositionsCommand(),
		labelRollCommand(), labelJointTagsCommand(), labelBlankCommand(), labelSlipCommand(), labelHandoverCommand(), labelScopeCommand(),
		labelBuyCommand(), labelTrayCommand(), labelToolsCommand(), labelCoresCommand(), labelOwnerCommand())
}

// labelFlags are what every label command can be told.
type labelFlags struct {
	size, dpi, paper, grid, offset, to, printer, format, symbols string
	module                                                       float64
	first                                                        int
}

// addOut declares where a document goes.
func (f *labelFlags) addOut(cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.StringVar(&f.to, "to", "", "file to write, or a folder")
	flags.StringVar(&f.printer, "printer", "", "printer of the settings to send it to; see: countback help printers")
	flags.StringVar(&f.format, "format", "", "png or pdf (default: by the file's name, else pdf)")
	flags.StringVar(&f.dpi, "dpi", "", "resolution of the printer: 203, 300 or 600")
	completeFlag(cmd, "printer", completePrinters)
	completeFlag(cmd, "format", cobra.FixedCompletions([]string{"png", "pdf"}, noFiles))
	completeFlag(cmd, "dpi", cobra.FixedCompletions([]string{"203", "300", "600"}, noFiles))
}

// addSheet declares what sheets of paper need.
func (f *labelFlags) addSheet(cmd *cobra.Command) {
	f.addOut(cmd)
	f.addPaper(cmd.Flags(), "paper of the sheet: A4 or Letter (default "+labelPaper+")")
	completeFlag(cmd, "paper", cobra.FixedCompletions([]string{"A4", "Letter"}, noFiles))
}

// addLabel declares what labels need: their size, or the paper that they lie on.
func (f *labelFlags) addLabel(cmd *cobra.Command) {
	f.addOut(cmd)
	flags := cmd.Flags()
	f.addPaper(flags, "put labels on sheets of A4 or Letter, not one behind the other")
	flags.StringVar(&f.size, "size", "", "width and height of a label in mm (default "+labelSize+")")
	flags.StringVar(&f.symbols, "symbols", "both", "which codes a label has: both, linear or matrix")
	flags.Float64Var(&f.module, "module", 0, "width of the narrowest bar in mm (default 0.25)")
	completeFlag(cmd, "symbols", cobra.FixedCompletions([]string{"both", "linear", "matrix"}, noFiles))
	flags.StringVar(&f.grid, "grid", "", "labels on a sheet: "+gridNames())
	flags.StringVar(&f.offset, "offset", "", "move everything on a sheet by mm to the right and down, e.g. 0.5x-1")
	flags.IntVar(&f.first, "used", 0, "labels of the first sheet that are used up")
	completeFlag(cmd, "paper", cobra.FixedCompletions([]string{"A4", "Letter"}, noFiles))
	completeFlag(cmd, "grid", cobra.FixedCompletions(strings.Split(gridNames(), ", "), noFiles))
}

func (f *labelFlags) addPaper(flags *pflag.FlagSet, text string) {
	flags.StringVar(&f.paper, "paper", "", text)
}

// labelGrids are the sheets of labels that are sold everywhere.
var labelGrids = []struct {
	name string
	grid sheet.Grid
}{{"a4-24", sheet.A4Grid24}, {"a4-10", sheet.A4Grid10}, {"letter-30", sheet.LetterGrid30},
	{"letter-10", sheet.Grid{Paper: sheet.Letter, Columns: 2, Rows: 5, WidthMm: 101.6, HeightMm: 50.8, LeftMm: 4, TopMm: 12.7, PitchXMm: 106.3}}}

func gridNames() string {
	var names []string
	for _, g := range labelGrids {
		names = append(names, g.name)
	}
	return strings.Join(names, ", ")
}

// sheetOfLabels is the grid that was asked for; ok is false if labels come one
// behind the other.
func (f *labelFlags) sheetOfLabels() (g sheet.Grid, ok bool, err error) {
	name := f.grid
	if name == "" && f.paper != "" {
		p, err := sheet.PaperOf(f.paper)
		if err != nil {
			return g, false, usage("%w", err)
		}
		if name = "a4-10"; p == sheet.Letter {
			name = "letter-10"
		}
	}
	if name == "" {
		if f.offset != "" || f.first != 0 {
			return g, false, usage("--offset and --used are about sheets of labels; name one with --paper or --grid")
		}
		return g, false, nil
	}
	if f.size != "" {
		return g, false, usage("labels on a sheet have the size of the sheet; leave out --size, or --paper and --grid")
	}
	for _, l := range labelGrids {
		if l.name == strings.ToLower(name) {
			g, ok = l.grid, true
		}
	}
	if !ok {
		return g, false, usage("there is no sheet of labels %q; there are: %s", name, gridNames())
	}
	if f.offset != "" {
		o, err := pairOf(f.offset)
		if err != nil {
			return g, false, usage("--offset %w", err)
		}
		g.OffsetXMm, g.OffsetYMm = o[0], o[1]
	}
	g.First = f.first
	if err := g.Check(); err != nil {
		return g, false, usage("%w", err)
	}
	return g, true, nil
}

// media is what one label is printed on.
func (f *labelFlags) media(p printerSetting) (labels.Media, error) {
	m, err := p.media()
	if err != nil {
		return m, err
	}
	if f.size != "" {
		size, err := pairOf(f.size)
		if err != nil {
			return m, usage("--size %w", err)
		}
		m.WidthMm, m.HeightMm = size[0], size[1]
	}
	if f.dpi != "" {
		if m.DPI, err = dpiOf(f.dpi); err != nil {
			return m, usage("--dpi: %w", err)
		}
	}
	if m.Symbols, err = labels.SymbolsOf(f.symbols); err != nil {
		return m, usage("--symbols: %w", err)
	}
	if m.LinearMm = f.module; f.module != 0 {
		m.MatrixMm = 1.5 * f.module
	}
	return m, nil
}

// sheet is how a sheet of paper is printed.
func (f *labelFlags) sheet(p printerSetting) (set sheet.Settings, err error) {
	if set.Paper, err = sheet.PaperOf(or(f.paper, or(p.Paper, labelPaper))); err != nil {
		return set, usage("%w", err)
	}
	set.DPI, set.Fonts = sheetDPI, p.fonts
	if p.DPI != 0 {
		set.DPI = p.DPI
	}
	if f.dpi != "" {
		if set.DPI, err = dpiOf(f.dpi); err != nil {
			return set, usage("--dpi: %w", err)
		}
	}
	return set, nil
}

// pairOf reads "100x60", also with a comma for a point.
func pairOf(text string) (pair [2]float64, err error) {
	a, b, ok := strings.Cut(strings.ToLower(strings.TrimSpace(text)), "x")
	for i, part := range []string{a, b} {
		n, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(part), ",", ".", 1), 64)
		if !ok || err != nil || n != n || n > 2000 || n < -2000 {
			return pair, fmt.Errorf("%q: want two numbers in mm, as in 100x60", text)
		}
		pair[i] = n
	}
	return pair, nil
}

func dpiOf(text string) (symbol.DPI, error) {
	switch text {
	case "203":
		return symbol.DPI203, nil
	case "300":
		return symbol.DPI300, nil
	case "600":
		return symbol.DPI600, nil
	}
	return 0, fmt.Errorf("%q dpi: want 203, 300 or 600", text)
}

func formatOf(text string) (printer.Format, error) {
	switch f := printer.Format(strings.ToLower(text)); f {
	case printer.PNG, printer.PDF:
		return f, nil
	}
	return "", fmt.Errorf("format %q: want png or pdf", text)
}

// formatFor is the format that was asked for, else the one of the file's name,
// else the printer's, else PDF.
func (f *labelFlags) formatFor(p printerSetting) (printer.Format, error) {
	ext := strings.TrimPrefix(strings.ToLower(filepath.Ext(f.to)), ".")
	if !isFile(f.to) {
		ext = ""
	}
	for _, text := range []string{f.format, ext, p.Format} {
		if text != "" {
			format, err := formatOf(text)
			if err != nil {
				return "", usage("%w", err)
			}
			if ext != "" && string(format) != ext {
				return "", usage("--to %s is named as a %s file, and --format says %s", f.to, ext, format)
			}
			return format, nil
		}
	}
	return printer.PDF, nil
}

// labelReport says what became of a document.
type labelReport struct {
	Files   []string `json:"files"`   // that were written
	Printer string   `json:"printer"` // that took it; empty: none
	Pages   int      `json:"pages"`
	Codes   int      `json:"codes"`   // that were drawn and read back
	Reprint int      `json:"reprint"` // 0: a first print
	Notes   []string `json:"notes"`
}

func (r labelReport) text(w io.Writer) {
	what := fmt.Sprintf("%s, %s drawn and read back", many(r.Pages, "page", "pages"), many(r.Codes, "code", "codes"))
	for _, f := range r.Files {
		fmt.Fprintln(w, f)
	}
	switch {
	case r.Printer != "":
		fmt.Fprintf(w, "Printed on %s: %s.\n", r.Printer, what)
	case r.Pages > 0:
		fmt.Fprintf(w, "Written: %s.\n", what)
	}
	for _, n := range r.Notes {
		fmt.Fprintln(w, n)
	}
}
