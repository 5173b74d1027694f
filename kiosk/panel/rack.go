package panel

import (
	"strings"

	"countback/events"
	"countback/projections/engine"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// OfRack is a rack with its positions: which are full, and which hold a piece
// that belongs elsewhere. ask are the positions that the sentence on the
// screen is about.
func OfRack(j *engine.Job, code events.Code, ask []events.Hole) Panel {
	st := j.State()
	n := of(j)
	rack := events.Place("rack/" + string(code))
	of := rackFor(j, rack)
	p := Panel{Name: "rack", Title: "Rack " + string(code), Stand: "nothing is known to be in it"}
	positions := of.positions(st.Plan())
	for _, a := range accountsIn(st.Book(), rack+"/") {
		pos := events.Hole(strings.TrimPrefix(string(st.Book().Path(a)), string(rack)+"/"))
		if len(st.At(st.Book().Path(a))) > 0 {
			positions = addHole(positions, pos)
		}
	}
	swapped := Group{Head: "Not in their own place"}
	full := 0
	for _, pos := range positions {
		c := Cell{Name: string(pos), Shape: NoShape, Mark: Empty, Ask: hasHole(ask, pos)}
		if lines := st.At(rack + "/" + events.Place(pos)); len(lines) > 0 {
			c.Mark = Full
			full++
			if own := st.Own(lines[0].Origin); own != "" {
				if _, at := own.Split(); at != pos {
					c.Mark = Swapped
					swapped.add(Look, "Position "+string(pos)+" holds the piece of "+string(at), "")
				}
			}
		}
		p.Cells = append(p.Cells, c)
	}
	if name := of.name(n); name != "" {
		p.Stand = name
	}
	if of.lost {
		p.Stand += ": tipped, its order is lost"
	}
	p.Note = "in the order of their names, not in place"
	n.placeHoles(&p, of.joint)
	p.with(swapped)
	if heap := st.At(rack); len(heap) > 0 {
		g := Group{Head: "In no position"}
		for _, l := range heap {
			g.add(Hidden, n.size(l.Kind), "")
		}
		p.with(g)
	}
	p.Arrange(1 << 10)
	return p
}

// placeHoles gives the positions of fasteners by hole the places of their
// holes, where the plan knows all of them.
func (n names) placeHoles(p *Panel, joint events.Joint) {
	ix, ok := n.st.Plan().Joint(joint)
	if !ok || len(p.Cells) == 0 {
		return
	}
	for i := range p.Cells {
		s, ok := n.st.Plan().Hole(joint, events.Hole(p.Cells[i].Name))
		if !ok || !n.st.Plan().Seats[s].XY.Known {
			return
		}
		p.Cells[i].X, p.Cells[i].Y = n.st.Plan().Seats[s].XY.X, n.st.Plan().Seats[s].XY.Y
	}
	face := n.st.Plan().Joints[ix].Face
	p.Placed, p.Left, p.Top, p.Note = true, face.AtLeft, face.AtTop, n.face(ix)
}

// contents is what a rack is for.
type contents struct {
	part  events.Part
	joint events.Joint
	lost  bool
}

// rackFor finds in the facts what a rack is for, and whether it was tipped
// since.
func rackFor(j *engine.Job, rack events.Place) contents {
	var c contents
	for i := range j.Facts() {
		ev, ok := j.Standing(j.Facts()[i].ID())
		if !ok {
			continue
		}
		switch e := ev.(type) {
		case events.PartPlaced:
			if strings.HasPrefix(string(e.Rack), string(rack)+"/") {
				c = contents{part: e.Part}
			}
		case events.RackRead:
			if e.Rack == rack && (e.Part != "" || e.Joint != "") {
				c = contents{part: e.Part, joint: e.Joint}
			}
		case events.OrderLost:
			if e.Rack == rack {
				c.lost = true
			}
		}
	}
	return c
}

func (c contents) name(n names) string {
	switch {
	case c.part != "":
		return n.part(c.part)
	case c.joint != "":
		return n.joint(c.joint) + ", by hole"
	}
	return ""
}

// positions are those that a full rack has.
func (c contents) positions(pl *plan.Plan) []events.Hole {
	var list []events.Hole
	if ix, ok := pl.Part(c.part); ok {
		for _, pos := range pl.Parts[ix].Positions {
			list = append(list, pos.Name)
		}
	}
	if ix, ok := pl.Joint(c.joint); ok {
		for _, s := range pl.Joints[ix].Seats {
			list = append(list, pl.Seats[s].Hole)
		}
	}
	return list
}

// accountsIn are the accounts whose path begins so, in the book's order.
func accountsIn(b *ledger.Book, prefix events.Place) []ledger.AccountID {
	var list []ledger.AccountID
	for a := ledger.AccountID(1); int(a) <= b.Accounts(); a++ {
		if strings.HasPrefix(string(b.Path(a)), string(prefix)) {
			list = append(list, a)
		}
	}
	return list
}

func hasHole(list []events.Hole, h events.Hole) bool {
	for _, x := range list {
		if x == h {
			return true
		}
	}
	return false
}

func addHole(list []events.Hole, h events.Hole) []events.Hole {
	if hasHole(list, h) {
		return list
	}
	return append(list, h)
}
