package scan

import (
	"strings"

	"countback/events"
	"countback/projections/engine"
)

// maskKind is the kind of a plug or a mask of which no size was said.
const maskKind events.Kind = "masking plug"

var (
	askWash  = Ask{Key: "what", Kind: AskWord, Prompt: "What is it for?", Words: []Word{Wash, Paint}}
	askMasks = Ask{Key: "masks", Kind: AskNumber, Prompt: "How many plugs and masks are on? (sizes before OPEN say which)", When: noLines}
	askOff   = Ask{Key: "sizes", Kind: AskSizes, Prompt: "How many plugs and masks came off?", Sizes: masksOf, When: func(s *Said) bool { return len(s.Lines) == 0 && len(masksOf(s)) > 0 }}
	askCure  = Ask{Key: "cure", Kind: AskReal, Prompt: "For how many hours does it cure? (OK: not at all)", Skip: true, When: func(s *Said) bool {
		b, ok := s.State().Batch(s.At(0, Batch).ID)
		return ok && b.What == "paint"
	}}
)

var batchRows = []Sentence{
	{Subject: "batch part+", Verb: Open, Lines: true, Asks: []Ask{askWash, askMasks}, Source: "the drawer", Event: "batch-opened", Known: events.CountedOpen,
		Does: "these parts go into one wash or coat of paint, with so many plugs and masks on them", Try: "batch paint-3, part front-cover, part oil-pan, OPEN, PAINT, 14", Build: buildBatch},
	{Subject: "batch", Verb: Close, Lines: true, Asks: []Ask{askOff, askCure}, Event: "batch-closed", Known: events.CountedBlind,
		Does: "it is done: the plugs and masks that came off, and how long it cures", Try: "batch paint-3, CLOSE, 14, 24", Build: buildBatchClosed},
	{Subject: "", Verb: BatchesWord, Nature: Query, Does: "which parts are in a wash or coat of paint, with how many plugs and masks, and until when they cure", Try: "BATCHES?"},
}

// masksOf are the kinds of plugs and masks that are on a batch.
func masksOf(s *Said) []events.Kind {
	b, ok := s.State().Batch(s.At(0, Batch).ID)
	if !ok || b.Closed != 0 {
		return nil
	}
	var kinds []events.Kind
	for _, l := range b.Masks {
		kinds = addKind(kinds, l.Kind)
	}
	return kinds
}

func buildBatch(s *Said) (engine.Command, error) {
	name := s.At(0, Batch).ID
	if b, ok := s.State().Batch(name); ok && b.Closed == 0 {
		return nil, &engine.Refusal{Code: engine.Conflict, Fact: "batch " + name + " is open", Next: "close it first, or take another name"}
	}
	e := events.BatchOpened{Batch: name, What: strings.ToLower(string(s.Reply("what").Word)), Parts: s.Parts(), Masks: s.Lines}
	if n := s.Reply("masks").N; n > 0 {
		e.Masks = []events.Line{{Kind: maskKind, Qty: n}}
	}
	return engine.Tell{Event: e}, nil
}

func buildBatchClosed(s *Said) (engine.Command, error) {
	name := s.At(0, Batch).ID
	b, ok := s.State().Batch(name)
	switch {
	case !ok:
		return nil, &engine.Refusal{Code: engine.Unknown, Fact: "there is no batch " + name, Next: "open it: batch " + name + ", its parts, OPEN"}
	case b.Closed != 0:
		return nil, &engine.Refusal{Code: engine.Conflict, Fact: "batch " + name + " is closed", Next: "what turned up later: short, FOUND"}
	}
	hours := s.Reply("cure").Real
	if hours < 0 || hours > 24*60 {
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: decimal(hours) + " hours of curing", Next: "say the hours, 0 to 1440"}
	}
	return engine.Tell{Event: events.BatchClosed{Batch: name, Masks: s.AllLines(), Cure: int(hours * 60)}}, nil
}
