package scan

var queryRows = []Sentence{
	{Subject: "joint hole", Verb: ThisOne, Lines: true, Nature: Query, Does: "does what is in my hand belong in this hole; a size before it says what it is", Try: "bag, joint front-cover, hole 18, THIS ONE?"},
	{Subject: "container joint hole", Verb: ThisOne, Lines: true, Asks: []Ask{{Key: "which", Kind: AskNoun, Types: []Type{Size}, Prompt: "Which size is it?", When: manyOdd}}, Nature: Query, Does: "the same, out of a bag", Try: "bag, joint front-cover, hole 18, THIS ONE?"},
	{Subject: "step", Verb: CanI, Nature: Query, Does: "can it start, and what clears what stands in its way", Try: "step cover-on, CAN I?"},
	{Subject: "", Verb: TurnOver, Nature: Query, Does: "may the engine be turned by hand", Try: "TURN OVER?"},
	{Subject: "", Verb: Crank, Nature: Query, Does: "may it be cranked", Try: "CRANK?"},
	{Subject: "", Verb: Heat, Nature: Query, Does: "may there be flame or weld near it", Try: "HEAT?"},
	{Subject: "", Verb: HotWork, Nature: Query, Does: "the same; with a case before it, it reads the cautions", Try: "HOT WORK"},
	{Subject: "", Verb: WhatNow, Nature: Query, Does: "which steps can start, and what the others wait for", Try: "WHAT NOW"},
	{Subject: "", Verb: Missing, Nature: Query, Does: "what is missing before each step on", Try: "MISSING"},
	{Subject: "", Verb: AuditWord, Nature: Query, Does: "the red lines of the next audit point", Try: "AUDIT"},
	{Subject: "audit", Verb: AuditWord, Nature: Query, Does: "the red lines of this audit point", Try: "audit ready-to-start, AUDIT"},
	{Subject: "any hole?", Verb: WhereIs, Nature: Query, Does: "where it is, and what happened to it", Try: "bag, WHERE IS"},
	{Subject: "", Verb: Happened, Asks: []Ask{
		{Key: "since", Kind: AskTime, Prompt: "Since when? Hours ago, DAYS AGO and a number, TODAY, YESTERDAY, or type a date or a time", Skip: true},
		{Key: "till", Kind: AskTime, Prompt: "Until when?", Skip: true, When: func(s *Said) bool { return !s.Reply("since").None }}},
		Nature: Self, Does: "says when the next thing that is told happened, where that is not now; OK: as before", Try: "HAPPENED, YESTERDAY, OK, joint oil-pan, bag, ALL OUT"},
	{Subject: "", Verb: Help, Nature: Self, Does: "what the nouns on the screen can do; without a noun, the cards", Try: "bag, HELP"},
	{Subject: "any* hole*", Verb: Help, Nature: Self, Does: "the same, with nouns", Try: "bag, HELP"},
	{Subject: "", Verb: Cancel, Nature: Self, Does: "drops the sentence or the question on the screen", Try: "CANCEL"},
	{Subject: "", Verb: OK, Nature: Self, Does: "yes, or nothing more, to what the screen asks", Try: "OK"},
	{Subject: "", Verb: Clear, Nature: Self, Does: "takes back the last number of a count that is going on", Try: "CLEAR"},
	{Subject: "", Verb: More, Nature: Self, Does: "the next page of a list", Try: "MORE"},
	{Subject: "", Verb: Undo, Nature: Self, Event: "corrected", Does: "takes back the last thing that this person stored here: the screen names it; a second UNDO is refused and shows the list", Try: "UNDO"},
	{Subject: "", Verb: Redo, Nature: Self, Event: "corrected", Does: "takes the UNDO back", Try: "REDO"},
	{Subject: "", Verb: Correct, Nature: Self, Event: "corrected", Does: "shows the list; a number chooses, a reason confirms; MISCOUNT asks for the right numbers", Try: "CORRECT, 2, WRONG BAG, OK"},
}
