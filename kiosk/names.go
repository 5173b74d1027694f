package kiosk

import (
	"strings"

	"countback/events"
	"countback/projections/engine"
	"countback/projections/fastener"
	"countback/projections/plan"
)

// names gives people's words for the ids of a job: those of its plan, and of
// the joints that it named itself.
type names struct {
	p       *plan.Plan
	learned []engine.Learned
}

func namesOf(st *engine.State) names { return names{st.Plan(), st.LearnedJoints()} }

func (n names) joint(id events.Joint) string {
	if j, ok := n.p.Joint(id); ok {
		return n.p.Joints[j].Name
	}
	for i := range n.learned {
		if n.learned[i].Joint == id && n.learned[i].Name != "" {
			return capital(n.learned[i].Name) + " (" + string(id) + ")"
		}
	}
	return "Joint " + string(id)
}

func (n names) part(id events.Part) string     { return n.p.NameOf(id) }
func (n names) step(id events.Step) string     { return n.p.NameOf(id) }
func (n names) cavity(id events.Cavity) string { return n.p.NameOf(id) }
func (n names) loan(id events.Loan) string     { return n.p.NameOf(id) }
func (n names) mark(id events.Mark) string     { return n.p.NameOf(id) }

// kind is a size without class and head, as it is written on a bag, or the
// name of a part.
func (n names) kind(k events.Kind) string {
	if p, ok := n.p.Part(events.Part(k)); ok {
		return lower(n.p.Parts[p].Name)
	}
	if of, ok := strings.CutPrefix(string(k), "stub of "); ok {
		return "stub of " + n.kind(events.Kind(of))
	}
	if of, ok := strings.CutPrefix(string(k), "other end of "); ok {
		return "other end of " + n.kind(events.Kind(of))
	}
	sp, ok := specOf(k)
	if !ok {
		return string(k)
	}
	text := sp.Size()
	if sp.Form != fastener.Bolt && sp.Form != fastener.AnyForm {
		text += " " + string(sp.Form)
	}
	return text
}

// lines lists pieces: "8 M8x1.25x30, 4 M8x1.25x45".
func (n names) lines(lines []events.Line) string {
	var list []string
	for _, l := range lines {
		list = append(list, engine.Several(l.Qty, n.kind(l.Kind)))
	}
	if len(list) == 0 {
		return "nothing"
	}
	return joinComma(list)
}

// place says where: "bag B2KCZ6EE", "shelf", "this bench".
func (n names) place(p events.Place) string {
	word, rest, _ := strings.Cut(string(p), "/")
	switch word {
	case "":
		return "this bench"
	case "place":
		return engine.PlaceName(rest)
	case "bench":
		b, _, _ := strings.Cut(rest, "/")
		return "bench " + b
	case "rack":
		r, pos, ok := strings.Cut(rest, "/")
		if ok {
			return "rack " + r + ", position " + pos
		}
		return "rack " + r
	case "fitted":
		return lower(n.joint(events.Joint(rest[strings.LastIndexByte(rest, '/')+1:])))
	case "joint":
		return lower(n.joint(events.Joint(rest)))
	case "outside":
		_, who, ok := strings.Cut(rest, "/")
		if ok {
			return who
		}
		return "the " + rest
	}
	if rest == "" {
		return word
	}
	return word + " " + rest
}

func total(lines []events.Line) int {
	n := 0
	for _, l := range lines {
		n += l.Qty
	}
	return n
}
