package scan

import (
	"countback/events"
)

// Kind is what one line turned out to be.
type Kind uint8

// The kinds of token.
const (
	Swallowed  Kind = iota // an empty line: a scanner sends CR and LF, or Tab
	Saw                    // a noun
	Said1                  // a word
	Number                 // a number, whole or with a fraction
	Digit                  // one digit of a number that goes on
	Several                // a name that several nouns have
	Words                  // a text that is no word, number or name
	Misread                // a code of ours, read wrong
	Foreign                // no code of ours
	NotOurs                // the check is right, but nobody here issued it
	Gone                   // a retired label
	AnotherJob             // a label of another job
)

// Token is what one line says.
type Token struct {
	Kind   Kind
	Line   string // as it came, blanks trimmed
	Noun   Noun
	Nouns  []Noun // several
	Word   Word
	N      int     // whole number
	Real   float64 // number
	Whole  bool
	Digits string  // of a number: as it was typed, with a point
	Unit   string  // of a reading: the unit, as it was typed
	Warm   float64 // of a reading: the degrees Celsius at which it was taken; 0: not said
	Scan   bool    // it was a code, not typed
	Why    string
	Job    events.Job
	Name   string
	Since  int64
	By     events.Code
	Letter string // of a label: the word for its type
}

// Same reports whether two tokens are the same scan.
func (t Token) Same(o Token) bool { return t.Kind == o.Kind && t.Line == o.Line }
