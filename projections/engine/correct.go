package engine

import (
	"reflect"

	"countback/events"
)

// Correct says that one fact was wrong, and what should have been recorded
// instead; nil: nothing. The fact must be here, that is, seen (rule R3). See
// Job.Preview for what it would change.
type Correct struct {
	Wrong   events.FactID
	Instead events.Event
	Why     string
}

func (c Correct) decide(s *State) (events.Event, error) {
	if c.Why == "" {
		return nil, refuse(Malformed, "scan a reason: miscount, wrong bag, wrong job or test", "nothing was corrected: no reason")
	}
	if err := malformed(c.Instead); err != nil {
		return nil, err
	}
	r, ok := s.job.Find(c.Wrong)
	if !ok {
		return nil, refuse(Unknown, "pick a fact from the job's list", "this job has no fact %s", factName(c.Wrong))
	}
	if _, opening := r.Event.(events.JobOpened); opening && c.Instead == nil && s.job.index(c.Wrong) == int(s.Started)-1 {
		return nil, refuse(Conflict, "end the job instead", "the opening of a job cannot be taken back")
	}
	if depth(c.Instead) >= events.MaxNest {
		return nil, refuse(Malformed, "correct the fact itself", "a correction of a correction, %d deep", depth(c.Instead))
	}
	stands, ok := s.job.Standing(c.Wrong)
	if !ok {
		stands = nil
	}
	if reflect.DeepEqual(stands, c.Instead) {
		return nil, nil
	}
	return events.Corrected{Wrong: c.Wrong, Instead: c.Instead, Why: c.Why}, nil
}

// depth is how many corrections lie in one another.
func depth(ev events.Event) int {
	if c, ok := ev.(events.Corrected); ok {
		return 1 + depth(c.Instead)
	}
	return 0
}
