package fastener

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Limits on a text: longer ones are no fastener.
const (
	maxTextBytes    = 160
	maxFeatureRunes = 60
)

// SyntaxError says why a text is no fastener, where, and what to do.
type SyntaxError struct {
	Text   string // the whole text as given
	Column int    // 1 for the first character of Text
	Near   string // the piece that is in the way
	Reason string // the fact
	Action string // what to do next, with the nearest reading where there is one
}

// Error names the text, the place, the fact and the next action.
func (e *SyntaxError) Error() string {
	if e.Near == "" {
		return fmt.Sprintf("fastener %q: at %d: %s; %s", e.Text, e.Column, e.Reason, e.Action)
	}
	return fmt.Sprintf("fastener %q: at %d %q: %s; %s", e.Text, e.Column, e.Near, e.Reason, e.Action)
}

// scanner holds a text in its plain form and the way back to the original.
type scanner struct {
	text string // as given
	s    string // lower case, blanks single, decimal points, x for ×
	col  []int  // for every byte of s, and its end, the column in text
	pos  int
}

var plainRune = map[rune]rune{
	'×': 'x', '✕': 'x', '✖': 'x', '–': '-', '—': '-', '‐': '-', '‑': '-', '−': '-',
	'″': '"', '”': '"', '“': '"', '⁄': '/',
}

// newScanner brings a text into its plain form.
func newScanner(text string) (*scanner, error) {
	sc := &scanner{text: text}
	if len(text) > maxTextBytes {
		return nil, sc.failColumn(1, "", fmt.Sprintf("%d bytes long", len(text)), fmt.Sprintf("write it in %d or fewer", maxTextBytes))
	}
	var b strings.Builder
	runes := []rune(text)
	blank := false
	for i, r := range runes {
		if unicode.IsSpace(r) {
			blank = true
			continue
		}
		if r == utf8.RuneError || !unicode.IsPrint(r) {
			return nil, sc.failColumn(i+1, "", "a character that cannot be printed", "type the text again")
		}
		if blank && b.Len() > 0 {
			b.WriteByte(' ')
			sc.col = append(sc.col, i)
		}
		blank = false
		b.WriteRune(plain(runes, i))
		for len(sc.col) < b.Len() {
			sc.col = append(sc.col, i+1)
		}
	}
	sc.col = append(sc.col, len(runes)+1)
	sc.s = b.String()
	return sc, nil
}

// plain is the plain form of one character: lower case, x for a
// multiplication sign, a point for a decimal comma.
func plain(runes []rune, i int) rune {
	r := runes[i]
	if p, ok := plainRune[r]; ok {
		return p
	}
	if r == ',' && i > 0 && i+1 < len(runes) && isDigit(runes[i-1]) && isDigit(runes[i+1]) {
		return '.'
	}
	return unicode.ToLower(r)
}

func isDigit(r rune) bool { return '0' <= r && r <= '9' }

func (sc *scanner) end() bool    { return sc.pos >= len(sc.s) }
func (sc *scanner) rest() string { return sc.s[sc.pos:] }

// skip passes over the given characters.
func (sc *scanner) skip(chars string) {
	for !sc.end() && strings.IndexByte(chars, sc.s[sc.pos]) >= 0 {
		sc.pos++
	}
}

// take matches an anchored pattern at the place reached and passes over it.
func (sc *scanner) take(re *regexp.Regexp) []string {
	m := re.FindStringSubmatch(sc.rest())
	if m != nil {
		sc.pos += len(m[0])
	}
	return m
}

// takeWord matches like take and passes over the first group only: what the
// pattern wants to see behind it stays.
func (sc *scanner) takeWord(re *regexp.Regexp) []string {
	at := re.FindStringSubmatchIndex(sc.rest())
	if at == nil {
		return nil
	}
	m := []string{sc.rest()[at[0]:at[1]], sc.rest()[at[2]:at[3]]}
	sc.pos += at[3]
	return m
}

// near is the piece of text at a place, up to the next blank.
func (sc *scanner) near(pos int) string {
	s := sc.s[pos:]
	if i := strings.IndexByte(s, ' '); i > 0 {
		s = s[:i]
	}
	return s
}

// fail is an error at a place of the plain text.
func (sc *scanner) fail(pos int, near, reason, action string) error {
	return sc.failColumn(sc.col[pos], near, reason, action)
}

func (sc *scanner) failColumn(col int, near, reason, action string) error {
	return &SyntaxError{Text: sc.text, Column: col, Near: near, Reason: reason, Action: action}
}

// number reads a decimal number that a pattern has found; at most a millionth
// is kept.
func number(s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return 0
	}
	return nano(v)
}

// inches reads 3/4, 1-1/4, 2 or 0.75 and gives millimetres; 0 when it is none.
func inches(s string) float64 {
	whole, frac, mixed := strings.Cut(s, "-")
	if !mixed {
		whole, frac = "", s
		if strings.IndexByte(s, '/') < 0 {
			return nano(number(s) * mmPerInch)
		}
	}
	a, b, _ := strings.Cut(frac, "/")
	n, errN := strconv.Atoi(a)
	d, errD := strconv.Atoi(b)
	if errN != nil || errD != nil || d == 0 || d > 64 || d&(d-1) != 0 {
		return 0
	}
	w := 0
	if whole != "" {
		w, _ = strconv.Atoi(whole)
	}
	return nano((float64(w) + float64(n)/float64(d)) * mmPerInch)
}

const inch64 = mmPerInch / 64

// inchText writes millimetres as inches in lowest terms, where they are a
// whole number of 64ths.
func inchText(mm float64) (string, bool) {
	n := int(math.Round(mm / inch64))
	if n <= 0 || nano(float64(n)*inch64) != mm {
		return decimal(mm / mmPerInch), false
	}
	whole, n, d := n/64, n%64, 64
	for n != 0 && n%2 == 0 {
		n, d = n/2, d/2
	}
	switch {
	case n == 0:
		return strconv.Itoa(whole), true
	case whole == 0:
		return fmt.Sprintf("%d/%d", n, d), true
	}
	return fmt.Sprintf("%d-%d/%d", whole, n, d), true
}
