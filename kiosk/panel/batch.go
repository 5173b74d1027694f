package panel

import (
	"strings"

	"countback/events"
	"countback/projections/engine"
)

// OfBatches is the washes and coats of paint of a job, the open ones first:
// which parts are in each, which plugs and masks were counted on and off, and
// how far it has cured. The number that is on is not shown before it is counted
// off.
func OfBatches(j *engine.Job, one string) Panel {
	n := of(j)
	p := Panel{Name: "batches", Title: "Batches"}
	all, open := 0, 0
	list := n.st.Batches()
	for _, b := range list {
		all++
		if b.Closed == 0 {
			open++
		}
	}
	for _, first := range []bool{true, false} {
		for i := len(list) - 1; i >= 0; i-- {
			if b := list[i]; (b.Closed == 0 || b.Name == one && one != "") == first {
				p.with(n.batch(b))
			}
		}
	}
	p.Stand = itoa(all) + " of this job, " + itoa(open) + " open"
	if all == 0 {
		p.Stand = "nothing was washed or painted in one yet"
	}
	return p
}

func (n names) batch(b *engine.Batch) Group {
	g := Group{Head: strings.TrimSpace("Batch " + b.Name + ", " + b.What)}
	if b.Closed == 0 {
		g.Head += ": OPEN since " + since(n.st, b.Opened)
	} else {
		g.Head += ": closed " + since(n.st, b.Closed)
	}
	if now := n.job.Moment(); b.Cured != 0 {
		r := n.st.Fact(b.Closed)
		hours := float64(b.Cured-r.At) / 3_600e6
		gone := min(float64(now-r.At)/3_600e6, hours)
		mark, more := Waits, "nothing may touch the parts before "+day(b.Cured)
		if b.Cured <= now {
			mark, more = Done, ""
		}
		g.draw(mark, "Cures until "+day(b.Cured), more, way("cured", gone, hours, "hours"))
	}
	for _, id := range b.Parts {
		mark := Done
		if b.Closed == 0 {
			mark = Begun
		}
		g.add(mark, n.part(id), "")
	}
	if b.Closed == 0 {
		on := n.st.NotPainted(b)
		for i, size := range n.sizes(kindsOfLines(on)) {
			g.add(Look, engine.Several(on[i].Qty, size)+" still on them", "mask it or take it off")
		}
		g.add(Hidden, "Plugs and masks: "+strings.Join(n.sizes(kindsOfLines(b.Masks)), ", "), "count them off: batch "+b.Name+", CLOSE")
		return g
	}
	n.masks(&g, b)
	return g
}

func kindsOfLines(lines []events.Line) []events.Kind {
	kinds := make([]events.Kind, len(lines))
	for i := range lines {
		kinds[i] = lines[i].Kind
	}
	return kinds
}

// masks holds what went on against what came off.
func (n names) masks(g *Group, b *engine.Batch) {
	off := map[events.Kind]int{}
	if ev, ok := n.job.Standing(n.st.Fact(b.Closed).ID()); ok {
		if e, ok := ev.(events.BatchClosed); ok {
			for _, l := range e.Masks {
				off[l.Kind] += l.Qty
			}
		}
	}
	for _, l := range b.Masks {
		mark, text := Done, n.size(l.Kind)+": "+itoa(l.Qty)+" on, "+itoa(off[l.Kind])+" off"
		if off[l.Kind] != l.Qty {
			mark = Look
		}
		g.draw(mark, text, "", way(n.size(l.Kind), float64(off[l.Kind]), float64(l.Qty), "off"))
	}
}
