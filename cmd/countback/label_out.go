package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"countback/labels"
	"countback/labels/page"
	"countback/labels/printer"
	"countback/labels/sheet"
)

// isFile reports whether --to names a file to write, not a folder.
func isFile(to string) bool {
	if to == "" || strings.HasSuffix(to, "/") {
		return false
	}
	info, err := os.Stat(to)
	return err != nil && filepath.Ext(to) != "" || err == nil && !info.IsDir()
}

// target finds the printer that was asked for, and refuses a command that says
// no place for its document, or two.
func (f *labelFlags) target(s settings) (p printerSetting, err error) {
	if p.fonts, err = s.fonts(); err != nil {
		return p, err
	}
	switch {
	case f.to == "" && f.printer == "" && len(s.Printers) > 0:
		return p, usage("say where it goes: --to FILE or FOLDER, or --printer with one of: %s", s.printerNames())
	case f.to == "" && f.printer == "":
		return p, usage("say where it goes: --to FILE or FOLDER, or --printer NAME")
	case f.to != "" && f.printer != "":
		return p, usage("say one place: --to or --printer")
	case f.printer != "":
		fonts := p.fonts
		p, err = s.printer(f.printer)
		p.fonts = fonts
		return p, err
	case isFile(f.to):
		if _, err := os.Lstat(f.to); err == nil {
			return p, usage("%s is there already; name another file, or remove it", f.to)
		}
	}
	return p, nil
}

// labels draws labels as the flags say, one behind the other or on sheets.
func (f *labelFlags) labels(p printerSetting, list []labels.Label) (page.Document, error) {
	m, err := f.media(p)
	if err != nil {
		return page.Document{}, err
	}
	g, onSheets, err := f.sheetOfLabels()
	if err != nil {
		return page.Document{}, err
	}
	var d page.Document
	if onSheets {
		if m.MarginMm = 3; f.dpi == "" && p.DPI == 0 {
			m.DPI = sheetDPI
		}
		d, err = sheet.Labels(g, m, list)
	} else if len(list) == 1 {
		d, err = labels.Draw(list[0], m)
	} else {
		d, err = labels.Roll(list, m)
	}
	return d, drawn(err)
}

// drawn says why a document was not drawn; a label that is too small is a
// matter of the command line.
func drawn(err error) error {
	var small *labels.TooSmall
	if errors.As(err, &small) {
		return usage("%w", err)
	}
	return err
}

// deliver brings a document to where the flags say, and reports it.
func (f *labelFlags) deliver(cmd *cobra.Command, s settings, d page.Document, notes ...string) error {
	p, err := f.target(s)
	if err != nil {
		return err
	}
	format, err := f.formatFor(p)
	if err != nil {
		return err
	}
	r := labelReport{Files: []string{}, Pages: d.Pages(), Codes: len(d.Codes()), Reprint: d.Reprint(), Notes: append([]string{}, notes...)}
	files, err := filesOf(d, format)
	if err != nil {
		return err
	}
	if f.printer != "" {
		out, err := p.open()
		if err != nil {
			return err
		}
		for _, file := range files {
			if err := out.Print(cmd.Context(), file); err != nil {
				return fmt.Errorf("print %s: %w", file.Title, err)
			}
		}
		r.Printer = p.Name
		return write(cmd, s, r)
	}
	for i, file := range files {
		name := f.to
		if !isFile(f.to) {
			if err := os.MkdirAll(f.to, 0o755); err != nil {
				return err
			}
			name = filepath.Join(f.to, strings.ReplaceAll(d.Title(), " ", "-")+"."+string(format))
		}
		if len(files) > 1 {
			ext := filepath.Ext(name)
			name = fmt.Sprintf("%s-%d%s", strings.TrimSuffix(name, ext), i+1, ext)
		}
		err := newFile(name, func(w io.Writer) error {
			_, err := w.Write(file.Data)
			return err
		})
		if err != nil {
			return err
		}
		r.Files = append(r.Files, name)
	}
	return write(cmd, s, r)
}

// filesOf writes a document: a PDF holds all pages, a PNG one.
func filesOf(d page.Document, format printer.Format) ([]printer.File, error) {
	file := func(i int, data []byte) printer.File {
		return printer.File{Name: fmt.Sprintf("%s %d", d.Title(), i+1), Title: d.Title(), Format: format, Data: data,
			WidthMm: d.Page(i).WidthMm(), HeightMm: d.Page(i).HeightMm()}
	}
	if format == printer.PDF {
		data, err := d.PDF()
		if err != nil {
			return nil, err
		}
		return []printer.File{file(0, data)}, nil
	}
	var list []printer.File
	for i := range d.Pages() {
		data, err := d.PNG(i)
		if err != nil {
			return nil, err
		}
		list = append(list, file(i, data))
	}
	return list, nil
}

// completePrinters offers the printers of the settings.
func completePrinters(cmd *cobra.Command, _ []string, _ string) ([]string, cobra.ShellCompDirective) {
	s, err := readSettings(cmd)
	if err != nil {
		return nil, noFiles
	}
	var names []string
	for _, p := range s.Printers {
		names = append(names, p.Name)
	}
	return names, noFiles
}

// printersTopic is "countback help printers".
func printersTopic() *cobra.Command {
	return &cobra.Command{
		Use:   "printers",
		Short: "How printers are set up",
		Long: `Printers are a list in the settings file. Each has a name and one way to reach it:

  cups: QUEUE         a queue of the printing system CUPS, through the program lp
  socket: HOST:PORT   a network printer that takes documents on a raw socket
  folder: FOLDER      files appear in it, for a printer's own program to fetch

and what it prints on:

  size: 100x60        of its labels in millimetres
  dpi: 203            203, 300 or 600
  format: pdf         pdf or png: what the printer understands
  paper: A4           of its sheets: A4 or Letter
  bags: [bench-1]     terminals whose bag labels countback print sends to it by
                      itself, each once; or: all

The built-in fonts have the scripts of Latin, Greek, Cyrillic, Hebrew and Arabic.
What they lack, as Chinese, Japanese, Korean or Thai, is printed as its number,
‹7530›, so that nothing is lost in silence. For more, name TrueType fonts that the
shop may use, beside the printers: fonts: [/usr/share/fonts/some-font.ttf]`,
		Example: `  # settings.yaml
  printers:
    - {name: bench, socket: 192.168.7.20:9100, size: 100x60, dpi: 203, bags: all}
    - {name: office, cups: Office, paper: A4}`,
	}
}
