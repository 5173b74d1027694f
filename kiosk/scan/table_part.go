package scan

import (
	"countback/events"
	"countback/projections/engine"
	"countback/projections/plan"
)

var askPieces = Ask{Key: "n", Kind: AskNumber, Prompt: "How many pieces?"}

var partRows = []Sentence{
	{Subject: "part position? rack position", Nature: Tell, Source: "the part's position", Event: "part-placed",
		Does: "one piece of the part is in that position of the rack; no verb is needed", Try: "part buckets, rack, position 2Ia", Build: buildPlaced},
	{Subject: "part container", N: true, Asks: []Ask{askPieces}, Source: "the engine", Event: "part-removed", Known: events.CountedOpen,
		Does: "the part is off and there, its pieces counted; in a rack each by its position", Try: "part buckets, rack, 16", Build: buildOff},
	{Subject: "part", N: true, Asks: []Ask{askPieces}, Source: "the engine", Event: "part-removed", Known: events.CountedOpen,
		Does: "the part is off and loose on this bench, its pieces counted", Try: "part cover-rings, 2", Build: buildOff},
	{Subject: "part position* container?", Verb: Off, N: true, Source: "the engine", Event: "part-removed",
		Does: "the part, or these positions of it, is off", Try: "part front-cover, place shelf, OFF", Build: buildOff},
	{Subject: "part rack", Verb: Full, Source: "the engine, or the rack itself", Event: "part-removed or rack-read", Known: events.CountedBlind,
		Does: "every position of the rack holds its piece", Try: "part buckets, rack, FULL", Build: buildPartFull},
	{Subject: "joint rack", Verb: Full, Event: "rack-read", Known: events.CountedBlind,
		Does: "every hole's fastener is in the rack by its hole", Try: "joint cam-caps, rack, FULL", Build: buildRackFull},
	{Subject: "rack", Verb: Full, Event: "rack-read", Known: events.CountedBlind, Does: "every position is full", Try: "rack, FULL", Build: buildRackFull},
	{Subject: "rack position|hole+", Verb: Empty, Event: "rack-read", Known: events.CountedBlind,
		Does: "these positions are empty, all others full", Try: "rack, position 4Ea, EMPTY", Build: buildRackFull},
	{Subject: "rack", Verb: OrderLost, Event: "order-lost", Does: "it was tipped: the pieces are there, which is which is not known", Try: "rack, ORDER LOST", Build: buildOrderLost},
	{Subject: "part position position", Verb: Reassign, Asks: []Ask{{Key: "why", Kind: AskText, Prompt: "Which measurement says so?", Words: []Word{ByMeasure, OrderLost}}},
		Source: "the first position", Event: "reassigned", Does: "the piece of the first position belongs in the second from now on", Try: "part buckets, position 2Ia, position 3Eb, REASSIGN, text 0.34 mm", Build: buildReassigned},
	{Subject: "part position* container?", Verb: On, N: true, Asks: []Ask{askWay}, Source: "where the part lay", Event: "part-fitted",
		Does: "the part, or these positions of it, is on", Try: "part buckets, rack, ON", Build: buildOn},
	{Subject: "rack position", Verb: On, Source: "the rack's position", Event: "part-fitted",
		Does: "the piece of that position of the rack is on, in its place", Try: "rack, position 2Ia, ON", Build: buildOnFromRack},
	{Subject: "part", Verb: CatchUp, Event: "caught-up", Known: events.Presumed,
		Does: "this is the deepest part that is off; what came before it is presumed, and asked for", Try: "part cam-cover, CATCH UP", Build: buildCaughtUp},
	{Subject: "part", Verb: CameLikeThis, Event: "caught-up", Known: events.Presumed,
		Does: "the same for an engine that came half apart", Try: "part cam-cover, CAME LIKE THIS", Build: buildCaughtUp},
	{Subject: "part", Verb: HasIt, Event: "option-seen", Does: "this engine has the optional part", Try: "part compressor, HAS IT", Build: buildOption(true)},
	{Subject: "part", Verb: HasNone, Event: "option-seen", Does: "this engine has no such part", Try: "part compressor, HAS NONE", Build: buildOption(false)},
	{Subject: "layout", Verb: HasIt, Event: "layout-seen", Does: "this engine has that layout", Try: "layout flange, HAS IT", Build: buildLayout},
}

var askWay = Ask{Key: "way", Kind: AskOK, When: hasWay, Items: func(s *Said) []string {
	p, _ := s.Plan().Part(s.Part())
	return []string{"Which way round? " + s.Plan().Parts[p].WayRound + ": OK when it lies so"}
}}

// hasWay: the plan says how a single part must lie.
func hasWay(s *Said) bool {
	p, ok := s.Plan().Part(s.Part())
	return ok && s.Plan().Parts[p].WayRound != "" && s.Plan().Parts[p].Count == 1
}

// partCount is how many pieces of a part there are, or of the positions named.
func (s *Said) partCount() int {
	p, ok := s.Plan().Part(s.Part())
	if !ok {
		return 1
	}
	if list := s.Positions(); len(list) > 0 {
		n := 0
		for _, pos := range s.Plan().Parts[p].Positions {
			if hasHole(list, pos.Name) {
				n += pos.Count
			}
		}
		return n
	}
	return s.Plan().Parts[p].Count
}

func buildOff(s *Said) (engine.Command, error) {
	e := events.PartRemoved{Part: s.Part(), Positions: s.Positions(), To: s.Container(0)}
	if r := s.Reply("n"); r.Key != "" {
		e.Counted, e.NoneCame = r.N, r.N == 0
	} else if s.HasN {
		e.Counted, e.NoneCame = s.Number, s.Number == 0
	}
	return engine.Tell{Event: e}, nil
}

func buildPartFull(s *Said) (engine.Command, error) {
	p, ok := s.Plan().Part(s.Part())
	if st := s.State().Now(); ok && st.Part(p) != plan.PartOff && st.Part(p) != plan.PartAway {
		return engine.Tell{Event: events.PartRemoved{Part: s.Part(), To: s.Container(0), Counted: s.partCount()}}, nil
	}
	return engine.Tell{Event: events.RackRead{Rack: s.Container(0), Part: s.Part()}}, nil
}

func buildRackFull(s *Said) (engine.Command, error) {
	return engine.Tell{Event: events.RackRead{Rack: s.Container(0), Empty: append(s.Positions(), s.Holes()...), Joint: events.Joint(s.At(0, Joint).ID)}}, nil
}

func buildPlaced(s *Said) (engine.Command, error) {
	list := s.Positions()
	return engine.Tell{Event: events.PartPlaced{Part: s.Part(), Position: list[0], Rack: s.Container(0) + "/" + events.Place(list[len(list)-1])}}, nil
}

func buildOrderLost(s *Said) (engine.Command, error) {
	return engine.Tell{Event: events.OrderLost{Rack: s.Container(0)}}, nil
}

func buildReassigned(s *Said) (engine.Command, error) {
	list := s.Positions()
	return engine.Tell{Event: events.Reassigned{Part: s.Part(), From: list[0], To: list[1], Why: s.Why("why")}}, nil
}

func buildOn(s *Said) (engine.Command, error) {
	e := events.PartFitted{Part: s.Part(), Positions: s.Positions(), From: s.Container(0), WayRound: s.Answered("way")}
	if s.HasN {
		e.Counted = s.Number
	}
	return engine.Tell{Event: e}, nil
}

// buildOnFromRack fits one piece out of its position in a rack.
func buildOnFromRack(s *Said) (engine.Command, error) {
	part := s.Part()
	if part == "" {
		part = rackPart(s.Job, s.Container(0))
	}
	if part == "" {
		return nil, &engine.Refusal{Code: engine.Unknown, Fact: "nothing is known to be in that rack", Next: "scan the part first, then where it goes"}
	}
	pos := s.Positions()
	return engine.Tell{Event: events.PartFitted{Part: part, Positions: pos, From: s.Container(0) + "/" + events.Place(pos[0])}}, nil
}

func buildCaughtUp(s *Said) (engine.Command, error) {
	return engine.Tell{Event: events.CaughtUp{Deepest: s.Part(), Arrived: s.Verb == CameLikeThis}}, nil
}

func buildOption(fitted bool) func(*Said) (engine.Command, error) {
	return tell(func(s *Said) events.Event { return events.OptionSeen{Part: s.Part(), Fitted: fitted} })
}

func buildLayout(s *Said) (engine.Command, error) {
	id := s.At(0, Layout).ID
	v, l := cut(id)
	return engine.Tell{Event: events.LayoutSeen{Variant: v, Layout: l}}, nil
}
