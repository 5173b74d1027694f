package scan

import (
	"countback/events"
	"countback/projections/engine"
)

var trayRows = []Sentence{
	{Subject: "tray bench|place|tray", Event: "carried", Does: "the tray is there now, with all that is in it; no verb is needed", Try: "tray 7, bench b2", Build: buildCarried},
	{Subject: "bag tray", Event: "carried", Does: "the bag lies in the tray; no verb is needed", Try: "bag, tray 7", Build: buildCarried},
	{Subject: "bag|tray", Verb: Taken, Event: "carried", Does: "who stands here has it in hand", Try: "tray 7, TAKEN", Build: buildTakenAlong},
	{Subject: "tray", Verb: Holds, Asks: []Ask{{Key: "n", Kind: AskNumber, Prompt: "How many pieces does it take? 0: no limit"}}, Event: "tray-issued",
		Does: "how many pieces a tray takes", Try: "tray 7, HOLDS, 60", Build: tell(func(s *Said) events.Event {
			return events.TrayIssued{Tray: s.Container(0), Holds: s.Reply("n").N}
		})},
	{Subject: "", Verb: TraysWord, Nature: Query, Does: "which trays and bags are where, who has them, and what is in the trays", Try: "TRAYS?"},
}

func buildCarried(s *Said) (engine.Command, error) {
	return engine.Tell{Event: events.Carried{What: s.Container(0), To: s.Container(1)}}, nil
}

// buildTakenAlong needs to know who stands here.
func buildTakenAlong(s *Said) (engine.Command, error) {
	if s.Who == "" {
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: "nobody is at this bench", Next: "scan your badge, then say it again"}
	}
	return engine.Tell{Event: events.Carried{What: s.Container(0), With: s.Who}}, nil
}

// trayOf is what the shop knows of the i-th container, if it is a tray.
func trayOf(s *Said, i int) engine.TrayNow {
	if at := s.Container(i); engine.IsTray(at) {
		return s.Dir.InTray(at)
	}
	return engine.TrayNow{}
}
