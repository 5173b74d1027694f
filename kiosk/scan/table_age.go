package scan

import (
	"countback/events"
	"countback/projections/engine"
)

var ageRows = []Sentence{
	{Subject: "part|bag|rack|place|tray", Verb: PreservedWord, Asks: []Ask{{Key: "with", Kind: AskText, Prompt: "With what?", Words: []Word{Oil, Wax, Desiccant}}}, Event: "preserved",
		Does: "the part, or all that is there, was kept from rust", Try: "part crankshaft, PRESERVED, OIL", Build: buildPreserved},
	{Subject: "lot", Verb: GoodUntil, Asks: []Ask{{Key: "day", Kind: AskDate, Prompt: "Until which day is it good?"}}, Event: "lot-dated",
		Does: "the last day on which a lot of sealant, thread lock or the like is good", Try: "lot blue-5, GOOD UNTIL, 2026-05-01", Build: tell(func(s *Said) events.Event {
			return events.LotDated{Lot: events.Lot(s.At(0, LotNoun).ID), Expires: s.Reply("day").Day}
		})},
	{Subject: "", Verb: AgeingWord, Nature: Query, Does: "bare iron, old oil, spent desiccant, and lots past their day", Try: "AGEING?"},
}

func buildPreserved(s *Said) (engine.Command, error) {
	e := events.Preserved{Part: s.Part(), With: s.Why("with")}
	if e.Part == "" {
		e.Place = s.Container(0)
	}
	if e.With == "" {
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: "preserved with nothing", Next: "say with what: OIL, WAX, DESICCANT, or type it"}
	}
	return engine.Tell{Event: e}, nil
}
