package scan

import "strings"

// class names a set of types that a subject can stand for.
var classes = map[string][]Type{
	"container": {Bag, Rack, Place, Bench, Stock, TrayNoun},
	"from":      {Bag, Rack, Place, Bench, Stock, TrayNoun, Position},
	"thing":     {Joint, Hole, Part, Step, Audit, Case, Cavity, Bag},
	"any": {Joint, Hole, Part, Bag, Rack, Place, Bench, Stock, Loan, Cavity, Mark, Step, Audit, Case, Slip, Short,
		Finding, Size, Position, Measurement, TrayNoun},
}

// slot is one place of a subject: which types, and how many of them.
type slot struct {
	types    []Type
	min, max int
}

// subject is the nouns of a sentence as data: type words or classes with ?, *
// or + behind them: "joint hole* bag".
type subject []slot

const manyNouns = 200

func parseSubject(text string) subject {
	var s subject
	for _, w := range strings.Fields(text) {
		sl := slot{min: 1, max: 1}
		switch w[len(w)-1] {
		case '?':
			sl.min = 0
		case '*':
			sl.min, sl.max = 0, manyNouns
		case '+':
			sl.max = manyNouns
		}
		for _, name := range strings.Split(strings.TrimRight(w, "?*+"), "|") {
			if c, ok := classes[name]; ok {
				sl.types = append(sl.types, c...)
			} else {
				sl.types = append(sl.types, Type(name))
			}
		}
		s = append(s, sl)
	}
	return s
}

func (s slot) takes(t Type) bool {
	for _, k := range s.types {
		if k == t {
			return true
		}
	}
	return false
}

// match reports whether the nouns are this subject, or with part whether they
// can become it by more nouns behind them.
func (s subject) match(nouns []Noun, part bool) bool {
	if len(nouns) == 0 {
		if part {
			return true
		}
		for _, sl := range s {
			if sl.min > 0 {
				return false
			}
		}
		return true
	}
	if len(s) == 0 {
		return false
	}
	sl := s[0]
	if sl.min == 0 && s[1:].match(nouns, part) {
		return true
	}
	if !sl.takes(nouns[0].Type) {
		return false
	}
	rest := sl
	rest.min, rest.max = 0, sl.max-1
	if rest.max == 0 {
		return s[1:].match(nouns[1:], part)
	}
	return append(subject{rest}, s[1:]...).match(nouns[1:], part)
}
