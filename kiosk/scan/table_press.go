package scan

import (
	"countback/events"
	"countback/projections/engine"
	"countback/projections/fastener/stage"
)

var pressRows = []Sentence{
	{Subject: "part position*", Verb: Stage, Asks: []Ask{askWanted, askSure}, Event: "part-pressed",
		Does: "it was pressed in, and how deep it is: of one piece at a time, in the unit of the plan or with its own", Try: "part front-seal, STAGE, 0.8", Build: buildPress},
	{Subject: "tool part position*", Verb: Stage, Asks: []Ask{askWanted, askUnfit, askSure}, Event: "part-pressed",
		Does: "the same, with what it was read on", Try: "tool wrench-40-200, part front-seal, STAGE, 0.8", Build: buildPress},
	{Subject: "part position*", Verb: StageNo, Asks: []Ask{askNumber, askWanted, askSure}, Event: "part-pressed",
		Does: "a depth by its number, whatever its turn; also one that was read before, read again", Try: "part front-seal, STAGE NUMBER, 1, 0.8", Build: buildPress},
	{Subject: "part position*", Verb: AcceptWord, Nature: AskFor, Asks: []Ask{askAccept}, Event: "depth-accepted",
		Does: "a person answers for what is doubtful of a part that was pressed in", Try: "part front-seal, ACCEPT, AGREED", Build: buildAcceptDepth},
	{Subject: "part position*", Verb: CanI, Nature: Query, Does: "which depth is to be read, and of which positions", Try: "part front-seal, CAN I?"},
}

// ofPart reports whether a sentence is about a part that is pressed in, and not
// about a joint.
func ofPart(s *Said) bool { return s.Joint() == "" && s.Part() != "" }

// pressOf is the depth that a sentence is about.
func pressOf(s *Said) (engine.NextStage, bool) {
	if s.Answered("stage") {
		return s.Job.PressOf(s.Part(), s.Positions(), s.Reply("stage").N)
	}
	if s.Verb == StageNo {
		return engine.NextStage{}, false
	}
	return s.Job.NextPress(s.Part(), s.Positions())
}

// noDepth is the answer where no depth is left to tell.
func noDepth(s *Said) *engine.Refusal {
	t, ok := s.Job.Pressed(s.Part())
	if !ok {
		return &engine.Refusal{Code: engine.Unknown, Fact: "the plan reads no depth of " + string(s.Part()), Next: "scan it with ON once it is in; or the joint that is tightened"}
	}
	if s.Answered("stage") {
		return &engine.Refusal{Code: engine.Unknown, Fact: string(s.Part()) + " has no stage " + itoa(s.Reply("stage").N), Next: "scan the part, CAN I? shows its stages"}
	}
	for _, row := range t.Rows {
		for i, c := range row.Cells {
			if c.State == stage.Over && (len(s.Positions()) == 0 || hasHole(s.Positions(), t.Spots[i].Hole)) {
				return &engine.Refusal{Code: engine.Conflict, Fact: c.Why, Next: "press it out, scan it OFF, and press in a new one"}
			}
		}
	}
	return &engine.Refusal{Code: engine.Conflict, Fact: "every depth of " + string(s.Part()) + " is read", Next: "say OFF first if it came out; STAGE NUMBER reads one again"}
}

func buildPress(s *Said) (engine.Command, error) {
	n, ok := pressOf(s)
	if !ok {
		return nil, noDepth(s)
	}
	if s.Reply("sure").Word == No {
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: "nothing stored: that was not what was read", Next: "read it again, and say STAGE"}
	}
	e := events.PartPressed{Part: s.Part(), Positions: n.Holes, Order: n.Order, Stage: n.Stage, What: n.What, Tool: string(s.tool())}
	v, read, why := valueSaid(s, &n)
	if why != "" {
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: why, Next: "read it again: a number in " + unitOf(&n) + ", or with its unit behind it"}
	}
	if read {
		e.Value, e.Unit, e.Read = v.value, v.unit, true
	}
	return engine.Tell{Event: e}, nil
}

func buildAcceptDepth(s *Said) (engine.Command, error) {
	return engine.AcceptDepth{Part: s.Part(), Positions: s.Positions(), Why: s.Why("why")}, nil
}

// depthPrompt asks for a depth: of which position, by which limits, and why once
// more.
func depthPrompt(s *Said, n *engine.NextStage) string {
	text := wanted(n)
	if len(n.Holes) > 0 && s.partPlaces() > 1 {
		text += " at " + string(n.Holes[0])
		for _, h := range n.Holes[1:] {
			text += ", " + string(h)
		}
	}
	if n.Why != "" {
		text = n.Why
	}
	return text + ". How deep is it, in " + unitOf(n) + "? (OK: not measured)"
}

// partPlaces is how many positions the part has.
func (s *Said) partPlaces() int {
	if p, ok := s.Plan().Part(s.Part()); ok {
		return len(s.Plan().Parts[p].Positions)
	}
	return 0
}
