package page

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// Style is how a text is written.
type Style struct {
	Cap    int // height of a capital letter in dots
	Weight Weight
	Ink    Ink
}

// Ascent is how many dots a line of the style needs above its baseline.
func (s Style) Ascent() int { return int(float64(s.Cap)*ascent + 0.999) }

// Descent is how many dots it needs below.
func (s Style) Descent() int { return int(float64(s.Cap)*descent + 0.999) }

// Height is how many dots a line needs.
func (s Style) Height() int { return s.Ascent() + s.Descent() }

// Ellipsis ends a text that was cut.
const Ellipsis = "…"

// Visible is the text as it can be printed: composed, with what cannot be
// printed as a hexadecimal number between angle quotes. Blanks at the ends go,
// and so do characters that are meant to be unseen and do no harm (soft
// hyphen, joiners, variation selectors).
func (f *Fonts) Visible(text string) string {
	text = strings.Trim(text, " ")
	if plain(text) {
		return text
	}
	var b strings.Builder
	for text = norm.NFC.String(text); text != ""; {
		r, n := utf8.DecodeRuneInString(text)
		switch {
		case r == utf8.RuneError && n == 1:
			fmt.Fprintf(&b, "‹%02X›", text[0])
		case unseen(r):
		case !unicode.IsPrint(r) && !unicode.Is(unicode.Zs, r) || !f.has(r):
			fmt.Fprintf(&b, "‹%02X›", r)
		default:
			b.WriteRune(r)
		}
		text = text[n:]
	}
	return b.String()
}

// plain reports whether a text is printable ASCII.
func plain(text string) bool {
	for i := range len(text) {
		if text[i] < ' ' || text[i] > '~' {
			return false
		}
	}
	return true
}

func unseen(r rune) bool {
	return r == 0xad || r == 0x200b || r == 0x200c || r == 0x200d || r == 0x2060 || r == 0xfeff || 0xfe00 <= r && r <= 0xfe0f
}

// clusters cuts a visible text where it may be cut: before each character that
// is no mark on the one before it, and never inside of ‹0A›.
func clusters(text string) []string {
	var list []string
	for from := 0; from < len(text); {
		to := from + number(text[from:])
		if to == from {
			_, n := utf8.DecodeRuneInString(text[from:])
			to += n
		}
		for to < len(text) {
			r, n := utf8.DecodeRuneInString(text[to:])
			if !unicode.Is(unicode.Mn, r) {
				break
			}
			to += n
		}
		list = append(list, text[from:to])
		from = to
	}
	return list
}

// number is the length of a ‹0A› at the beginning of a text, 0 if there is none.
func number(text string) int {
	inner, ok := strings.CutPrefix(text, "‹")
	if !ok {
		return 0
	}
	end := strings.Index(inner, "›")
	if end < 2 || end > 6 || strings.Trim(inner[:end], "0123456789ABCDEF") != "" {
		return 0
	}
	return len("‹") + end + len("›")
}

// Fit makes a text visible and fit a width: as large as the style, smaller
// down to least dots of capital height, and then cut with an ellipsis. It
// returns nothing if not even the ellipsis fits.
func (f *Fonts) Fit(text string, style Style, width, least int) (string, Style) {
	text = f.Visible(text)
	least = min(max(least, 1), style.Cap)
	ems := f.ems(text, style.Weight)
	for style.Cap > least && f.wide(ems, style.Cap) > width {
		style.Cap--
	}
	if f.wide(ems, style.Cap) <= width {
		return text, style
	}
	return f.Cut(text, style, width), style
}

func (f *Fonts) wide(ems float64, cap int) int { return int(ems*em(float64(cap)) + 0.999999) }

// Cut shortens a visible text to a width, with an ellipsis at its end if
// anything went; nothing if not even the ellipsis fits.
func (f *Fonts) Cut(text string, style Style, width int) string {
	if f.Width(text, style) <= width {
		return text
	}
	room := float64(width)/em(float64(style.Cap)) - f.ems(Ellipsis, style.Weight)
	if room < 0 {
		return ""
	}
	var b strings.Builder
	for _, c := range clusters(text) {
		if room -= f.ems(c, style.Weight); room < 0 {
			break
		}
		b.WriteString(c)
	}
	return strings.TrimRight(b.String(), " ") + Ellipsis
}

// Wrap breaks a text into at most so many lines of a width, at blanks where it
// can. What does not fit is cut, with an ellipsis at the end of the last line.
func (f *Fonts) Wrap(text string, style Style, width, lines int) []string {
	var list []string
	rest := f.Visible(text)
	for rest != "" && len(list) < lines {
		if f.Width(rest, style) <= width {
			return append(list, rest)
		}
		if len(list) == lines-1 {
			if cut := f.Cut(rest, style, width); cut != "" {
				list = append(list, cut)
			}
			return list
		}
		line, after := f.breakLine(rest, style, width)
		if line == "" {
			return list
		}
		list, rest = append(list, line), after
	}
	return list
}

// FitLines makes a text visible and fit a width in at most so many lines: as
// large as the style, smaller down to least dots of capital height as long as
// there are too many lines or a word is too wide for one, and then cut.
func (f *Fonts) FitLines(text string, style Style, width, lines, least int) ([]string, Style) {
	text = f.Visible(text)
	least = min(max(least, 1), style.Cap)
	word := 0.0
	for _, w := range strings.Fields(text) {
		word = max(word, f.ems(w, style.Weight))
	}
	for ; style.Cap > least; style.Cap-- {
		if f.wide(word, style.Cap) > width {
			continue
		}
		if list := f.Wrap(text, style, width, lines+1); len(list) <= lines {
			return list, style
		}
	}
	return f.Wrap(text, style, width, lines), style
}

// breakLine takes one line from a text that is too wide for one.
func (f *Fonts) breakLine(text string, style Style, width int) (line, rest string) {
	room := float64(width) / em(float64(style.Cap))
	at, blank := 0, -1
	for _, c := range clusters(text) {
		if c == " " {
			blank = at
		}
		if room -= f.ems(c, style.Weight); room < 0 {
			break
		}
		at += len(c)
	}
	if blank > 0 {
		at = blank
	}
	return strings.TrimRight(text[:at], " "), strings.TrimLeft(text[at:], " ")
}
