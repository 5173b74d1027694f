package sheet

import (
	"slices"
	"strings"
)

var (
	pieceWords = []string{"clamps", "stud", "bolt", "nut", "washer"}
	extraWords = []string{"stays", "reuse", "run-in", "height", "feature", "way round"}
)

// stackOf turns a stack of pieces into a list of a plan file. Lengths without
// a unit are in u.
func stackOf(cell string, u *unit) (string, error) {
	var out []string
	for _, part := range split(cell, '>') {
		part = strings.TrimSpace(part)
		kind, rest, _ := strings.Cut(part, " ")
		kind = strings.ToLower(kind)
		if !slices.Contains(pieceWords, kind) {
			return "", &wrong{text: "\"" + part + "\": one of " + strings.Join(pieceWords, ", ") + " is wanted first", near: nearest(kind, pieceWords)}
		}
		if kind == "clamps" {
			var parts []string
			for _, p := range splitNames(rest) {
				parts = append(parts, word(nameOf(p)))
			}
			out = append(out, "{clamps: "+list(parts)+"}")
			continue
		}
		piece, err := pieceOf(kind, rest, u)
		if err != nil {
			return "", err
		}
		out = append(out, piece)
	}
	return list(out), nil
}

// pieceOf is one piece: its spec and what is special of it in square brackets.
func pieceOf(kind, rest string, u *unit) (string, error) {
	halves := split(rest, '[')
	spec, extras, some := bare(halves[0]), strings.Join(halves[1:], "["), len(halves) > 1
	if spec == "" {
		return "", &wrong{text: kind + ": its spec is missing"}
	}
	keys := []string{kind + ": " + quote(spec)}
	if !some {
		return "{" + keys[0] + "}", nil
	}
	extras, closed := strings.CutSuffix(strings.TrimSpace(extras), "]")
	if !closed {
		return "", &wrong{text: kind + ": a square bracket is not closed"}
	}
	for _, x := range split(extras, ';') {
		if x = strings.TrimSpace(x); x == "" {
			continue
		}
		key, err := extraOf(x, u)
		if err != nil {
			return "", err
		}
		keys = append(keys, key)
	}
	return "{" + strings.Join(keys, ", ") + "}", nil
}

func extraOf(x string, u *unit) (string, error) {
	for _, w := range extraWords {
		value, ok := strings.CutPrefix(x, w)
		if !ok || (value != "" && value[0] != ' ') {
			continue
		}
		value = strings.TrimSpace(value)
		key := strings.ReplaceAll(w, " ", "-")
		switch w {
		case "stays":
			if value == "" {
				return "stays: true", nil
			}
		case "run-in", "height":
			if unknown(value) {
				return key + ": unknown", nil
			}
			if mm, ok := quantity(value, u); ok {
				return key + ": " + mm, nil
			}
			return "", &wrong{text: w + ": " + value + " is no length"}
		default:
			if value = bare(value); value != "" {
				return key + ": " + quote(value), nil
			}
		}
		return "", &wrong{text: "\"" + x + "\" cannot be read"}
	}
	first, _, _ := strings.Cut(x, " ")
	return "", &wrong{text: "\"" + x + "\": one of " + strings.Join(extraWords, ", ") + " is wanted", near: nearest(first, extraWords)}
}

func unknown(s string) bool { return s == "unknown" || s == "?" }
