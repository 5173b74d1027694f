package engine

import (
	"countback/events"
	"countback/projections/ledger"
)

// learned is what a job without a plan, or a joint that its plan does not
// have, taught: what came out of where, in which order.
type learned struct {
	joints []Learned
	parts  []LearnedPart
}

// Learned is one joint that no plan knew.
type Learned struct {
	Joint events.Joint
	Name  string
	Host  events.Part
	Holes []events.Hole // named holes, in the order in which they were met
	Lines []events.Line // what came out of it, summed by kind
	First ledger.Fact
}

// LearnedPart is one part that no plan knew, and the joints that were opened
// since the part before it.
type LearnedPart struct {
	Part  events.Part
	First ledger.Fact
}

func (l *learned) joint(j events.Joint, f ledger.Fact) *Learned {
	for i := range l.joints {
		if l.joints[i].Joint == j {
			return &l.joints[i]
		}
	}
	l.joints = append(l.joints, Learned{Joint: j, First: f})
	return &l.joints[len(l.joints)-1]
}

func (l *learned) tag(e *events.JointTagged, f ledger.Fact) {
	j := l.joint(e.Joint, f)
	j.Name, j.Host = e.Name, e.Host
}

func (l *learned) out(e *events.PiecesOut, f ledger.Fact) {
	j := l.joint(e.Joint, f)
	for _, h := range e.Holes {
		if !contains(j.Holes, h) {
			j.Holes = append(j.Holes, h)
		}
	}
	for _, line := range e.Lines {
		j.add(line)
	}
}

func (j *Learned) add(line events.Line) {
	for i := range j.Lines {
		if j.Lines[i].Kind == line.Kind {
			j.Lines[i].Qty += line.Qty
			return
		}
	}
	j.Lines = append(j.Lines, events.Line{Kind: line.Kind, Qty: line.Qty})
}

func (l *learned) part(p events.Part, f ledger.Fact) {
	for i := range l.parts {
		if l.parts[i].Part == p {
			return
		}
	}
	l.parts = append(l.parts, LearnedPart{p, f})
}

// LearnedJoints lists the joints that this job has and its plan does not.
func (s *State) LearnedJoints() []Learned { return s.learned.joints }

// LearnedParts lists the parts that this job has and its plan does not.
func (s *State) LearnedParts() []LearnedPart { return s.learned.parts }
