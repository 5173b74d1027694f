package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"countback/projections/plan"
	"countback/projections/plan/sheet"
)

func planImportCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "import DIR [FILE]", Short: "Make a plan of a builder's sheets",
		Long: `Reads a folder of CSV sheets as a spreadsheet writes them: parts.csv, holes.csv,
steps.csv, loans.csv and more where there are more. The first row holds the names
of the columns, with their units: "depth (mm)", "grip (in)". Commas, semicolons
and tabs divide cells; decimal commas are read. Every fault is reported at once,
with its sheet, row and column. The plan goes to FILE, or to standard output; a
FILE that is there already is left alone. All names: countback plan export of a
plan that you have, and the documentation of package projections/plan/sheet.`,
		Example: "  countback plan import my-engine/ my-engine.yaml",
		Args:    arguments(cobra.RangeArgs(1, 2)),
	}
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		dir, err := os.Stat(args[0])
		if err != nil || !dir.IsDir() {
			return unknown("there is no folder %s with sheets in it", args[0])
		}
		p, faults := sheet.Check(os.DirFS(args[0]), filepath.Base(filepath.Clean(args[0])))
		broken := p == nil
		for _, f := range faults {
			broken = broken || f.Level == plan.Broken
			if _, err := fmt.Fprintln(cmd.ErrOrStderr(), f); err != nil {
				return err
			}
		}
		if broken {
			return no()
		}
		content := func(w io.Writer) error {
			_, err := w.Write(plan.Write(p))
			return err
		}
		if len(args) == 1 || args[1] == "-" {
			return content(cmd.OutOrStdout())
		}
		return newFile(args[1], content)
	}
	return cmd
}

func planExportCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "export FILE DIR", Short: "Write a plan as a builder's sheets",
		Long: `Writes a plan as a folder of CSV sheets, for a spreadsheet. plan import of the
folder gives the same plan again. DIR is made; sheets that are there already are
left alone, and then nothing is written.`,
		Example: "  countback plan export my-engine.yaml my-engine/ --length in --torque lbf.ft\n  countback plan export my-engine.yaml my-engine/ --separator ';' --decimal-comma",
		Args:    arguments(cobra.ExactArgs(2)),
	}
	length := cmd.Flags().String("length", "mm", "unit of lengths: mm, cm or in")
	torque := cmd.Flags().String("torque", "N.m", "unit of torques: N.m, lbf.ft, lbf.in or kgf.m")
	separator := cmd.Flags().String("separator", ",", "between the cells: , ; or tab")
	comma := cmd.Flags().Bool("decimal-comma", false, "write 1,5 for one and a half")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		f := sheet.Format{Length: *length, Torque: *torque, DecimalComma: *comma}
		marks := map[string]byte{",": ',', ";": ';', "tab": '\t', "\t": '\t'}
		var ok bool
		if f.Separator, ok = marks[*separator]; !ok {
			return usage("separator %q: take , ; or tab", *separator)
		}
		if !slices.Contains([]string{"mm", "cm", "in"}, *length) {
			return usage("unit of length %q: take mm, cm or in", *length)
		}
		if !slices.Contains([]string{"N.m", "lbf.ft", "lbf.in", "kgf.m"}, *torque) {
			return usage("unit of torque %q: take N.m, lbf.ft, lbf.in or kgf.m", *torque)
		}
		p, err := loadPlan(args[0])
		if err != nil {
			return err
		}
		return writeSheets(args[1], sheet.Write(p, f))
	}
	return cmd
}

// writeSheets writes all sheets or, where one is there already, none.
func writeSheets(dir string, sheets map[string][]byte) error {
	names := make([]string, 0, len(sheets))
	for name := range sheets {
		names = append(names, name)
		if _, err := os.Lstat(filepath.Join(dir, name)); !errors.Is(err, os.ErrNotExist) {
			return usage("%s is there already; name another folder", filepath.Join(dir, name))
		}
	}
	slices.Sort(names)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	for _, name := range names {
		err := newFile(filepath.Join(dir, name), func(w io.Writer) error {
			_, err := w.Write(sheets[name])
			return err
		})
		if err != nil {
			return err
		}
	}
	return nil
}
