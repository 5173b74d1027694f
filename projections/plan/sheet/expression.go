package sheet

import (
	"slices"
	"strings"
)

// wrong is why a cell cannot be read.
type wrong struct{ text, near string }

func (w *wrong) Error() string { return w.text }

// conditions turns a cell of conditions into a list of a plan file.
func conditions(cell string, acts bool) (string, error) {
	var out []string
	for _, part := range split(cell, ';') {
		if part = strings.TrimSpace(part); part == "" {
			continue
		}
		if acts && slices.Contains(actWords, part) {
			out = append(out, part)
			continue
		}
		x := &expression{words: tokens(part)}
		c, err := x.either()
		if err == nil && x.at < len(x.words) {
			err = &wrong{text: "nothing is wanted behind this: " + strings.Join(x.words[x.at:], " ")}
		}
		if err != nil {
			return "", err
		}
		out = append(out, c)
	}
	return list(out), nil
}

var actWords = []string{"turning", "cranking", "sending-out"}

// tokens splits at blanks and around brackets, outside quotation marks.
func tokens(s string) []string {
	var b strings.Builder
	inside := false
	for _, r := range s {
		switch {
		case r == '"':
			inside = !inside
			b.WriteRune(r)
		case (r == '(' || r == ')') && !inside:
			b.WriteString(" " + string(r) + " ")
		default:
			b.WriteRune(r)
		}
	}
	return strings.Fields(b.String())
}

// unmarked is a name less the quotation marks that it stands in where it would
// be taken for something else: "and".
func unmarked(s string) string { return nameOf(strings.ReplaceAll(s, `"`, "")) }

// reserved are words that say something in a condition.
var reserved = []string{"and", "or", "is", "are", "always", "never", "stands"}

// markedID is an id as it stands in a condition.
func markedID(id string) string {
	if slices.Contains(reserved, strings.ToLower(id)) {
		return `"` + id + `"`
	}
	return id
}

// expression reads one condition.
type expression struct {
	words []string
	at    int
	deep  int
}

func (x *expression) peek() string {
	if x.at < len(x.words) {
		return x.words[x.at]
	}
	return ""
}

func (x *expression) take() string {
	w := x.peek()
	x.at++
	return w
}

// either is conditions joined by or.
func (x *expression) either() (string, error) { return x.joined("or", "any", (*expression).both) }

// both is conditions joined by and.
func (x *expression) both() (string, error) { return x.joined("and", "all", (*expression).one) }

func (x *expression) joined(by, key string, next func(*expression) (string, error)) (string, error) {
	c, err := next(x)
	if err != nil {
		return "", err
	}
	kids := []string{c}
	for strings.EqualFold(x.peek(), by) {
		x.take()
		c, err := next(x)
		if err != nil {
			return "", err
		}
		kids = append(kids, c)
	}
	if len(kids) == 1 {
		return kids[0], nil
	}
	return "{" + key + ": " + list(kids) + "}", nil
}

// one is a condition in brackets, or about one thing.
func (x *expression) one() (string, error) {
	const deepest = 8
	if x.peek() != "(" {
		return x.atom()
	}
	if x.deep++; x.deep > deepest {
		return "", &wrong{text: "brackets more than 8 deep"}
	}
	x.take()
	c, err := x.either()
	if err != nil {
		return "", err
	}
	if x.take() != ")" {
		return "", &wrong{text: "a bracket is not closed"}
	}
	x.deep--
	return c, nil
}

// phrase is the words up to the next joining word or bracket.
func (x *expression) phrase() []string {
	start := x.at
	for x.at < len(x.words) {
		if w := strings.ToLower(x.peek()); w == "and" || w == "or" || w == "(" || w == ")" {
			break
		}
		x.at++
	}
	return x.words[start:x.at]
}

var thingWords = []string{"part", "seats", "some", "loan", "cavity", "mark", "step"}

// atom is a condition about one thing: kind, name, state.
func (x *expression) atom() (string, error) {
	words := x.phrase()
	if len(words) == 0 {
		return "", &wrong{text: "a condition is missing"}
	}
	kind := strings.ToLower(words[0])
	if len(words) == 1 {
		switch kind {
		case "always":
			return "{all: []}", nil
		case "never":
			return "{any: []}", nil
		}
		return word(unmarked(words[0])), nil
	}
	if !slices.Contains(thingWords, kind) {
		return "", &wrong{text: "\"" + strings.Join(words, " ") + "\" is no condition: a step, or one of " + strings.Join(thingWords, ", ") + " and what is asked of it", near: nearest(kind, thingWords)}
	}
	words = words[1:]
	if kind == "step" || kind == "mark" {
		if n := len(words) - 1; kind == "mark" && n > 0 && words[n] == "stands" {
			words = words[:n]
		}
		return "{" + kind + ": " + word(unmarked(strings.Join(words, " "))) + "}", nil
	}
	state := words[len(words)-1]
	words = words[:len(words)-1]
	if n := len(words) - 1; n >= 0 && (words[n] == "is" || words[n] == "are") {
		words = words[:n]
	}
	if len(words) == 0 {
		return "", &wrong{text: "\"" + kind + " " + state + "\": which one, or what is asked of it, is missing"}
	}
	named := strings.Join(words, " ")
	if kind != "seats" && kind != "some" {
		return "{" + kind + ": " + word(unmarked(named)) + ", is: " + word(state) + "}", nil
	}
	seats, err := seatsOf(strings.ReplaceAll(named, `"`, ""), "+")
	if err != nil {
		return "", err
	}
	are := map[string]string{"seats": "are", "some": "some-are"}[kind]
	return "{seats: " + seats + ", " + are + ": " + word(state) + "}", nil
}

// seatsOf turns holes of joints into a mapping of a plan file. Of a joint that
// is named twice the holes are put together.
func seatsOf(cell, sep string) (string, error) {
	var joints []string
	holes := map[string][]string{}
	for _, part := range strings.Split(cell, sep) {
		if part = strings.TrimSpace(part); part == "" {
			continue
		}
		joint, at, some := strings.Cut(part, ":")
		joint = nameOf(strings.TrimSpace(joint))
		list := []string{"all"}
		if some && strings.TrimSpace(at) != "all" {
			list = splitList(at)
		}
		if joint == "" || len(list) == 0 {
			return "", &wrong{text: "\"" + part + "\": a joint is wanted, or a joint and its holes: oil-pan:1..4"}
		}
		if holes[joint] == nil {
			joints = append(joints, joint)
		}
		holes[joint] = append(holes[joint], list...)
	}
	var out []string
	for _, j := range joints {
		if slices.Equal(holes[j], []string{"all"}) {
			out = append(out, word(j)+": all")
			continue
		}
		var at []string
		for _, h := range holes[j] {
			at = append(at, word(h))
		}
		out = append(out, word(j)+": "+list(at))
	}
	return "{" + strings.Join(out, ", ") + "}", nil
}

// barriers turns what a loan must be out for into a list of a plan file.
func barriers(cell string) (string, error) {
	var out []string
	for _, part := range strings.Split(cell, ";") {
		words := strings.Fields(part)
		switch {
		case len(words) == 0:
		case len(words) > 1 && (words[0] == "removal" || words[0] == "finished"):
			if words[1] == "of" && len(words) > 2 {
				words = slices.Delete(words, 1, 2)
			}
			out = append(out, "{"+words[0]+": "+word(nameOf(strings.Join(words[1:], " ")))+"}")
		default:
			out = append(out, word(nameOf(strings.Join(words, " "))))
		}
	}
	return list(out), nil
}
