package scan

import (
	"strconv"
	"strings"

	"countback/events"
	"countback/projections/engine"
)

var (
	askToolName = Ask{Key: "name", Kind: AskText, Prompt: "What is it called? (OK: as its id)", Skip: true}
	askToolKind = Ask{Key: "kind", Kind: AskText, Prompt: "What kind is it, of which any will do? (OK: none)", Skip: true}
	askToolFrom = Ask{Key: "from", Kind: AskReal, Prompt: "A torque tool: from how many N.m? (OK: it measures no torque)", Skip: true}
	askToolTo   = Ask{Key: "to", Kind: AskReal, Prompt: "Up to how many N.m?", When: func(s *Said) bool { return !s.Reply("from").None }}
	askToolDue  = Ask{Key: "due", Kind: AskDate, Prompt: "Until which day is it calibrated? (OK: it needs none)", Skip: true}
)

var toolRows = []Sentence{
	{Subject: "tool label?", Verb: Issued, Nature: AskFor, Asks: []Ask{askToolName, askToolKind, askToolFrom, askToolTo, askToolDue}, Event: "tool-issued",
		Does: "a tool of the shop is on its register, with its label; said again, it is told anew", Try: "tool wrench-40-200, blank label, ISSUED, text Large wrench, text wrench, 40, 200, text 2026-05-01", Build: buildIssued},
	{Subject: "tool step?", Verb: Taken, Event: "tool-taken", Does: "a tool was taken for this job, and for which step", Try: "tool wrench-40-200, step head-on, TAKEN", Build: tell(func(s *Said) events.Event {
		return events.ToolTaken{Tool: s.tool(), Step: events.Step(s.At(0, Step).ID)}
	})},
	{Subject: "tool", Verb: Back, Event: "tool-back", Does: "it hangs in its place again", Try: "tool wrench-40-200, BACK", Build: tell(func(s *Said) events.Event {
		return events.ToolBack{Tool: s.tool()}
	})},
	{Subject: "tool joint hole*", Verb: Stage, Asks: []Ask{askDue, askWanted, askUnfit, askSure}, Event: "stage-recorded",
		Does: "the next stage is done with this tool; one that does not cover it, or is overdue for calibration, is questioned", Try: "tool wrench-40-200, joint head, STAGE", Build: buildStageWith},
	{Subject: "tool cavity?", Verb: In, Source: "the drawer", Event: "loan-in", Does: "it is in the engine for a while", Try: "tool bore-lamp, cavity cylinders, IN", Build: tell(func(s *Said) events.Event {
		return events.LoanIn{Loan: events.Loan(s.tool()), Count: 1, Where: string(s.cavity())}
	})},
	{Subject: "tool", Verb: Out, Source: "where it was", Event: "loan-out", Does: "it is out of the engine", Try: "tool bore-lamp, OUT", Build: tell(func(s *Said) events.Event {
		return events.LoanOut{Loan: events.Loan(s.tool()), Count: 1}
	})},
	{Subject: "tool", Verb: WhereIs, Nature: Query, Does: "who has it, whether it is inside, what it covers, until when it is calibrated, and which steps wait for it", Try: "tool wrench-40-200, WHERE IS"},
	{Subject: "", Verb: ToolsWord, Nature: Query, Does: "the tools that were taken for this job, and those that its next steps lack", Try: "TOOLS?"},
}

func (s *Said) tool() events.Tool { return events.Tool(s.At(0, Tool).ID) }

// buildIssued puts a tool on the register. A range that makes no sense, a day
// that is none and a label that is on something are questioned.
func buildIssued(s *Said) (engine.Command, error) {
	e := events.ToolIssued{Tool: s.tool(), Name: strings.TrimSpace(s.Reply("name").Text), Kind: strings.TrimSpace(s.Reply("kind").Text),
		MinNm: s.Reply("from").Real, MaxNm: s.Reply("to").Real, Due: s.Reply("due").Day}
	if n := s.At(0, Label); n.Code != "" {
		if !n.Blank {
			return nil, &engine.Refusal{Code: engine.Conflict, Fact: "that label is on something", Next: "take a blank one"}
		}
		e.Code = n.Code
	}
	if old, ok := s.Dir.Tool(e.Tool); ok && e.Code == "" {
		e.Code = old.Code
	}
	switch {
	case s.Reply("from").None || !s.Answered("from"):
	case e.MinNm < 0 || e.MaxNm <= e.MinNm:
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: "a range from " + decimal(e.MinNm) + " to " + decimal(e.MaxNm) + " N.m", Next: "say it again, the smaller number first"}
	}
	return engine.Tell{Event: e}, nil
}

// stageWith is the stage that would be recorded, and the tool that it is done
// with.
func stageWith(s *Said) (events.StageRecorded, bool) {
	c, err := buildStage(s)
	told, ok := c.(engine.Tell)
	if err != nil || !ok {
		return events.StageRecorded{}, false
	}
	e, ok := told.Event.(events.StageRecorded)
	e.Tool = string(s.tool())
	return e, ok
}

// unfit says why the tool must not be used for the stage.
func unfit(s *Said) []string {
	e, ok := stageWith(s)
	t, known := s.Dir.Tool(s.tool())
	if !ok || !known {
		return nil
	}
	lo, hi := torqueOf(e.What)
	why := t.Fits(lo, s.Today())
	for _, w := range t.Fits(hi, s.Today()) {
		if !hasText(why, w) {
			why = append(why, w)
		}
	}
	return why
}

func hasText(list []string, text string) bool {
	for _, t := range list {
		if t == text {
			return true
		}
	}
	return false
}

// torqueOf reads the torque of a stage as it is recorded: "torque 40 N.m",
// "torque 40 to 45 N.m"; 0 for other stages.
func torqueOf(what string) (lo, hi float64) {
	words := strings.Fields(what)
	if len(words) < 3 || words[len(words)-1] != "N.m" {
		return 0, 0
	}
	hi, _ = strconv.ParseFloat(words[len(words)-2], 64)
	lo, err := strconv.ParseFloat(words[1], 64)
	if err != nil {
		lo = hi
	}
	return lo, hi
}

var askUnfit = Ask{Key: "unfit", Kind: AskOK, When: func(s *Said) bool { return len(unfit(s)) > 0 }, Items: func(s *Said) []string {
	return []string{strings.Join(unfit(s), "; ") + ": take another tool, CANCEL; it was done with this one"}
}}

func buildStageWith(s *Said) (engine.Command, error) {
	e, ok := stageWith(s)
	if !ok {
		return buildStage(s) // its own refusal
	}
	return engine.Tell{Event: e}, nil
}
