package engine

import (
	"math"

	"countback/events"
	"countback/projections/fastener/stage"
	"countback/projections/fastener/torque"
	"countback/projections/plan"
)

// ChooseEdition decides by which of two editions that disagree a list is
// tightened (rule R52). The one who chooses signs.
type ChooseEdition struct {
	Joint  events.Joint
	Choice int // from 1
	Signed events.Badge
	Why    string
}

func (c ChooseEdition) decide(s *State) (events.Event, error) {
	switch {
	case c.Why == "":
		return nil, refuse(Malformed, "say why that one", "no edition was chosen: no reason")
	case c.Signed == "":
		return nil, refuse(Malformed, "scan the badge of who chooses", "no edition was chosen: nobody signs")
	}
	for _, t := range s.job.Tightened(c.Joint) {
		if len(t.Editions) < 2 {
			continue
		}
		if c.Choice < 1 || c.Choice > len(t.Editions) {
			return nil, refuse(Malformed, "say a number from 1 to "+itoa(len(t.Editions)), "%s has no edition %d", s.jointWords(string(c.Joint)), c.Choice)
		}
		if t.Chosen != 0 && t.Edition == c.Choice {
			return nil, nil
		}
		ed := &s.listOf(t.li).Editions[c.Choice-1]
		return events.EditionChosen{Order: t.Order, Choice: c.Choice, Edition: ed.Name, Source: ed.Source, Signed: c.Signed, Why: c.Why}, nil
	}
	return nil, refuse(Conflict, "tighten by it, and scan STAGE", "the plan has one edition of the stages of %s", s.jointWords(string(c.Joint)))
}

// ChooseTorque takes a torque that was worked out for holes for which the plan
// has none (rule R53).
type ChooseTorque struct{ events.TorqueChosen }

func (c ChooseTorque) decide(s *State) (events.Event, error) {
	e := c.TorqueChosen
	nm, ok := inUnit(e.Value, e.Unit, stage.Torque)
	switch {
	case !ok || !(nm > 0 && nm < 1e6):
		return nil, refuse(Malformed, "say a torque with its unit", "%s %s is no torque", numberWords(e.Value), e.Unit)
	case e.Lubricant == "":
		return nil, refuse(Malformed, "say what is on the threads: dry, oil, anti-seize", "no torque was chosen: the lubricant is not said")
	}
	ix, ok := s.lay.plan.Joint(e.Joint)
	if !ok {
		return nil, refuse(Unknown, "scan a joint of this job", "this job has no joint %s", e.Joint)
	}
	free := false
	for _, seat := range s.scope(ix, e.Joint, e.Holes) {
		if s.lay.seats[seat].full == 0 || s.planTorque(seat) {
			continue
		}
		free = true
		if why := s.strains(seat, nm); why != "" {
			return nil, refuse(Conflict, "work it out again", "%s", why)
		}
	}
	if !free {
		return nil, refuse(Conflict, "tighten by the plan, or amend it", "the plan says how %s is tightened", s.holesWords(e.Joint, e.Holes))
	}
	return e, nil
}

// anyFriction is everything from anti-seize to dry.
var anyFriction = torque.NutFactor{Of: "anti-seize to dry", Min: 0.12, Max: 0.25,
	Source: "mechconcepts.tech, citing Shigley and Machinery's Handbook"}

// strains says that a torque in N.m passes what the fastener of a hole bears at
// any friction; empty where it does not, or its strength is not known.
func (s *State) strains(seat plan.SeatIndex, nm float64) string {
	m, ok := s.lay.plan.Seats[seat].Turned()
	if !ok {
		return ""
	}
	spec, ok := specOf(s.wantedKind(seat, turnedMember(&s.lay.plan.Seats[seat])))
	if !ok {
		spec = m.Spec
	}
	v, err := torque.Of(math.Round(nm*1e4)/1e4, torque.NewtonMetre)
	if err != nil {
		return ""
	}
	load, err := torque.Check(spec, v, anyFriction)
	if err != nil || load.ProofN == 0 || load.LeastN <= load.ProofN {
		return ""
	}
	return load.String()
}

// Strains says that a torque passes what the fasteners of some holes of a joint
// bear at any friction; empty where it does not.
func (j *Job) Strains(joint events.Joint, holes []events.Hole, value float64, unit string) string {
	s := j.State()
	nm, ok := inUnit(value, unit, stage.Torque)
	ix, known := s.lay.plan.Joint(joint)
	if !ok || !known {
		return ""
	}
	for _, seat := range s.lay.plan.Joints[ix].Seats {
		if len(holes) > 0 && !contains(holes, s.lay.plan.Seats[seat].Hole) {
			continue
		}
		if why := s.strains(seat, nm); why != "" {
			return why
		}
	}
	return ""
}

func (s *State) tellsTightening(ev events.Event) string {
	switch e := ev.(type) {
	case events.StageRestarted:
		return s.holesWords(e.Joint, e.Holes) + ": stage " + itoa(e.Stage) + " begun anew, what was turned in it is loose" + because(e.Why)
	case events.StageAccepted:
		return s.holesWords(e.Joint, e.Holes) + ": stage " + itoa(e.Stage) + " accepted" + because(e.Why)
	case events.EditionChosen:
		text := "Tightening " + e.Order + ": edition " + itoa(e.Choice)
		if e.Source != "" {
			text += " (" + e.Source + ")"
		}
		return text + " counts, chosen by " + string(e.Signed) + because(e.Why)
	case events.TorqueChosen:
		text := s.holesWords(e.Joint, e.Holes) + ": " + numberWords(e.Value) + " " + e.Unit + " chosen, " + e.Lubricant
		if e.Friction != "" {
			text += ", " + e.Friction
		}
		return text + ": guidance, not the maker's" + because(e.Why)
	}
	return ""
}
