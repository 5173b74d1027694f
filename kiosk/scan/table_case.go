package scan

import (
	"countback/events"
	"countback/projections/engine"
	"countback/projections/plan"
)

var stubs = map[Word]events.Stub{Proud: events.Proud, Flush: events.Flush, Below: events.Below}

var holeStates = map[Word]events.HoleState{Original: events.HoleOriginal, Chased: events.HoleChased, Insert: events.HoleInsert,
	Bushing: events.HoleBushing, Oversize: events.HoleOversize}

// Methods are the method cards, in the order in which they are usually tried.
var Methods = []Word{Soak, Grip, HeatIron, WeldNut, Drill, Extractor, DrillTap, Insert, HandOut, WeldUp}

var caseRows = []Sentence{
	{Subject: "joint hole case?", Verb: Broken, Asks: []Ask{{Key: "stub", Kind: AskWord, Prompt: "PROUD, FLUSH or BELOW the face?", Words: []Word{Proud, Flush, Below}}},
		Source: "the hole", Event: "fastener-broken", Does: "it broke off in its hole: a case opens, and the other end is asked for", Try: "joint exhaust, hole 9, BROKEN, BELOW", Build: buildBroken},
	{Subject: "case", Verb: Yes, Event: "other-end-told", Does: "the other end is in hand", Try: "case 1, YES", Build: buildOtherEnd(true)},
	{Subject: "case", Verb: No, Event: "other-end-told", Does: "the other end is not found: it is somewhere, and red", Try: "case 1, NO", Build: buildOtherEnd(false)},
	{Subject: "case", Verb: HotWork, Nature: AskFor, Asks: []Ask{{Key: "cautions", Kind: AskOK, Items: cautions}}, Event: "hot-work-confirmed",
		Does: "each caution before heat is read and confirmed by OK", Try: "case 1, HOT WORK, OK, OK, ...", Build: buildHotWork},
	{Subject: "case", Verb: CanI, Asks: []Ask{{Key: "method", Kind: AskWord, Prompt: "Which method? (OK: what would come next)", Words: Methods, Skip: true}}, Nature: Query,
		Does: "may this be tried now; without a method, what to try next", Try: "case 1, CAN I?, WELD A NUT"},
	{Subject: "case", Verb: Tried, Asks: []Ask{
		{Key: "method", Kind: AskWord, Prompt: "Which method?", Words: Methods},
		{Key: "result", Kind: AskWord, Prompt: "MOVED or TOOL BROKE, or straight the minutes", Words: []Word{Moved, NotMoved, ToolBroke}, Skip: true},
		{Key: "minutes", Kind: AskNumber, Prompt: "How many minutes?"}},
		Event: "extraction-tried", Does: "one try was made to get it out, and how long it took", Try: "case 1, TRIED, LEFT-HAND DRILL, 25", Build: buildTried},
	{Subject: "case", Verb: Extracted, Lines: true, Asks: []Ask{
		{Key: "hole", Kind: AskWord, Prompt: "What is the hole now?", Words: []Word{Original, Chased, Insert, Bushing, Oversize}},
		{Key: "depth", Kind: AskReal, Prompt: "Usable thread in millimetres from the face? (OK: not measured)", Skip: true}, askDeep,
		{Key: "takes", Kind: AskNoun, Types: []Type{Size}, Prompt: "Which size does it take now?", When: isOversize}},
		Nature: AskFor, Source: "the stub", Event: "stud-extracted", Does: "it is out, and this is what the hole became", Try: "case 1, EXTRACTED, INSERT, 22", Build: buildExtracted},
}

func isOversize(s *Said) bool { return s.Reply("hole").Word == Oversize && len(s.Sizes) == 0 }

func buildBroken(s *Said) (engine.Command, error) {
	e := events.FastenerBroken{Case: s.caseCode(), Joint: s.Joint(), Hole: s.Holes()[0], Stub: stubs[s.Reply("stub").Word], When: "removal"}
	if e.Case == "" {
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: "this bench has no label left for a case", Next: "scan a case card with the hole, then BROKEN"}
	}
	if ix, ok := s.Plan().Hole(e.Joint, e.Hole); ok && s.State().Now().Seat(ix) == plan.SeatFilled {
		e.When = "tightening"
	}
	return engine.Tell{Event: e}, nil
}

func buildOtherEnd(inHand bool) func(*Said) (engine.Command, error) {
	return tell(func(s *Said) events.Event {
		e := events.OtherEndTold{Case: events.Code(s.At(0, Case).ID), InHand: inHand}
		if inHand {
			e.Where = events.Place("bench/" + string(s.Here))
		}
		return e
	})
}

func buildTried(s *Said) (engine.Command, error) {
	r := s.Reply("result").Word
	return engine.Tell{Event: events.ExtractionTried{Case: events.Code(s.At(0, Case).ID), Method: methodIDs[s.Reply("method").Word], Minutes: s.Reply("minutes").N,
		Moved: r == Moved, ToolBroken: r == ToolBroke}}, nil
}

func buildExtracted(s *Said) (engine.Command, error) {
	depth, no := depthOf(s)
	if no != nil {
		return nil, no
	}
	e := engine.ExtractStud{Case: events.Code(s.At(0, Case).ID), Hole: holeStates[s.Reply("hole").Word], DepthMm: depth}
	if k := s.Reply("takes").Noun.ID; k != "" {
		e.Takes = events.Kind(k)
	} else if len(s.Sizes) == 1 {
		e.Takes = s.Sizes[0]
	}
	return e, nil
}
