package plan

import (
	"fmt"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"
)

// amendHole changes one hole. Where one entry describes several alike, the
// hole gets an entry of its own.
func amendHole(root *yaml.Node, a Amendment, text *yaml.Node) error {
	joint, hole, ok := strings.Cut(a.ID, ":")
	if !ok || hole == "" {
		return fmt.Errorf("id is %q; joint:hole is wanted", a.ID)
	}
	in, at := locate(root, "joints", joint)
	if in == nil {
		return fmt.Errorf("the plan has no joint %q", joint)
	}
	entry := in.Content[at]
	holes := section(entry, "holes")
	i, names := holeEntry(root, holes, hole)
	switch a.Op {
	case "add":
		if i >= 0 {
			return fmt.Errorf("the joint has this hole already; alter it")
		}
		put(text, "at", scalar(hole))
		holes.Content = append(holes.Content, text)
		return nil
	case "alter":
		if i < 0 {
			return fmt.Errorf("the joint has no such hole")
		}
		n := own(holes, i, names, hole)
		merge(n, text)
		put(n, "at", scalar(hole))
		return nil
	case "drop":
		if i < 0 {
			return fmt.Errorf("the joint has no such hole")
		}
		n := own(holes, i, names, hole)
		holes.Content = slices.DeleteFunc(holes.Content, func(x *yaml.Node) bool { return x == n })
		if len(holes.Content) == 0 {
			drop(entry, "holes")
		}
		unmentionHole(root, joint, hole)
		return nil
	}
	return fmt.Errorf("op %q is none of add, drop, alter", a.Op)
}

// holeEntry is the entry that describes a hole and the names that it has.
func holeEntry(root, holes *yaml.Node, hole string) (int, []string) {
	for i, n := range holes.Content {
		names := namesOf(root, child(n, "at"))
		if slices.Contains(names, hole) {
			return i, names
		}
	}
	return -1, nil
}

// namesOf writes out a list of places as the reader does.
func namesOf(root, at *yaml.Node) []string {
	if at == nil {
		return nil
	}
	if l := child(child(root, "position-lists"), at.Value); at.Kind == yaml.ScalarNode && l != nil {
		at = l
	}
	words := []*yaml.Node{at}
	if at.Kind == yaml.SequenceNode {
		words = at.Content
	}
	var out []string
	for _, w := range words {
		some, _ := spread(w.Value)
		out = append(out, some...)
	}
	return out
}

// own gives a hole an entry of its own and returns it.
func own(holes *yaml.Node, i int, names []string, hole string) *yaml.Node {
	if len(names) == 1 {
		return holes.Content[i]
	}
	rest := holes.Content[i]
	n := clone(rest, "", "")
	put(n, "at", scalar(hole))
	ownPlace(n, rest, slices.Index(names, hole), len(names))
	put(rest, "at", words(slices.DeleteFunc(slices.Clone(names), func(x string) bool { return x == hole })))
	holes.Content = slices.Insert(holes.Content, i+1, n)
	return n
}

// ownPlace parts the place of one of several holes from those of the rest.
func ownPlace(n, rest *yaml.Node, at, of int) {
	xy := child(n, "xy")
	if xy == nil || xy.Kind != yaml.SequenceNode || len(xy.Content) != of {
		return
	}
	put(n, "xy", list(xy.Content[at]))
	left := child(rest, "xy")
	left.Content = slices.Delete(slices.Clone(left.Content), at, at+1)
}

// seatKeys are the keys whose value names holes by joint.
var seatKeys = []string{"takes-out", "parks", "fastens", "trial", "fills", "seats", "shares"}

// unmentionHole takes a hole out of every list that names it.
func unmentionHole(root *yaml.Node, joint, hole string) {
	walk(root, func(n *yaml.Node) {
		for i := 0; i+1 < len(n.Content) && n.Kind == yaml.MappingNode; i += 2 {
			m := n.Content[i+1]
			if !slices.Contains(seatKeys, n.Content[i].Value) || m.Kind != yaml.MappingNode {
				continue
			}
			at := child(m, joint)
			if at == nil || at.Value == "all" {
				continue
			}
			names := namesOf(root, at)
			if !slices.Contains(names, hole) {
				continue
			}
			names = slices.DeleteFunc(names, func(x string) bool { return x == hole })
			if len(names) > 0 {
				put(m, joint, words(names))
			} else {
				drop(m, joint)
			}
		}
	})
	prune(root)
}

// mentions says under which keys an id of a section can stand.
var mentions = map[string][]string{
	"parts":        {"in", "made-of", "under", "mating", "clamps", "only-with", "parts", "of", "part", "removes", "fits", "sends-out", "takes-back", "pins", "removal"},
	"joints":       {"seals", "joints", "finished"},
	"steps":        {"when", "needs", "void-by", "open-when", "closed-by", "any", "all", "stops", "reminds", "step"},
	"loans":        {"loan-in", "loan-out", "loan-during", "loan-may", "needs-out", "loan"},
	"marks":        {"sets", "mark", "marks", "start-evidence"},
	"cavities":     {"opens", "closes", "drains", "fills", "leads-to", "in", "cavity"},
	"gates":        {"gate"},
	"audit-points": {"audit", "stops", "reminds"},
	"measurements": {"measure", "reuse"},
}

// whole are the keys whose mapping says nothing without them, unless it is an
// entry with an id of its own.
var whole = []string{"part", "loan", "mark", "cavity", "step", "removal", "finished", "seats"}

// unmention takes every mention of an id out of the plan.
func unmention(root *yaml.Node, sectionName, id string) {
	keys := mentions[sectionName]
	is := func(n *yaml.Node) bool {
		return n.Kind == yaml.ScalarNode && (n.Value == id || (sectionName == "measurements" && n.Value == "measure "+id))
	}
	walk(root, func(n *yaml.Node) {
		if n.Kind != yaml.MappingNode {
			return
		}
		for i := 0; i+1 < len(n.Content); {
			key, v := n.Content[i].Value, n.Content[i+1]
			if sectionName == "joints" && slices.Contains(seatKeys, key) && v.Kind == yaml.MappingNode {
				drop(v, id)
			}
			if !slices.Contains(keys, key) {
				i += 2
				continue
			}
			if v.Kind == yaml.SequenceNode {
				v.Content = slices.DeleteFunc(v.Content, is)
			} else if is(v) {
				n.Content = slices.Delete(n.Content, i, i+2)
				if slices.Contains(whole, key) && child(n, "id") == nil {
					n.Content = nil
				}
				continue
			}
			i += 2
		}
	})
	prune(root)
}

func walk(n *yaml.Node, f func(*yaml.Node)) {
	f(n)
	for _, c := range n.Content {
		walk(c, f)
	}
}

// prune takes away what dropping left empty: a list, a mapping, a condition
// that asks for seats of which none is left.
func prune(root *yaml.Node) {
	for n := range root.Content {
		if n%2 == 1 {
			pruneBelow(root.Content[n])
		}
	}
}

func pruneBelow(n *yaml.Node) {
	for _, c := range n.Content {
		pruneBelow(c)
	}
	switch n.Kind {
	case yaml.SequenceNode:
		n.Content = slices.DeleteFunc(n.Content, func(c *yaml.Node) bool { return c.Kind == yaml.MappingNode && len(c.Content) == 0 })
	case yaml.MappingNode:
		for i := 0; i+1 < len(n.Content); {
			key, v := n.Content[i].Value, n.Content[i+1]
			if v.Kind == yaml.ScalarNode || len(v.Content) > 0 {
				i += 2
				continue
			}
			n.Content = slices.Delete(n.Content, i, i+2)
			if slices.Contains(whole, key) && len(n.Content) <= 2 {
				n.Content = nil
			}
		}
	}
}
