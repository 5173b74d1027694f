package scan

import (
	"math"
	"slices"
	"strings"

	"countback/events"
	"countback/projections/engine"
	"countback/projections/fastener/stage"
)

var (
	askToolName = Ask{Key: "name", Kind: AskText, Prompt: "What is it called? (OK: as its id)", Skip: true}
	askToolKind = Ask{Key: "kind", Kind: AskText, Prompt: "What kind is it, of which any will do? (OK: none)", Skip: true}
	askToolFrom = Ask{Key: "from", Kind: AskValue, Skip: true, Prompts: func(s *Said) string {
		return "A torque tool: from how many " + s.Job.ShopTorque() + ", or with its unit? (OK: it measures no torque)"
	}}
	askToolTo = Ask{Key: "to", Kind: AskValue, Prompts: func(s *Said) string {
		_, unit, _ := scaleEnd(s, "from", s.Job.ShopTorque())
		return "Up to how many " + unit + "?"
	}, When: func(s *Said) bool { return !s.Reply("from").None }}
	askToolDue = Ask{Key: "due", Kind: AskDate, Prompt: "Until which day is it calibrated? (OK: it needs none)", Skip: true}
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
	{Subject: "tool joint hole*", Verb: StageNo, Asks: []Ask{askNumber, askDue, askWanted, askUnfit, askSure}, Event: "stage-recorded",
		Does: "a stage by its number with this tool, whatever its turn", Try: "tool wrench-40-200, joint head, STAGE NUMBER, 2", Build: buildStageWith},
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
		Due: s.Reply("due").Day}
	if n := s.At(0, Label); n.Code != "" {
		if !n.Blank {
			return nil, &engine.Refusal{Code: engine.Conflict, Fact: "that label is on something", Next: "take a blank one"}
		}
		e.Code = n.Code
	}
	if old, ok := s.Dir.Tool(e.Tool); ok && e.Code == "" {
		e.Code = old.Code
	}
	if s.Answered("from") && !s.Reply("from").None {
		var why string
		unit := ""
		if e.MinNm, unit, why = scaleEnd(s, "from", s.Job.ShopTorque()); why == "" {
			e.MaxNm, unit, why = scaleEnd(s, "to", unit)
		}
		if why != "" {
			return nil, &engine.Refusal{Code: engine.Malformed, Fact: why, Next: "say it again: 40, or 30 lbf.ft"}
		}
		if unit != stage.Torque.Unit() {
			e.Unit = unit
		}
	}
	switch {
	case s.Reply("from").None || !s.Answered("from"):
	case !(e.MinNm >= 0 && e.MaxNm > e.MinNm && e.MaxNm < 1e6):
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: "a range from " + s.Reply("from").Text + " to " + s.Reply("to").Text, Next: "say it again, the smaller number first"}
	}
	return engine.Tell{Event: e}, nil
}

// scaleEnd is an end of a tool's range in N.m, and the unit in which it was said: a
// bare number is in the unit given. Why says what is wrong with it.
func scaleEnd(s *Said, key, unit string) (nm float64, own, why string) {
	v, why := readValue(s.Reply(key).Text, unit)
	if why != "" {
		return 0, unit, why
	}
	nm, ok := engine.InUnit(v.value, v.unit, stage.Torque)
	if !ok {
		return 0, unit, s.Reply(key).Text + " is no torque"
	}
	return nm, v.unit, ""
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

// unfit says why the tool must not be used for the stage: for its least, for its
// most, and for what was read.
func unfit(s *Said) []string {
	t, known := s.Dir.Tool(s.tool())
	if _, ok := stageOf(s); !ok || !known || s.Reply("due").Word == No {
		return nil
	}
	var why []string
	for _, nm := range turnedTo(s) {
		for _, w := range t.Fits(nm, s.Today()) {
			if !slices.Contains(why, w) {
				why = append(why, w)
			}
		}
	}
	return why
}

// turnedTo are the torques of a stage in N.m: as the plan has them, and as it was
// read; one of 0 where it is turned by no torque, or nobody knows it.
func turnedTo(s *Said) []float64 {
	n, _ := stageOf(s)
	if !isTorque(unitOf(&n)) {
		return []float64{0}
	}
	var list []float64
	if least, most, ok := n.Range(); ok {
		list = append(list, least, most)
	}
	if v, ok, _ := valueSaid(s, &n); ok {
		if nm, ok := engine.InUnit(v.value, v.unit, stage.Torque); ok {
			list = append(list, math.Round(nm*100)/100)
		}
	}
	if len(list) == 0 {
		return []float64{0}
	}
	return list
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
