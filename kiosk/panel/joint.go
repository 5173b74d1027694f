package panel

import (
	"slices"
	"strings"

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
	p.Placed = st.Plan().Placed(ix)
	for _, seat := range joint.Seats {
		s := &st.Plan().Seats[seat]
		c := Cell{Name: st.Plan().HoleName(ix, seat), Shape: NoShape, Mark: holeMark(st, seat, broken), X: s.XY.X, Y: s.XY.Y}
		if k := mainKind(s); k != "" {
			c.Shape = shapeOf(kindIndex(kinds, k))
		}
		for _, h := range ask {
			asked, _ := st.Plan().Hole(id, h)
			c.Ask = c.Ask || asked == seat
		}
		p.Cells = append(p.Cells, c)
	}
	sortCells(p.Cells)
	for i, name := range n.sizes(kinds) {
		p.Key = append(p.Key, Key{shapeOf(i), name})
	}
	p.Stand = jointStand(p.Cells)
	for _, u := range st.Uncounted() {
		if u.Joint == id {
			p.Stand += ", by presumption: never counted"
		}
	}
	p.Note = "in the order of their numbers, not in place"
	if p.Placed {
		p.Left, p.Top, p.Note = joint.Face.AtLeft, joint.Face.AtTop, n.face(ix)
	}
	if of := st.Plan().Starred(ix); of != plan.None {
		p.Note = joined("; ", "* of "+st.Plan().Joints[of].Name, p.Note)
	}
	p.with(n.tightening(id))
	p.with(n.oddHoles(joint))
	p.with(n.kept(id))
	p.Arrange(1 << 10)
	return p
}

// face says where a joint is and how it is looked at. Left and right are never
// said without from where.
func (n names) face(ix plan.JointIndex) string {
	f := n.st.Plan().Joints[ix].Face
	text := f.String()
	if f.Side == plan.Left || f.Side == plan.Right {
		text += " (left and right " + n.st.Plan().LeftRight + ")"
	}
	return text
}

func joined(between string, texts ...string) string {
	return strings.Join(slices.DeleteFunc(texts, func(t string) bool { return t == "" }), between)
}

// blind takes the holes off the panel and leaves the sizes to count.
func (p *Panel) blind() {
	g := Group{Head: "Count each size"}
	for _, k := range p.Key {
		g.add(Hidden, k.Text, "")
	}
	p.Cells, p.Key, p.Note, p.Placed = nil, nil, "", false
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
// member that does not stay, of those that are turned before any washer.
func mainKind(s *plan.Seat) events.Kind {
	for _, washer := range []bool{false, true} {
		for _, m := range s.Members {
			if !m.Stays && (m.Role == plan.RoleWasher) == washer {
				return m.Kind
			}
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
	if st.Unsure(ix) {
		return Unsure
	}
	return Out
}

// jointStand says how a joint stands, without numbers: a count of it may come.
func jointStand(cells []Cell) string {
	var is [markEnd]bool
	for _, c := range cells {
		is[c.Mark] = true
	}
	unsure := is[Unsure]
	is[Out] = is[Out] || unsure
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
	if unsure {
		text += ", UNSURE where nobody has said whether it came out"
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
