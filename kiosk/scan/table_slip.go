package scan

import (
	"countback/events"
	"countback/projections/engine"
)

var slipRows = []Sentence{
	{Subject: "part+ slip supplier?", Verb: Send, Lines: true, Nature: AskFor, Asks: []Ask{{Key: "scope", Kind: AskText, Prompt: "What is to be done? (OK: nothing written)", Skip: true, When: hasSupplier}},
		Source: "the parts", Event: "sent-out", Does: "these parts leave with all that is on them; sizes before it stay here; with a supplier, what is to be done is asked", Try: "part head, slip, supplier Bakke, SEND, text skim 0.1 mm", Build: buildSend},
	{Subject: "part* slip place?", Verb: Back, Asks: []Ask{{Key: "lines", Kind: AskLines, Prompt: "What differs from what went: size, how many came; OK when all else is right"}},
		Source: "the slip", Event: "returned", Known: events.CountedOpen, Does: "back; only what differs is said", Try: "slip, BACK, size M14x1.5 plug, 0, OK", Build: buildBack},
	{Subject: "part", Verb: Exchanged, Nature: AskFor, Asks: []Ask{{Key: "why", Kind: AskText, Prompt: "Why?", Words: []Word{Damaged, Agreed}}},
		Event: "exchanged", Does: "another individual came back in its place", Try: "part head, EXCHANGED, text cracked", Build: buildExchanged},
}

func hasSupplier(s *Said) bool { return s.At(0, Supplier).ID != "" }

func buildSend(s *Said) (engine.Command, error) {
	return engine.SendOut{Slip: events.Code(s.At(0, Slip).ID), Parts: s.Parts(), Shop: s.At(0, Supplier).ID, Scope: s.Reply("scope").Text, Stays: s.Lines}, nil
}

func buildBack(s *Said) (engine.Command, error) {
	return engine.Tell{Event: events.Returned{Slip: events.Code(s.At(0, Slip).ID), Parts: s.Parts(), Lines: s.AllLines(), To: s.Container(0)}}, nil
}

func buildExchanged(s *Said) (engine.Command, error) {
	return engine.Exchange{Part: s.Part(), Why: s.Why("why")}, nil
}
