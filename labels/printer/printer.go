package printer

import (
	"context"
	"fmt"
	"strings"
	"unicode"
)

// Format is how a file is written.
type Format string

// The formats.
const (
	PNG Format = "png"
	PDF Format = "pdf"
)

// File is one thing to print.
type File struct {
	Name     string // unique among the files of a printer: folders name files by it
	Title    string // for people: what a queue shows
	Format   Format
	Data     []byte
	WidthMm  float64 // of the paper; 0: the printer's own
	HeightMm float64
}

// Printer takes files. The error of Print is *Held or *Unclear; any other is
// treated as unclear.
type Printer interface {
	Name() string
	Print(ctx context.Context, f File) error
}

// Held says that nothing was printed and the file may be sent again.
type Held struct {
	Printer string
	Reason  string // "connection refused; is it on?"
}

// Error is the printer and the reason.
func (e *Held) Error() string { return fmt.Sprintf("printer %s: held: %s", e.Printer, e.Reason) }

// Unclear says that nobody knows whether the file was printed.
type Unclear struct {
	Printer string
	Reason  string
}

// Error is the printer, the reason and the next action.
func (e *Unclear) Error() string {
	return fmt.Sprintf("printer %s: may have been printed: %s; look at the printer", e.Printer, e.Reason)
}

// checkName says what is wrong with a printer's name.
func checkName(name string) error {
	if name == "" || len(name) > 100 || strings.ContainsFunc(name, func(r rune) bool { return !unicode.IsPrint(r) }) {
		return fmt.Errorf("printer %q: a name is 1 to 100 printable characters", name)
	}
	return nil
}

// plainName is a name that every file system takes: letters, digits, dashes.
func plainName(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case r < 0x80 && (unicode.IsLetter(r) || unicode.IsDigit(r)) || r == '-':
			b.WriteRune(r)
		default:
			b.WriteByte('-')
		}
		if b.Len() == 80 {
			break
		}
	}
	return strings.Trim(b.String(), "-")
}
