package scan

import (
	"strings"

	"countback/events"
	"countback/projections/engine"
	"countback/projections/plan"
)

var (
	askOut = Ask{Key: "sizes", Kind: AskSizes, Prompt: "How many of each size?", Sizes: sizesOut, Left: true}
	askIn  = Ask{Key: "sizes", Kind: AskSizes, Prompt: "How many of each size went in?", Sizes: sizesIn}
	askNow = Ask{Key: "sizes", Kind: AskSizes, Prompt: "How many of each size are in the holes?", Sizes: jointSizes}
)

func jointSizes(s *Said) []events.Kind { return jointKinds(s.Plan(), s.Joint(), s.Holes()) }

var jointRows = []Sentence{
	{Subject: "joint container", Asks: []Ask{askOut}, Source: "the joint", Event: "pieces-out", Known: events.CountedBlind,
		Does: "all of the joint is out and in the bag, counted by size", Try: "joint front-cover, bag, 1, 8, 4, 5", Build: buildOut},
	{Subject: "joint", Asks: []Ask{askOut}, Source: "the joint", Event: "pieces-out", Known: events.CountedBlind,
		Does: "all of the joint is out and loose on this bench, counted by size", Try: "joint coils, 4", Build: buildOut},
	{Subject: "joint container?", Verb: AllOut, Lines: true, Asks: []Ask{askWarm}, Source: "the joint", Event: "pieces-out", Known: events.Claimed,
		Does: "all of the joint is out, by word; with sizes before it, counted", Try: "joint coils, bag, ALL OUT", Build: buildOut},
	{Subject: "joint hole+ container?", Verb: Out, Lines: true, Asks: []Ask{askWarm, askTurn}, Source: "the joint", Event: "pieces-out",
		Does: "these holes are empty; asked about where the plan loosens others first", Try: "joint oil-pan, hole 3, hole 4, OUT", Build: buildOut},
	{Subject: "joint container?", Verb: Out, Lines: true, Asks: []Ask{{Key: "line", Kind: AskLine, Prompt: "What is out, and how many?", When: noLines, Sizes: sizesOut}},
		Source: "the joint", Event: "pieces-out", Known: events.CountedOpen,
		Does: "some of the joint is out: these sizes and numbers", Try: "joint oil-pan, bag, size M8x1.25x85, 2, OUT", Build: buildOut},
	{Subject: "joint hole*", Verb: Parked, Source: "wherever they are", Event: "pieces-parked",
		Does: "back in finger-tight, to be kept there", Try: "joint drain, PARKED", Build: buildParked},
	{Subject: "container joint hole*", Verb: Parked, Source: "the container", Event: "pieces-parked",
		Does: "the same, out of a bag", Try: "bag, joint coils, PARKED", Build: buildParked},
	{Subject: "container joint", Asks: []Ask{askIn}, Source: "the container", Event: "pieces-fitted", Known: events.CountedBlind,
		Does: "into the joint, counted by size", Try: "bag, joint front-cover, 1, 8, 4, 5", Build: buildIn},
	{Subject: "container joint", Verb: AllIn, Lines: true, Source: "the container", Event: "pieces-fitted", Known: events.Claimed,
		Does: "every hole that is next is filled, by word; then the bag is asked for", Try: "bag, joint front-cover, ALL IN", Build: buildIn},
	{Subject: "joint", Verb: AllIn, Lines: true, Source: "wherever they are", Event: "pieces-fitted", Known: events.Claimed,
		Does: "the same, from the bench", Try: "joint coils, ALL IN", Build: buildIn},
	{Subject: "container joint hole+", Verb: In, Lines: true, Asks: []Ask{askWhich}, Source: "the container", Event: "pieces-fitted",
		Does: "these holes are filled", Try: "bag, joint front-cover, hole 18, IN", Build: buildIn},
	{Subject: "joint hole+", Verb: In, Lines: true, Source: "wherever they are", Event: "pieces-fitted",
		Does: "the same, from the bench; a size before it says what went in", Try: "joint drain, hole 1, IN", Build: buildIn},
	{Subject: "container? joint hole*", Verb: Trial, Lines: true, Source: "the container", Event: "pieces-fitted",
		Does: "in for a trial: no single-use rule, red until out again", Try: "bag, joint head, TRIAL", Build: buildIn},
	{Subject: "joint hole*", Verb: Loose, Asks: []Ask{askWarm, askTurn}, Event: "pieces-loosened",
		Does: "tightened ones are loose again, in their holes; asked about where the plan loosens others first, or wants them cold", Try: "joint cam-caps, LOOSE", Build: buildLoose},
	{Subject: "joint hole*", Verb: Stage, Asks: []Ask{askDue, askWanted, askSure}, Event: "stage-recorded",
		Does: "the next stage of the plan's list is done on these holes, or on all", Try: "joint head, STAGE", Build: buildStage},
	{Subject: "joint", Verb: Count, Asks: []Ask{askNow}, Event: "counted", Known: events.CountedBlind,
		Does: "what is in its holes, counted", Try: "joint oil-pan, COUNT, 14, 4", Build: buildJointCount},
	{Subject: "joint hole", Verb: Chased, Asks: []Ask{askDepth, askDeep}, Event: "hole-changed", Does: "the thread was chased", Try: "joint oil-pan, hole 3, CHASED, OK", Build: buildHole(events.HoleChased)},
	{Subject: "joint hole", Verb: Insert, Asks: []Ask{askDepth, askDeep}, Event: "hole-changed", Does: "it has a thread insert", Try: "joint oil-pan, hole 3, INSERT, 12", Build: buildHole(events.HoleInsert)},
	{Subject: "joint hole", Verb: Bushing, Asks: []Ask{askDepth, askDeep}, Event: "hole-changed", Does: "it has a bushing", Try: "joint oil-pan, hole 3, BUSHING, 12", Build: buildHole(events.HoleBushing)},
	{Subject: "joint hole", Verb: Oversize, Lines: true, Asks: []Ask{askDepth, askDeep, askTakes}, Event: "hole-changed", Does: "it takes another fastener now", Try: "joint oil-pan, hole 3, OVERSIZE, 14.5, size M7x1.0x20", Build: buildHole(events.HoleOversize)},
	{Subject: "joint", Verb: LabelWord, Asks: []Ask{{Key: "name", Kind: AskText, Prompt: "What is the joint called?"}}, Event: "joint-tagged",
		Does: "a blank joint tag gets a name", Try: "blank joint tag, LABEL, text water outlet", Build: buildJointTag},
}

var (
	askDepth = Ask{Key: "depth", Kind: AskReal, Prompt: "Usable thread in millimetres from the face? (OK: not measured)", Skip: true}
	askTakes = Ask{Key: "takes", Kind: AskNoun, Types: []Type{Size}, Prompt: "Which size does it take now?"}
	askWhich = Ask{Key: "which", Kind: AskNoun, Types: []Type{Size}, Prompt: "Which size went in?", When: manyOdd}
)

func noLines(s *Said) bool { return len(s.Lines) == 0 }

// known raises a claim to a count when sizes were counted before the verb.
func known(s *Said, k events.Known) events.Known {
	if len(s.Lines) > 0 && k == events.Claimed {
		return events.CountedOpen
	}
	return k
}

// Known is how the sentence as said is known.
func (s *Sentence) KnownOf(said *Said) events.Known { return known(said, s.Known) }

func buildOut(s *Said) (engine.Command, error) {
	outOfTurn, warm, no := loosened(s)
	if no != nil {
		return nil, no
	}
	c := engine.TakeOut{OutOfTurn: outOfTurn, Warm: warm, Joint: s.Joint(), Holes: s.Holes(), To: s.Container(0), Lines: s.AllLines()}
	if r := s.At(0, Rack); r.ID != "" && len(c.Holes) == 1 {
		c.To += "/" + events.Place(c.Holes[0]) // a rack keeps fasteners by their holes
	}
	for _, k := range s.Reply("sizes").Left {
		c.Left = append(c.Left, holesOf(s.Plan(), c.Joint, k)...)
	}
	if s.Answered("sizes") && len(c.Lines) == 0 {
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: "all of it was left in", Next: "say it when something is out"}
	}
	c.All = len(c.Holes) == 0 && !s.Answered("line") && (s.Answered("sizes") || s.Verb == AllOut)
	return c, nil
}

// holesOf are the holes of a joint that hold a kind by the plan.
func holesOf(p *plan.Plan, joint events.Joint, k events.Kind) []events.Hole {
	j, ok := p.Joint(joint)
	if !ok {
		return nil
	}
	var holes []events.Hole
	for _, ix := range p.Joints[j].Seats {
		for i := range p.Seats[ix].Members {
			if p.Seats[ix].Members[i].Kind == k {
				holes = append(holes, p.Seats[ix].Hole)
				break
			}
		}
	}
	return holes
}

func buildParked(s *Said) (engine.Command, error) {
	return engine.Tell{Event: events.PiecesParked{Joint: s.Joint(), Holes: s.Holes(), From: s.Container(0)}}, nil
}

func buildIn(s *Said) (engine.Command, error) {
	c := engine.Fit{Joint: s.Joint(), Holes: s.Holes(), From: s.Container(0), Lines: s.AllLines(), Trial: s.Verb == Trial}
	if k := oneSize(s); k != "" && len(c.Lines) == 0 {
		c.Lines = []events.Line{{Kind: k, Qty: len(c.Holes)}}
	}
	c.All = len(c.Lines) == 0
	return c, nil
}

// oneSize is the size that went into the named holes where it is not the
// plan's: the size card that was scanned, or the only kind in the bag.
func oneSize(s *Said) events.Kind {
	switch {
	case len(s.Sizes) == 1:
		return s.Sizes[0]
	case s.Answered("which"):
		return events.Kind(s.Reply("which").Noun.ID)
	case len(s.Holes()) == 0 || s.Container(0) == "" || bagSuits(s):
		return ""
	}
	if in := kindsAt(s, s.Container(0)); len(in) == 1 {
		return in[0]
	}
	return ""
}

// InHand is what a question about one hole is about: the size that was
// scanned, or what the bag holds for the hole, or the only kind in the bag.
func (s *Said) InHand() events.Kind {
	if k := oneSize(s); k != "" {
		return k
	}
	if s.Container(0) == "" {
		return ""
	}
	in := kindsAt(s, s.Container(0))
	for _, k := range jointKinds(s.Plan(), s.Joint(), s.Holes()) {
		if hasKind(in, k) {
			return k
		}
	}
	return ""
}

// bagSuits reports whether the bag holds what the named holes want.
func bagSuits(s *Said) bool {
	in := kindsAt(s, s.Container(0))
	for _, k := range jointKinds(s.Plan(), s.Joint(), s.Holes()) {
		if !hasKind(in, k) {
			return false
		}
	}
	return true
}

// manyOdd: the bag holds nothing that the holes want, and several other sizes.
func manyOdd(s *Said) bool {
	return len(s.Sizes) == 0 && len(s.Lines) == 0 && s.Container(0) != "" && !bagSuits(s) && len(kindsAt(s, s.Container(0))) > 1
}

func buildLoose(s *Said) (engine.Command, error) {
	outOfTurn, warm, no := loosened(s)
	if no != nil {
		return nil, no
	}
	return engine.Tell{Event: events.PiecesLoosened{Joint: s.Joint(), Holes: s.Holes(), OutOfTurn: outOfTurn, Warm: warm}}, nil
}

func buildJointCount(s *Said) (engine.Command, error) {
	return engine.Tell{Event: events.Counted{Place: events.Place("joint/" + string(s.Joint())), Lines: s.AllLines(), All: true}}, nil
}

func buildHole(state events.HoleState) func(*Said) (engine.Command, error) {
	return func(s *Said) (engine.Command, error) {
		depth, no := depthOf(s)
		if no != nil {
			return nil, no
		}
		e := events.HoleChanged{Joint: s.Joint(), Hole: s.Holes()[0], State: state, DepthMm: depth}
		if k := s.Reply("takes").Noun; k.ID != "" {
			e.Takes = events.Kind(k.ID)
		}
		return engine.Tell{Event: e}, nil
	}
}

func buildJointTag(s *Said) (engine.Command, error) {
	return engine.Tell{Event: events.JointTagged{Joint: s.Joint(), Name: strings.TrimSpace(s.Reply("name").Text)}}, nil
}
