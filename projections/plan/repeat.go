package plan

import (
	"regexp"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"
)

// template is what a repeated entry writes for the value of its turn.
const template = "{n}"

var (
	rangeForm = regexp.MustCompile(`^(\D*)(\d{1,6})\.\.(\D*)(\d{1,6})$`)
	nameForm  = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9_.-]{0,63}$`)
)

// spread is the words that a range stands for: 1..4, I1..I4. A word that is
// no range stands for itself; ok is false where the range makes no sense.
func spread(word string) (words []string, ok bool) {
	m := rangeForm.FindStringSubmatch(word)
	if m == nil {
		return []string{word}, true
	}
	from, _ := strconv.Atoi(m[2])
	to, _ := strconv.Atoi(m[4])
	if (m[3] != "" && m[3] != m[1]) || to < from || to-from >= maxRange {
		return nil, false
	}
	for n := from; n <= to; n++ {
		words = append(words, m[1]+strconv.Itoa(n))
	}
	return words, true
}

// places is a list of hole or position names: words, ranges, or the name of
// one of the plan's position lists.
func (e *entry) places(key string) []ref {
	var out []ref
	n := e.get(key)
	if n == nil {
		return nil
	}
	if list, ok := e.r.lists[n.Value]; ok && n.Kind == yaml.ScalarNode {
		return list
	}
	e.asked = e.asked[:len(e.asked)-1]
	for _, w := range e.refs(key) {
		words, ok := spread(w.text)
		if !ok {
			e.r.fault(w.line, CodeValue, "%s: %s: %q is no range; 1..4 or I1..I4 is one", e.what, key, w.text)
			continue
		}
		for _, word := range words {
			if !nameForm.MatchString(word) {
				e.r.fault(w.line, CodeValue, "%s: %s: %q is no name: letters, digits, dash, at most 64", e.what, key, word)
				continue
			}
			out = append(out, ref{word, w.line})
		}
	}
	if len(out) > maxRange {
		e.r.fault(n.Line, CodeLimit, "%s: %s: %d places; at most %d", e.what, key, len(out), maxRange)
		return out[:maxRange]
	}
	return out
}

// repeat writes out the entries of a list: one with "for: 1..4" becomes four,
// with every {n} replaced.
func (r *reader) repeat(section string, list []*yaml.Node) []*yaml.Node {
	var out []*yaml.Node
	for _, n := range list {
		turns := r.turns(section, n)
		if turns == nil {
			drop(n, "for") // where it is wrong, it has been said
			out = append(out, n)
			continue
		}
		size := countNodes(n)
		for _, turn := range turns {
			if r.nodes -= size; r.nodes < 0 || len(out) >= maxEntries {
				r.fault(n.Line, CodeLimit, "%s: more entries than any plan has", section)
				return out
			}
			c := clone(n, template, turn)
			drop(c, "for")
			out = append(out, c)
		}
	}
	if len(out) > maxEntries {
		r.fault(list[0].Line, CodeLimit, "%s: %d entries; at most %d", section, len(out), maxEntries)
		return out[:maxEntries]
	}
	return out
}

// turns is the values that an entry is repeated for; nil where it is not.
func (r *reader) turns(section string, n *yaml.Node) []string {
	v := child(n, "for")
	if v == nil {
		return nil
	}
	words := []*yaml.Node{v}
	if v.Kind == yaml.SequenceNode {
		words = v.Content
	}
	turns := []string{}
	for _, w := range words {
		some, ok := spread(w.Value)
		if w.Kind != yaml.ScalarNode || w.Value == "" || !ok {
			r.fault(v.Line, CodeValue, "%s: for: %q is no range such as 1..4 and no word", section, w.Value)
			return nil
		}
		if len(turns)+len(some) > maxRepeat {
			r.fault(v.Line, CodeLimit, "%s: for: more than %d", section, maxRepeat)
			return nil
		}
		turns = append(turns, some...)
	}
	return turns
}

func countNodes(n *yaml.Node) int {
	sum := 1
	for _, c := range n.Content {
		sum += countNodes(c)
	}
	return sum
}

// drop removes a key from a mapping.
func drop(n *yaml.Node, key string) {
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			n.Content = append(n.Content[:i:i], n.Content[i+2:]...)
			return
		}
	}
}

// spoken makes a name for people of an id: "front-cover" is "Front cover".
func spoken(id string) string {
	s := strings.ReplaceAll(id, "-", " ")
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
