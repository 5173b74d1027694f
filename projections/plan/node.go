package plan

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"
)

// Limits of a plan file. An engine with all its accessories has some hundred
// parts and holes; these are an order of magnitude above.
const (
	maxSource  = 4 << 20
	maxNodes   = 200_000
	maxDepth   = 24
	maxText    = 2000
	maxEntries = 5000 // of one section, after expansion
	maxSeats   = 12_000
	maxStack   = 16   // pieces in a hole, and parts that it clamps
	maxRepeat  = 64   // of one "for"
	maxRange   = 1000 // of one "a..b"
	maxFaults  = 500
)

// decodeYAML reads one YAML document into nodes and refuses what a plan does
// not use: several documents, anchors and aliases, other tags than YAML's own.
func decodeYAML(src []byte) (root *yaml.Node, line int, err error) {
	if len(src) > maxSource {
		return nil, 0, fmt.Errorf("%d bytes; a plan has at most %d", len(src), maxSource)
	}
	// The YAML reader is a foreign border: whatever it does with bytes that it
	// does not like is an error here.
	defer func() {
		if r := recover(); r != nil {
			root, line, err = nil, 0, fmt.Errorf("cannot be read as YAML: %v", r)
		}
	}()
	dec := yaml.NewDecoder(bytes.NewReader(src))
	var doc yaml.Node
	if err := dec.Decode(&doc); err != nil {
		if errors.Is(err, io.EOF) {
			return nil, 0, errors.New("the file is empty")
		}
		line, err := badYAML(err)
		return nil, line, err
	}
	var more yaml.Node
	if err := dec.Decode(&more); err == nil {
		return nil, more.Line, errors.New("a second document; a plan is one")
	} else if !errors.Is(err, io.EOF) {
		line, err := badYAML(err)
		return nil, line, err
	}
	if doc.Kind != yaml.DocumentNode || len(doc.Content) != 1 {
		return nil, 0, errors.New("the file is empty")
	}
	left := maxNodes
	if line, err := checkNodes(doc.Content[0], 0, &left); err != nil {
		return nil, line, err
	}
	return doc.Content[0], 0, nil
}

var yamlError = regexp.MustCompile(`^yaml: (?:line (\d+): )?`)

// badYAML takes the line out of an error of the YAML reader; 0 where it names
// none.
func badYAML(err error) (int, error) {
	text := err.Error()
	m := yamlError.FindStringSubmatch(text)
	if m == nil {
		return 0, err
	}
	line, _ := strconv.Atoi(m[1])
	return line, errors.New(text[len(m[0]):])
}

func checkNodes(n *yaml.Node, depth int, left *int) (int, error) {
	*left--
	switch {
	case *left < 0:
		return n.Line, fmt.Errorf("more than %d values", maxNodes)
	case depth > maxDepth:
		return n.Line, fmt.Errorf("nested deeper than %d", maxDepth)
	case n.Kind == yaml.AliasNode || n.Anchor != "":
		return n.Line, errors.New("anchors and aliases are not used in a plan: write it out, or repeat it with for")
	case len(n.Value) > maxText:
		return n.Line, fmt.Errorf("a text of %d bytes; at most %d", len(n.Value), maxText)
	case n.Kind == yaml.ScalarNode && strings.ContainsFunc(n.Value, func(r rune) bool { return r < ' ' && r != '\n' }):
		return n.Line, errors.New("a control character in a text")
	}
	for _, c := range n.Content {
		if line, err := checkNodes(c, depth+1, left); err != nil {
			return line, err
		}
	}
	return 0, nil
}

func scalar(text string) *yaml.Node {
	return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: text}
}

// child is the value of a key of a mapping, or nil.
func child(n *yaml.Node, key string) *yaml.Node {
	if n == nil || n.Kind != yaml.MappingNode {
		return nil
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return nil
}

// clone copies a node and all below it, with every "{n}" replaced.
func clone(n *yaml.Node, template, value string) *yaml.Node {
	c := *n
	if template != "" {
		c.Value = strings.ReplaceAll(c.Value, template, value)
	}
	c.Content = make([]*yaml.Node, len(n.Content))
	for i := range n.Content {
		c.Content[i] = clone(n.Content[i], template, value)
	}
	return &c
}

func isNull(n *yaml.Node) bool {
	return n.Kind == yaml.ScalarNode && (n.Tag == "!!null" || n.Value == "")
}
