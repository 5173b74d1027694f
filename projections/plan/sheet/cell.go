package sheet

import (
	"slices"
	"strconv"
	"strings"
)

var (
	yes = []string{"yes", "y", "x", "true", "1"}
	no  = []string{"no", "n", "false", "0"}
)

// value turns a cell into what a plan file has for it; "" says nothing.
func (c *column) value(cell string, u *unit) (string, error) {
	switch c.kind {
	case text:
		return c.words(cell), nil
	case texts:
		return words(splitTexts(cell)), nil
	}
	cell = squeeze(cell)
	switch c.kind {
	case name:
		return word(nameOf(cell)), nil
	case flag, ownSeat:
		return c.yesOrNo(cell)
	case sealing:
		if oneOf(cell, yes) {
			return "", nil
		}
		return quote(cell), nil
	case number:
		if n, err := strconv.Atoi(cell); err == nil && n >= 0 {
			return strconv.Itoa(n), nil
		}
		return quote(cell), nil
	case limit:
		return c.limit(cell)
	case speeds:
		return "{" + strings.ReplaceAll(cell, ";", ",") + "}", nil
	case length, torque, stretch, angle:
		return c.measured(cell, u)
	case ids:
		return names(splitNames(cell)), nil
	case places:
		return words(splitList(cell)), nil
	case holes:
		return seatsOf(cell, ";")
	case allOf:
		return conditions(cell, c.key == "void-by")
	case barrier:
		return barriers(cell)
	}
	return stackOf(cell, u)
}

// words is a text; choices of the plan are taken with blanks for dashes.
func (c *column) words(cell string) string {
	if c.key == "asks" || c.key == "owner" || c.key == "signs" {
		cell = strings.ReplaceAll(cell, " ", "-")
	}
	return quote(cell)
}

func oneOf(cell string, words []string) bool {
	for _, w := range words {
		if strings.EqualFold(cell, w) {
			return true
		}
	}
	return false
}

func (c *column) yesOrNo(cell string) (string, error) {
	switch {
	case oneOf(cell, yes):
		return "true", nil
	case oneOf(cell, no):
		return "", nil
	case c.kind == ownSeat:
		return word(strings.ReplaceAll(strings.ToLower(cell), " ", "-")), nil
	}
	return "", &wrong{text: strconv.Quote(cell) + " is neither yes nor no"}
}

func (c *column) limit(cell string) (string, error) {
	if unknown(cell) {
		return "unknown", nil
	}
	v, ok := decimal(cell)
	if !ok {
		return "", &wrong{text: strconv.Quote(cell) + " is no number, and not unknown"}
	}
	return strconv.FormatFloat(v, 'f', -1, 64), nil
}

// squeeze makes one blank of every run of blanks and line breaks.
func squeeze(s string) string { return strings.Join(strings.Fields(s), " ") }

// measured is a number in the unit of the column, a range of them where the
// plan takes one, or words where it takes these.
func (c *column) measured(cell string, u *unit) (string, error) {
	if unknown(cell) {
		return "unknown", nil
	}
	if u != nil && u.kept() && slices.Contains(valueKeys, c.key) && plainNumbers.MatchString(cell) {
		cell += " " + u.word // the column's, kept as it is written
	}
	if own, ok := ownUnit(cell); ok && slices.Contains(valueKeys, c.key) {
		return quote(own), nil
	}
	read := between
	if c.kind == length {
		read = quantity
	}
	if v, ok := read(cell, u); ok {
		return v, nil
	}
	if c.key == "snug" {
		return quote(cell), nil
	}
	return "", &wrong{text: strconv.Quote(cell) + " is no " + c.kind.measures() + ", and not unknown"}
}

func names(list_ []string) string {
	var out []string
	for _, w := range list_ {
		out = append(out, word(nameOf(w)))
	}
	return list(out)
}

func words(list_ []string) string {
	var out []string
	for _, w := range list_ {
		out = append(out, word(w))
	}
	return list(out)
}
