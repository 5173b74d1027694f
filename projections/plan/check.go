package plan

import "slices"

// Check looks for what is wrong with a plan that can be read: steps that only
// hold each other up, parts that nothing takes off, fasteners that go in
// before what they clamp, turns with a pin in, quantities that disagree. It
// takes the whole engine apart and puts it together again, for every layout.
// Warnings and unknown values are among what it returns, in the order of the
// file; Faults.Broken tells whether the plan can be used.
func Check(p *Plan) Faults {
	c := &checker{p: p}
	c.quantities()
	c.windows()
	c.deepThreads()
	c.bands()
	c.torques()
	c.pressed()
	for i := range p.Tightening {
		c.order(&p.Tightening[i])
	}
	c.unknowns()
	c.faces()
	if len(p.Steps) > 0 {
		c.movements()
		c.loans()
		c.marks()
		c.cavities()
		c.traces()
		c.runs()
	}
	sortFaults(c.faults)
	return c.faults
}

// CheckSource reads and checks a plan file. Where all that is wrong with the
// text is misspelled ids, Check goes on with the nearest right spellings; where
// the text lacks more than that, its own faults are all that can be said.
func CheckSource(name string, src []byte) Faults {
	p, faults := read(name, src)
	lacks := slices.ContainsFunc(faults, func(f Fault) bool { return f.Code != CodeID && f.Code != CodeCount })
	if p != nil && !lacks {
		faults = append(faults, Check(p)...)
	}
	sortFaults(faults)
	return faults
}

type checker struct {
	p      *Plan
	faults []Fault
}

func (c *checker) add(level Level, code Code, line int, text string) {
	f := Fault{Level: level, Code: code, File: c.p.File, Line: line, Text: text}
	if !slices.Contains(c.faults, f) {
		c.faults = append(c.faults, f)
	}
}

func (c *checker) fault(code Code, line int, text string) { c.add(Broken, code, line, text) }

func (c *checker) step(i StepIndex) string { return string(c.p.Steps[i].ID) }

// movements looks for parts and seats that no step moves.
func (c *checker) movements() {
	p := c.p
	for i := range p.Parts {
		part := &p.Parts[i]
		if part.Root || part.Stays {
			continue
		}
		if len(p.clears.removes[i]) == 0 {
			c.fault(CodeNoRemoval, part.Line, "part "+string(part.ID)+": no step takes it off; name it in removes, or say that it stays")
		}
		if len(p.clears.fits[i]) == 0 {
			c.fault(CodeNoFitting, part.Line, "part "+string(part.ID)+": no step puts it on; name it in fits")
		}
	}
	var empties, fills []SeatIndex
	for i := range p.Seats {
		if !p.Seats[i].Moves() {
			continue
		}
		if len(p.clears.empties[i]) == 0 {
			empties = append(empties, SeatIndex(i))
		}
		if len(p.clears.fastens[i]) == 0 {
			fills = append(fills, SeatIndex(i))
		}
	}
	for _, group := range p.byLine(empties) {
		c.fault(CodeNoEmptying, p.Seats[group[0]].Line, c.holes(group)+": no step takes it out; name it in takes-out")
	}
	for _, group := range p.byLine(fills) {
		c.fault(CodeNoFilling, p.Seats[group[0]].Line, c.holes(group)+": no step puts it in; name it in fastens")
	}
}

// byLine groups holes that one entry of the file describes.
func (p *Plan) byLine(seats []SeatIndex) [][]SeatIndex {
	var out [][]SeatIndex
	for _, s := range seats {
		n := len(out) - 1
		if n >= 0 && p.Seats[out[n][0]].Line == p.Seats[s].Line && p.Seats[out[n][0]].Joint == p.Seats[s].Joint {
			out[n] = append(out[n], s)
			continue
		}
		out = append(out, []SeatIndex{s})
	}
	return out
}

// holes names holes of one joint by id: "joint front-cover, hole 2, 4".
func (c *checker) holes(seats []SeatIndex) string {
	text := "joint " + string(c.p.Joints[c.p.Seats[seats[0]].Joint].ID) + " hole "
	for i, s := range seats {
		if i > 0 {
			text += ", "
		}
		text += string(c.p.Seats[s].Hole)
	}
	return text
}
