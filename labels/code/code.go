package code

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Length is how many characters every code has.
const Length = 8

// Code is one label or card: eight characters in upper case, check character
// right. Parse and an Issuer make it; the zero value is no code.
type Code string

// Type is the code's type letter. It is 0 for no code.
func (c Code) Type() Type {
	if c == "" {
		return 0
	}
	return Type(c[0])
}

// Range is the two letters of the terminal range that issued it.
func (c Code) Range() string {
	if c == "" {
		return ""
	}
	return string(c[1:3])
}

// Counter is the counter that the code was issued for, from 0 to 923,520.
func (c Code) Counter() uint32 {
	if c == "" {
		return 0
	}
	return unscramble(string(c[3:7]))
}

// Fault is what is wrong with a text that is no code.
type Fault uint8

const (
	// Foreign is a text that was never one of ours: another length, other
	// characters, no type letter.
	Foreign Fault = iota + 1
	// Misread is a text with the shape of ours and a wrong check character: a
	// scan or a hand went wrong.
	Misread
)

// String is "foreign" or "misread".
func (f Fault) String() string {
	if f == Misread {
		return "misread"
	}
	return "foreign"
}

// Error says why a text is no code.
type Error struct {
	Text   string // as given
	Fault  Fault
	Reason string // the fact and the next action
}

// Error is the text, the fault, the fact and the next action. It never tells
// the right check character.
func (e *Error) Error() string { return fmt.Sprintf("code %.40q: %s: %s", e.Text, e.Fault, e.Reason) }

// Parse reads a code in either case, with or without blanks around it. An
// error is an *Error; its Fault tells a misread code of ours from a foreign
// one. A parsed code has the shape of ours; whether it was issued its range and
// counter must tell.
func Parse(text string) (Code, error) {
	s := upper(strings.TrimSpace(text))
	if reason := shape(s); reason != "" {
		return "", &Error{text, Foreign, reason}
	}
	if Check(s[:Length-1]) != s[Length-1] {
		return "", &Error{text, Misread, "the check character is wrong; scan it again"}
	}
	return Code(s), nil
}

// upper folds a-z only: other letters have no business in a code, and some of
// them fold into it.
func upper(s string) string {
	for i := range len(s) {
		if 'a' <= s[i] && s[i] <= 'z' {
			b := []byte(s)
			for ; i < len(b); i++ {
				if 'a' <= b[i] && b[i] <= 'z' {
					b[i] -= 'a' - 'A'
				}
			}
			return string(b)
		}
	}
	return s
}

// shape says what keeps a text from being shaped like a code.
func shape(s string) string {
	if len(s) != Length {
		return fmt.Sprintf("%d characters, ours have %d; scan one label of this shop", utf8.RuneCountInString(s), Length)
	}
	for i := range len(s) {
		if places[s[i]] == 255 {
			return fmt.Sprintf("character %d is none that ours have, which are A-Z and 0-9 without 0 O 1 I L; scan one label of this shop", i+1)
		}
	}
	if !Type(s[0]).Known() {
		return "it begins with a digit, ours with a letter; scan one label of this shop"
	}
	if !letter(s[1]) || !letter(s[2]) {
		return "its second and third character are no letters, ours are; scan one label of this shop"
	}
	return ""
}

func letter(c byte) bool { return 'A' <= c && c <= 'Z' && places[c] != 255 }
