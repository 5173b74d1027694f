package events

import (
	"fmt"
	"reflect"
	"strings"
)

// Form says how one value is stored.
type form uint8

const (
	asText  form = iota // string
	asWord              // string: a shop, terminal or job id, or empty
	asLong              // string: a whole file
	asFlag              // true or false
	asCount             // number, 0 to MaxQty
	asStamp             // number, microseconds since 1970
	asTurn              // number, a terminal's n
	asReal              // number with a fraction
	asList              // array
	asGroup             // object
	asEvent             // two members: kind and data
)

// Shape is the stored form of one Go type, made once from its tags.
type shape struct {
	form   form
	typ    reflect.Type
	elem   *shape  // of a list
	size   uintptr // of an element
	number int     // of a list: its place in lists
	tray   tray    // of a list
	fields []field // of a group, in stored order
	nested string  // of an event: from the end of its kind to its data
}

// Field is one member of a group.
type field struct {
	name   string
	key    string // as stored, with quotes and colon
	lead   string // from the first key of the field to where its value differs
	word   uint64 // the first eight bytes of lead, or fewer,
	mask   uint64 // and which they are
	index  int
	offset uintptr
	omit   bool // left out when empty
	*shape
}

// Species is one kind with its shape.
type species struct {
	*entry
	*shape
	room int // its place in the catalogue
}

var byName, byType = index(catalogue)

func index(entries []entry) (map[string]*species, map[reflect.Type]*species) {
	names := make(map[string]*species, len(entries))
	types := make(map[reflect.Type]*species, len(entries))
	for i := range entries {
		e := &entries[i]
		s := &species{e, groupOf(e.typ), i}
		if names[e.name] != nil || types[e.typ] != nil {
			panic(fmt.Sprintf("event %s %s: twice in the catalogue", e.name, e.typ))
		}
		names[e.name], types[e.typ] = s, s
	}
	return names, types
}

// GroupOf reads the tags of a struct. A field that cannot be stored is a
// mistake of the program and stops it at its start.
func groupOf(t reflect.Type) *shape {
	s := &shape{form: asGroup, typ: t}
	had := map[string]bool{}
	for i := range t.NumField() {
		f := t.Field(i)
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		fs := &shape{form: asEvent, typ: f.Type}
		if f.Type != reflect.TypeFor[Event]() {
			fs = shapeOf(f.Type)
		} else {
			name, options = nested[t], "omitempty"
		}
		if name == longTexts[t] && name != "" {
			fs = &shape{form: asLong, typ: f.Type}
		}
		if name == "" || name == "-" || had[name] || !f.IsExported() {
			panic(fmt.Sprintf("event field %s.%s: no stored name of its own", t, f.Name))
		}
		had[name] = true
		omit := options == "omitempty" || options == "omitzero"
		if fs.form == asGroup && options == "omitempty" {
			panic(fmt.Sprintf("event field %s.%s: a struct needs omitzero", t, f.Name))
		}
		key := `"` + name + `":`
		lead := key
		switch fs.form {
		case asText, asWord, asLong:
			lead += `"`
		case asEvent:
			fs.nested, lead = `",`+key, `"`+name+`kind":"`
		}
		head, mask := firstWord(lead)
		s.fields = append(s.fields, field{name, key, lead, head, mask, i, f.Offset, omit, fs})
	}
	return s
}

// FirstWord gives up to eight bytes as a number that compares at once.
func firstWord(s string) (word, mask uint64) {
	for i := range min(len(s), 8) {
		word |= uint64(s[i]) << (8 * i)
		mask |= 0xff << (8 * i)
	}
	return word, mask
}

// Lists holds the shape of each type of list.
var lists = map[reflect.Type]*shape{}

func listOf(t reflect.Type) *shape {
	if s := lists[t]; s != nil {
		return s
	}
	s := &shape{form: asList, typ: t, elem: shapeOf(t.Elem()), size: t.Elem().Size(), tray: trayFor(t)}
	for i := range s.elem.fields {
		if s.elem.fields[i].form == asEvent {
			panic(fmt.Sprintf("event list %s: events within a list", t))
		}
	}
	s.number = len(lists)
	lists[t] = s
	return s
}

var words = map[reflect.Type]bool{
	reflect.TypeFor[Shop]():     true,
	reflect.TypeFor[Terminal](): true,
	reflect.TypeFor[Job]():      true,
}

func shapeOf(t reflect.Type) *shape {
	s := &shape{typ: t}
	switch t.Kind() {
	case reflect.String:
		if s.form = asText; words[t] {
			s.form = asWord
		}
	case reflect.Bool:
		s.form = asFlag
	case reflect.Int:
		s.form = asCount
	case reflect.Int64:
		s.form = asStamp
	case reflect.Uint32:
		s.form = asTurn
	case reflect.Float64:
		s.form = asReal
	case reflect.Struct:
		return groupOf(t)
	case reflect.Slice:
		return listOf(t)
	default:
		panic(fmt.Sprintf("event field of type %s: no stored form", t))
	}
	return s
}
