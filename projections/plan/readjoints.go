package plan

import (
	"fmt"
	"slices"

	"go.yaml.in/yaml/v3"

	"countback/events"
	"countback/projections/fastener"
)

func (r *reader) readJoint(e *entry, self JointIndex) Joint {
	id := e.text("id")
	j := Joint{
		ID: events.Joint(id), Name: e.text("name"), Line: e.line(),
		HoldsBack: e.text("holds-back"), DryHoles: e.flag("dry-holes"),
		OnlyWith: one(e, r.p.names.parts, "only-with", "part"), Face: e.face(), Note: e.text("note"),
	}
	if j.Name == "" {
		j.Name = spoken(id)
	}
	holes := e.items("holes")
	shares := e.get("shares")
	e.done()
	for _, n := range holes {
		if h := r.open(n, e.what+": hole"); h != nil {
			r.readHoles(h, &j, self)
		}
	}
	if len(holes) == 0 && shares == nil {
		r.fault(e.line(), CodeMissing, "%s: holes is missing", e.what)
	}
	j.Own = len(j.Seats)
	return j
}

// readHoles reads one entry of holes: several alike.
func (r *reader) readHoles(e *entry, j *Joint, self JointIndex) {
	at := e.places("at")
	if len(at) == 0 {
		r.fault(e.line(), CodeMissing, "%s: at is missing: the names of the holes", e.what)
		return
	}
	e.what += " " + at[0].text
	s := Seat{
		Joint: self, Line: e.line(),
		Host:   one(e, r.p.names.parts, "in", "part"),
		Thread: e.text("thread"), ThreadIn: e.text("thread-in"),
		Grip: e.length("grip"), Depth: e.length("depth"), FreeBehind: e.length("free-behind"),
		Through:    child(e.node, "free-behind") != nil,
		ThreadLock: e.flag("thread-lock"), Sealant: e.sealant(), OwnSeat: e.ownSeat(), Note: e.text("note"),
	}
	r.readStack(e, &s)
	xys := e.xys(at)
	e.done()
	if s.Thread != "" {
		if _, err := fastener.Parse(s.Thread); err != nil {
			r.fault(e.line(), CodeFastener, "%s: thread: %v", e.what, err)
		}
	}
	for n, name := range at {
		if len(r.p.Seats) >= maxSeats {
			r.fault(e.line(), CodeLimit, "%s: more than %d holes", e.what, maxSeats)
			return
		}
		one := s
		one.Hole, one.XY = events.Hole(name.text), xys[n]
		one.ID = events.SeatOf(j.ID, one.Hole)
		if _, ok := r.p.names.seats[one.ID]; ok {
			r.fault(name.line, CodeDuplicate, "joint %s: hole %s is given twice", j.ID, name.text)
			continue
		}
		i := SeatIndex(len(r.p.Seats))
		r.p.names.seats[one.ID] = i
		r.p.Seats = append(r.p.Seats, one)
		j.Seats = append(j.Seats, i)
	}
}

// readStack reads what a hole holds: written as a stack from the host
// outwards, or in short as clamps and fastener.
func (r *reader) readStack(e *entry, s *Seat) {
	clamps := many(e, r.p.names.parts, "clamps", "part")
	short, long, holds := e.get("fastener"), e.get("stack"), e.text("holds")
	m := e.member(short, "fastener", RoleBolt)
	switch {
	case holds == "nothing" && short == nil && long == nil:
	case holds != "":
		e.bad(e.get("holds"), "holds", "nothing, and then no fastener and no stack")
	case short != nil && long == nil:
		s.Clamps, s.Members = clamps, []Member{m}
	case long != nil && short == nil:
		if clamps != nil || child(e.node, "feature") != nil || child(e.node, "reuse") != nil {
			r.fault(e.line(), CodeValue, "%s: clamps, feature and reuse belong into the stack", e.what)
		}
		r.readMembers(e, long, s)
	default:
		r.fault(e.line(), CodeMissing, "%s: one of fastener, stack or holds: nothing is wanted", e.what)
	}
	if len(s.Clamps) > maxStack {
		r.fault(e.line(), CodeLimit, "%s: it clamps %d parts; at most %d", e.what, len(s.Clamps), maxStack)
		s.Clamps = s.Clamps[:maxStack]
	}
	if s.Host != None && slices.Contains(s.Clamps, s.Host) {
		r.fault(e.line(), CodeValue, "%s: it is in the part that it clamps", e.what)
	}
}

func (r *reader) readMembers(e *entry, list *yaml.Node, s *Seat) {
	if list.Kind != yaml.SequenceNode || len(list.Content) > maxStack {
		e.bad(list, "stack", fmt.Sprintf("a list of at most %d, from the host outwards", maxStack))
		return
	}
	for _, n := range list.Content {
		m := r.open(n, e.what+": stack")
		if m == nil {
			continue
		}
		if child(n, "clamps") != nil {
			for _, c := range many(m, r.p.names.parts, "clamps", "part") {
				if slices.Contains(s.Clamps, c) {
					r.fault(n.Line, CodeDuplicate, "%s: part %s is clamped twice", e.what, r.p.partID(c))
					continue
				}
				s.Clamps = append(s.Clamps, c)
			}
			m.done()
			continue
		}
		found := false
		for role := RoleBolt; role <= RoleWasher; role++ {
			if v := m.get(role.String()); v != nil && !found {
				found = true
				s.Members = append(s.Members, m.member(v, role.String(), role))
			}
		}
		if !found {
			near := ""
			for k := 0; k < len(n.Content) && near == ""; k += 2 {
				near = Nearest(n.Content[k].Value, []string{"clamps", "bolt", "stud", "nut", "washer"})
			}
			r.faultNear(n.Line, CodeMissing, near, "%s: one of clamps, bolt, stud, nut, washer is wanted", m.what)
			continue
		}
		m.done()
	}
}

// member reads one piece of a stack; the keys beside its spec are read even
// where there is no spec, so that they are known.
func (e *entry) member(spec *yaml.Node, key string, role Role) Member {
	m := Member{
		Role: role, Count: 1, Line: e.line(), Reuse: e.reuse("reuse"),
	}
	feature := e.text("feature")
	if key != "fastener" {
		m.Stays, m.WayRound = e.flag("stays"), e.text("way-round")
		m.RunIn, m.Height = e.length("run-in"), e.length("height")
	}
	if spec != nil {
		m.Line = spec.Line
		m.Spec, m.Kind = e.kind(spec, key, feature)
	}
	return m
}

// kind reads a fastener spec with the feature that sets it apart.
func (e *entry) kind(n *yaml.Node, key, feature string) (fastener.Spec, events.Kind) {
	if n.Kind != yaml.ScalarNode {
		e.bad(n, key, "a fastener spec")
		return fastener.Spec{}, ""
	}
	if n.Value == unknownWord {
		return fastener.Spec{}, UnknownKind
	}
	spec, err := fastener.ParseWithFeature(n.Value, feature)
	if err != nil {
		e.r.fault(n.Line, CodeFastener, "%s: %s: %v", e.what, key, err)
	}
	return spec, events.Kind(spec.String())
}

func (r *reader) readShares(e *entry, self JointIndex) {
	n := e.get("shares")
	if n == nil {
		return
	}
	j := &r.p.Joints[self]
	for _, s := range r.seats(n, e.what+": shares", everySeat) {
		if r.p.Seats[s].Joint == self {
			r.fault(n.Line, CodeValue, "%s: shares: hole %s is its own", e.what, r.p.Seats[s].Hole)
			continue
		}
		j.Seats = append(j.Seats, s)
		r.p.Seats[s].SharedBy = append(r.p.Seats[s].SharedBy, self)
	}
}

// partID is the id of a part, for messages; None gives "the engine".
func (p *Plan) partID(i PartIndex) string {
	if i == None {
		return "the engine"
	}
	return string(p.Parts[i].ID)
}
