package panel

import (
	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
)

// OfBag is one bag: whose pieces are in it, when it was counted, which sizes
// it has, and where they go. The numbers are there only where the fact stored
// just now was a count of it.
func OfBag(j *engine.Job, code events.Code, just events.FactID) Panel {
	st := j.State()
	n := of(j)
	p := Panel{Name: "bag", Title: "Bag " + string(code)}
	b, ok := st.Bag(code)
	if !ok {
		p.Stand = "nothing was put into it yet"
		return p
	}
	p.Title += ", " + n.bagOf(b)
	a, _ := st.Book().Lookup(b.Place())
	when, _ := n.last(a)
	switch {
	case b.Retired != 0:
		p.Stand = "out of use since " + since(st, b.Retired)
	case b.Closed:
		p.Stand = "closed, " + when
	default:
		p.Stand = "open, " + when
	}
	look := st.Book().LastCount(a)
	show := look.Fact != 0 && st.Fact(look.Fact).ID() == just
	joint, _ := scan.BagOf(j, code)
	in := Group{Head: "In it"}
	lines := st.At(b.Place())
	kinds := make([]events.Kind, len(lines))
	for i := range lines {
		kinds[i] = lines[i].Kind
	}
	for i, name := range n.sizes(kinds) {
		if c := lines[i].Cond; c != "" {
			name += ", " + string(c)
		}
		if show {
			in.add(Counted, itoa(lines[i].Qty)+" "+name, n.where(joint, lines[i].Kind))
		} else {
			in.add(Hidden, name, n.where(joint, lines[i].Kind))
		}
	}
	if len(lines) == 0 {
		p.Stand = "empty"
	}
	p.with(in)
	return p
}

// where says which holes of a joint a kind goes into. Holes that are all of
// one kind are not listed: that would be the number.
func (n names) where(joint events.Joint, k events.Kind) string {
	pl := n.st.Plan()
	ix, ok := pl.Joint(joint)
	if !ok {
		return ""
	}
	kinds := kindsOf(pl, pl.Joints[ix].Seats)
	if i := kindIndex(kinds, k); i >= 0 && len(kinds) > 1 {
		return "shape " + shapeOf(i).String()
	}
	return ""
}

var shapeWords = [Shapes]string{"disc", "square", "triangle", "diamond", "cross", "hexagon", "star", "box"}

// String is the shape's word; empty for NoShape.
func (s Shape) String() string {
	if s >= Shapes {
		return ""
	}
	return shapeWords[s]
}
