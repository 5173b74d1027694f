package spool

import (
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"countback/labels/page"
	"countback/labels/printer"
)

// State is what became of an order. The texts are stored.
type State string

// The states.
const (
	Waiting State = "waiting"
	Sending State = "sending"
	Printed State = "printed"
	Unclear State = "unclear" // a person has to look at the printer
	Dropped State = "dropped" // a person gave it up
)

// over reports whether nothing will happen to the order any more.
func (s State) over() bool { return s == Printed || s == Dropped }

// Order is one document for one printer.
type Order struct {
	// Key names what asked for the document, the same at every replay: the id
	// of the event and which of its labels.
	Key      string
	Printer  string
	Format   printer.Format
	Document page.Document
}

// Entry is an order as the spool keeps it.
type Entry struct {
	N       uint64
	Key     string
	Reprint int
	Printer string
	Title   string
	State   State
	Why     string    // of unclear and dropped
	Time    time.Time // of the state
}

// entry is an Entry with what printing needs.
type entry struct {
	Entry
	format        printer.Format
	width, height float64
	sum           string
}

// id is what may be taken only once.
type id struct {
	key     string
	reprint int
}

func (e *entry) id() id { return id{e.Key, e.Reprint} }

// file is the name of the document in the folder files.
func (e *entry) file() string { return fmt.Sprintf("%d.%s", e.N, e.format) }

// printName is what the file is called towards printers.
func (e *entry) printName() string { return fmt.Sprintf("%s#%d", e.Key, e.Reprint) }

const maxKey = 500

// check says what is wrong with an order.
func (o Order) check() error {
	switch {
	case o.Key == "" || len(o.Key) > maxKey || !utf8.ValidString(o.Key) || strings.ContainsAny(o.Key, "\x00\n"):
		return fmt.Errorf("print order %q: a key is 1 to %d bytes of text", o.Key, maxKey)
	case o.Document.Pages() == 0:
		return fmt.Errorf("print order %s: no page", o.Key)
	case o.Format != printer.PNG && o.Format != printer.PDF:
		return fmt.Errorf("print order %s: format %q: want png or pdf", o.Key, o.Format)
	case o.Format == printer.PNG && o.Document.Pages() > 1:
		return fmt.Errorf("print order %s: %d pages: a png holds one; print it as pdf", o.Key, o.Document.Pages())
	}
	return nil
}

// data is the bytes of the document.
func (o Order) data() ([]byte, error) {
	if o.Format == printer.PNG {
		return o.Document.PNG(0)
	}
	return o.Document.PDF()
}

// UnknownPrinter says that no printer of that name is set up.
type UnknownPrinter struct {
	Name  string
	Known []string
}

// Error names the printers that there are.
func (e *UnknownPrinter) Error() string {
	if len(e.Known) == 0 {
		return fmt.Sprintf("printer %q: not set up; there is none", e.Name)
	}
	return fmt.Sprintf("printer %q: not set up; there are %s", e.Name, strings.Join(e.Known, ", "))
}
