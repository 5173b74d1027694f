package plan

import (
	"bytes"
	"slices"

	"go.yaml.in/yaml/v3"
)

// Write is a plan as YAML text in the house layout: an entry to a line,
// comments left out. Parse reads it to a plan that says the same in the same
// order, and Write of that gives the same bytes.
func Write(p *Plan) []byte {
	root, _, err := decodeYAML(p.Source)
	if err != nil {
		panic("unreachable: a plan's own source: " + err.Error())
	}
	return encode(root)
}

func encode(root *yaml.Node) []byte {
	layOut(root, 0, "")
	var b bytes.Buffer
	enc := yaml.NewEncoder(&b)
	enc.SetIndent(2)
	if err := enc.Encode(root); err != nil {
		panic("unreachable: encoding nodes: " + err.Error())
	}
	return b.Bytes()
}

// blockLists are the keys whose lists take a line for each of their entries.
var blockLists = []string{"holes", "lines", "groups", "off", "bench", "on"}

// layOut sets the layout: the file and its sections in blocks, an entry on one
// line unless it has lists of its own that deserve lines.
func layOut(n *yaml.Node, depth int, key string) {
	n.HeadComment, n.LineComment, n.FootComment = "", "", ""
	n.Style = 0
	switch n.Kind {
	case yaml.ScalarNode:
		// Some readers take these words for booleans.
		if slices.Contains([]string{"on", "off", "yes", "no", "y", "n"}, n.Value) {
			n.Style = yaml.DoubleQuotedStyle
		}
	case yaml.MappingNode:
		block := depth == 0 || key == "position-lists" || key == "steps" || hasBlockList(n)
		if !block {
			n.Style = yaml.FlowStyle
		}
		for i := 0; i+1 < len(n.Content); i += 2 {
			layOut(n.Content[i], depth+1, "")
			layOut(n.Content[i+1], depth+1, n.Content[i].Value)
		}
	case yaml.SequenceNode:
		if (depth > 1 && !slices.Contains(blockLists, key)) || len(n.Content) == 0 || n.Content[0].Kind == yaml.ScalarNode {
			n.Style = yaml.FlowStyle
		}
		for _, c := range n.Content {
			layOut(c, depth+1, "")
		}
	}
}

func hasBlockList(n *yaml.Node) bool {
	for i := 0; i+1 < len(n.Content); i += 2 {
		v := n.Content[i+1]
		if slices.Contains(blockLists, n.Content[i].Value) && v.Kind == yaml.SequenceNode && len(v.Content) > 0 {
			return true
		}
	}
	return false
}

// mapping makes a mapping of keys and values; an empty value is left out.
func mapping(pairs ...any) *yaml.Node {
	n := &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map"}
	for i := 0; i+1 < len(pairs); i += 2 {
		var v *yaml.Node
		switch x := pairs[i+1].(type) {
		case string:
			if x == "" {
				continue
			}
			v = scalar(x)
		case *yaml.Node:
			if x == nil || (x.Kind != yaml.ScalarNode && len(x.Content) == 0) {
				continue
			}
			v = x
		}
		n.Content = append(n.Content, scalar(pairs[i].(string)), v)
	}
	return n
}

func list(items ...*yaml.Node) *yaml.Node {
	return &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq", Content: items}
}

func words[T ~string](items []T) *yaml.Node {
	n := list()
	for _, w := range items {
		n.Content = append(n.Content, scalar(string(w)))
	}
	return n
}

func plain(tag, text string) *yaml.Node {
	return &yaml.Node{Kind: yaml.ScalarNode, Tag: tag, Value: text}
}
