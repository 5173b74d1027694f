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
	ids := recordedIDs{}
	var bare []string
	for i := range s.learned.joints {
		l := &s.learned.joints[i]
		if len(l.Lines)+len(l.Holes) == 0 { // only its tag was scanned
			bare = append(bare, "joint "+string(l.Joint))
			continue
		}
		j := recordedJoint(l)
		j.ID = events.Joint(ids.of(string(l.Joint)))
		rec.Joints = append(rec.Joints, j)
	}
	if len(rec.Joints)+len(s.learned.parts) == 0 {
		return nil, fmt.Errorf("plan of %s: nothing came out of %s yet: scan it, a bag, and each size with its number", s.Opened.Engine, wordList(bare))
	}
	next := 0
	for i := range s.learned.parts {
		p := &s.learned.parts[i]
		part := plan.RecordedPart{ID: events.Part(ids.of(string(p.Part))), Name: string(p.Part)}
		if p.Qty > 1 {
			part.Count = p.Qty
		}
		for ; next < len(s.learned.joints) && s.learned.joints[next].First < p.First; next++ {
			if l := &s.learned.joints[next]; len(l.Lines)+len(l.Holes) > 0 {
				part.Freed = append(part.Freed, events.Joint(ids.of(string(l.Joint))))
			}
		}
		rec.Parts = append(rec.Parts, part)
	}
	return plan.FromRecord(rec)
}

// recordedIDs are the ids that a plan can have for the names that people gave,
// each name once.
type recordedIDs map[string]string

func (r recordedIDs) of(name string) string {
	if id, ok := r[name]; ok {
		return id
	}
	base := plan.IDOf(name)
	id, taken := base, func(id string) bool {
		for _, other := range r {
			if other == id {
				return true
			}
		}
		return false
	}
	for n := 2; taken(id); n++ {
		id = base + "-" + itoa(n)
	}
	r[name] = id
	return id
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
