package panel

import (
	"strings"

	"countback/events"
	"countback/projections/engine"
	"countback/projections/ledger"
)

// OfCatchUp is the screen after days on which nobody scanned: what is presumed
// since the deepest part is off, and one count after the other that makes known
// what is only presumed. Expected numbers are not on it.
func OfCatchUp(j *engine.Job, deepest events.Part) Panel {
	st := j.State()
	n := of(j)
	p := Panel{Name: "catch-up", Title: "Catch-up: " + n.part(deepest) + " is off"}
	count, counted := Group{Head: "Count these, one after the other"}, Group{Head: "Counted since"}
	for _, u := range st.Presumed() {
		if u.Cleared != 0 {
			counted.add(Done, capital(n.uncounted(u)), "")
			continue
		}
		if p.Next == nil {
			p.Next = []string{"COUNT " + strings.ToUpper(n.uncounted(u)), "COUNT " + strings.ToUpper(string(u.Joint)+string(u.Part)), "COUNT"}
		}
		name := capital(n.uncounted(u))
		if u.Part != "" {
			name += ", the parts"
		}
		count.add(Hidden, name, n.countSaid(u))
	}
	switch left := len(count.Rows); left {
	case 0:
		p.Stand = "everything that was presumed has been counted"
	default:
		p.Stand = plural(left, "count") + " to go; all of it is presumed until then"
	}
	p.with(count)
	p.with(n.offWith(deepest))
	p.with(counted)
	return p
}

// countSaid is the sentence that counts something.
func (n names) countSaid(u engine.Uncounted) string {
	if u.Joint != "" {
		return "joint " + string(u.Joint) + ", its bag, how many of each"
	}
	return "part " + string(u.Part) + ", its bag, how many"
}

// offWith are the parts that are off by presumption with the deepest one.
func (n names) offWith(deepest events.Part) Group {
	g := Group{Head: "Off by presumption; say where each is, once it is in your hand"}
	var f ledger.Fact
	for i := range n.job.Facts() {
		if e, ok := n.job.Facts()[i].Event.(events.CaughtUp); ok && e.Deepest == deepest {
			f = ledger.Fact(i + 1)
		}
	}
	for _, ix := range n.st.OffBy(f) {
		part := &n.st.Plan().Parts[ix]
		g.add(Out, capital(part.Name), "part "+string(part.ID)+", its place, OFF")
	}
	return g
}
