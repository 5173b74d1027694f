package plan

// voidsBy says of every part and every seat whether a mark can fall by a
// change of it. Most cannot void any, and are set thousands of times while a
// job is folded.
type voidsBy struct {
	part, seat []bool
}

func (p *Plan) buildVoidsBy() {
	v := voidsBy{make([]bool, len(p.Parts)), make([]bool, len(p.Seats))}
	for _, m := range p.guide.voids {
		v.reads(p, &p.Marks[m].VoidBy)
	}
	p.guide.voidsBy = v
}

// reads notes what a condition looks at; a step is looked at by its traces.
func (v *voidsBy) reads(p *Plan, c *Condition) {
	switch c.Op {
	case OfPart:
		v.part[c.Part] = true
	case OfSeats, OfSome:
		for _, s := range c.Seats {
			v.seat[s] = true
		}
	case OfCavity:
		if c.Is == IsDrained || c.Is == IsWet {
			return // a fluid's own setter looks
		}
		v.reads(p, &p.Cavities[c.Cavity].OpenWhen)
	case OfStep:
		for _, t := range traces(&p.Steps[c.Step]) {
			switch t.kind {
			case tracePartOff, tracePartAway, tracePartBack, tracePartOn:
				v.part[t.at] = true
			case traceSeatOut, traceSeatParked, traceSeatIn:
				v.seat[t.at] = true
			}
		}
	}
	for i := range c.Kids {
		v.reads(p, &c.Kids[i])
	}
}
