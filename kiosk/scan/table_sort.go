package scan

import (
	"slices"
	"strings"

	"countback/projections/engine"
	"countback/projections/fastener"
)

var askFound = Ask{Key: "what", Kind: AskText, Prompt: "What does it measure? Diameter x pitch x length, as in 7.85x1.25x30; ? for what is not known", Types: []Type{Size},
	When: func(s *Said) bool { return len(s.Sizes) == 0 && len(s.Lines) == 0 }}

// sortRows are the sentences about loose pieces and what is carried about.
var sortRows = slices.Concat(looseRows, toolRows, trayRows, batchRows, ageRows)

var looseRows = []Sentence{
	{Subject: "container", Verb: Sort, Nature: AskFor, Asks: []Ask{askPiles}, Source: "the container", Event: "tray-sorted",
		Does: "what lies mixed in it goes back to the bags and joints that lack it, each pile confirmed by OK", Try: "place dish, SORT, OK, OK", Build: buildSort},
	{Subject: "container", Verb: Whose, Nature: Query, Does: "where what lies mixed in it belongs, and what would still be missing", Try: "place dish, WHOSE?"},
	{Subject: "", Verb: Whose, Lines: true, Asks: []Ask{askFound}, Nature: Query,
		Does: "which holes and bags could want a fastener that was found; a size before it says what it is, also without its length", Try: "size M8x1.25x30, WHOSE?"},
}

var askPiles = Ask{Key: "piles", Kind: AskOK, Items: pilesOf, When: func(s *Said) bool { return len(s.State().At(s.Container(0))) > 0 && len(pilesOf(s)) > 0 }}

// pilesOf lists the piles that are confirmed, and behind them in one what they
// leave.
func pilesOf(s *Said) []string {
	so := s.Job.Sort(s.Container(0), s.Here)
	piles, rest := s.State().SortWords(&so)
	if len(piles) > 0 && len(rest) > 0 {
		piles = append(piles, strings.Join(rest, "; "))
	}
	return piles
}

func buildSort(s *Said) (engine.Command, error) {
	c := engine.SortTray{From: s.Container(0), Here: s.Here}
	if r := s.Reply("piles"); r.Text != "" {
		c.Shown = strings.Split(r.Text, "\n")
	}
	return c, nil
}

// Found is the fastener that somebody found, as a size or by what was read off
// it.
func (s *Said) Found() (fastener.Measured, error) {
	text := s.Reply("what").Text
	switch {
	case len(s.Sizes) > 0:
		text = string(s.Sizes[len(s.Sizes)-1])
	case len(s.Lines) > 0:
		text = string(s.Lines[len(s.Lines)-1].Kind)
	}
	m, err := fastener.ParseMeasured(text)
	if err != nil {
		fact, next := "that is nothing that a caliper reads off a bolt", "write it as in 7.85x1.25x30, ? for what is not known"
		if e, ok := err.(*fastener.SyntaxError); ok {
			fact, next = e.Reason, e.Action
		}
		return m, &engine.Refusal{Code: engine.Malformed, Fact: fact, Next: next}
	}
	return m, nil
}
