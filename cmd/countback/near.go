package main

import (
	"strings"

	"countback/projections/engine"
	"countback/projections/plan"
)

// nearest is "; the nearest is bore" where a name that nothing has is spelled
// like one of a list; empty where none is near.
func nearest(name string, list []string) string {
	if near := plan.Nearest(name, list); near != "" {
		return "; the nearest is " + near
	}
	return ""
}

// nearestOf is nearest among what a plan calls so by type words: "part", "step",
// "joint", "hole", "measurement", "loan", "mark", "cavity".
func nearestOf(p *plan.Plan, name string, types ...string) string {
	var ids []string
	for _, typ := range types {
		switch typ {
		case "part":
			for i := range p.Parts {
				ids = append(ids, string(p.Parts[i].ID))
			}
		case "step":
			for i := range p.Steps {
				ids = append(ids, string(p.Steps[i].ID))
			}
		case "joint":
			for i := range p.Joints {
				ids = append(ids, string(p.Joints[i].ID))
			}
		case "hole":
			for i := range p.Seats {
				ids = append(ids, string(p.Seats[i].ID))
			}
		case "measurement":
			for i := range p.Measurements {
				ids = append(ids, p.Measurements[i].ID)
			}
		case "loan":
			for i := range p.Loans {
				ids = append(ids, string(p.Loans[i].ID))
			}
		case "mark":
			for i := range p.Marks {
				ids = append(ids, string(p.Marks[i].ID))
			}
		case "cavity":
			for i := range p.Cavities {
				ids = append(ids, string(p.Cavities[i].ID))
			}
		}
	}
	return nearest(name, ids)
}

// nearNoun is nearest for a noun with its type word, or without one.
func nearNoun(jobs []*engine.Job, noun string) string {
	typ, id, typed := strings.Cut(noun, " ")
	for _, j := range jobs {
		p := j.State().Plan()
		near := ""
		switch {
		case typed:
			near = nearestOf(p, id, typ)
		default:
			near = nearestOf(p, noun, "part", "joint", "loan", "mark", "cavity", "hole")
		}
		if near != "" {
			return near
		}
	}
	return ""
}
