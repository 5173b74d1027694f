package scan

import (
	"strings"

	"countback/events"
	"countback/projections/plan"
)

// sizesOut are the sizes that a count of what comes out of a joint asks for.
func sizesOut(s *Said) []events.Kind {
	return ordered(s.Plan(), s.Joint(), s.State().SizesIn(s.Joint()))
}

// sizesIn are the sizes that a count of what goes into a joint asks for.
func sizesIn(s *Said) []events.Kind { return s.State().SizesOut(s.Joint()) }

// sizesAt are the sizes that a count of a container asks for: what the book
// has there, and what else belongs to its joint or part, so that a size which
// should not be there can be told as well.
func sizesAt(s *Said) []events.Kind {
	at := s.Container(0)
	var kinds []events.Kind
	for _, l := range s.State().At(at) {
		kinds = addKind(kinds, l.Kind)
	}
	joint, part := BagOf(s.Job, events.Code(strings.TrimPrefix(string(at), "bag/")))
	for _, k := range jointKinds(s.Plan(), joint, nil) {
		if len(kinds) == 0 || hadHere(s, at, k) {
			kinds = addKind(kinds, k)
		}
	}
	if p, ok := s.Plan().Part(part); ok && len(kinds) == 0 {
		kinds = addKind(kinds, events.Kind(s.Plan().Parts[p].ID))
	}
	return ordered(s.Plan(), joint, kinds)
}

// hadHere reports whether pieces of a kind were ever moved into a place.
func hadHere(s *Said, at events.Place, k events.Kind) bool {
	book := s.State().Book()
	a, ok := book.Lookup(at)
	if !ok {
		return false
	}
	for p := range book.History(a) {
		if p.To == a && book.ItemName(p.Item).Kind == k {
			return true
		}
	}
	return false
}

// jointKinds are the kinds that come out of a joint, in the order of its
// holes; of the named holes only, if there are any.
func jointKinds(p *plan.Plan, joint events.Joint, holes []events.Hole) []events.Kind {
	j, ok := p.Joint(joint)
	if !ok {
		return nil
	}
	var kinds []events.Kind
	for _, ix := range p.Joints[j].Seats {
		if len(holes) > 0 && !hasHole(holes, p.Seats[ix].Hole) {
			continue
		}
		for i := range p.Seats[ix].Members {
			if m := &p.Seats[ix].Members[i]; !m.Stays {
				kinds = addKind(kinds, m.Kind)
			}
		}
	}
	return kinds
}

// ordered puts kinds into the order in which a count of the joint asks for
// them: that of its holes, others behind.
func ordered(p *plan.Plan, joint events.Joint, kinds []events.Kind) []events.Kind {
	var list []events.Kind
	for _, k := range jointKinds(p, joint, nil) {
		if hasKind(kinds, k) {
			list = append(list, k)
		}
	}
	for _, k := range kinds {
		list = addKind(list, k)
	}
	return list
}

// kindsAt are the kinds that a place holds by the book.
func kindsAt(s *Said, at events.Place) []events.Kind {
	var kinds []events.Kind
	for _, l := range s.State().At(at) {
		kinds = addKind(kinds, l.Kind)
	}
	return kinds
}

func addKind(list []events.Kind, k events.Kind) []events.Kind {
	if hasKind(list, k) {
		return list
	}
	return append(list, k)
}

func hasKind(list []events.Kind, k events.Kind) bool {
	for _, x := range list {
		if x == k {
			return true
		}
	}
	return false
}

func hasHole(list []events.Hole, h events.Hole) bool {
	for _, x := range list {
		if x == h {
			return true
		}
	}
	return false
}
