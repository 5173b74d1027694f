package scan

import (
	"countback/events"
	"countback/projections/engine"
)

var (
	askFor  = Ask{Key: "why", Kind: AskText, Prompt: "Why? (OK: not said)", Words: []Word{Agreed, WaitsOwner}, Skip: true}
	askHe   = Ask{Key: "why", Kind: AskText, Prompt: "What did the owner say? (OK: just that)", Words: []Word{Agreed}, Skip: true}
	askWork = Ask{Key: "why", Kind: AskText, Prompt: "What was done? (OK: not said)", Skip: true}
	askWhat = Ask{Key: "why", Kind: AskText, Prompt: "What is he asked? (OK: not said)", Words: []Word{Agreed, WaitsOwner}, Skip: true}
)

var findingRows = []Sentence{
	{Subject: "finding", Verb: Use, N: true, Asks: []Ask{askFor}, Event: "finding-decided", Does: "may be used as it is", Try: "finding f1, USE, OK", Build: decide("use")},
	{Subject: "finding", Verb: Repair, Lines: true, N: true, Asks: []Ask{askFor}, Event: "finding-decided", Does: "is repaired; sizes before it are what that needs, a number is what it costs", Try: "finding f1, REPAIR, OK", Build: decide("repair")},
	{Subject: "finding", Verb: Replace, Lines: true, N: true, Asks: []Ask{askFor}, Event: "finding-decided", Does: "is replaced; sizes before it are what is to be bought, a number is what it costs", Try: "finding f1, REPLACE, OK", Build: decide("replace")},
	{Subject: "finding supplier?", Verb: SendOut, Lines: true, N: true, Asks: []Ask{askFor}, Event: "finding-decided", Does: "goes to another shop; what is to be done is asked", Try: "finding f1, supplier Bakke, SEND OUT, text weld and skim", Build: decide("send-out")},
	{Subject: "finding", Verb: AskOwner, N: true, Asks: []Ask{askWhat}, Event: "finding-decided", Does: "the owner is asked: it stays open; a number before it is what it would cost", Try: "finding f1, ASK THE OWNER, OK", Build: decide("ask-owner")},
	{Subject: "finding", Verb: Yes, Asks: []Ask{askHe}, Event: "owner-answered", Does: "the owner said yes", Try: "finding f1, YES, OK", Build: owner(true)},
	{Subject: "finding", Verb: No, Asks: []Ask{askHe}, Event: "owner-answered", Does: "the owner said no", Try: "finding f1, NO, OK", Build: owner(false)},
	{Subject: "finding", Verb: Done, Nature: AskFor, Asks: []Ask{askWork}, Event: "finding-done", Does: "what the decision added is done", Try: "finding f1, DONE, OK", Build: buildFindingDone},
	{Subject: "", Verb: Findings, Nature: Query, Does: "what was found, what was decided, and what is still to be done", Try: "FINDINGS"},
}

func decide(what string) func(*Said) (engine.Command, error) {
	return tell(func(s *Said) events.Event {
		return events.FindingDecided{Finding: s.At(0, Finding).ID, Decision: what, Why: s.Why("why"), Lines: s.AllLines(), Shop: s.At(0, Supplier).ID, Cost: s.Number}
	})
}

func owner(yes bool) func(*Said) (engine.Command, error) {
	return tell(func(s *Said) events.Event {
		return events.OwnerAnswered{Finding: s.At(0, Finding).ID, Yes: yes, Why: s.Why("why")}
	})
}

func buildFindingDone(s *Said) (engine.Command, error) {
	return engine.FinishFinding{Finding: s.At(0, Finding).ID, Why: s.Reply("why").Text}, nil
}
