package scan

import (
	"slices"

	"countback/events"
	"countback/projections/engine"
)

// askWhichWay asks which of the ways on the screen is meant; passed over, the first.
var askWhichWay = Ask{Key: "way", Kind: AskNumber, Prompt: "Which way? Its number, 0 to leave it as it is; or the reason at once for way 1", Skip: true}

var askWhyScope = Ask{Key: "why", Kind: AskText, Prompt: "Why?", Words: []Word{Agreed, Damaged, ByMeasure, DidNotHappen}}

// askBeside asks for the other repair.
var askBeside = Ask{Key: "beside", Kind: AskNoun, Types: []Type{Part, Joint, Hole, Step}, Prompt: "Against what? Scan the other part, joint, hole or step"}

// scopeRows are the sentences about what must come off, cores and the owner's
// things.
var scopeRows = slices.Concat(decideRows, coreRows)

var decideRows = []Sentence{
	{Subject: "part+ step*", Verb: MustComeOff, Nature: Query, Does: "what it takes for these parts to come off after all, and to be back: least further steps, what they use up, slips; with steps behind them, beside it the same after those steps", Try: "part cam-intake, MUST COME OFF?"},
	{Subject: "joint hole* step*", Verb: MustComeOff, Nature: Query, Does: "the same, of all holes of a joint or of some", Try: "joint front-cover, hole 18, MUST COME OFF?"},
	{Subject: "step+", Verb: MustComeOff, Nature: Query, Does: "the same, of a step that must be done after all; a second step is the one that is done first", Try: "step head-off, MUST COME OFF?"},
	{Subject: "part+ step*", Verb: Against, Asks: []Ask{askBeside}, Nature: Query, Does: "two repairs side by side, the smaller and the larger: what each takes, uses up, costs and risks, and when the engine is back; DECIDED takes one of them", Try: "part cam-intake, AGAINST, part head"},
	{Subject: "joint hole* step*", Verb: Against, Asks: []Ask{askBeside}, Nature: Query, Does: "the same, of a joint or holes", Try: "joint front-cover, hole 18, AGAINST, part front-cover"},
	{Subject: "step+", Verb: Against, Asks: []Ask{askBeside}, Nature: Query, Does: "the same, of a step", Try: "step pan-off, AGAINST, step head-off"},
	{Subject: "part+ step* beside?", Verb: Decided, Nature: AskFor, Asks: []Ask{askWhichWay, askWhyScope}, Event: "scope-decided", Does: "the way that was chosen for parts to come off after all, and why", Try: "part cam-intake, DECIDED, 1, text lobe 3 is scored", Build: buildDecided},
	{Subject: "joint hole* step* beside?", Verb: Decided, Nature: AskFor, Asks: []Ask{askWhichWay, askWhyScope}, Event: "scope-decided", Does: "the same, of a joint or holes", Try: "joint front-cover, DECIDED, AGREED", Build: buildDecided},
	{Subject: "step+ beside?", Verb: Decided, Nature: AskFor, Asks: []Ask{askWhichWay, askWhyScope}, Event: "scope-decided", Does: "the same, of a step", Try: "step head-off, DECIDED, 0, text the owner takes the risk", Build: buildDecided},
}

// ScopeOf is the question of a sentence about what must come off: of parts,
// holes or a joint, and the steps behind them are done first; of steps alone the
// first one. What AGAINST set beside them is last.
func ScopeOf(nouns []Noun) engine.ScopeAsk {
	s := &Said{Nouns: nouns}
	var ask engine.ScopeAsk
	holes := s.Has(Hole)
	for _, n := range nouns {
		switch {
		case n.Type == Beside:
			ask.Against = append(ask.Against, n.ID)
		case n.Type == Step && len(ask.Goals) > 0:
			ask.After = append(ask.After, events.Step(n.ID))
		case n.Type == Hole:
			ask.Goals = append(ask.Goals, string(Hole)+" "+string(events.SeatOf(s.Joint(), last(n.ID))))
		case n.Type == Joint && holes:
		default:
			ask.Goals = append(ask.Goals, n.Text())
		}
	}
	return ask
}

func buildDecided(s *Said) (engine.Command, error) {
	ask := ScopeOf(s.Nouns)
	way := 1
	if r := s.Reply("way"); !r.None && s.Answered("way") {
		way = r.N
	}
	return engine.DecideScope{Goals: ask.Goals, After: ask.After, Against: ask.Against, Way: way, By: s.Who, Why: s.Why("why")}, nil
}

// BesideOf is the nouns of a question with what was set against them.
func BesideOf(s *Said) []Noun {
	n := s.Reply("beside").Noun
	text := n.Text()
	if joint := s.Joint(); n.Type == Hole && joint != "" && string(last(n.ID)) == n.ID {
		text = string(Hole) + " " + string(events.SeatOf(joint, last(n.ID)))
	}
	return append(slices.Clone(s.Nouns), Noun{Type: Beside, ID: text})
}
