package scan

import (
	"countback/events"
	"countback/projections/engine"
)

var (
	askSecond = Ask{Key: "second", Kind: AskBadge, Prompt: "The second person: scan your badge"}
	askReason = Ask{Key: "why", Kind: AskText, Prompt: "Why?", Words: []Word{Look, OnOrder, WaitsOwner, WaitsPart, Agreed, Test}}
)

var shortRows = []Sentence{
	{Subject: "short container", Verb: FoundWord, N: true, Source: "the short", Event: "short-ended",
		Does: "the pieces are in hand again, and there", Try: "short 1, bag, FOUND", Build: end(events.Found)},
	{Subject: "short", Verb: FoundWord, N: true, Source: "the short", Event: "short-ended",
		Does: "the same, back where they were missed", Try: "short 1, FOUND", Build: end(events.Found)},
	{Subject: "short", Verb: StillIn, N: true, Asks: whichHoles(), Event: "short-ended", Does: "it never left its hole; of several like holes, which", Try: "STILL IN, hole 7", Build: buildStillIn},
	{Subject: "short", Verb: StillToCome, Asks: []Ask{{Key: "day", Kind: AskDate, Prompt: "For which day do they say?", Words: []Word{DoNotKnow}}}, Event: "promised",
		Does: "another shop kept it back, and it is to come on the day that they say: it stays open until then", Try: "short 1, STILL TO COME, 14.12.", Build: func(s *Said) (engine.Command, error) {
			return engine.Tell{Event: events.Promised{On: engine.OnShort(s.At(0, Short).Short), Day: s.Reply("day").Day}}, nil
		}},
	{Subject: "short", Verb: NeverThere, N: true, Event: "short-ended", Does: "it was not there when the engine came", Try: "NEVER THERE", Build: end(events.NeverThere)},
	{Subject: "short", Verb: Miscount, N: true, Event: "short-ended", Does: "the count was wrong; count again to show it", Try: "short 1, MISCOUNT", Build: end(events.Miscount)},
	{Subject: "short", Verb: PlanWrong, N: true, Event: "short-ended", Does: "the plan says what this engine never had, or leaves out what it has", Try: "short 1, PLAN WRONG", Build: end(events.PlanWrong)},
	{Subject: "short short", Verb: Pair, N: true, Source: "the over", Event: "short-ended", Does: "a short and an over of one act", Try: "short 1, short 2, PAIR", Build: end(events.Paired)},
	{Subject: "short job", Verb: Borrowed, N: true, Event: "short-ended", Does: "it is in another job", Try: "short 1, job 4K9, BORROWED", Build: end(events.Borrowed)},
	{Subject: "short", Verb: WriteOff, N: true, Nature: AskFor, Asks: []Ask{askSecond, askReason}, Event: "short-ended",
		Does: "given up, after every place was looked into, by two persons", Try: "short 1, WRITE OFF, badge Ole, text every cavity is clear", Build: end(events.WrittenOff)},
	{Subject: "short", Verb: DoNotKnow, Nature: Query, Does: "it stays open and red", Try: "DO NOT KNOW"},
	{Subject: "short", Verb: Broken, Source: "the short", Event: "short-ended", Does: "it is still in its hole, broken; then the hole is asked for", Try: "BROKEN", Build: end(events.StillIn)},
	{Subject: "short", Verb: Settle, Nature: AskFor, Asks: settleAsks(), Event: "disagreement-settled", Known: events.CountedBlind,
		Does: "which of two facts falls, with a new count of each place", Try: "short 1, SETTLE, SECOND, 0, text counted the wrong bag", Build: buildSettle},
}

func end(how events.Ending) func(*Said) (engine.Command, error) {
	return func(s *Said) (engine.Command, error) {
		e := events.ShortEnded{Short: s.At(0, Short).Short, How: how}
		if s.HasN {
			e.Qty = s.Number
		}
		switch how {
		case events.Found:
			e.To = s.Container(0)
		case events.Paired:
			e.With = s.At(1, Short).Short
		case events.Borrowed:
			e.Job = events.Job(s.At(0, JobNoun).ID)
		case events.WrittenOff:
			return engine.WriteOff{Short: e.Short, Qty: e.Qty, Operator: s.Who, Second: events.Badge(s.Reply("second").Noun.ID), Why: s.Why("why")}, nil
		}
		return engine.Tell{Event: e}, nil
	}
}
