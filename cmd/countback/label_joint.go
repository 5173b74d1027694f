package main

import (
	"slices"
	"strings"

	"countback/events"
	"countback/labels"
	"countback/projections/engine"
	"countback/projections/plan"
)

// aboutJoint writes what a joint says of its pieces: the drawing of its holes
// if sizes differ, what goes back with them, and what lies under them.
func (w labelWords) aboutJoint(l *labels.Bag, id events.Joint) {
	ix, ok := w.p.Joint(id)
	if !ok {
		return
	}
	if _, several := w.holesOf(id); several && len(l.Lines) > 1 {
		l.Pattern = w.pattern(ix)
	}
	w.side(l, ix)
	l.Into = w.hosts(ix)
	l.Under = strings.Join(w.clamped(ix), ", then ")
	l.GoesWith = w.goesWith(ix, l)
	l.BackWith = w.backWith(ix)
}

// side is where a joint is on the engine. Left and right are never said
// without from where.
func (w labelWords) side(l *labels.Bag, ix plan.JointIndex) {
	f := w.p.Joints[ix].Face
	l.Side, l.End = upper(string(f.Side)), f.End
	if f.Side == plan.Left || f.Side == plan.Right {
		l.LeftRight = w.p.LeftRight
	}
}

// pattern is the holes of a joint where they lie, for whoever looks at it; in
// the order of the plan where it does not know the place of each.
func (w labelWords) pattern(ix plan.JointIndex) labels.Pattern {
	face := w.p.Joints[ix].Face
	p := labels.Pattern{Placed: true, Front: face.AtLeft, Top: face.AtTop}
	if of := w.p.Starred(ix); of != plan.None {
		p.Star = w.p.Joints[of].Name
	}
	for _, s := range w.p.Joints[ix].Seats {
		if w.st.Now().Seat(s) == plan.SeatAbsent {
			continue
		}
		seat := &w.p.Seats[s]
		p.Placed = p.Placed && seat.XY.Known
		p.Spots = append(p.Spots, labels.Spot{Hole: w.p.HoleName(ix, s), XMm: seat.XY.X, YMm: -seat.XY.Y})
	}
	return p
}

// kindsOf are the kinds that are turned out of a joint, in the order of their
// first hole.
func (w labelWords) kindsOf(id events.Joint) []events.Kind {
	var kinds []events.Kind
	if ix, ok := w.p.Joint(id); ok {
		for _, s := range w.p.Joints[ix].Seats {
			if k := comesOut(&w.p.Seats[s]); k != "" && !slices.Contains(kinds, k) {
				kinds = append(kinds, k)
			}
		}
	}
	return kinds
}

// sizes are the kinds of a joint with their holes, as a drawing's legend.
func (w labelWords) sizes(id events.Joint) []labels.Line {
	holes, several := w.holesOf(id)
	var list []labels.Line
	for _, k := range w.kindsOf(id) {
		if len(holes[k]) == 0 {
			continue
		}
		l := labels.Line{Spec: w.kind(k), Count: len(holes[k])}
		if several {
			l.Holes = holes[k]
		}
		list = append(list, l)
	}
	return list
}

// hosts says what the fasteners of a joint go into.
func (w labelWords) hosts(ix plan.JointIndex) string {
	var names []string
	for _, s := range w.p.Joints[ix].Seats {
		if h := w.p.Seats[s].Host; h != plan.None {
			name, _, _ := strings.Cut(w.p.Parts[h].Name, " (")
			names = addWord(names, name)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return strings.Join(names, " and ")
}

// clamped are the parts under the heads, each once, from the outermost.
func (w labelWords) clamped(ix plan.JointIndex) []string {
	seats := slices.Clone(w.p.Joints[ix].Seats)
	slices.SortStableFunc(seats, func(a, b plan.SeatIndex) int { return len(w.p.Seats[b].Clamps) - len(w.p.Seats[a].Clamps) })
	var names []string
	for _, s := range seats {
		for _, c := range slices.Backward(w.p.Seats[s].Clamps) {
			names = addWord(names, w.p.Parts[c].Name)
		}
	}
	return names
}

// goesWith are the washers, nuts and seals of a joint that are not in the bag.
func (w labelWords) goesWith(ix plan.JointIndex, l *labels.Bag) []string {
	in := func(spec string) bool {
		return slices.ContainsFunc(l.Lines, func(l labels.Line) bool { return l.Spec == spec })
	}
	var names []string
	for _, s := range w.p.Joints[ix].Seats {
		for _, m := range w.p.Seats[s].Members {
			turned := m.Role == plan.RoleBolt || m.Role == plan.RoleStud
			if spec := w.kind(m.Kind); !turned && !m.Stays && !in(spec) {
				names = addWord(names, single(m.Reuse)+spec)
			}
		}
	}
	for i := range w.p.Parts {
		if p := &w.p.Parts[i]; p.Seals == ix {
			names = addWord(names, single(p.Reuse)+p.Name)
		}
	}
	return names
}

// single marks what is always fitted new.
func single(r plan.Reuse) string {
	if r.Single() {
		return "new "
	}
	return ""
}

// backWith is what goes on threads and faces when the joint is closed.
func (w labelWords) backWith(ix plan.JointIndex) []string {
	var words []string
	for _, s := range w.p.Joints[ix].Seats {
		seat := &w.p.Seats[s]
		if seat.ThreadLock {
			words = addWord(words, "thread lock")
		}
		if seat.Sealant.Used {
			words = addWord(words, "sealant")
		}
		for _, step := range w.p.Fasteners(s) {
			if w.p.Steps[step].Sealant.Used {
				words = addWord(words, "sealant")
			}
		}
	}
	return words
}

func addWord(list []string, word string) []string {
	if slices.Contains(list, word) {
		return list
	}
	return append(list, word)
}

// condition is what may be done with what is in a bag: that of the worst piece
// in it, and for pieces as they were found the plan's rule.
func (w labelWords) condition(b *engine.Bag, lines []events.Line) labels.Condition {
	worst := labels.NoCondition
	for _, l := range lines {
		c := labels.Reuse
		switch l.Cond {
		case events.New:
			c = labels.New
		case events.Condemned:
			c = labels.Condemned
		case events.Sample:
			c = labels.Sample
		case events.AsFound, events.Used:
			c = w.ruleOf(b, l.Kind)
		}
		if worst == labels.NoCondition || severity(c) > severity(worst) {
			worst = c
		}
	}
	return worst
}

func severity(c labels.Condition) int {
	return slices.Index([]labels.Condition{labels.New, labels.Reuse, labels.Measure, labels.Sample, labels.Condemned}, c)
}

// ruleOf is what the plan says of a piece that was used: again, after
// measuring, or never.
func (w labelWords) ruleOf(b *engine.Bag, k events.Kind) labels.Condition {
	rule := plan.Reuse{}
	if ix, ok := w.p.Part(events.Part(k)); ok {
		rule = w.p.Parts[ix].Reuse
	}
	if ix, ok := w.p.Joint(b.Joint); ok {
		for _, s := range w.p.Joints[ix].Seats {
			for _, m := range w.p.Seats[s].Members {
				if m.Kind == k {
					rule = m.Reuse
				}
			}
		}
	}
	switch {
	case rule.Single():
		return labels.Condemned
	case rule.Rule == plan.ReuseMeasure:
		return labels.Measure
	}
	return labels.Reuse
}
