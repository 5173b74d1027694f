package plan

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"go.yaml.in/yaml/v3"

	"countback/projections/fastener"
)

// reader turns nodes into a Plan and collects every fault on the way. Where
// an id is unknown but one is near, it reads on with that one, so that one
// slip of the pen does not hide the faults behind it.
type reader struct {
	p      *Plan
	faults []Fault
	lost   bool // an id could not even be guessed
	lists  map[string][]ref
	nodes  int // left to spend on repeated entries and on holes that are named
}

func (r *reader) fault(line int, code Code, format string, args ...any) {
	r.faultNear(line, code, "", format, args...)
}

func (r *reader) faultNear(line int, code Code, near, format string, args ...any) {
	if len(r.faults) >= maxFaults {
		return
	}
	r.faults = append(r.faults, Fault{Code: code, File: r.p.File, Line: line, Nearest: near, Text: fmt.Sprintf(format, args...)})
}

// ref is a word of the file with its line.
type ref struct {
	text string
	line int
}

// entry is one mapping of the file. Every key that it may have is asked for
// once; done then names the others.
type entry struct {
	r     *reader
	what  string // for messages: "part front-cover"
	node  *yaml.Node
	asked []string
}

// open makes an entry of a node, or a fault and nil.
func (r *reader) open(n *yaml.Node, what string) *entry {
	if n.Kind != yaml.MappingNode {
		r.fault(n.Line, CodeValue, "%s: a mapping is wanted here: {key: value, ...}", what)
		return nil
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k := n.Content[i]
		if k.Kind != yaml.ScalarNode {
			r.fault(k.Line, CodeKey, "%s: a key must be a word", what)
			continue
		}
		for j := 0; j < i; j += 2 {
			if n.Content[j].Value == k.Value {
				r.fault(k.Line, CodeDuplicate, "%s: key %q is given twice", what, k.Value)
				break
			}
		}
	}
	return &entry{r: r, what: what, node: n}
}

func (e *entry) line() int { return e.node.Line }

// get is the value of a key, or nil where it is not given.
func (e *entry) get(key string) *yaml.Node {
	e.asked = append(e.asked, key)
	return child(e.node, key)
}

// done reports every key that was never asked for.
func (e *entry) done() {
	for i := 0; i+1 < len(e.node.Content); i += 2 {
		k := e.node.Content[i]
		if k.Kind == yaml.ScalarNode && !slices.Contains(e.asked, k.Value) {
			e.r.faultNear(k.Line, CodeKey, Nearest(k.Value, e.asked), "%s: unknown key %q", e.what, k.Value)
		}
	}
}

func (e *entry) bad(n *yaml.Node, key, want string) {
	got := strconv.Quote(n.Value)
	if n.Kind != yaml.ScalarNode {
		got = "a " + map[yaml.Kind]string{yaml.MappingNode: "mapping", yaml.SequenceNode: "list"}[n.Kind]
	}
	e.r.fault(n.Line, CodeValue, "%s: %s is %s; %s is wanted", e.what, key, got, want)
}

func (e *entry) text(key string) string {
	n := e.get(key)
	if n == nil || isNull(n) {
		return ""
	}
	if n.Kind != yaml.ScalarNode {
		e.bad(n, key, "a text")
		return ""
	}
	return strings.TrimSpace(n.Value)
}

func (e *entry) flag(key string) bool {
	n := e.get(key)
	if n == nil {
		return false
	}
	switch {
	case n.Kind == yaml.ScalarNode && n.Value == "true":
		return true
	case n.Kind == yaml.ScalarNode && n.Value == "false":
		return false
	}
	e.bad(n, key, "true or false")
	return false
}

// whole is a whole number from low to high, or other where it is not given.
func (e *entry) whole(key string, low, high, other int) int {
	n := e.get(key)
	if n == nil {
		return other
	}
	v, err := strconv.Atoi(n.Value)
	if n.Kind != yaml.ScalarNode || err != nil || v < low || v > high {
		e.bad(n, key, fmt.Sprintf("a whole number from %d to %d", low, high))
		return other
	}
	return v
}

const unknownWord = "unknown"

// number is a number of at most a million on either side.
func number(n *yaml.Node) (float64, bool) {
	if n.Kind != yaml.ScalarNode {
		return 0, false
	}
	v, err := strconv.ParseFloat(n.Value, 64)
	return v, err == nil && v >= -1e6 && v <= 1e6
}

// length is a length in the plan's unit, unknown where the file says so or says nothing.
func (e *entry) length(key string) fastener.Length {
	n := e.get(key)
	if n == nil || n.Value == unknownWord {
		return fastener.Length{}
	}
	v, ok := number(n)
	mm := e.r.inMm(v)
	if !ok || mm < 0 || mm > 5000 {
		e.bad(n, key, map[bool]string{true: "inches from 0 to 196, or unknown", false: "millimetres from 0 to 5000, or unknown"}[e.r.p.Units.Length == "in"])
		return fastener.Length{}
	}
	return fastener.Mm(mm)
}

func (e *entry) duration(key string) time.Duration {
	n := e.get(key)
	if n == nil {
		return 0
	}
	d, err := time.ParseDuration(n.Value)
	if n.Kind != yaml.ScalarNode || err != nil || d <= 0 {
		e.bad(n, key, "a time such as 5m or 2h")
		return 0
	}
	return d
}

// choice is the number of one of the words, 0 where it is not given.
func (e *entry) choice(key string, words ...string) int {
	n := e.get(key)
	if n == nil {
		return 0
	}
	if i := slices.Index(words, n.Value); n.Kind == yaml.ScalarNode && i >= 0 {
		return i
	}
	if n.Kind == yaml.ScalarNode {
		e.r.faultNear(n.Line, CodeValue, Nearest(n.Value, words), "%s: %s is %q; one of %s is wanted", e.what, key, n.Value, strings.Join(words, ", "))
		return 0
	}
	e.bad(n, key, "one of "+strings.Join(words, ", "))
	return 0
}

// refs is a list of words; one word alone is a list of one.
func (e *entry) refs(key string) []ref {
	n := e.get(key)
	if n == nil || isNull(n) {
		return nil
	}
	if n.Kind == yaml.ScalarNode {
		return []ref{{n.Value, n.Line}}
	}
	if n.Kind != yaml.SequenceNode {
		e.bad(n, key, "a list")
		return nil
	}
	out := make([]ref, 0, len(n.Content))
	for _, c := range n.Content {
		if c.Kind != yaml.ScalarNode || c.Value == "" {
			e.bad(c, key, "a list of words")
			continue
		}
		out = append(out, ref{c.Value, c.Line})
	}
	return out
}

// items is the entries of a list; anything else is a fault.
func (e *entry) items(key string) []*yaml.Node {
	n := e.get(key)
	if n == nil || isNull(n) {
		return nil
	}
	if n.Kind != yaml.SequenceNode {
		e.bad(n, key, "a list")
		return nil
	}
	return n.Content
}

// resolve is the index of an id, the nearest id's where it is unknown.
func resolve[K ~string, I ~int16](r *reader, m map[K]I, at ref, where, what string) (I, bool) {
	if i, ok := m[K(at.text)]; ok {
		return i, true
	}
	all := make([]string, 0, len(m))
	for id := range m {
		all = append(all, string(id))
	}
	near := Nearest(at.text, all)
	r.faultNear(at.line, CodeID, near, "%s: no %s %q in this plan", where, what, at.text)
	if near == "" {
		r.lost = true
		return None, false
	}
	return m[K(near)], true
}

// resolveAll is resolve for a list, without repeats.
func resolveAll[K ~string, I ~int16](r *reader, m map[K]I, at []ref, where, what string) []I {
	var out []I
	for _, a := range at {
		i, ok := resolve(r, m, a, where, what)
		if !ok {
			continue
		}
		if slices.Contains(out, i) {
			r.fault(a.line, CodeDuplicate, "%s: %s %s is named twice", where, what, a.text)
			continue
		}
		out = append(out, i)
	}
	return out
}

// one is resolve for a key with one id; None where it is not given.
func one[K ~string, I ~int16](e *entry, m map[K]I, key, what string) I {
	n := e.get(key)
	if n == nil || isNull(n) {
		return None
	}
	if n.Kind != yaml.ScalarNode {
		e.bad(n, key, "one "+what)
		return None
	}
	i, _ := resolve(e.r, m, ref{n.Value, n.Line}, e.what+": "+key, what)
	return i
}

// many is resolveAll for a key.
func many[K ~string, I ~int16](e *entry, m map[K]I, key, what string) []I {
	return resolveAll(e.r, m, e.refs(key), e.what+": "+key, what)
}
