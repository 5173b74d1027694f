package plan

import "fmt"

func (r *reader) readHeader(top *entry) {
	p := r.p
	p.Edition, p.Units = 1, Units{Length: lengthUnits[0], Torque: torqueUnits[0]}
	if n := top.get("plan"); n == nil {
		r.fault(top.line(), CodeMissing, "plan file: plan is missing: {id: ..., family: ..., edition: 1}")
	} else if e := r.open(n, "plan"); e != nil {
		p.ID = e.text("id")
		if !nameForm.MatchString(p.ID) {
			r.fault(e.line(), CodeMissing, "plan: id is %q; letters, digits and dash are wanted", p.ID)
		}
		p.Family = e.text("family")
		p.Edition = e.whole("edition", 1, 1e6, 1)
		p.Demo = e.flag("demo-data")
		p.LeftRight = e.text("left-right")
		r.readUnits(e)
		e.done()
	}
	if n := top.get("totals"); n != nil {
		if e := r.open(n, "totals"); e != nil {
			p.Totals = Totals{
				Fasteners: e.whole("fasteners", 0, 1e6, 0), Seats: e.whole("seats", 0, 1e6, 0),
				Parts: e.whole("parts", 0, 1e6, 0), Pieces: e.whole("pieces", 0, 1e6, 0), Line: e.line(),
			}
			e.done()
		}
	}
}

func (r *reader) readUnits(header *entry) {
	n := header.get("units")
	if n == nil {
		return
	}
	e := r.open(n, "units")
	if e == nil {
		return
	}
	u := &r.p.Units
	u.LengthSaid, u.TorqueSaid = child(n, "length") != nil, child(n, "torque") != nil
	u.Length = lengthUnits[max(0, e.choice("length", lengthUnits...))]
	u.Torque = torqueUnits[max(0, e.choice("torque", torqueUnits...))]
	e.done()
}

func (r *reader) readLists(top *entry) {
	n := top.get("position-lists")
	if n == nil {
		return
	}
	e := r.open(n, "position-lists")
	if e == nil {
		return
	}
	read := map[string][]ref{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		name := n.Content[i].Value
		if _, err := fmt.Sscanf(name, "%d", new(int)); err == nil || !nameForm.MatchString(name) {
			r.fault(n.Content[i].Line, CodeValue, "position-lists: %q is no name for a list: begin with a letter", name)
			continue
		}
		read[name] = e.places(name)
	}
	r.lists = read
}
