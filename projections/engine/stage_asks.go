package engine

import (
	"math"

	"countback/events"
	"countback/projections/fastener/stage"
)

// malformedStage finds what no tool and no list can give.
func malformedStage(e *events.StageRecorded) error {
	switch {
	case e.Stage < 1:
		return refuse(Malformed, "say which stage was done", "stage %d: stages begin with 1", e.Stage)
	case !e.Read:
		return nil
	case math.IsNaN(e.Value) || e.Value < 0 || e.Value > 1e6:
		return refuse(Malformed, "read it again", "%v %s cannot be read off", e.Value, e.Unit)
	case e.Unit == "deg" && e.Value > stage.WholeTurn:
		return refuse(Malformed, "read it again; what was turned further is told stage by stage", "an angle of %s deg is more than a whole turn", numberWords(e.Value))
	}
	return nil
}

// Doubt is a stage in which something is doubtful or too far, and what clears it.
type Doubt struct {
	Order string
	Stage int // as told
	What  string
	Holes []events.Hole
	Why   string
	Over  bool // some of it is beyond its most: only loosening clears that
}

// Doubts lists the stages of a joint in which something is not as it should be,
// in the order of its lists. Holes, where given, narrow it.
func (j *Job) Doubts(joint events.Joint, holes []events.Hole) []Doubt {
	var out []Doubt
	for _, t := range j.Tightened(joint) {
		for _, row := range t.Rows {
			d := Doubt{Order: t.Order, Stage: row.Number}
			for i, c := range row.Cells {
				if c.State != stage.Doubtful && c.State != stage.Over || t.Spots[i].Joint != joint && len(t.Joints) == 1 {
					continue
				}
				if len(holes) > 0 && !contains(holes, t.Spots[i].Hole) {
					continue
				}
				d.Holes, d.Over, d.What = append(d.Holes, t.Spots[i].Hole), d.Over || c.State == stage.Over, c.What
				if d.Why == "" || c.State == stage.Over {
					d.Why = c.Why
				}
			}
			if len(d.Holes) > 0 {
				out = append(out, d)
			}
		}
	}
	return out
}

// Clears is what to scan at the joint to clear it, the first way of two.
func (d *Doubt) Clears() string {
	if d.Over {
		return "LOOSE"
	}
	return "RESTART"
}

// DoubtBefore is what is doubtful of some holes of a joint, or of all, and comes
// before their next stage: that is what next is told or cleared first, unless
// doing the stage again clears it. A zero next is none.
func (j *Job) DoubtBefore(next *NextStage, joint events.Joint, holes []events.Hole) (Doubt, bool) {
	for _, d := range j.Doubts(joint, holes) {
		if next.Stage == 0 || d.Order == next.Order && (d.Stage < next.Stage || next.Due != "") {
			return d, true
		}
	}
	return Doubt{}, false
}

// AcceptStage is a person's word for what is doubtful in a stage (rule R49).
type AcceptStage struct {
	Joint events.Joint
	Holes []events.Hole
	Why   string
}

func (c AcceptStage) decide(s *State) (events.Event, error) {
	if c.Why == "" {
		return nil, refuse(Malformed, "say why it is good", "nothing was accepted: no reason")
	}
	d := s.job.Doubts(c.Joint, c.Holes)
	switch {
	case len(d) == 0:
		return nil, refuse(Conflict, "scan STAGE when the next one is done", "nothing is doubtful in %s", s.jointWords(string(c.Joint)))
	case d[0].Over:
		return nil, refuse(Conflict, "loosen it, scan LOOSE, and begin again", "%s: %s", s.holesWords(c.Joint, d[0].Holes), d[0].Why)
	}
	return events.StageAccepted{Joint: c.Joint, Holes: c.Holes, Order: d[0].Order, Stage: d[0].Stage, Why: c.Why}, nil
}

// RestartStage begins a stage anew that was broken off, or the angle stage that
// was begun last.
type RestartStage struct {
	Joint events.Joint
	Holes []events.Hole
	Why   string
}

func (c RestartStage) decide(s *State) (events.Event, error) {
	if d := s.job.Doubts(c.Joint, c.Holes); len(d) > 0 {
		return events.StageRestarted{Joint: c.Joint, Holes: c.Holes, Order: d[0].Order, Stage: d[0].Stage, Why: c.Why}, nil
	}
	for _, t := range s.job.Tightened(c.Joint) {
		for n := len(t.Rows) - 1; n >= 0; n-- {
			for i, cell := range t.Rows[n].Cells {
				if cell.Is && cell.State != stage.Open && !cell.Presumed && (len(c.Holes) == 0 || contains(c.Holes, t.Spots[i].Hole)) {
					return events.StageRestarted{Joint: c.Joint, Holes: c.Holes, Order: t.Order, Stage: t.Rows[n].Number, Why: c.Why}, nil
				}
			}
		}
	}
	return nil, refuse(Conflict, "scan STAGE when the first one is done", "no stage of %s was begun here", s.jointWords(string(c.Joint)))
}
