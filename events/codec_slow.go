package events

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"
)

// The slow road reads any JSON that says the same as the canonical form:
// other blanks, other order, other escapes. It is made of encoding/json and
// is what the fast road is held against.

func slowDecode(data []byte, r *Record) error {
	attrs, err := envelopeOf(data)
	if err != nil {
		return fmt.Errorf("event: %w", err)
	}
	if err := attrs.identity(r); err != nil {
		return fmt.Errorf("event: %w", err)
	}
	if err := attrs.times(r); err != nil {
		return about(r, err)
	}
	kind, ok := strings.CutPrefix(attrs.text["type"], typeRoot)
	if !ok || !isKindName(kind) {
		return about(r, fmt.Errorf("type %q: not %sname", attrs.text["type"], typeRoot))
	}
	if r.Event, err = slowEvent(kind, attrs.data, 0); err != nil {
		return fmt.Errorf("event %s-%d %s: %w", r.Terminal, r.N, kind, err)
	}
	// What could not be stored again is not taken in.
	_, err = Append(nil, r)
	return err
}

// Attributes of one CloudEvent, before anything is made of them.
type attributes struct {
	text map[string]string // those that are strings
	n    json.RawMessage
	data json.RawMessage
}

var attributeNames = map[string]bool{
	"specversion": true, "id": true, "source": true, "type": true, "subject": true,
	"time": true, "datacontenttype": true, "at": true, "seen": true, "operator": true,
	"known": true, "happenedfrom": true, "happenedto": true,
}

func envelopeOf(data []byte) (attributes, error) {
	a := attributes{text: map[string]string{}}
	if !utf8.Valid(data) {
		return a, fmt.Errorf("%s: not UTF-8", shown(string(data)))
	}
	members, err := membersOf(data)
	if err != nil {
		return a, err
	}
	for _, m := range members {
		switch {
		case m.name == "n":
			a.n = m.value
		case m.name == "data":
			a.data = m.value
		case m.name == "data_base64":
			return a, fmt.Errorf("data_base64: data must be JSON")
		case attributeNames[m.name]:
			var s *string
			if err := json.Unmarshal(m.value, &s); err != nil {
				return a, fmt.Errorf("%s %s: not a string", m.name, shown(string(m.value)))
			}
			if s != nil { // null is the same as absent
				a.text[m.name] = *s
			}
		}
	}
	return a, nil
}

func (a *attributes) identity(r *Record) error {
	if v := a.text["specversion"]; v != specVersion {
		return fmt.Errorf("specversion %q: not %s", v, specVersion)
	}
	if v, ok := a.text["datacontenttype"]; ok && v != contentType {
		return fmt.Errorf("datacontenttype %q: not %s", v, contentType)
	}
	source, ok := strings.CutPrefix(a.text["source"], sourceRoot)
	shop, terminal, cut := strings.Cut(source, "/")
	if !ok || !cut || !isWord(shop) || !isWord(terminal) {
		return fmt.Errorf("source %q: not %sshop/terminal", a.text["source"], sourceRoot)
	}
	if err := json.Unmarshal(a.n, &r.N); err != nil || r.N < 1 || r.N > MaxN {
		return fmt.Errorf("n %q: not 1 to %d", a.n, MaxN)
	}
	if want := terminal + "-" + strconv.FormatUint(uint64(r.N), 10); a.text["id"] != want {
		return fmt.Errorf("id %q: not %s by its source and n", a.text["id"], want)
	}
	r.Shop, r.Terminal = Shop(shop), Terminal(terminal)
	r.Job = Job(a.text["subject"])
	r.Seen = Seen(a.text["seen"])
	r.Operator = Badge(a.text["operator"])
	return nil
}

// Package time also reads a comma before the fraction and hours of one digit,
// which RFC 3339 does not have.
var rfc3339 = regexp.MustCompile(`^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)$`)

func (a *attributes) times(r *Record) (err error) {
	t, err := time.Parse(time.RFC3339, a.text["time"])
	if err != nil || t.Nanosecond()%1000 != 0 || !rfc3339.MatchString(a.text["time"]) {
		return fmt.Errorf("time %q: not RFC 3339 in microseconds", a.text["time"])
	}
	r.Time = t.UnixMicro()
	for _, d := range []struct {
		name string
		to   *int64
	}{{"at", &r.At}, {"happenedfrom", &r.From}, {"happenedto", &r.To}} {
		s, ok := a.text[d.name]
		if !ok {
			continue // a missing at is zero, which no record may have
		}
		if *d.to, err = strconv.ParseInt(s, 10, 64); err != nil || *d.to < 1 {
			return fmt.Errorf("%s %q: not microseconds since 1970", d.name, s)
		}
	}
	for k, word := range knownWords {
		if a.text["known"] == word {
			r.Known = Known(k)
			return nil
		}
	}
	return fmt.Errorf("known %q: not one of%s", a.text["known"], strings.Join(knownWords[:], " "))
}

// SlowEvent reads the data of one kind. A kind that is not known, and a known
// kind with a member that is not known, become Unknown: the second was written
// by a newer program, and half of it might mean something else.
func slowEvent(kind string, data json.RawMessage, depth int) (Event, error) {
	s := byName[kind]
	if s == nil {
		return Unknown{kind, string(data)}, nil
	}
	v := reflect.New(s.entry.typ)
	known, err := slowGroup(data, s.shape, v.Elem(), depth)
	if err != nil {
		return nil, err
	}
	if !known {
		return Unknown{kind, string(data)}, nil
	}
	return v.Elem().Interface().(Event), nil
}

// SlowGroup fills v from an object. It is false if a member is not known.
func slowGroup(data json.RawMessage, s *shape, v reflect.Value, depth int) (bool, error) {
	members, err := membersOf(data)
	if err != nil {
		return false, err
	}
	values := make(map[string]json.RawMessage, len(members))
	for _, m := range members {
		values[m.name] = m.value
	}
	for i := range s.fields {
		f := &s.fields[i]
		value, ok := values[f.name]
		if f.form == asEvent {
			kind, told := values[f.name+"kind"]
			if ok != told {
				return false, within(f.name, fmt.Errorf("and %skind: one without the other", f.name))
			}
			delete(values, f.name+"kind")
			if ok {
				err = slowNested(kind, value, v.Field(f.index), depth+1)
			}
		} else if ok {
			var known bool
			if known, err = slowValue(value, f.shape, v.Field(f.index), depth); err == nil && !known {
				return false, nil
			}
		}
		if err != nil {
			return false, within(f.name, err)
		}
		delete(values, f.name)
	}
	return len(values) == 0, nil
}

func slowNested(kind, data json.RawMessage, v reflect.Value, depth int) error {
	if depth > MaxNest {
		return errTooDeep
	}
	var name string
	if err := json.Unmarshal(kind, &name); err != nil {
		return err
	}
	e, err := slowEvent(name, data, depth)
	if err == nil {
		v.Set(reflect.ValueOf(e))
	}
	return err
}

func slowValue(data json.RawMessage, s *shape, v reflect.Value, depth int) (bool, error) {
	switch {
	case s.form == asGroup:
		return slowGroup(data, s, v, depth)
	case s.form != asList:
		if err := json.Unmarshal(data, v.Addr().Interface()); err != nil {
			return false, fmt.Errorf("%s: %w", shown(string(data)), err)
		}
		return true, nil
	}
	var elems []json.RawMessage
	if err := json.Unmarshal(data, &elems); err != nil {
		return false, fmt.Errorf("%s: %w", shown(string(data)), err)
	}
	if len(elems) == 0 {
		return true, nil // an empty list is no list
	}
	v.Set(reflect.MakeSlice(s.typ, len(elems), len(elems)))
	for i, elem := range elems {
		known, err := slowValue(elem, s.elem, v.Index(i), depth)
		if err != nil {
			return false, within("["+strconv.Itoa(i)+"]", err)
		}
		if !known {
			return false, nil
		}
	}
	return true, nil
}

// Pair is one member of an object.
type pair struct {
	name  string
	value json.RawMessage
}

// MembersOf splits an object. Two members of one name are an error: readers
// differ in which of them they take (RFC 8259, section 4).
func membersOf(data []byte) ([]pair, error) {
	if !json.Valid(data) {
		return nil, fmt.Errorf("%s: not JSON", shown(string(data)))
	}
	dec := json.NewDecoder(bytes.NewReader(data))
	if open, err := dec.Token(); err != nil || open != json.Delim('{') {
		return nil, fmt.Errorf("%s: not an object", shown(string(data)))
	}
	var members []pair
	had := map[string]bool{}
	for dec.More() {
		var p pair
		name, err := dec.Token()
		if err == nil {
			err = dec.Decode(&p.value)
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", shown(string(data)), err)
		}
		p.name = name.(string)
		if had[p.name] {
			return nil, fmt.Errorf("%q: twice in one object", p.name)
		}
		had[p.name] = true
		members = append(members, p)
	}
	return members, nil
}
