package events

import (
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"unicode/utf8"
)

// AppendEvent adds the data of an event, and checks it on the way.
func appendEvent(out []byte, e Event, depth int) ([]byte, error) {
	if u, ok := e.(Unknown); ok {
		return append(out, u.Data...), checkUnknown(u)
	}
	s := byType[reflect.TypeOf(e)]
	if s == nil {
		return nil, fmt.Errorf("event %T: in no catalogue", e)
	}
	return appendGroup(out, s.shape, reflect.ValueOf(e), depth)
}

func checkUnknown(u Unknown) error {
	switch {
	case !isKindName(u.Kind):
		return fmt.Errorf("kind %q: not 1 to %d small letters, digits or -", u.Kind, MaxWord)
	case !utf8.ValidString(u.Data) || !json.Valid([]byte(u.Data)):
		return fmt.Errorf("data %s: not JSON", shown(u.Data))
	}
	return nil
}

func appendGroup(out []byte, s *shape, v reflect.Value, depth int) ([]byte, error) {
	out = append(out, '{')
	first := true
	for i := range s.fields {
		f := &s.fields[i]
		fv := v.Field(f.index)
		if f.omit && isEmpty(f.form, fv) {
			continue
		}
		if !first {
			out = append(out, ',')
		}
		first = false
		var err error
		if f.form == asEvent {
			out, err = appendNested(out, f, fv.Interface().(Event), depth+1)
		} else {
			out, err = appendValue(append(out, f.key...), f.shape, fv, depth)
		}
		if err != nil {
			return nil, within(f.name, err)
		}
	}
	return append(out, '}'), nil
}

// Member is an error about one member, by its path from the data.
type member struct {
	path string
	err  error
}

func (m *member) Error() string { return m.path + " " + m.err.Error() }

func within(name string, err error) error {
	if m, ok := err.(*member); ok {
		if m.path[0] == '[' {
			return &member{name + m.path, m.err}
		}
		return &member{name + "." + m.path, m.err}
	}
	return &member{name, err}
}

func isEmpty(f form, v reflect.Value) bool {
	switch f {
	case asList:
		return v.Len() == 0
	case asReal:
		return v.Float() == 0 // a negative zero too
	}
	return v.IsZero()
}

var errTooDeep = fmt.Errorf("more than %d events inside one another", MaxNest)

func appendNested(out []byte, f *field, e Event, depth int) ([]byte, error) {
	if depth > MaxNest {
		return nil, errTooDeep
	}
	name := NameOf(e)
	out = append(out, f.lead[:len(f.lead)-1]...)
	out = appendText(out, name)
	out = append(out, ',')
	return appendEvent(append(out, f.key...), e, depth)
}

func appendValue(out []byte, s *shape, v reflect.Value, depth int) ([]byte, error) {
	switch s.form {
	case asText, asWord, asLong:
		return appendChecked(out, s.form, v.String())
	case asFlag:
		return strconv.AppendBool(out, v.Bool()), nil
	case asCount:
		return appendLimited(out, v.Int(), MaxQty)
	case asStamp:
		return appendLimited(out, v.Int(), MaxTime)
	case asTurn:
		return appendLimited(out, int64(v.Uint()), MaxN)
	case asReal:
		return appendReal(out, v.Float())
	case asGroup:
		return appendGroup(out, s, v, depth)
	case asList:
		return appendList(out, s, v, depth)
	}
	panic("unreachable: value without a stored form")
}

func appendList(out []byte, s *shape, v reflect.Value, depth int) ([]byte, error) {
	if v.Len() > MaxList {
		return nil, fmt.Errorf("of %d: more than %d", v.Len(), MaxList)
	}
	out = append(out, '[')
	for i := range v.Len() {
		if i > 0 {
			out = append(out, ',')
		}
		var err error
		if out, err = appendValue(out, s.elem, v.Index(i), depth); err != nil {
			return nil, within("["+strconv.Itoa(i)+"]", err)
		}
	}
	return append(out, ']'), nil
}

func appendChecked(out []byte, f form, s string) ([]byte, error) {
	limit := MaxName
	if f == asLong {
		limit = MaxText
	}
	if err := checkText(s, limit, f == asLong); err != nil {
		return nil, err
	}
	if f == asWord && s != "" && !isWord(s) {
		return nil, fmt.Errorf("%q: not letters, digits, - or _", s)
	}
	return appendText(out, s), nil
}

func appendLimited(out []byte, v, limit int64) ([]byte, error) {
	if v < 0 || v > limit {
		return nil, fmt.Errorf("%d: not 0 to %d", v, limit)
	}
	return strconv.AppendInt(out, v, 10), nil
}

// AppendReal writes the shortest number that reads back as v, in the form of
// ECMA-262 (Number::toString), which encoding/json has too.
func appendReal(out []byte, v float64) ([]byte, error) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil, fmt.Errorf("%v: no number", v)
	}
	if v == 0 {
		return append(out, '0'), nil // also for the negative zero
	}
	if size := math.Abs(v); size >= 1e-6 && size < 1e21 {
		return strconv.AppendFloat(out, v, 'f', -1, 64), nil
	}
	out = strconv.AppendFloat(out, v, 'e', -1, 64)
	if n := len(out); out[n-4] == 'e' && out[n-3] == '-' && out[n-2] == '0' {
		out[n-2] = out[n-1] // e-07 is stored as e-7
		out = out[:n-1]
	}
	return out, nil
}

// AppendText writes a checked text. Only these four need an escape.
func appendText(out []byte, s string) []byte {
	out = append(out, '"')
	done := 0
	for i := range len(s) {
		var escape string
		switch s[i] {
		case '"':
			escape = `\"`
		case '\\':
			escape = `\\`
		case '\n':
			escape = `\n`
		case '\t':
			escape = `\t`
		default:
			continue
		}
		out = append(out, s[done:i]...)
		out = append(out, escape...)
		done = i + 1
	}
	out = append(out, s[done:]...)
	return append(out, '"')
}
