package panel

import (
	"strings"

	"countback/events"
	"countback/projections/engine"
	"countback/projections/plan"
)

// OfWhere is where a thing is, what is known of it, and what happened to it,
// the last fact first. The noun is a type word and an id.
func OfWhere(j *engine.Job, noun string) Panel {
	w := j.Where(noun)
	n := of(j)
	p := Panel{Name: "where", Title: capital(w.Name)}
	if p.Title == "" {
		p.Title = capital(noun)
	}
	switch {
	case !w.Known:
		p.Stand = "this job has never met it"
	case w.Seen != 0:
		p.Stand = "last seen " + day(w.Seen)
	default:
		p.Stand = "as it came"
	}
	now := Group{Head: "Now"}
	for _, t := range w.Now {
		now.add(Plain, capital(t), "")
	}
	p.with(now)
	if w.Hole != nil {
		p.with(n.hole(w.Hole))
	}
	p.with(n.card(noun))
	p.with(n.pressing(noun))
	past := Group{Head: "What happened to it"}
	for i := len(w.History) - 1; i >= 0; i-- {
		h := w.History[i]
		past.add(Plain, day(h.Time)+" "+h.Who+": "+h.Text, "")
	}
	p.with(past)
	return p
}

// hole is what is known of one hole.
func (n names) hole(h *engine.HoleCard) Group {
	g := Group{Head: "The hole"}
	if len(h.Wants) > 0 {
		g.add(Plain, "Wants "+strings.Join(n.fullSizes(h.Wants), ", "), h.Window)
	}
	if h.Became != "" {
		g.add(Look, capital(h.Became), "")
	}
	if h.Of > 0 {
		mark := Begun
		if h.Stages >= h.Of {
			mark = Done
		}
		g.add(mark, "Tightening: "+itoa(h.Stages)+" of "+plural(h.Of, "stage"), "")
	}
	if len(h.Under) > 0 {
		g.add(Plain, "Clamps "+strings.Join(h.Under, ", "), "")
	}
	for _, s := range h.Next {
		g.add(Plain, "Filled by: "+n.step(s), "")
	}
	return g
}

// fullSizes are kinds by their full text: at a hole, the class matters.
func (n names) fullSizes(kinds []events.Kind) []string {
	list := make([]string, len(kinds))
	for i, k := range kinds {
		list[i] = string(k)
	}
	return list
}

// card is what the plan says of a part: how it lies, what it is known by.
func (n names) card(noun string) Group {
	g := Group{Head: "The part"}
	id, ok := strings.CutPrefix(noun, "part ")
	ix, known := n.st.Plan().Part(events.Part(id))
	if !ok || !known {
		return g
	}
	pt := &n.st.Plan().Parts[ix]
	for _, row := range []struct{ head, text string }{
		{"Way round: ", pt.WayRound}, {"Known by: ", pt.Feature}, {"Grade: ", pt.Graded}, {"Look at: ", pt.Inspect}, {"", pt.Note},
	} {
		if row.text != "" {
			g.add(Plain, row.head+row.text, "")
		}
	}
	if pt.Reuse.Single() {
		g.add(Look, "Single-use: a new one goes in", "")
	}
	if pt.OwnSeat != plan.AnySeat {
		g.add(Plain, "Back where it came from", "")
	}
	return g
}
