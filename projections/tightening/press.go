package tightening

import (
	"slices"

	"countback/events"
	"countback/projections/fastener/stage"
	"countback/projections/plan"
)

// Press is what is read of one part that is pressed in: how deep each of its
// positions is.
type Press struct {
	ID    string // of the plan's list
	Part  plan.PartIndex
	Names []events.Hole // positions, in the plan's order of the part
	List  stage.List    // its positions are Names; each goes through the stages by itself
	Needs []plan.Condition
}

// Spot is a position of a part in its list; -1: it is in none.
func (p *Press) Spot(pos events.Hole) int { return slices.Index(p.Names, pos) }

// Has reports whether a position has a stage, from 1.
func (p *Press) Has(spot, n int) bool {
	if n < 1 || n > len(p.List.Stages) {
		return false
	}
	only := p.List.Stages[n-1].Only
	return len(only) == 0 || slices.Contains(only, string(p.Names[spot]))
}

// Presses are the lists of a plan about what is pressed in, in the order of its
// parts. Of editions that disagree the last one counts; a position in several
// lists goes by the first.
func Presses(p *plan.Plan) []Press {
	var out []Press
	for i := range p.Parts {
		if x, ok := pressOf(p, plan.PartIndex(i)); ok {
			out = append(out, x)
		}
	}
	return out
}

func pressOf(p *plan.Plan, ix plan.PartIndex) (Press, bool) {
	pt := &p.Parts[ix]
	x := Press{Part: ix}
	for t := range p.Tightening {
		for g := range p.Tightening[t].Groups {
			group := &p.Tightening[t].Groups[g]
			var here []string
			for _, pos := range pt.Positions {
				if slices.Contains(group.Seats, pt.Seat(pos)) && !slices.Contains(x.Names, pos.Name) && !isHole(p, pt.Seat(pos)) {
					here = append(here, string(pos.Name))
				}
			}
			if len(here) == 0 || len(group.Editions) == 0 {
				continue
			}
			if x.ID == "" {
				x.ID = p.Tightening[t].ID
			}
			for _, name := range here {
				x.Names = append(x.Names, events.Hole(name))
			}
			for _, s := range group.Editions[len(group.Editions)-1].Stages {
				x.add(p, &s, here)
			}
		}
	}
	if len(x.Names) == 0 {
		return x, false
	}
	x.finish(pt)
	return x, x.List.Check() == nil
}

// isHole reports whether a name is that of a hole: a joint comes before a part
// of its name.
func isHole(p *plan.Plan, s events.Seat) bool {
	_, ok := p.Seat(s)
	return ok
}

// add adds one stage of some positions.
func (x *Press) add(p *plan.Plan, s *plan.Stage, here []string) {
	st := stage.Stage{Kind: stage.Kind(s.Kind), Min: s.Min, Max: s.Max, Known: s.Known, Band: s.Band, Only: here, Said: s.Said, Unit: s.Unit}
	if !s.Known {
		st.Text = s.Text
	}
	if text := Words(p, &s.Needs); text != "" {
		st.Needs = []string{text}
	}
	if len(s.Only) > 0 {
		st.Only = slices.DeleteFunc(slices.Clone(here), func(n string) bool { return !slices.Contains(s.Only, events.Hole(n)) })
	}
	if len(st.Only) > 0 {
		x.List.Stages, x.Needs = append(x.List.Stages, st), append(x.Needs, s.Needs)
	}
}

// finish puts the positions into the part's order, each a set by itself.
func (x *Press) finish(pt *plan.Part) {
	at := func(n events.Hole) int {
		return slices.IndexFunc(pt.Positions, func(p plan.Position) bool { return p.Name == n })
	}
	slices.SortFunc(x.Names, func(a, b events.Hole) int { return at(a) - at(b) })
	x.List.ID = x.ID
	for _, n := range x.Names {
		x.List.Order = append(x.List.Order, string(n))
		x.List.Sets = append(x.List.Sets, []string{string(n)})
	}
}
