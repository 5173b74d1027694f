package plan

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"
)

// Amendment is one change of a job's own copy of a plan. It is stored as an
// event and folded again without the file.
type Amendment struct {
	Op      string // add, drop or alter
	Section string // parts, joints, holes, steps, conditions, loans, marks, cavities, gates, audit-points, tightening, measurements, kits, variants, run-readings, obligations
	ID      string // of the entry; a hole is joint:hole; of a condition the step that it is a condition of
	Text    string // YAML: for add the entry, for alter its keys that change (null takes one away), for conditions the condition
}

// Sections that can be amended.
var amendable = []string{"parts", "joints", "holes", "steps", "conditions", "loans", "marks", "cavities", "gates", "audit-points", "tightening", "measurements", "kits", "variants", "run-readings", "obligations"}

// Amend is a plan with one change. The plan itself stays as it is. An added
// entry stands at the end of its section, or behind the entry that its key
// "after" names; an added step says its section (off, bench, on). Dropping an
// entry drops every mention of it. What the change leaves without sense is
// refused, with the faults that Parse has with it; positions in them are lines
// of the changed text. Totals that somebody counted by hand go once pieces come
// or go.
func Amend(p *Plan, a Amendment) (*Plan, error) {
	if len(bytes.TrimSpace(p.Source)) == 0 {
		return nil, fmt.Errorf("amendment %s %s %s: there is no plan to amend", a.Op, a.Section, a.ID)
	}
	root, _, err := decodeYAML(p.Source)
	if err != nil {
		panic("unreachable: a plan's own source: " + err.Error())
	}
	if err := amend(root, a); err != nil {
		return nil, fmt.Errorf("amendment %s %s %s: %w", a.Op, a.Section, a.ID, err)
	}
	if slices.Contains([]string{"parts", "joints", "holes", "variants"}, a.Section) {
		drop(root, "totals")
	}
	out, err := Parse(p.File, encode(root))
	if err != nil {
		return nil, fmt.Errorf("amendment %s %s %s: %w", a.Op, a.Section, a.ID, err)
	}
	return out, nil
}

func amend(root *yaml.Node, a Amendment) error {
	if !slices.Contains(amendable, a.Section) {
		return fmt.Errorf("section %q is none of %s", a.Section, strings.Join(amendable, ", "))
	}
	var text *yaml.Node
	if a.Op != "drop" || a.Section == "conditions" {
		n, _, err := decodeYAML([]byte(a.Text))
		if err != nil {
			return fmt.Errorf("text: %w", err)
		}
		if n.Kind != yaml.MappingNode && a.Section != "conditions" {
			return fmt.Errorf("text: a mapping is wanted: {key: value, ...}")
		}
		text = n
	}
	switch {
	case a.Section == "conditions":
		return amendCondition(root, a, text)
	case a.Section == "holes":
		return amendHole(root, a, text)
	case a.Op == "add":
		return addEntry(root, a, text)
	case a.Op == "alter":
		return alterEntry(root, a, text)
	case a.Op == "drop":
		return dropEntry(root, a)
	}
	return fmt.Errorf("op %q is none of add, drop, alter", a.Op)
}

// section is the list of a section, made where the plan has none. Steps have
// three.
func section(root *yaml.Node, name string) *yaml.Node {
	if n := child(root, name); n != nil && n.Kind == yaml.SequenceNode {
		return n
	}
	drop(root, name)
	n := list()
	root.Content = append(root.Content, scalar(name), n)
	return n
}

func stepsOf(root *yaml.Node, part string) *yaml.Node {
	steps := child(root, "steps")
	if steps == nil || steps.Kind != yaml.MappingNode {
		drop(root, "steps")
		steps = mapping()
		root.Content = append(root.Content, scalar("steps"), steps)
	}
	return section(steps, part)
}

// lists is the lists in which an entry of a section can stand.
func lists(root *yaml.Node, name string) []*yaml.Node {
	if name != "steps" {
		return []*yaml.Node{section(root, name)}
	}
	return []*yaml.Node{stepsOf(root, "off"), stepsOf(root, "bench"), stepsOf(root, "on")}
}

// locate finds an entry. One that only a repetition writes is written out
// first, together with its like.
func locate(root *yaml.Node, name, id string) (in *yaml.Node, at int) {
	for _, l := range lists(root, name) {
		for i := 0; i < len(l.Content); i++ {
			n := l.Content[i]
			if v := child(n, "id"); v == nil || v.Value == id {
				if v != nil {
					return l, i
				}
				continue
			}
			if child(n, "for") == nil {
				continue
			}
			r := &reader{p: &Plan{}, nodes: maxNodes}
			all := r.repeat(name, []*yaml.Node{n})
			if slices.ContainsFunc(all, func(x *yaml.Node) bool { v := child(x, "id"); return v != nil && v.Value == id }) {
				l.Content = slices.Replace(l.Content, i, i+1, all...)
				i--
			}
		}
	}
	return nil, -1
}

// put sets a key of a mapping; null takes it away.
func put(n *yaml.Node, key string, value *yaml.Node) {
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			if isNull(value) {
				n.Content = slices.Delete(n.Content, i, i+2)
			} else {
				n.Content[i+1] = value
			}
			return
		}
	}
	if !isNull(value) {
		n.Content = append(n.Content, scalar(key), value)
	}
}

func merge(into, from *yaml.Node) {
	for i := 0; i+1 < len(from.Content); i += 2 {
		put(into, from.Content[i].Value, from.Content[i+1])
	}
}

func take(n *yaml.Node, key string) string {
	v := child(n, key)
	if v == nil {
		return ""
	}
	word := v.Value
	drop(n, key)
	return word
}

func addEntry(root *yaml.Node, a Amendment, text *yaml.Node) error {
	if in, _ := locate(root, a.Section, a.ID); in != nil {
		return fmt.Errorf("the plan has it already; alter it")
	}
	after := take(text, "after")
	var in *yaml.Node
	if a.Section == "steps" {
		part := take(text, "section")
		if !slices.Contains([]string{"off", "bench", "on"}, part) {
			return fmt.Errorf("section is %q; off, bench or on is wanted", part)
		}
		in = stepsOf(root, part)
	} else {
		in = section(root, a.Section)
	}
	drop(text, "id")
	text.Content = append([]*yaml.Node{scalar("id"), scalar(a.ID)}, text.Content...)
	at := len(in.Content)
	if after != "" {
		where, i := locate(root, a.Section, after)
		if where != in {
			return fmt.Errorf("after: no %q in the same section", after)
		}
		at = i + 1
	}
	in.Content = slices.Insert(in.Content, at, text)
	return nil
}

func alterEntry(root *yaml.Node, a Amendment, text *yaml.Node) error {
	in, at := locate(root, a.Section, a.ID)
	if in == nil {
		return fmt.Errorf("the plan has no such entry")
	}
	if v := child(text, "id"); v != nil && v.Value != a.ID {
		return fmt.Errorf("an id cannot be altered; drop it and add another")
	}
	merge(in.Content[at], text)
	return nil
}

func dropEntry(root *yaml.Node, a Amendment) error {
	in, at := locate(root, a.Section, a.ID)
	if in == nil {
		return fmt.Errorf("the plan has no such entry")
	}
	in.Content = slices.Delete(in.Content, at, at+1)
	unmention(root, a.Section, a.ID)
	return nil
}

// amendCondition adds a condition to a step, or drops one that reads the same.
func amendCondition(root *yaml.Node, a Amendment, text *yaml.Node) error {
	in, at := locate(root, "steps", a.ID)
	if in == nil {
		return fmt.Errorf("the plan has no such step")
	}
	step := in.Content[at]
	when := child(step, "when")
	switch {
	case when == nil || isNull(when):
		when = list()
	case when.Kind != yaml.SequenceNode:
		when = list(when)
	}
	switch a.Op {
	case "add":
		when.Content = append(when.Content, text)
	case "drop":
		i := slices.IndexFunc(when.Content, func(n *yaml.Node) bool { return sameNode(n, text) })
		if i < 0 {
			return fmt.Errorf("the step has no such condition")
		}
		when.Content = slices.Delete(when.Content, i, i+1)
	default:
		return fmt.Errorf("op %q: a condition is added or dropped", a.Op)
	}
	drop(step, "when")
	if len(when.Content) > 0 {
		step.Content = append(step.Content, scalar("when"), when)
	}
	return nil
}

func sameNode(a, b *yaml.Node) bool {
	return a.Kind == b.Kind && a.Value == b.Value && slices.EqualFunc(a.Content, b.Content, sameNode)
}
