package plan

import "strconv"

// pressed looks at the lists of what is pressed in: only a depth can be read
// there, now and not later, and each position is in one list.
func (c *checker) pressed() {
	in := map[string]string{}
	for i := range c.p.Tightening {
		t := &c.p.Tightening[i]
		for g := range t.Groups {
			for _, s := range t.Groups[g].Seats {
				if _, hole := c.p.Seat(s); hole {
					continue
				}
				if other, twice := in[string(s)]; twice && other != t.ID {
					c.fault(CodeID, t.Line, "tightening "+t.ID+": "+string(s)+" is pressed in by the list "+other+" too")
				}
				in[string(s)] = t.ID
				c.depths(t, &t.Groups[g], string(s))
			}
		}
	}
}

func (c *checker) depths(t *Tightening, g *TightenGroup, seat string) {
	for e := range g.Editions {
		for n, s := range g.Editions[e].Stages {
			what := "tightening " + t.ID + ": stage " + strconv.Itoa(n+1) + ": " + seat + " is a pressed part"
			switch {
			case s.Kind != StagePressDepth:
				c.fault(CodeValue, s.Line, what+": it is "+string(s.Kind)+"; a press-depth is wanted")
			case s.Due != "":
				c.fault(CodeValue, s.Line, what+": a depth is read when it is pressed, and falls due at no later time")
			}
		}
	}
}
