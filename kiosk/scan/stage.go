package scan

import (
	"countback/events"
	"countback/projections/engine"
)

// stageOf is the stage that a sentence is about: the next one of its holes, or
// the one with the number that was said.
func stageOf(s *Said) (engine.NextStage, bool) {
	if ofPart(s) {
		return pressOf(s)
	}
	if s.Answered("stage") {
		return s.Job.StageOf(s.Joint(), s.Holes(), s.Reply("stage").N)
	}
	if s.Verb == StageNo {
		return engine.NextStage{}, false
	}
	return s.Job.NextStage(s.Joint(), s.Holes())
}

// noStage is the answer where nothing is left to tell.
func noStage(s *Said) *engine.Refusal {
	p := s.Job.State().Plan()
	_, known := p.Joint(s.Joint())
	for _, h := range s.Holes() {
		if _, ok := p.Hole(s.Joint(), h); known && !ok {
			return &engine.Refusal{Code: engine.Unknown, Fact: string(s.Joint()) + " has no hole " + string(h), Next: "scan the joint, then the hole's number"}
		}
	}
	if s.Answered("stage") {
		return &engine.Refusal{Code: engine.Unknown, Fact: string(s.Joint()) + " has no stage " + itoa(s.Reply("stage").N),
			Next: "scan the joint, CAN I? shows its stages"}
	}
	if d := s.Job.Doubts(s.Joint(), s.Holes()); len(d) > 0 {
		next := "say RESTART, or ACCEPT with the reason"
		if d[0].Over {
			next = "say LOOSE once it is loose, and begin again"
		}
		return &engine.Refusal{Code: engine.Conflict, Fact: d[0].Why, Next: next}
	}
	return &engine.Refusal{Code: engine.Conflict, Fact: "every stage of " + string(s.Joint()) + " that is due now is recorded",
		Next: "say LOOSE first if it was loosened"}
}

func buildStage(s *Said) (engine.Command, error) {
	n, ok := stageOf(s)
	if !ok {
		return nil, noStage(s)
	}
	if s.Reply("due").Word == No {
		return nil, &engine.Refusal{Code: engine.Conflict, Fact: "nothing stored: " + n.What + " is not due yet", Next: "scan STAGE when it is"}
	}
	if s.Reply("sure").Word == No {
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: "nothing stored: that was not what was read", Next: "read it again, and say STAGE READ"}
	}
	e := events.StageRecorded{Joint: s.Joint(), Holes: n.Holes, Order: n.Order, Stage: n.Stage, Stages: n.Stages, What: n.What, Edition: n.Edition}
	v, read, why := valueSaid(s, &n)
	if why != "" {
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: why, Next: "read it again: a number in " + unitOf(&n)}
	}
	if read {
		e.Value, e.Unit, e.Read = v.value, v.unit, true
	}
	return engine.Tell{Event: e}, nil
}
