package scan

import (
	"errors"
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode"

	"countback/events"
	"countback/labels/code"
	"countback/projections/fastener"
	"countback/projections/gauge"
)

// MaxLine is how many bytes of a line are looked at; what is longer is no
// scan and no name.
const MaxLine = 1600

// Read says what one line is. It takes any text.
func Read(line string, dir Directory) Token {
	text := clean(line)
	t := Token{Line: text}
	switch {
	case text == "":
		return t
	case len(text) > MaxLine:
		t.Kind, t.Line, t.Why = Foreign, text[:40], "too long to be a label or a name"
		return t
	}
	if w, ok := WordOf(text); ok {
		return word(t, w)
	}
	if c, err := code.Parse(text); err == nil {
		return label(t, c, dir)
	} else if named := byName(t, text, dir); named.Kind != Words {
		return named
	} else if fault := new(code.Error); errors.As(err, &fault) && fault.Fault == code.Misread {
		t.Kind, t.Why = Misread, "the check character is wrong"
		return t
	}
	t.Kind = Words
	if whole := strings.TrimLeft(text, "-"); whole != "" && len(whole) <= 12 && strings.Trim(whole, "0123456789") == "" {
		t.Why = "nobody counts that many; up to " + itoa(events.MaxQty)
	}
	return t
}

// clean trims blanks and drops what no key gives: control characters and
// broken text.
func clean(line string) string {
	line = strings.ToValidUTF8(line, "")
	line = strings.Map(func(r rune) rune {
		if r == '\t' {
			return ' '
		}
		if unicode.IsControl(r) {
			return -1
		}
		return r
	}, line)
	return strings.TrimSpace(line)
}

func word(t Token, w Word) Token {
	if d, ok := w.Digit(); ok {
		t.Kind, t.N, t.Real, t.Whole, t.Word = Digit, d, float64(d), true, w
		return t
	}
	t.Kind, t.Word = Said1, w
	return t
}

// label reads a code whose check is right.
func label(t Token, c code.Code, dir Directory) Token {
	t.Scan = true
	t.Line = string(c)
	if n, ok := code.AsNumber(c); ok {
		t.Kind, t.N, t.Real, t.Whole = Number, n, float64(n), true
		return t
	}
	if w, ok := wordOfCode(c); ok {
		return word(t, w)
	}
	f := dir.Label(c)
	t.Noun, t.Job, t.Name, t.Since, t.By, t.Letter = f.Noun, f.Job, f.Name, f.Since, f.By, c.Type().String()
	t.Noun.Code = events.Code(c)
	switch f.State {
	case Ours:
		t.Kind = Saw
	case Blank:
		t.Kind, t.Noun.Blank = Saw, true
	case Retired:
		t.Kind = Gone
	case OtherJob:
		t.Kind = AnotherJob
	default:
		t.Kind, t.Why = NotOurs, "nobody here issued it"
	}
	return t
}

// byName reads a number, or a noun by its name.
func byName(t Token, text string, dir Directory) Token {
	if n, real, whole, ok := number(text); ok {
		t.Kind, t.N, t.Real, t.Whole, t.Digits = Number, n, real, whole, strings.Replace(text, ",", ".", 1)
		return t
	}
	first, rest, _ := strings.Cut(text, " ")
	typ, rest := Type(strings.ToLower(first)), strings.TrimSpace(rest)
	if rest != "" && isType(typ) {
		return noun(t, typ, rest, dir)
	}
	switch found := dir.Named("", text); len(found) {
	case 0:
	case 1:
		t.Kind, t.Noun = Saw, found[0]
		return t
	default:
		t.Kind, t.Nouns = Several, found
		return t
	}
	if spec, err := fastener.Parse(text); err == nil && spec.Thread.Known() {
		return noun(t, Size, text, dir)
	}
	if reading(&t, text) {
		return t
	}
	t.Kind = Words
	return t
}

var readingForm = regexp.MustCompile(`^(-?\d+(?:[.,]\d+)?)\s*([^\s\d].*)?$`)

// reading reads a number with its unit, and the temperature at which it was
// taken: "2.047 in", "51,98 mm at 35 C".
func reading(t *Token, text string) bool {
	text, at, warm := strings.Cut(text, " at ")
	m := readingForm.FindStringSubmatch(strings.TrimSpace(text))
	if m == nil || m[2] == "" && !warm {
		return false
	}
	_, real, _, ok := number(m[1])
	u, known := gauge.ParseUnit(m[2])
	if !ok || !known && m[2] != "" {
		return false
	}
	if warm {
		_, degrees, _, ok := number(strings.TrimSpace(strings.TrimRight(at, "°Cc")))
		if !ok || degrees < -60 || degrees > 300 {
			return false
		}
		t.Warm = degrees
	}
	t.Kind, t.Real, t.Digits = Number, real, strings.Replace(m[1], ",", ".", 1)
	if known {
		t.Unit = u.String()
	}
	return true
}

var oddUnit = regexp.MustCompile(`^-?\d+(?:[.,]\d+)? +(\pL[^\s\d]*)$`)

// OddUnit is the unit of a scan that is a number with a unit which is not known;
// empty: it is no such scan.
func OddUnit(t Token) string {
	m := oddUnit.FindStringSubmatch(strings.TrimSpace(t.Line))
	if t.Kind != Words || t.Why != "" || m == nil {
		return ""
	}
	if _, known := gauge.ParseUnit(m[1]); known {
		return ""
	}
	return m[1]
}

// noun reads a name with the type word before it.
func noun(t Token, typ Type, name string, dir Directory) Token {
	if typ == Hole || typ == Position {
		return seat(t, typ, name, dir)
	}
	switch found := dir.Named(typ, name); len(found) {
	case 0:
	case 1:
		t.Kind, t.Noun = Saw, found[0]
		return t
	default:
		t.Kind, t.Nouns = Several, found
		return t
	}
	if c, err := code.Parse(name); err == nil && (TypeOf(c.Type()) == typ || typ == Label) {
		return label(t, c, dir)
	}
	if spec, err := fastener.Parse(name); typ == Size && err == nil {
		name = spec.String()
	} else if !free(typ) || typ == Kit && misspelt(name, dir.Near(Kit, name)) {
		return unnamed(t, typ, name, dir)
	}
	if (typ == JobNoun || isCarried(typ)) && strings.Trim(name, jobLetters) != "" {
		return unnamed(t, typ, name, dir)
	}
	t.Kind, t.Noun = Saw, Noun{Type: typ, ID: name, Blank: typ == JobNoun || isCarried(typ)}
	return t
}

// jobLetters are what the name of a job may have.
const jobLetters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"

// seat reads a hole or a position: alone, when the sentence says of what, or
// with its joint or part before it.
func seat(t Token, typ Type, name string, dir Directory) Token {
	id := strings.Join(strings.Fields(strings.Replace(name, ":", " ", 1)), ":")
	t.Kind, t.Noun = Saw, Noun{Type: typ, ID: id}
	if id == "" || strings.Contains(id, ":") && len(dir.Named(typ, id)) == 0 {
		return unnamed(t, typ, name, dir)
	}
	return t
}

func unnamed(t Token, typ Type, name string, dir Directory) Token {
	t.Kind, t.Why = Foreign, "no "+string(typ)+" here is called "+shown(name)
	if near := dir.Near(typ, name); near != "" {
		t.Why += "; the nearest is " + near
	}
	if typ == Badge {
		t.Why += "; a blank badge, LABEL and the name make it one"
	}
	return t
}

// misspelt reports whether a name is the nearest one of the plan with a slip of
// the hand in it, and no other of its row: gasket-set-2 is a second set.
func misspelt(name, near string) bool {
	digits := func(s string) string {
		return strings.Map(func(r rune) rune {
			if r >= '0' && r <= '9' {
				return r
			}
			return -1
		}, s)
	}
	return near != "" && digits(name) == digits(near)
}

// free says that anything can be named so: the sentence says of what it is.
func free(t Type) bool {
	if isCarried(t) {
		return true
	}
	switch t {
	case Place, Stock, Supplier, Engine, JobNoun, Kit, Gauge:
		return true
	}
	return false
}

func isType(t Type) bool {
	for _, k := range Types {
		if k == t {
			return true
		}
	}
	return false
}

// number reads a whole number, or one with a point or a comma and perhaps a
// minus: a depth, a reading.
func number(text string) (n int, real float64, whole, ok bool) {
	if len(text) > 12 || strings.Trim(text, "0123456789.,-") != "" || strings.Count(text, ",")+strings.Count(text, ".") > 1 {
		return 0, 0, false, false
	}
	real, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err != nil || math.IsInf(real, 0) || math.Abs(real) > events.MaxQty {
		return 0, 0, false, false
	}
	whole = !strings.ContainsAny(text, ".,-")
	if whole {
		n = int(real)
	}
	return n, real, whole, true
}

func shown(s string) string {
	r := []rune(s)
	if len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}
