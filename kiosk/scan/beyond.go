package scan

import (
	"fmt"

	"countback/events"
	"countback/projections/engine"
)

// What is measured in a hole or filled into a cavity is asked about once more
// where it is beyond reason beside the plan's own value.
var (
	askDeep = Ask{Key: "deep", Kind: AskWord, Words: []Word{Yes, No}, When: func(s *Said) bool { return tooDeep(s) != "" },
		Prompts: func(s *Said) string { return tooDeep(s) + ". Is it so?" }}
	askMany = Ask{Key: "many", Kind: AskWord, Words: []Word{Yes, No}, When: func(s *Said) bool { return tooMuch(s) != "" },
		Prompts: func(s *Said) string { return tooMuch(s) + ". Is it so?" }}
)

// tooDeep is why a depth that was said is asked about; empty: it is not.
func tooDeep(s *Said) string {
	r := s.Reply("depth")
	if s.Job == nil || !s.Answered("depth") || r.None || r.Real <= 0 {
		return ""
	}
	joint, hole := s.Joint(), events.Hole("")
	if k, ok := s.State().Case(events.Code(s.At(0, Case).ID)); ok && s.Has(Case) {
		joint, hole = k.Joint, k.Hole
	} else if h := s.Holes(); len(h) > 0 {
		hole = h[0]
	}
	ix, ok := s.Plan().Hole(joint, hole)
	if !ok {
		return ""
	}
	return s.Plan().Seats[ix].BeyondDepth(r.Real)
}

// depthOf is the depth of thread that was said, in millimetres; 0: it was not
// measured.
func depthOf(s *Said) (float64, *engine.Refusal) {
	r := s.Reply("depth")
	switch {
	case !s.Answered("depth") || r.None:
		return 0, nil
	case s.Reply("deep").Word == No:
		return 0, &engine.Refusal{Code: engine.Malformed, Fact: "that depth is not stored", Next: "say it again with the depth, or OK where it was not measured"}
	case r.Real <= 0:
		return 0, &engine.Refusal{Code: engine.Malformed, Fact: fmt.Sprintf("a thread %g mm deep holds nothing", r.Real), Next: "measure it and say it again; OK says that it was not measured"}
	}
	return r.Real, nil
}

// tooMuch is why an amount that was filled in is asked about; empty: it is not.
func tooMuch(s *Said) string {
	r := s.Reply("litres")
	if s.Job == nil || !s.Answered("litres") || r.None {
		return ""
	}
	ix, ok := s.Plan().Cavity(s.cavity())
	if !ok {
		return ""
	}
	return s.Plan().Cavities[ix].BeyondFill(r.Real)
}

func buildFilled(s *Said) (engine.Command, error) {
	r := s.Reply("litres")
	switch {
	case s.Reply("many").Word == No:
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: "that amount is not stored", Next: "say FILLED again with the litres, or OK where they were not measured"}
	case s.Answered("litres") && !r.None && r.Real <= 0:
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: fmt.Sprintf("%g litres fill nothing", r.Real), Next: "say how many went in; OK says that it was not measured"}
	}
	return engine.Tell{Event: events.FluidChanged{Cavity: s.cavity(), State: events.Filled, Litres: max(0, r.Real), What: s.Reply("what").Text}}, nil
}
