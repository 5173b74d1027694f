package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/viper"

	"countback/labels"
	"countback/labels/page"
	"countback/labels/printer"
	"countback/labels/symbol"
)

// printerSetting is one printer of the settings file:
//
//	printers:
//	  - name: bench
//	    socket: 192.168.7.20:9100     # or cups: QUEUE, or folder: /srv/labels
//	    size: 100x60                  # of its labels in millimetres
//	    dpi: 203
//	    format: pdf                   # or png
//	    bags: [bench-1, bench-2]      # terminals whose bag labels it prints by itself, or all
//	  - name: office
//	    cups: Office
//	    paper: A4                     # of its sheets
type printerSetting struct {
	Name                 string
	Socket, Cups, Folder string // exactly one is named
	Size, Paper, Format  string
	DPI                  symbol.DPI
	Bags                 []string // terminals; "all"

	fonts *page.Fonts // nil: the built-in ones
}

// readPrinters reads the printers of the settings file. They are a list, so
// that neither a flag nor the environment can name them.
func readPrinters(v *viper.Viper, file string) ([]printerSetting, error) {
	set := v.Get("printers")
	if set == nil {
		return nil, nil
	}
	list, ok := set.([]any)
	if !ok {
		return nil, usage("printers: want a list in the settings file, as in: countback help printers")
	}
	var printers []printerSetting
	for i, e := range list {
		p, err := readPrinter(e)
		if err == nil {
			err = p.check()
		}
		for _, o := range printers {
			if err == nil && o.Name == p.Name {
				err = fmt.Errorf("the name %s is taken by another", p.Name)
			}
		}
		if err != nil {
			return nil, usage("settings file %s: printer %d: %w; see: countback help printers", file, i+1, err)
		}
		printers = append(printers, p)
	}
	return printers, nil
}

func readPrinter(e any) (p printerSetting, err error) {
	m, ok := e.(map[string]any)
	if !ok {
		return p, fmt.Errorf("%v: want keys and values", e)
	}
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	fields := map[string]*string{"name": &p.Name, "socket": &p.Socket, "cups": &p.Cups, "folder": &p.Folder,
		"size": &p.Size, "paper": &p.Paper, "format": &p.Format}
	for _, k := range keys {
		switch {
		case fields[k] != nil:
			*fields[k] = fmt.Sprint(m[k])
		case k == "dpi":
			if p.DPI, err = dpiOf(fmt.Sprint(m[k])); err != nil {
				return p, err
			}
		case k == "bags":
			list, ok := m[k].([]any)
			if !ok {
				list = []any{m[k]}
			}
			for _, t := range list {
				p.Bags = append(p.Bags, fmt.Sprint(t))
			}
		default:
			return p, fmt.Errorf("there is no key %q; there are: bags, cups, dpi, folder, format, name, paper, size, socket", k)
		}
	}
	return p, nil
}

func (p printerSetting) check() error {
	ways := 0
	for _, way := range []string{p.Socket, p.Cups, p.Folder} {
		if way != "" {
			ways++
		}
	}
	switch {
	case p.Name == "":
		return fmt.Errorf("it has no name")
	case ways != 1:
		return fmt.Errorf("%s: name one way to reach it: socket, cups or folder", p.Name)
	}
	if p.Size != "" {
		if _, err := pairOf(p.Size); err != nil {
			return fmt.Errorf("%s: size %w", p.Name, err)
		}
	}
	if p.Format != "" {
		if _, err := formatOf(p.Format); err != nil {
			return fmt.Errorf("%s: %w", p.Name, err)
		}
	}
	return nil
}

// prints reports whether a printer prints the bag labels of a terminal by
// itself.
func (p printerSetting) prints(terminal string) bool {
	return slices.Contains(p.Bags, "all") || slices.Contains(p.Bags, terminal)
}

// open is the printer itself.
func (p printerSetting) open() (printer.Printer, error) {
	var out printer.Printer
	var err error
	switch {
	case p.Socket != "":
		out, err = printer.NewSocket(p.Name, p.Socket, 0, 0)
	case p.Cups != "":
		out, err = printer.NewQueue(p.Name, p.Cups, printer.Programs{})
	default:
		out, err = printer.NewFolder(p.Name, p.Folder)
	}
	if err != nil {
		return nil, usage("%w", err)
	}
	return out, nil
}

// media is what a printer's labels are printed on.
func (p printerSetting) media() (labels.Media, error) {
	size, err := pairOf(or(p.Size, labelSize))
	if err != nil {
		return labels.Media{}, err
	}
	dpi := p.DPI
	if dpi == 0 {
		dpi = labelDPI
	}
	return labels.Media{WidthMm: size[0], HeightMm: size[1], DPI: dpi, Fonts: p.fonts}, nil
}

// printer finds a printer by its name.
func (s settings) printer(name string) (printerSetting, error) {
	for _, p := range s.Printers {
		if p.Name == name {
			return p, nil
		}
	}
	if len(s.Printers) == 0 {
		return printerSetting{}, unknown("there is no printer %s, nor any other: name them in the settings file, see: countback help printers", name)
	}
	return printerSetting{}, unknown("there is no printer %s; there are: %s", name, s.printerNames())
}

func (s settings) printerNames() string {
	var names []string
	for _, p := range s.Printers {
		names = append(names, p.Name)
	}
	return strings.Join(names, ", ")
}

func or(text, standard string) string {
	if text == "" {
		return standard
	}
	return text
}

// queueDir is where the print queue lies: beside the store unless the settings
// say otherwise.
func (s settings) queueDir() string { return or(s.Queue, s.Store+".print") }
