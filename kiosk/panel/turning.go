package panel

import (
	"strings"

	"countback/events"
	"countback/kiosk"
	"countback/projections/engine"
)

// OfTurning is the answer to CAN I? of a joint or of a part that is pressed in:
// what is next and where, each stage with the holes that lack it, and in which
// order it is loosened. ask are the holes or positions that were named; noun is
// a type word and an id.
func OfTurning(j *engine.Job, noun string, ask []events.Hole) Panel {
	n := of(j)
	typ, id, _ := strings.Cut(noun, " ")
	name := n.joint(events.Joint(id))
	if typ == "part" {
		name = n.part(events.Part(id))
	}
	p := Panel{Name: "turning", Title: capital(name) + ": can I?"}
	var lists []engine.Tightened
	var next engine.NextStage
	var ok bool
	if typ == "part" {
		if t, known := j.Pressed(events.Part(id)); known {
			lists = append(lists, t)
		}
		next, ok = j.NextPress(events.Part(id), ask)
	} else {
		lists = j.Tightened(events.Joint(id))
		next, ok = j.NextStage(events.Joint(id), ask)
	}
	p.Stand = "every stage that is due is done"
	if len(lists) == 0 {
		p.Stand = "the plan has no stages for it"
		return p
	}
	if ok {
		p.with(turnNext(&p, lists, &next))
	}
	rows := Group{Head: "Its stages"}
	for i := range lists {
		for k := range lists[i].Rows {
			n.stageRow(&rows, &lists[i], &lists[i].Rows[k])
		}
	}
	p.with(rows)
	loose := Group{Head: "To loosen"}
	if typ != "part" {
		for _, l := range kiosk.LooseLines(lists) {
			loose.add(Plain, capital(strings.TrimPrefix(l, "To loosen, ")), "")
		}
	}
	p.with(loose)
	return p
}

// turnNext is the stage that is next, or what is in its way.
func turnNext(p *Panel, lists []engine.Tightened, next *engine.NextStage) Group {
	p.Stand = "stage " + itoa(next.Stage) + " of " + itoa(max(next.Stages, next.Stage)) + " is next"
	g := Group{Head: "Next"}
	switch {
	case next.Wrong != "":
		g.add(Waits, capital(next.What), capital(next.Wrong))
		return g
	case next.Due != "":
		g.add(Carried, capital(next.What), next.Due)
	default:
		g.add(Now, capital(next.What), capital(next.Why))
	}
	for _, l := range kiosk.NextLines(lists, next) {
		g.add(Plain, l, "")
	}
	return g
}
