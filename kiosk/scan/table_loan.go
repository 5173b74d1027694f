package scan

import (
	"countback/events"
	"countback/projections/engine"
)

var (
	askHowMany = Ask{Key: "n", Kind: AskNumber, Prompt: "How many?", When: manyLoans}
	askLitres  = Ask{Key: "litres", Kind: AskReal, Prompt: "How many litres? (OK: not measured)", Skip: true}
	askFluid   = Ask{Key: "what", Kind: AskText, Prompt: "Which? (OK: not said)", Skip: true}
)

var loanRows = []Sentence{
	{Subject: "loan cavity?", Verb: In, N: true, Asks: []Ask{askHowMany}, Source: "the drawer", Event: "loan-in",
		Does: "on or in for a while", Try: "loan crank-pin, IN", Build: buildLoanIn},
	{Subject: "loan joint hole", Verb: In, N: true, Source: "the drawer", Event: "loan-in",
		Does: "in that hole for a while", Try: "loan guide-stud, joint head, hole 1, IN", Build: buildLoanIn},
	{Subject: "loan", Verb: Out, N: true, Asks: []Ask{{Key: "n", Kind: AskNumber, Prompt: "How many are out?", When: manyOut}}, Source: "where it was", Event: "loan-out",
		Does: "out again", Try: "loan crank-pin, OUT", Build: buildLoanOut},
	{Subject: "cavity", Verb: Looked, Lines: true, Event: "cavity-looked", Known: events.CountedOpen,
		Does: "looked into; sizes before it are what was found, none is clear", Try: "cavity timing-case, LOOKED", Build: tell(func(s *Said) events.Event {
			return events.CavityLooked{Cavity: s.cavity(), Found: s.AllLines()}
		})},
	{Subject: "cavity", Verb: Open, Event: "cavity-opened", Does: "open", Try: "cavity cylinders, OPEN", Build: tell(func(s *Said) events.Event {
		return events.CavityOpened{Cavity: s.cavity()}
	})},
	{Subject: "cavity", Verb: Closed, Event: "cavity-closed", Does: "capped or closed", Try: "cavity intake-ports, CLOSED", Build: tell(func(s *Said) events.Event {
		return events.CavityClosed{Cavity: s.cavity()}
	})},
	{Subject: "cavity", Verb: Drained, Event: "fluid-changed", Does: "its fluid is out", Try: "cavity sump, DRAINED", Build: tell(func(s *Said) events.Event {
		return events.FluidChanged{Cavity: s.cavity(), State: events.Drained}
	})},
	{Subject: "cavity", Verb: Filled, Asks: []Ask{askLitres, askMany, askFluid}, Event: "fluid-changed", Does: "filled", Try: "cavity sump, FILLED, 4.2, text running-in oil", Build: buildFilled},
	{Subject: "mark", Verb: Done, Event: "mark-made", Does: "an act that leaves no state in the metal was done", Try: "mark two-turns, DONE", Build: tell(func(s *Said) events.Event {
		return events.MarkMade{Mark: events.Mark(s.At(0, Mark).ID)}
	})},
	{Subject: "", Verb: Turned, Event: "act-done", Does: "the engine was turned by hand", Try: "TURNED", Build: buildAct(events.Turning)},
	{Subject: "", Verb: Cranked, Event: "act-done", Does: "it was cranked", Try: "CRANKED", Build: buildAct(events.Cranking)},
	{Subject: "", Verb: Heated, Event: "act-done", Does: "flame or weld was near it", Try: "HEATED", Build: buildAct(events.Heating)},
}

func (s *Said) cavity() events.Cavity { return events.Cavity(s.At(0, Cavity).ID) }

func (s *Said) loan() events.Loan { return events.Loan(s.At(0, Loan).ID) }

// manyLoans: the plan has several of them, or as many as were counted.
func manyLoans(s *Said) bool {
	ix, ok := s.Plan().Loan(s.loan())
	return !s.HasN && (!ok || s.Plan().Loans[ix].Count != 1)
}

// manyOut: several are in.
func manyOut(s *Said) bool {
	st, ok := s.State().Loans()[s.loan()]
	return !s.HasN && ok && st.In > 1
}

// pieces is the number that was said, or else one.
func (s *Said) pieces() int {
	switch r := s.Reply("n"); {
	case r.Key != "" && !r.None:
		return r.N
	case s.HasN:
		return s.Number
	}
	return 1
}

func buildLoanIn(s *Said) (engine.Command, error) {
	e := events.LoanIn{Loan: s.loan(), Count: s.pieces(), Where: string(s.cavity())}
	if s.Has(Hole) {
		e.Where = string(events.SeatOf(s.Joint(), s.Holes()[0]))
	}
	if e.Count == 0 {
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: "none went in", Next: "scan how many, 1 or more"}
	}
	return engine.Tell{Event: e}, nil
}

func buildLoanOut(s *Said) (engine.Command, error) {
	e := events.LoanOut{Loan: s.loan(), Count: s.pieces()}
	if e.Count == 0 {
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: "none came out", Next: "scan how many, 1 or more"}
	}
	return engine.Tell{Event: e}, nil
}

func buildAct(a events.Act) func(*Said) (engine.Command, error) {
	return tell(func(*Said) events.Event { return events.ActDone{Act: a} })
}
