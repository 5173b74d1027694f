package plan

import (
	"slices"
	"strings"

	"countback/events"
	"countback/projections/fastener/sequence"
)

// holeSets reads sets of holes: words with blanks or ranges in each.
func (e *entry) holeSets(key string) [][]events.Hole {
	var out [][]events.Hole
	for _, set := range e.refs(key) {
		var holes []events.Hole
		for _, w := range strings.Fields(strings.ReplaceAll(set.text, ",", " ")) {
			words, ok := spread(w)
			if !ok {
				words = []string{w}
			}
			for _, h := range words {
				holes = append(holes, events.Hole(h))
			}
		}
		if len(holes) < 2 {
			e.r.fault(set.line, CodeValue, "%s: %s: %q has one hole; a set has two or more: 1 2", e.what, key, set.text)
			continue
		}
		out = append(out, holes)
	}
	return out
}

// ByName reports whether the order of a list names holes, each by its name or
// with its joint before it; otherwise it says in words how they are turned, or
// nothing.
func (t *Tightening) ByName(p *Plan) bool {
	return len(t.Order) > 0 && slices.ContainsFunc(t.Order, func(w string) bool { return t.named(p, w) })
}

// Across reports whether the order of a list goes over several joints: its
// holes have their joint before them.
func (t *Tightening) Across(p *Plan) bool {
	joint := ""
	for _, w := range t.Order {
		j, _, ok := strings.Cut(w, ":")
		if !ok || !t.named(p, w) {
			return false
		}
		if joint == "" {
			joint = j
		}
		if j != joint {
			return true
		}
	}
	return false
}

// named reports whether a word of the order is one of the list's holes.
func (t *Tightening) named(p *Plan, word string) bool {
	return slices.ContainsFunc(t.Groups, func(g TightenGroup) bool { return g.named(word) })
}

// order looks whether an order that names holes has each of them once, and
// whether sets and stages name holes of the list.
func (c *checker) order(t *Tightening) {
	what := "tightening " + t.ID + ": "
	if t.ByName(c.p) {
		for _, holes := range t.orderedHoles(c.p) {
			if err := sequence.Check(t.orderOf(holes), holes); err != nil {
				c.fault(CodeOrder, t.Line, what+err.Error())
			}
		}
	}
	for _, row := range [...]struct {
		key  string
		sets [][]events.Hole
	}{{"sets", t.Sets}, {"with", t.With}} {
		for _, h := range slices.Concat(row.sets...) {
			if !t.named(c.p, string(h)) {
				c.fault(CodeID, t.Line, what+row.key+": the list has no hole "+string(h))
			}
		}
	}
	for g := range t.Groups {
		for i := range t.Groups[g].Editions {
			for _, s := range t.Groups[g].Editions[i].Stages {
				for _, h := range s.Only {
					if !t.Groups[g].named(string(h)) {
						c.fault(CodeID, s.Line, what+"only: the group has no hole "+string(h))
					}
				}
			}
		}
	}
}

// named reports whether a word is a hole of the group, with its joint or
// without.
func (g *TightenGroup) named(word string) bool {
	return slices.ContainsFunc(g.Seats, func(s events.Seat) bool {
		_, hole := s.Split()
		return string(s) == word || string(hole) == word
	})
}

// orderedHoles are the holes that one order must have: of all joints together
// where it goes across them, else of each joint by itself. A hole of several
// groups stands once.
func (t *Tightening) orderedHoles(p *Plan) [][]string {
	across := t.Across(p)
	var joints []string
	by := map[string][]string{}
	for g := range t.Groups {
		for _, s := range t.Groups[g].Seats {
			joint, hole := s.Split()
			key, name := string(joint), string(hole)
			if across {
				key, name = "", string(s)
			}
			if !slices.Contains(joints, key) {
				joints = append(joints, key)
			}
			if !slices.Contains(by[key], name) {
				by[key] = append(by[key], name)
			}
		}
	}
	out := make([][]string, len(joints))
	for i, j := range joints {
		out[i] = by[j]
	}
	return out
}

// orderOf is the order as these holes are named: without the joint where they
// are.
func (t *Tightening) orderOf(holes []string) []string {
	out := slices.Clone(t.Order)
	for i, w := range out {
		if _, hole, ok := strings.Cut(w, ":"); ok && !slices.Contains(holes, w) && slices.Contains(holes, hole) {
			out[i] = hole
		}
	}
	return out
}
