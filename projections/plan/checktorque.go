package plan

import (
	"countback/projections/fastener/torque"
)

// usualFriction is everything from anti-seize to dry: what a plan does not say.
// A torque that passes the proof load at the most friction of it passes it at
// any.
var usualFriction = torque.NutFactor{Of: "anti-seize to dry", Min: 0.12, Max: 0.25,
	Source: "mechconcepts.tech, citing Shigley and Machinery's Handbook"}

// torques holds the torque of each stage against what the fasteners of its
// holes bear by their class: proof loads of ISO 898-1, of inch grades SAE J429.
func (c *checker) torques() {
	for i := range c.p.Tightening {
		t := &c.p.Tightening[i]
		for g := range t.Groups {
			for e := range t.Groups[g].Editions {
				for _, s := range t.Groups[g].Editions[e].Stages {
					c.torqueOf(t, &t.Groups[g], &s)
				}
			}
		}
	}
}

func (c *checker) torqueOf(t *Tightening, g *TightenGroup, s *Stage) {
	if !s.Known || s.Kind != StageSnug && s.Kind != StageTorque && s.Kind != StageAgain {
		return
	}
	v, err := torque.Of(s.Max, torque.NewtonMetre)
	if err != nil {
		return
	}
	for _, ix := range g.Holes {
		m, ok := c.p.Seats[ix].Turned()
		if !ok {
			continue
		}
		load, err := torque.Check(m.Spec, v, usualFriction)
		if err != nil || load.ProofN == 0 || load.LeastN <= load.ProofN {
			continue
		}
		c.add(Warning, CodeProof, s.Line, "tightening "+t.ID+": joint "+string(c.p.Joints[c.p.Seats[ix].Joint].ID)+": "+load.String())
		return
	}
}
