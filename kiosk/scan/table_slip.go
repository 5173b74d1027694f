package scan

import (
	"strings"

	"countback/events"
	"countback/projections/engine"
)

var slipRows = []Sentence{
	{Subject: "part+ slip supplier?", Verb: Send, Lines: true, Nature: AskFor, Asks: []Ask{{Key: "scope", Kind: AskText, Prompt: "What is to be done? (OK: nothing written)", Skip: true, When: hasSupplier}},
		Source: "the parts", Event: "sent-out", Does: "these parts leave with all that is on them; sizes before it stay here; with a supplier, what is to be done is asked", Try: "part head, slip, supplier Bakke, SEND, text skim 0.1 mm", Build: buildSend},
	{Subject: "part* slip place?", Verb: Back, Asks: []Ask{{Key: "lines", Kind: AskLines, Prompt: "What differs from what went: size, how many came; OK when all else is right"}},
		Source: "the slip", Event: "returned", Known: events.CountedOpen, Does: "back; only what differs is said", Try: "slip, BACK, size M14x1.5 plug, 0, OK", Build: buildBack},
	{Subject: "slip", Verb: Work, Asks: []Ask{{Key: "work", Kind: AskText, Prompt: "What is to be done? Behind a semicolon: how far they may go, and what they must leave alone"}},
		Event: "work-asked", Does: "what the other shop is to do, and its limits; what is asked last stands", Try: "slip, WORK, text skim 0.1 mm; not the cam bores", Build: buildWork},
	{Subject: "part+", Verb: Looked, Event: "looked-over", Does: "looked over after it came back, and nothing found; a FINDING says what was", Try: "part head, LOOKED", Build: buildLookedOver},
	{Subject: "slip", Verb: Looked, Event: "looked-over", Does: "the same, of all that came back with the slip", Try: "slip, LOOKED", Build: buildLookedOver},
	{Subject: "", Verb: SlipsWord, Nature: Query, Does: "what is away, where, since when, what it blocks and how long that may take", Try: "SLIPS"},
	{Subject: "slip", Verb: SlipsWord, Nature: Query, Does: "one slip line by line: what went, came and lacks", Try: "slip, SLIPS"},
	{Subject: "part", Verb: Exchanged, Nature: AskFor, Asks: []Ask{{Key: "why", Kind: AskText, Prompt: "Why?", Words: []Word{Damaged, Agreed}}},
		Event: "exchanged", Does: "another individual came back in its place", Try: "part head, EXCHANGED, text cracked", Build: buildExchanged},
}

func buildWork(s *Said) (engine.Command, error) {
	work, limits, _ := strings.Cut(s.Reply("work").Text, ";")
	work, limits = strings.TrimSpace(work), strings.TrimSpace(limits)
	if work == "" {
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: "no work was said, only its limits", Next: "say the work, a semicolon, then the limits"}
	}
	return engine.Tell{Event: events.WorkAsked{Slip: events.Code(s.At(0, Slip).ID), Work: work, Limits: limits}}, nil
}

// buildLookedOver names the parts, or those of a slip that nobody has looked over.
func buildLookedOver(s *Said) (engine.Command, error) {
	parts := s.Parts()
	if n := s.At(0, Slip); n.ID != "" {
		v, ok := s.Job.SlipNow(events.Code(n.ID))
		switch {
		case !ok:
			return nil, &engine.Refusal{Code: engine.Unknown, Fact: "no slip " + n.ID + " went out", Next: "scan the slip again, or the part"}
		case len(v.Unlooked) == 0 && len(v.Out) > 0:
			return nil, &engine.Refusal{Code: engine.Conflict, Fact: "nothing of slip " + n.ID + " is back that was not looked over", Next: "scan the slip, BACK, when it is here"}
		case len(v.Unlooked) == 0:
			return nil, nil
		}
		parts = v.Unlooked
	}
	return engine.Tell{Event: events.LookedOver{Parts: parts}}, nil
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
