package scan

import (
	"strings"

	"countback/events"
	"countback/projections/engine"
	"countback/projections/fastener/torque"
)

var (
	askDue = Ask{Key: "due", Kind: AskWord, Words: []Word{Yes, No}, Prompts: func(s *Said) string {
		n, _ := stageOf(s)
		return "This one falls due " + n.Due + ". Has that been?"
	}, When: func(s *Said) bool { n, ok := stageOf(s); return ok && n.Due != "" }}
	askNumber = Ask{Key: "stage", Kind: AskNumber, Prompt: "Which stage was done? Its number"}
	askValue  = Ask{Key: "value", Kind: AskValue, Prompts: valuePrompt, When: func(s *Said) bool { _, ok := stageOf(s); return ok }}
	askWanted = Ask{Key: "value", Kind: AskValue, Prompts: valuePrompt, When: wantsValue, Skip: true}
	askSure   = Ask{Key: "sure", Kind: AskWord, Words: []Word{Yes, No}, Prompts: func(s *Said) string {
		return questioned(s) + ". Is it so?"
	}, When: func(s *Said) bool { return questioned(s) != "" }}
	askAccept  = Ask{Key: "why", Kind: AskText, Prompt: "Why is it good?", Words: []Word{Agreed, ByMeasure}}
	askEdition = Ask{Key: "choice", Kind: AskNumber, Prompts: func(s *Said) string { return "Which one counts? " + strings.Join(EditionsOf(s), "; ") }}
	askWhyThat = Ask{Key: "why", Kind: AskText, Prompt: "Why that one?", Words: []Word{Agreed, ByMeasure}}
	askTorque  = Ask{Key: "value", Kind: AskValue, Prompts: func(s *Said) string {
		return "Which torque, in " + s.Job.TorqueUnit() + ", or with its unit? (TORQUE? works it out)"
	}}
	askLube = Ask{Key: "lubricant", Kind: AskText, Prompt: "What is on the threads and under the head?", Words: []Word{DryThreads, OiledThreads, AntiSeize}}
)

var tightenRows = []Sentence{
	{Subject: "joint hole*", Verb: StageRead, Asks: []Ask{askDue, askValue, askSure}, Event: "stage-recorded",
		Does: "the same, with what was read: in the unit of the stage, or with its own", Try: "joint head, hole 3, STAGE READ, 40", Build: buildStage},
	{Subject: "tool joint hole*", Verb: StageRead, Asks: []Ask{askDue, askValue, askUnfit, askSure}, Event: "stage-recorded",
		Does: "the same, with the tool that it was read on", Try: "tool wrench-40-200, joint head, hole 3, STAGE READ, 40", Build: buildStageWith},
	{Subject: "joint hole*", Verb: StageNo, Asks: []Ask{askNumber, askDue, askWanted, askSure}, Event: "stage-recorded",
		Does: "a stage by its number, whatever its turn: out of order it is stored, and doubtful", Try: "joint head, STAGE NUMBER, 2", Build: buildStage},
	{Subject: "joint hole*", Verb: Restart, Event: "stage-restarted",
		Does: "a stage that was broken off is begun anew: what was turned in it is loose", Try: "joint head, RESTART", Build: buildRestart},
	{Subject: "joint hole*", Verb: AcceptWord, Nature: AskFor, Asks: []Ask{askAccept}, Event: "stage-accepted",
		Does: "a person answers for what is doubtful in a stage", Try: "joint head, ACCEPT, AGREED", Build: buildAccept},
	{Subject: "joint", Verb: Edition, Nature: AskFor, Asks: []Ask{askEdition, askWhyThat}, Event: "edition-chosen",
		Does: "of two editions of its stages that disagree one counts from now on; whose badge is on the screen signs", Try: "joint head, EDITION, 2, AGREED", Build: buildEdition},
	{Subject: "joint hole*", Verb: TorqueWord, Nature: AskFor, Asks: []Ask{askTorque, askLube}, Event: "torque-chosen",
		Does: "a torque for holes for which the plan has none: guidance, chosen by a person", Try: "joint bracket, TORQUE CHOSEN, 22, OILED THREADS", Build: buildTorque},
	{Subject: "joint hole*", Verb: TorqueAsk, Nature: Query, Does: "what a torque could be by thread, class and lubricant: guidance, the maker comes first", Try: "joint head, hole 1, TORQUE?"},
	{Subject: "joint hole*", Verb: CanI, Nature: Query, Does: "which stage is next and where, what holds it up, what falls due later", Try: "joint head, CAN I?"},
}

// EditionsOf lists the editions of the stages of a joint, each with its number;
// none where the plan has only one.
func EditionsOf(s *Said) []string {
	for _, t := range s.Job.Tightened(s.Joint()) {
		if len(t.Editions) > 1 {
			list := make([]string, len(t.Editions))
			for i, e := range t.Editions {
				list[i] = itoa(i+1) + " " + e
			}
			return list
		}
	}
	return nil
}

func buildRestart(s *Said) (engine.Command, error) {
	return engine.RestartStage{Joint: s.Joint(), Holes: s.Holes()}, nil
}

func buildAccept(s *Said) (engine.Command, error) {
	return engine.AcceptStage{Joint: s.Joint(), Holes: s.Holes(), Why: s.Why("why")}, nil
}

func buildEdition(s *Said) (engine.Command, error) {
	return engine.ChooseEdition{Joint: s.Joint(), Choice: s.Reply("choice").N, Signed: s.Who, Why: s.Why("why")}, nil
}

// lubricants are what the cards mean.
var lubricants = map[Word]torque.Lubricant{DryThreads: torque.Dry, OiledThreads: torque.Oil, AntiSeize: torque.AntiSeize}

func buildTorque(s *Said) (engine.Command, error) {
	r, why := readValue(s.Reply("value").Text, s.Job.TorqueUnit())
	if why != "" {
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: why, Next: "say it again: 22, or 16 lbf.ft"}
	}
	e := events.TorqueChosen{Joint: s.Joint(), Holes: s.Holes(), Value: r.value, Unit: r.unit, Lubricant: strings.TrimSpace(s.Reply("lubricant").Text), Signed: s.Who}
	if l, ok := lubricants[s.Reply("lubricant").Word]; ok {
		e.Lubricant = string(l)
	}
	if k := torque.NutFactorsOf(torque.Lubricant(e.Lubricant)); len(k) > 0 {
		e.Method, e.Friction, e.Source = "T = K d F", strings.TrimSuffix(k[0].String(), ", "+k[0].Source+")"), k[0].Source
		if _, f, ok := strings.Cut(e.Friction, "("); ok {
			e.Friction = f
		}
	}
	return engine.ChooseTorque{TorqueChosen: e}, nil
}
