package panel

import (
	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
	"countback/projections/plan"
)

// OfJoint is a joint as its hole pattern: each hole with its number, its size
// by shape, and what is in it. ask are the holes that the sentence on the
// screen is about.
func OfJoint(j *engine.Job, id events.Joint, ask []events.Hole) Panel {
	st := j.State()
	n := of(j)
	p := Panel{Name: "joint", Title: n.joint(id)}
	ix, ok := st.Plan().Joint(id)
	if !ok {
		return learnedJoint(p, n, id)
	}
	joint := &st.Plan().Joints[ix]
	kinds := kindsOf(st.Plan(), joint.Seats)
	broken := brokenIn(st)
	for _, seat := range joint.Seats {
		s := &st.Plan().Seats[seat]
		c := Cell{Name: string(s.Hole), Shape: NoShape, Mark: holeMark(st, seat, broken)}
		if k := mainKind(s); k != "" {
			c.Shape = shapeOf(kindIndex(kinds, k))
		}
		for _, h := range ask {
			c.Ask = c.Ask || h == s.Hole
		}
		p.Cells = append(p.Cells, c)
	}
	sortCells(p.Cells)
	for i, name := range n.sizes(kinds) {
		p.Key = append(p.Key, Key{shapeOf(i), name})
	}
	p.Stand = jointStand(p.Cells)
	p.Note = "in the order of their numbers, not in place"
	p.with(n.oddHoles(joint))
	p.with(n.kept(id))
	p.Arrange(1 << 10)
	return p
}

// blind takes the holes off the panel and leaves the sizes to count.
func (p *Panel) blind() {
	g := Group{Head: "Count each size"}
	for _, k := range p.Key {
		g.add(Hidden, k.Text, "")
	}
	p.Cells, p.Key, p.Note = nil, nil, ""
	p.Groups = append([]Group{g}, p.Groups...)
}

// learnedJoint is a joint that no plan knows: what came out of it so far.
func learnedJoint(p Panel, n names, id events.Joint) Panel {
	p.Stand = "not in the plan"
	for _, l := range n.st.LearnedJoints() {
		if l.Joint != id {
			continue
		}
		p.Stand = "no plan knows it; met " + since(n.st, l.First)
		for _, h := range l.Holes {
			p.Cells = append(p.Cells, Cell{Name: string(h), Shape: NoShape})
		}
	}
	p.with(n.kept(id))
	p.Arrange(1 << 10)
	return p
}

// kindsOf are the kinds that holes take, in the order of their first hole.
func kindsOf(pl *plan.Plan, seats []plan.SeatIndex) []events.Kind {
	var kinds []events.Kind
	for _, ix := range seats {
		if k := mainKind(&pl.Seats[ix]); k != "" && kindIndex(kinds, k) < 0 {
			kinds = append(kinds, k)
		}
	}
	return kinds
}

// mainKind is what comes out of a hole when its joint is opened: the first
// member that does not stay.
func mainKind(s *plan.Seat) events.Kind {
	for _, m := range s.Members {
		if !m.Stays {
			return m.Kind
		}
	}
	if len(s.Members) > 0 {
		return s.Members[0].Kind
	}
	return ""
}

func kindIndex(kinds []events.Kind, k events.Kind) int {
	for i := range kinds {
		if kinds[i] == k {
			return i
		}
	}
	return -1
}

func brokenIn(st *engine.State) map[events.Seat]bool {
	broken := map[events.Seat]bool{}
	for _, c := range st.Cases() {
		if c.Open() {
			broken[events.SeatOf(c.Joint, c.Hole)] = true
		}
	}
	return broken
}

func holeMark(st *engine.State, ix plan.SeatIndex, broken map[events.Seat]bool) Mark {
	if broken[st.Plan().Seats[ix].ID] {
		return Broken
	}
	switch st.Now().Seat(ix) {
	case plan.SeatLoan:
		return Lent
	case plan.SeatParked:
		return Parked
	case plan.SeatFilled:
		return In
	case plan.SeatFinished:
		return Tight
	case plan.SeatAbsent:
		return None
	}
	return Out
}

// jointStand says how a joint stands, without numbers: a count of it may come.
func jointStand(cells []Cell) string {
	var is [markEnd]bool
	for _, c := range cells {
		is[c.Mark] = true
	}
	text := ""
	switch {
	case is[Out] && (is[In] || is[Tight] || is[Parked]):
		text = "partly out"
	case is[Out] || is[Lent] && !is[In] && !is[Tight]:
		text = "out"
	case is[Parked]:
		text = "PARKED: only finger-tight"
	case is[In]:
		text = "in, not tightened to the end"
	case is[Tight]:
		text = "in and tight"
	default:
		text = "this engine has none"
	}
	if is[Broken] {
		text += ", BROKEN in one or more"
	}
	return text
}

// oddHoles lists what is in a hole and is not of its size, and holes that have
// changed.
func (n names) oddHoles(j *plan.Joint) Group {
	g := Group{Head: "Not as planned"}
	for _, ix := range j.Seats {
		hole := string(n.st.Plan().Seats[ix].Hole)
		if k := n.st.Odd(ix); k != "" {
			g.add(Look, "Hole "+hole+" holds "+n.size(k), "take it out and ask THIS ONE?")
		}
		if h, ok := n.st.HoleOf(ix); ok {
			text := "Hole " + hole + " is " + string(h.State)
			if h.Takes != "" {
				text += ", takes " + n.size(h.Takes)
			}
			g.add(Plain, text, "")
		}
	}
	return g
}

// kept lists the bags that pieces of a joint are kept in.
func (n names) kept(id events.Joint) Group {
	g := Group{Head: "Its pieces"}
	for _, b := range n.st.Bags() {
		if b.Retired != 0 || len(n.st.At(b.Place())) == 0 {
			continue
		}
		if joint, _ := scan.BagOf(n.job, b.Code); joint != id {
			continue
		}
		g.add(Hidden, "bag "+string(b.Code), n.bagLast(b))
	}
	return g
}
