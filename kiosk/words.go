package kiosk

import (
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"countback/kiosk/scan"
)

func itoa(n int) string { return strconv.Itoa(n) }

func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 || r == utf8.RuneError {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// lower makes a name fit into the middle of a sentence: "Front cover to
// block" becomes "front cover to block"; what is all capitals stays.
func lower(s string) string {
	if len(s) > 1 && s[1] >= 'a' && s[1] <= 'z' {
		return strings.ToLower(s[:1]) + s[1:]
	}
	return s
}

func joinComma(list []string) string { return strings.Join(list, ", ") }

// joinAnd lists words with commas and a last "and".
func joinAnd(list []string) string {
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:len(list)-1], ", ") + " and " + list[len(list)-1]
}

func shorten(s string, n int) string {
	r := []rune(s)
	if len(r) <= n {
		return s
	}
	return string(r[:n]) + "…"
}

// plural is "1 piece", "3 pieces".
func plural(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return itoa(n) + " " + one + "s"
}

// clockText is a time as the bench shows it, in UTC.
func clockText(at int64) string { return time.UnixMicro(at).UTC().Format("2 January 15:04") }

func wordsText(words []scan.Word) string {
	list := make([]string, len(words))
	for i, w := range words {
		list[i] = string(w)
	}
	return "(" + strings.Join(list, ", ") + ")"
}

func tokenText(t scan.Token) string {
	switch t.Kind {
	case scan.Saw:
		return t.Noun.Text()
	case scan.Said1:
		return string(t.Word)
	case scan.Number, scan.Digit:
		if t.Whole {
			return itoa(t.N)
		}
	}
	return strconv.Quote(shorten(t.Line, 30))
}

func nounsText(nouns []scan.Noun) string {
	list := make([]string, len(nouns))
	for i, n := range nouns {
		list[i] = n.Text()
	}
	return joinComma(list)
}

// saidText is the sentence on the screen as far as it was scanned.
func (s *Screen) saidText() string {
	var list []string
	for _, n := range s.nouns {
		if !n.Implied {
			list = append(list, n.Text())
		}
	}
	for _, l := range s.lines {
		list = append(list, itoa(l.Qty)+" "+string(l.Kind))
	}
	for _, k := range s.sizes {
		list = append(list, "size "+string(k))
	}
	if s.hasN {
		list = append(list, itoa(s.number))
	}
	if s.row != nil && s.row.Verb != "" {
		list = append(list, string(s.row.Verb))
	}
	return joinComma(list)
}

// bar is the line that says where, who and what job.
func (s *Screen) bar() string {
	who := "nobody"
	if s.badge != "" {
		who = string(s.badge)
	}
	text := "bench " + string(s.here) + " | " + who
	if s.id != "" {
		text += " | job " + string(s.id) + " " + s.engineName()
	}
	if s.when != (interval{}) {
		text += " | happened " + s.when.text()
	}
	return text
}

func (s *Screen) engineName() string {
	if s.job == nil {
		return ""
	}
	return s.job.State().Opened.Engine
}
