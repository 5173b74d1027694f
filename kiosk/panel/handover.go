package panel

import (
	"countback/events"
	"countback/projections/engine"
	"countback/projections/plan"
)

// OfHandOver is what the next person has to know: what is begun, what is not
// tightened to the end, everything that is not as it should be, what stands
// open, and what can be done next.
func OfHandOver(j *engine.Job) Panel {
	n := of(j)
	p := Panel{Name: "hand-over", Title: "Hand-over"}
	items := j.HandOver()
	open, begun, left := 0, 0, 0
	for at := 0; at < len(items); {
		g := Group{Head: capital(items[at].About)}
		for ; at < len(items) && capital(items[at].About) == g.Head; at++ {
			i := &items[at]
			mark := Look
			switch {
			case i.About == engine.AboutBegun:
				mark = Begun
				begun++
			case i.Restart:
				mark = Stop
			case i.About == engine.AboutTight:
				mark = In
			}
			text := i.Text
			if i.With != "" {
				text += " (stays with " + string(i.With) + ")"
				left++
			}
			g.add(mark, text, i.Next)
			open++
		}
		p.with(g)
	}
	p.with(n.gates())
	p.with(n.open())
	p.with(n.bags())
	next := Group{Head: "Can be done next"}
	for _, s := range j.NextUp(MaxRows) {
		next.add(Now, stepName(s), "")
	}
	p.with(next)
	p.Stand = plural(open, "thing") + " open, " + plural(begun, "step") + " begun"
	if left > 0 {
		p.Stand += ", " + itoa(left) + " not taken over"
	}
	if open == 0 {
		p.Stand = "nothing is open"
	}
	return p
}

// gates tells of every second count that is owed, and how it was met: also by
// one person alone, by a fresh count after a gap of hours.
func (n names) gates() Group {
	g := Group{Head: "Second counts"}
	for _, gate := range n.st.Gates() {
		name := n.step(gate.Step)
		switch {
		case !gate.Owed || !gate.Passed && gate.Check == nil:
			continue // a red line if it is owed
		case gate.Check != nil && !gate.Passed:
			g.add(Look, name+": counted by "+string(gate.Check.Second)+", and it differs", "")
		case gate.Check != nil && gate.Check.Alone:
			g.add(Done, name+": counted again by "+string(gate.Check.Second)+" alone, after a gap", "no second person")
		case gate.Check != nil:
			g.add(Done, name+": counted by "+string(gate.Check.Second), "")
		default:
			g.add(Look, name+": a second person let it pass without a count", "")
		}
	}
	return g
}

// open lists the cavities that stand open.
func (n names) open() Group {
	g := Group{Head: "Open"}
	pl := n.st.Plan()
	for i := range pl.Cavities {
		c := &pl.Cavities[i]
		if !n.st.Now().Open(plan.CavityIndex(i)) {
			continue
		}
		more := ""
		for k, to := range c.LeadsTo {
			if k > 0 {
				more += ", "
			}
			more += pl.Cavities[to].Name
		}
		if more != "" {
			more = "leads to " + more
		}
		g.add(Plain, capital(c.Name), more)
	}
	return g
}

// Line is one fact that was stored, as a sentence in the past tense.
type Line struct {
	ID   events.FactID
	Time string // "15:04"
	Who  string
	Text string
}

// Log is the last facts of a job, the newest first.
func Log(j *engine.Job, most int) []Line {
	var list []Line
	facts := j.Facts()
	for i := len(facts) - 1; i >= 0 && len(list) < most; i-- {
		r := &facts[i]
		switch e := r.Event.(type) {
		case events.TagsIssued:
			continue
		case events.Corrected:
			if l, ok := undone(j, r, e); ok {
				list = append(list, l)
			}
		default:
			list = append(list, Line{r.ID(), clock(r.At), who(r), told(j, r)})
		}
	}
	return list
}

// told is a fact as the job reads it now.
func told(j *engine.Job, r *events.Record) string {
	ev, ok := j.Standing(r.ID())
	if !ok {
		return "taken back: " + j.State().Tells(r.Event)
	}
	return j.State().Tells(ev)
}

// undone is the line of a correction that stands.
func undone(j *engine.Job, r *events.Record, c events.Corrected) (Line, bool) {
	wrong, ok := j.Find(c.Wrong)
	if _, stands := j.Standing(r.ID()); !ok || !stands {
		return Line{}, false
	}
	text := "took back: " + j.State().Tells(wrong.Event)
	if c.Instead != nil {
		text = "corrected: " + j.State().Tells(c.Instead)
	}
	return Line{r.ID(), clock(r.At), who(r), text}, true
}
