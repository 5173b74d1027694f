package engine

import (
	"countback/events"
	"countback/projections/fastener/torque"
)

// Guidance is what a torque could be for one fastener, by one lubricant and one
// way of working it out. It is never the maker's word.
type Guidance struct{ torque.Guidance }

// Short is the guidance in one line for a screen: three units, and what it
// rests on.
func (g Guidance) Short() string {
	return g.Torque(torque.NewtonMetre).String() + " (" + g.Torque(torque.PoundFoot).String() + ", " + g.Torque(torque.PoundInch).String() + "): " +
		g.Method + ", " + g.Friction
}

// Guidance works out torques for the fastener of a hole, or of the first hole of
// a joint, as torque.All does. Where nothing is turned kind is empty; where the
// strength is not known there are no lines.
func (j *Job) Guidance(joint events.Joint, holes []events.Hole) (list []Guidance, kind events.Kind) {
	s := j.State()
	ix, ok := s.lay.plan.Joint(joint)
	if !ok {
		return nil, ""
	}
	for _, seat := range s.lay.plan.Joints[ix].Seats {
		if len(holes) > 0 && !contains(holes, s.lay.plan.Seats[seat].Hole) {
			continue
		}
		m := turnedMember(&s.lay.plan.Seats[seat])
		if m < 0 {
			continue
		}
		kind = s.wantedKind(seat, m)
		spec, ok := specOf(kind)
		if !ok {
			return nil, kind
		}
		for _, g := range torque.All(spec) {
			list = append(list, Guidance{g})
		}
		return list, kind
	}
	return nil, ""
}
