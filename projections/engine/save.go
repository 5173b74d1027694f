package engine

import (
	"fmt"

	"countback/events"
	"countback/projections/plan"
)

// SavePlan is a plan made from what this job recorded. A job with a plan gives
// its own copy with all amendments; a job without one gives what its teardown
// taught, whose order on is the reverse of its order off. Values that nobody
// told are unknown and are listed by the check. An error says what is missing.
func (j *Job) SavePlan() (*plan.Plan, error) {
	s := j.State()
	if s.Opened.Plan != "" {
		return s.Plan(), nil
	}
	if len(s.learned.joints) == 0 && len(s.learned.parts) == 0 {
		return nil, fmt.Errorf("plan of %s: nothing came off yet: take a joint apart first", s.Opened.Engine)
	}
	rec := plan.Recorded{ID: "recorded", Family: s.Opened.Engine}
	for i := range s.learned.joints {
		rec.Joints = append(rec.Joints, recordedJoint(&s.learned.joints[i]))
	}
	next := 0
	for i := range s.learned.parts {
		p := &s.learned.parts[i]
		part := plan.RecordedPart{ID: p.Part, Name: string(p.Part)}
		for ; next < len(s.learned.joints) && s.learned.joints[next].First < p.First; next++ {
			part.Freed = append(part.Freed, s.learned.joints[next].Joint)
		}
		rec.Parts = append(rec.Parts, part)
	}
	return plan.FromRecord(rec)
}

// recordedJoint lays the kinds that came out of a joint onto its holes: named
// ones first, then 1, 2, 3 ...
func recordedJoint(l *Learned) plan.RecordedJoint {
	j := plan.RecordedJoint{ID: l.Joint, Name: l.Name}
	n := 0
	hole := func() events.Hole {
		n++
		if n <= len(l.Holes) {
			return l.Holes[n-1]
		}
		return events.Hole(itoa(n))
	}
	for _, line := range l.Lines {
		for range line.Qty {
			j.Holes = append(j.Holes, plan.RecordedHole{Hole: hole(), Kind: line.Kind})
		}
	}
	for n < len(l.Holes) {
		j.Holes = append(j.Holes, plan.RecordedHole{Hole: hole()})
	}
	return j
}
