package plan

import (
	"slices"

	"go.yaml.in/yaml/v3"

	"countback/events"
)

// choice of seats that a key may name.
type seatKind uint8

const (
	everySeat  seatKind = iota
	movingSeat          // something comes out of it when its joint is opened
	heldSeat            // something of the engine's belongs in it
)

func (k seatKind) takes(s *Seat) bool {
	switch k {
	case movingSeat:
		return s.Moves()
	case heldSeat:
		return len(s.Members) > 0
	}
	return true
}

func (k seatKind) lacks() string {
	if k == movingSeat {
		return "nothing comes out of it"
	}
	return "nothing of the engine's belongs in it"
}

// seatsOf reads a key such as {front-cover: [1, 3, 5..7], mount-bracket: all}.
func (e *entry) seatsOf(key string, k seatKind) []SeatIndex {
	n := e.get(key)
	if n == nil || isNull(n) {
		return nil
	}
	return e.r.seats(n, e.what+": "+key, k)
}

func (r *reader) seats(n *yaml.Node, where string, k seatKind) []SeatIndex {
	e := r.open(n, where)
	if e == nil {
		return nil
	}
	var out []SeatIndex
	for i := 0; i+1 < len(n.Content); i += 2 {
		key := n.Content[i]
		j, ok := resolve(r, r.p.names.joints, ref{key.Value, key.Line}, where, "joint")
		if !ok {
			continue
		}
		e.what = where + ": " + key.Value
		for _, s := range r.seatsOfJoint(e, key, n.Content[i+1], j, k) {
			if slices.Contains(out, s) {
				r.fault(key.Line, CodeDuplicate, "%s: hole %s is named twice", where, r.p.Seats[s].ID)
				continue
			}
			out = append(out, s)
		}
	}
	if r.nodes -= len(out); r.nodes < 0 {
		r.fault(n.Line, CodeLimit, "%s: more holes are named than any plan needs", where)
		return nil
	}
	return out
}

func (r *reader) seatsOfJoint(e *entry, key, list *yaml.Node, j JointIndex, k seatKind) []SeatIndex {
	var out []SeatIndex
	joint := &r.p.Joints[j]
	if list.Kind == yaml.ScalarNode && list.Value == "all" {
		for _, s := range joint.Seats {
			if k.takes(&r.p.Seats[s]) {
				out = append(out, s)
			}
		}
		if len(out) == 0 {
			r.fault(key.Line, CodeValue, "%s: all: %s", e.what, k.lacks())
		}
		return out
	}
	for _, at := range e.places(key.Value) {
		s, ok := r.p.Hole(joint.ID, events.Hole(at.text))
		if !ok {
			near := Nearest(at.text, r.holeNames(joint))
			r.faultNear(at.line, CodeID, near, "%s: no hole %q", e.what, at.text)
			if near == "" {
				r.lost = true
				continue
			}
			s, _ = r.p.Hole(joint.ID, events.Hole(near))
		}
		if s == None {
			continue
		}
		if !k.takes(&r.p.Seats[s]) {
			r.fault(at.line, CodeValue, "%s: hole %s: %s", e.what, at.text, k.lacks())
			continue
		}
		out = append(out, s)
	}
	return out
}

func (r *reader) holeNames(j *Joint) []string {
	var out []string
	for _, s := range j.Seats {
		out = append(out, string(r.p.Seats[s].Hole))
	}
	return out
}

// placesOfGroup reads the seats of a tightening group: holes, and pressed
// positions of parts under a key that is no joint.
func (r *reader) placesOfGroup(e *entry, member *Role) (seats []events.Seat, holes []SeatIndex) {
	n := e.get("seats")
	if n == nil {
		r.fault(e.line(), CodeMissing, "%s: seats is missing", e.what)
		return nil, nil
	}
	in := r.open(n, e.what+": seats")
	if in == nil {
		return nil, nil
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, list := n.Content[i], n.Content[i+1]
		part, isPart := r.p.names.parts[events.Part(key.Value)]
		if _, isJoint := r.p.names.joints[events.Joint(key.Value)]; isPart && !isJoint {
			seats = append(seats, r.positionsOf(in, key, list, part)...)
			continue
		}
		j, ok := resolve(r, r.p.names.joints, ref{key.Value, key.Line}, in.what, "joint or part")
		if !ok {
			continue
		}
		for _, s := range r.seatsOfJoint(in, key, list, j, everySeat) {
			if member == nil || slices.ContainsFunc(r.p.Seats[s].Members, func(m Member) bool { return m.Role == *member }) {
				seats, holes = append(seats, r.p.Seats[s].ID), append(holes, s)
			}
		}
	}
	return seats, holes
}

func (r *reader) positionsOf(e *entry, key, list *yaml.Node, i PartIndex) []events.Seat {
	var out []events.Seat
	part := &r.p.Parts[i]
	if list.Kind == yaml.ScalarNode && list.Value == "all" {
		for _, pos := range part.Positions {
			out = append(out, part.Seat(pos))
		}
		return out
	}
	for _, at := range e.places(key.Value) {
		n := slices.IndexFunc(part.Positions, func(p Position) bool { return string(p.Name) == at.text })
		if n < 0 {
			r.fault(at.line, CodeID, "%s: part %s has no position %q", e.what, part.ID, at.text)
			continue
		}
		out = append(out, part.Seat(part.Positions[n]))
	}
	return out
}
