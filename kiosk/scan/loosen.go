package scan

import "countback/projections/engine"

var (
	askTurn = Ask{Key: "turn", Kind: AskWord, Words: []Word{Yes, No}, Prompts: func(s *Said) string {
		return s.Job.OutOfTurn(s.Joint(), s.Holes()) + ". Was it otherwise?"
	}, When: func(s *Said) bool { return s.Job.OutOfTurn(s.Joint(), s.Holes()) != "" }}
	askWarm = Ask{Key: "warm", Kind: AskWord, Words: []Word{Yes, No}, Prompts: func(s *Said) string {
		return s.Job.WarmLoosening(s.Joint(), s.Holes()) + "; what the maker says comes first. Was it loosened warm?"
	}, When: func(s *Said) bool { return s.Job.WarmLoosening(s.Joint(), s.Holes()) != "" }}
)

// loosened is what was answered about how holes were loosened, and why nothing
// is stored: it was not so.
func loosened(s *Said) (outOfTurn, warm bool, no *engine.Refusal) {
	switch {
	case s.Reply("warm").Word == No:
		return false, false, &engine.Refusal{Code: engine.Conflict, Fact: "nothing stored: " + s.Job.WarmLoosening(s.Joint(), s.Holes()), Next: "let it cool and scan COLD, then loosen it"}
	case s.Reply("turn").Word == No:
		return false, false, &engine.Refusal{Code: engine.Conflict, Fact: "nothing stored: " + s.Job.OutOfTurn(s.Joint(), s.Holes()), Next: "say the holes in the order in which they were loosened"}
	}
	return s.Reply("turn").Word == Yes, s.Reply("warm").Word == Yes, nil
}
