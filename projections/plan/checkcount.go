package plan

import (
	"fmt"

	"countback/events"
	"countback/projections/fastener"
)

// quantities compares what the plan declares with what it adds up to.
func (c *checker) quantities() {
	p := c.p
	sum := NewPresent(p).Sum()
	for _, x := range [...]struct {
		what            string
		declared, found int
	}{
		{"fasteners", p.Totals.Fasteners, sum.Fasteners}, {"seats", p.Totals.Seats, sum.Seats},
		{"parts", p.Totals.Parts, sum.Parts}, {"pieces", p.Totals.Pieces, sum.Pieces},
	} {
		if x.declared != 0 && x.declared != x.found {
			c.fault(CodeCount, p.Totals.Line, fmt.Sprintf("totals: %s is %d; the lists add up to %d", x.what, x.declared, x.found))
		}
	}
	for i := range p.Kits {
		c.kit(&p.Kits[i])
	}
}

// kit compares a kit with what this engine needs new.
func (c *checker) kit(k *Kit) {
	type key struct {
		part PartIndex
		kind events.Kind
	}
	have := map[key]int{}
	for _, l := range k.Lines {
		have[key{l.Part, l.Kind}] += l.Count - l.Surplus
	}
	for _, l := range k.Lines {
		at := key{l.Part, l.Kind}
		found, ok := have[at]
		if !ok {
			continue // the lines of this kind were compared already
		}
		delete(have, at)
		what, need := string(l.Kind), 0
		if l.Part != None {
			what, need = "part "+c.p.partID(l.Part), c.p.Parts[l.Part].Count
		} else {
			need = c.needsNew(l.Kind)
		}
		if found != need {
			c.fault(CodeCount, l.Line, fmt.Sprintf("kit %s: %s: %d for this engine, which needs %d", k.ID, what, found, need))
		}
	}
}

// needsNew is how many pieces of a kind the engine needs new when it is taken
// apart altogether, all layouts taken together where they differ.
func (c *checker) needsNew(kind events.Kind) int {
	n := 0
	for i := range c.p.Seats {
		for _, m := range c.p.Seats[i].Members {
			if m.Kind == kind && m.Reuse.Single() {
				n += m.Count
			}
		}
	}
	return n
}

// windows puts every fastener into its own hole.
func (c *checker) windows() {
	p := c.p
	all := make([]SeatIndex, len(p.Seats))
	for i := range all {
		all[i] = SeatIndex(i)
	}
	for _, group := range p.byLine(all) {
		s := &p.Seats[group[0]]
		v, ok := s.Window()
		if !ok {
			continue
		}
		m, _ := s.Turned()
		what := c.holes(group) + ": " + string(m.Kind)
		switch {
		case v.Refused():
			c.fault(CodeBottoms, s.Line, what+" does not fit its own hole: "+v.String())
		case v.Warned():
			c.add(Warning, CodeEngages, s.Line, what+": "+v.String())
		case v.Outcome == fastener.Unknown:
			c.add(Unknown, CodeUnknown, s.Line, what+": not known: "+v.Lacks.String())
		}
	}
}

// unknowns lists what else the plan says that it does not know.
func (c *checker) unknowns() {
	p := c.p
	for i := range p.Measurements {
		m := &p.Measurements[i]
		if m.Min.Set && !m.Min.Known {
			c.add(Unknown, CodeUnknown, m.Line, "measurement "+m.ID+": min is not known")
		}
		if m.Max.Set && !m.Max.Known {
			c.add(Unknown, CodeUnknown, m.Line, "measurement "+m.ID+": max is not known")
		}
	}
	var lost []SeatIndex
	for i := range p.Seats {
		if p.Seats[i].Host == None {
			lost = append(lost, SeatIndex(i))
		}
	}
	for _, group := range p.byLine(lost) {
		c.add(Unknown, CodeUnknown, p.Seats[group[0]].Line, c.holes(group)+": the part that it is in is not known")
	}
	for i := range p.Parts {
		if part := &p.Parts[i]; part.In == None && !part.Root {
			c.add(Unknown, CodeUnknown, part.Line, "part "+string(part.ID)+": the part that it is on is not known")
		}
	}
	for i := range p.Tightening {
		c.unknownStages(&p.Tightening[i])
	}
}

func (c *checker) unknownStages(t *Tightening) {
	for _, g := range t.Groups {
		for _, e := range g.Editions {
			for _, s := range e.Stages {
				if !s.Known && s.Text == unknownWord {
					c.add(Unknown, CodeUnknown, s.Line, "tightening "+t.ID+": "+string(s.Kind)+" is not known")
				}
			}
		}
	}
}
