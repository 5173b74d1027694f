package engine

import (
	"countback/events"
	"countback/projections/plan"
)

// Exchange says that another individual takes the place of a host part: an
// exchange head, a block bought in. It is refused while the part is on the
// engine (rule R34).
type Exchange struct {
	Part events.Part
	Why  string
}

func (c Exchange) decide(s *State) (events.Event, error) {
	if c.Why == "" {
		return nil, refuse(Malformed, "say why", "nothing was exchanged: no reason")
	}
	p, ok := s.lay.plan.Part(c.Part)
	if !ok {
		return nil, refuse(Unknown, "scan a part of this job", "this job has no part %s", c.Part)
	}
	pt := &s.lay.plan.Parts[p]
	if !pt.Host {
		return nil, refuse(Conflict, "scrap the old one and scan the new one in", "%s has no holes of its own", pt.Name)
	}
	if st := s.now.Part(p); !pt.Root && (st == plan.PartOn || st == plan.PartPartly) {
		return nil, refuse(Conflict, "take it off, and scan it OFF", "%s is on", pt.Name)
	}
	old := s.hostName(p)
	return events.Exchanged{Part: c.Part, Old: old, New: events.Host(string(c.Part) + " " + itoa(int(s.inst[p])+1)), Why: c.Why}, nil
}

// ReleaseHold ends a hold.
type ReleaseHold struct {
	Hold string
	Why  string
}

func (c ReleaseHold) decide(s *State) (events.Event, error) {
	known := false
	for _, h := range s.holds {
		if h.ID == c.Hold {
			if h.Released == 0 {
				return events.HoldReleased{Hold: c.Hold, Why: c.Why}, nil
			}
			known = true
		}
	}
	if known {
		return nil, nil
	}
	return nil, refuse(Unknown, "scan a hold of this job", "this job has no hold %s", c.Hold)
}
