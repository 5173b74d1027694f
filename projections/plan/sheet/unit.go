package sheet

import (
	"math"
	"strconv"
	"strings"
)

// unit is a unit of the sheets with its size in that of the plan file.
type unit struct {
	word string
	sort string // length, torque, angle
	size float64
}

// Sizes: the inch is 25.4 mm and the pound-force 4.4482216152605 N exactly
// (international yard and pound agreement, 1959, with standard gravity
// 9.80665 m/s2); so the foot-pound is 1.3558179483314004 N.m and the
// kilogram-force metre 9.80665 N.m.
var units = []unit{
	{"mm", "length", 1}, {"cm", "length", 10}, {"in", "length", 25.4},
	{"N.m", "torque", 1}, {"lbf.ft", "torque", 1.3558179483314004}, {"lbf.in", "torque", 1.3558179483314004 / 12}, {"kgf.m", "torque", 9.80665},
	{"deg", "angle", 1},
}

// usualUnit is the unit that a fault proposes.
var usualUnit = map[string]string{"length": "mm", "torque": "N.m", "angle": "deg"}

// unitAliases are other ways to write units, in lower case without blanks.
var unitAliases = map[string]string{
	"nm": "N.m", "n.m": "N.m", "n·m": "N.m", "n-m": "N.m",
	"lbf·ft": "lbf.ft", "lbfft": "lbf.ft", "lbf-ft": "lbf.ft", "lb.ft": "lbf.ft", "lb-ft": "lbf.ft", "lbft": "lbf.ft",
	"ft-lb": "lbf.ft", "ft.lb": "lbf.ft", "ftlb": "lbf.ft", "ft-lbf": "lbf.ft", "ft-lbs": "lbf.ft", "ft.lbf": "lbf.ft",
	"lbf·in": "lbf.in", "lbfin": "lbf.in", "lbf-in": "lbf.in", "lb.in": "lbf.in", "lb-in": "lbf.in",
	"in-lb": "lbf.in", "in.lb": "lbf.in", "inlb": "lbf.in", "in-lbf": "lbf.in", "in-lbs": "lbf.in", "in.lbf": "lbf.in",
	"kgf·m": "kgf.m", "kgfm": "kgf.m", "kgf-m": "kgf.m", "kgm": "kgf.m", "kg.m": "kgf.m", "kg-m": "kgf.m", "mkg": "kgf.m",
	"inch": "in", "inches": "in", "\"": "in", "″": "in", "millimetre": "mm", "millimetres": "mm",
	"°": "deg", "degree": "deg", "degrees": "deg",
}

// unitOf is the unit that a word means.
func unitOf(word string) (*unit, bool) {
	w := strings.ToLower(strings.ReplaceAll(word, " ", ""))
	if alias, ok := unitAliases[w]; ok {
		w = alias
	}
	for i := range units {
		if strings.EqualFold(units[i].word, w) {
			return &units[i], true
		}
	}
	return nil, false
}

func unitWords(sort string) []string {
	var out []string
	for _, u := range units {
		if u.sort == sort {
			out = append(out, u.word)
		}
	}
	return out
}

// measures is the sort of unit that a column of this kind needs, or "".
func (k kind) measures() string {
	switch k {
	case length, stretch, across:
		return "length"
	case torque:
		return "torque"
	case angle:
		return "angle"
	}
	return ""
}

// decimal reads a number with a decimal point or comma, or a fraction as
// inches have them: 1-1/2, 1 1/2, 3/8.
func decimal(s string) (float64, bool) {
	s = strings.TrimSpace(s)
	if n, d, ok := strings.Cut(s, "/"); ok {
		whole := 0.0
		if at := strings.LastIndexAny(n, "- "); at > 0 {
			w, err := strconv.ParseUint(strings.TrimSpace(n[:at]), 10, 32)
			if err != nil {
				return 0, false
			}
			whole, n = float64(w), n[at+1:]
		}
		top, err1 := strconv.ParseUint(n, 10, 32)
		low, err2 := strconv.ParseUint(d, 10, 32)
		if err1 != nil || err2 != nil || low == 0 {
			return 0, false
		}
		return whole + float64(top)/float64(low), true
	}
	if strings.Count(s, ",") == 1 && !strings.Contains(s, ".") {
		s = strings.Replace(s, ",", ".", 1)
	}
	if strings.Trim(s, "+-.0123456789") != "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil && math.Abs(v) <= 1e6
}

// plain writes a number rounded to a millionth, without an exponent.
func plain(v float64) string { return digits(v, 6) }

func digits(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		s = "0"
	}
	return s
}

// quantity reads a number in a unit and gives it in the plan's; a unit behind
// the number goes before that of the column.
func quantity(s string, u *unit) (string, bool) {
	s = strings.TrimSpace(s)
	if at := strings.LastIndexAny(s, "0123456789"); at >= 0 && at+1 < len(s) {
		own, ok := unitOf(s[at+1:])
		if !ok || (u != nil && own.sort != u.sort) {
			return "", false
		}
		u, s = own, s[:at+1]
	}
	v, ok := decimal(s)
	if !ok {
		return "", false
	}
	if u != nil {
		v *= u.size
	}
	return plain(v), true
}

// between reads a quantity or two with .. between them.
func between(s string, u *unit) (string, bool) {
	a, b, two := strings.Cut(s, "..")
	low, ok := quantity(a, u)
	if !two || !ok {
		return low, ok && !two
	}
	high, ok := quantity(b, u)
	return low + ".." + high, ok
}
