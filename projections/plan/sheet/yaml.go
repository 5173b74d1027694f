package sheet

import (
	"regexp"
	"slices"
	"strings"
)

// idForm is what a plan takes for an id.
var idForm = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9_.-]{0,63}$`)

// safeText may stand in a plan file without quotation marks.
var safeText = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9 _./+-]*[A-Za-z0-9]$`)

// notTexts are words that YAML readers take for something else than a text.
var notTexts = []string{"true", "false", "null", "yes", "no", "on", "off", "y", "n"}

// quote writes a text so that it is read as one.
func quote(s string) string {
	if safeText.MatchString(s) && !slices.Contains(notTexts, strings.ToLower(s)) {
		return s
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`, "\t", `\t`).Replace(s) + `"`
}

// word writes a name or a place; quoted where a plan would not take it for one,
// so that the plan's own reader says so.
func word(s string) string {
	if (idForm.MatchString(s) || rangeForm.MatchString(s)) && !slices.Contains(notTexts, strings.ToLower(s)) {
		return s
	}
	return quote(s)
}

var rangeForm = regexp.MustCompile(`^([A-Za-z0-9_.-]*?)(\d{1,6})\.\.([A-Za-z_-]*)(\d{1,6})$`)

// nameOf is the id that a name stands for: itself where it is one, or else its
// letters and digits in lower case with dashes between.
func nameOf(s string) string {
	if s == "" || idForm.MatchString(s) {
		return s
	}
	var b strings.Builder
	for _, r := range strings.ToLower(s) {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9', r == '.', r == '_':
			b.WriteRune(r)
		default:
			b.WriteByte('-')
		}
	}
	out := strings.Join(strings.FieldsFunc(b.String(), func(r rune) bool { return r == '-' }), "-")
	if !idForm.MatchString(out) {
		return s
	}
	return out
}

func list(items []string) string { return "[" + strings.Join(items, ", ") + "]" }

// splitList splits at commas, semicolons and blanks.
func splitList(s string) []string {
	return strings.FieldsFunc(s, func(r rune) bool { return r == ',' || r == ';' || r == ' ' })
}

// splitNames splits a list of names at commas and semicolons: a name may have
// blanks.
func splitNames(s string) []string {
	var out []string
	for _, w := range strings.FieldsFunc(s, func(r rune) bool { return r == ',' || r == ';' }) {
		if w = strings.TrimSpace(w); w != "" {
			out = append(out, w)
		}
	}
	return out
}

// splitTexts splits at semicolons; at commas where all that is between them is
// places, since that is how an order of holes is written.
func splitTexts(s string) []string {
	parts := split(s, ';')
	if len(parts) == 1 {
		if words := strings.Split(s, ","); !slices.ContainsFunc(words, func(w string) bool { return !place(strings.TrimSpace(w)) }) {
			parts = words
		}
	}
	var out []string
	for _, p := range parts {
		if p = bare(p); p != "" {
			out = append(out, p)
		}
	}
	return out
}

// split splits at a sign that stands outside quotation marks.
func split(s string, at byte) []string {
	var out []string
	inside, start := false, 0
	for i := range len(s) {
		switch {
		case s[i] == '"':
			inside = !inside
		case s[i] == at && !inside:
			out = append(out, s[start:i])
			start = i + 1
		}
	}
	return append(out, s[start:])
}

// bare takes quotation marks from around a text.
func bare(s string) string {
	s = strings.TrimSpace(s)
	if len(s) < 2 || s[0] != '"' || s[len(s)-1] != '"' {
		return s
	}
	return strings.ReplaceAll(s[1:len(s)-1], `""`, `"`)
}

// marked puts a text into quotation marks where it would be taken apart.
func marked(s string) string {
	if !strings.ContainsAny(s, `;>[]",`) && s == squeeze(s) {
		return s
	}
	return `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
}

func place(s string) bool { return idForm.MatchString(s) || rangeForm.MatchString(s) }
