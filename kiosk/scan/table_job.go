package scan

import (
	"strings"

	"countback/events"
	"countback/projections/engine"
)

var askWhose = Ask{Key: "whose", Kind: AskWord, Prompt: "Whose was it? (OK: not said)", Words: []Word{Owner, Seller, WhoKnows}, Skip: true}

var jobRows = []Sentence{
	{Subject: "job engine plan?", Verb: OpenJob, Nature: AskFor, Event: "job-opened", Does: "a job starts, with a plan or without; its tags are issued", Try: "job 4K7, engine Sorrel I4-20, plan sorrel-i4-20, OPEN JOB", Build: buildOpenJob},
	{Subject: "job", Verb: Tags, Event: "tags-issued", Does: "tags for all that has none", Try: "job 4K7, TAGS", Build: buildTags},
	{Subject: "label any", Verb: LabelWord, Event: "tags-issued", Does: "a blank label is on this from now on", Try: "blank label, part head, LABEL", Build: buildTag},
	{Subject: "any", Verb: Void, Asks: []Ask{{Key: "why", Kind: AskText, Prompt: "Why? (OK: not said)", Words: []Word{Torn, WrongJoint}, Skip: true}}, Event: "tag-voided",
		Does: "its label is out of use", Try: "part head, VOID, TORN", Build: buildVoid},
	{Subject: "range bench", Verb: Reserve, Event: "range-reserved", Does: "a terminal has these two letters for its labels", Try: "range HT, bench b2, RESERVE", Build: tell(func(s *Said) events.Event {
		return events.RangeReserved{Range: strings.ToUpper(s.At(0, Range).ID), For: s.At(0, Bench).ID}
	})},
	{Subject: "badge", Verb: LabelWord, Asks: []Ask{{Key: "name", Kind: AskText, Prompt: "Whose badge is it?"}}, Event: "badge-issued", Does: "a blank badge is a person's", Try: "blank badge, LABEL, text Marit", Build: buildBadge},
	{Subject: "joint hole*", Verb: MissingArrival, Lines: true, Asks: []Ask{askWhose}, Event: "missing-on-arrival", Known: events.CountedOpen,
		Does: "was not there when the engine came", Try: "joint oil-pan, hole 7, MISSING ON ARRIVAL, SELLER", Build: buildMissing},
	{Subject: "part", Verb: MissingArrival, Asks: []Ask{askWhose}, Event: "missing-on-arrival", Known: events.CountedOpen, Does: "the same, of a part", Try: "part heat-shield, MISSING ON ARRIVAL, OK", Build: buildMissing},
	{Subject: "joint hole?", Verb: Damaged, Asks: []Ask{{Key: "what", Kind: AskText, Prompt: "What is damaged?"}, askWhose}, Event: "damaged-on-arrival", Does: "was damaged when the engine came", Try: "part cam-cover, DAMAGED, text cracked at hole 6, OWNER", Build: buildDamaged},
	{Subject: "part", Verb: Damaged, Asks: []Ask{{Key: "what", Kind: AskText, Prompt: "What is damaged?"}, askWhose}, Event: "damaged-on-arrival", Does: "the same, of a part", Try: "part cam-cover, DAMAGED, text cracked at hole 6, OWNER", Build: buildDamaged},
	{Subject: "thing", Verb: HoldWord, Asks: []Ask{askReason}, Event: "hold-set", Does: "may not go on, for a reason", Try: "step cover-on, HOLD, ON ORDER", Build: buildHold},
	{Subject: "joint hole", Verb: HoldWord, Asks: []Ask{askReason}, Event: "hold-set", Does: "a hole: may not go on, for a reason", Try: "step cover-on, HOLD, ON ORDER", Build: buildHold},
	{Subject: "hold", Verb: Release, Nature: AskFor, Asks: []Ask{askReason}, Event: "hold-released", Does: "may go on", Try: "hold h1, RELEASE, AGREED", Build: buildRelease},
	{Subject: "thing", Verb: Release, Nature: AskFor, Asks: []Ask{askReason}, Event: "hold-released", Does: "the same, by what is held", Try: "step cover-on, RELEASE, AGREED", Build: buildRelease},
	{Subject: "joint hole", Verb: Release, Nature: AskFor, Asks: []Ask{askReason}, Event: "hold-released", Does: "a hole: the same, by what is held", Try: "step cover-on, RELEASE, AGREED", Build: buildRelease},
	{Subject: "thing", Verb: FindingWord, Asks: []Ask{{Key: "what", Kind: AskText, Prompt: "What was found?"}}, Event: "finding-raised", Does: "what inspection found; holds it until decided", Try: "part head, FINDING, text crack between seats", Build: buildFinding},
	{Subject: "joint hole", Verb: FindingWord, Asks: []Ask{{Key: "what", Kind: AskText, Prompt: "What was found?"}}, Event: "finding-raised", Does: "a hole: what inspection found; holds it until decided", Try: "part head, FINDING, text crack between seats", Build: buildFinding},
	{Subject: "step", Verb: Gate, Nature: AskFor, Asks: []Ask{askSecond, {Key: "n", Kind: AskNumber, Prompt: "Count them without looking at any number: how many?"}}, Event: "second-checked", Known: events.CountedBlind,
		Does: "a second person counts blind", Try: "step cover-on, GATE, badge Ole, 18", Build: buildGate},
	{Subject: "step|audit|gate|share|act|case|cavity|loan|joint|part|job", Verb: Override, Nature: AskFor, Asks: []Ask{askSecond, askReason}, Event: "overridden", Does: "what was refused may pass, by a second person, for a reason; it stays on the record", Try: "step cover-on, OVERRIDE, badge Ole, text bracket comes off again", Build: buildOverride},
	{Subject: "audit", Verb: Sign, Nature: AskFor, Asks: []Ask{{Key: "second", Kind: AskBadge, Prompt: "The second person: scan your badge (OK: one signs)", Skip: true}}, Event: "audit-signed", Does: "the record of this audit point is signed", Try: "audit ready-to-start, SIGN, badge Ole", Build: buildSign},
	{Subject: "", Verb: HandOver, Nature: AskFor, Asks: []Ask{{Key: "to", Kind: AskBadge, Prompt: "Who takes it over? Scan your badge"}, {Key: "note", Kind: AskText, Prompt: "Anything to say? (OK: no)", Skip: true},
		{Key: "open", Kind: AskAccept, Prompt: "Is it taken over?", Items: openThings, When: anythingOpen}}, Event: "handed-over", Does: "what is open is read and taken over, each by OK or all by ACCEPT; what is left by NO stays with who hands over", Try: "HAND OVER, badge Ole, ACCEPT", Build: buildHandOver},
	{Subject: "job", Verb: Released, Nature: AskFor, Event: "job-ended", Does: "the engine left, finished", Try: "job 4K7, RELEASED", Build: buildEnd(events.Released)},
	{Subject: "job", Verb: HandedBack, Nature: AskFor, Asks: []Ask{askReason}, Event: "job-ended", Does: "it left unfinished", Try: "job 4K7, HANDED BACK, AGREED", Build: buildEnd(events.HandedBack)},
	{Subject: "job", Verb: Suspended, Nature: AskFor, Asks: []Ask{askReason}, Event: "job-ended", Does: "it waits", Try: "job 4K7, SUSPENDED, WAITS FOR THE OWNER", Build: buildEnd(events.Suspended)},
	{Subject: "job", Verb: Resume, Asks: []Ask{{Key: "why", Kind: AskText, Prompt: "Why? (OK: not said)", Skip: true}}, Event: "job-resumed", Does: "it is taken up again", Try: "job 4K7, RESUME, OK", Build: tell(func(s *Said) events.Event {
		return events.JobResumed{Why: s.Why("why")}
	})},
	{Subject: "joint hole", Verb: Drop, Nature: AskFor, Asks: []Ask{askReason}, Event: "plan-amended", Does: "this engine has no such hole", Try: "joint oil-pan, hole 3, DROP, text plugged by the maker", Build: buildDrop},
	{Subject: "joint|part|step|loan|mark|cavity", Verb: Amend, Nature: AskFor, Asks: []Ask{{Key: "text", Kind: AskText, Prompt: "What does the plan have to say of it?"}, askReason}, Event: "plan-amended",
		Does: "this job's own copy of the plan is altered", Try: "loan crank-pin, AMEND, text {id: crank-pin, name: Pin}, AGREED", Build: buildAmend},
}

func buildOpenJob(s *Said) (engine.Command, error) {
	c := engine.OpenJob{Engine: s.At(0, Engine).ID}
	if p := s.At(0, Plan); p.ID != "" {
		c.Plan = s.Dir.PlanText(p.ID)
	}
	return c, nil
}

func buildTags(s *Said) (engine.Command, error) {
	tags := s.Dir.Untagged()
	if len(tags) == 0 {
		return nil, nil
	}
	return engine.Tell{Event: events.TagsIssued{Tags: tags}}, nil
}

func buildTag(s *Said) (engine.Command, error) {
	return engine.Tell{Event: events.TagsIssued{Tags: []events.Tag{{Code: s.Nouns[0].Code, Noun: s.Nouns[len(s.Nouns)-1].Text()}}}}, nil
}

func buildVoid(s *Said) (engine.Command, error) {
	n := s.Nouns[0]
	c := n.Code
	if c == "" {
		c, _ = s.State().CodeOf(n.Text())
	}
	if c == "" {
		return nil, &engine.Refusal{Code: engine.Unknown, Fact: n.Text() + " has no label", Next: "scan the label itself"}
	}
	return engine.Tell{Event: events.TagVoided{Code: c, Why: s.Why("why")}}, nil
}

func buildBadge(s *Said) (engine.Command, error) {
	n := s.At(0, Badge)
	if !n.Blank {
		return nil, &engine.Refusal{Code: engine.Conflict, Fact: "this badge is " + n.ID + "'s", Next: "take a blank one"}
	}
	name := strings.TrimSpace(s.Reply("name").Text)
	initials := ""
	for _, w := range strings.Fields(name) {
		initials += string([]rune(w)[:1])
	}
	return engine.Tell{Event: events.BadgeIssued{Code: n.Code, Badge: events.Badge(name), Initials: initials}}, nil
}

var whose = map[Word]string{Owner: "owner", Seller: "seller", WhoKnows: "unknown"}

func buildMissing(s *Said) (engine.Command, error) {
	e := events.MissingOnArrival{Joint: s.Joint(), Holes: s.Holes(), Lines: s.AllLines(), Whose: whose[s.Reply("whose").Word]}
	if e.Joint == "" {
		e.Part = s.Part()
	}
	return engine.Tell{Event: e}, nil
}

func buildDamaged(s *Said) (engine.Command, error) {
	e := events.DamagedOnArrival{Joint: s.Joint(), Part: s.Part(), What: s.Reply("what").Text, Whose: whose[s.Reply("whose").Word]}
	if h := s.Holes(); len(h) > 0 {
		e.Hole = h[0]
	}
	return engine.Tell{Event: e}, nil
}

// thingOf is the noun that a hold or a finding is on, as it is stored. A hole
// stands for itself, not for its joint.
func thingOf(s *Said) string {
	n := s.Nouns[len(s.Nouns)-1]
	if n.Type == Hole && !strings.Contains(n.ID, ":") {
		n.ID = string(events.SeatOf(s.Joint(), events.Hole(n.ID)))
	}
	return n.Text()
}

func buildHold(s *Said) (engine.Command, error) {
	return engine.Tell{Event: events.HoldSet{Hold: s.name("h"), On: thingOf(s), Why: s.Why("why")}}, nil
}

func buildFinding(s *Said) (engine.Command, error) {
	return engine.Tell{Event: events.FindingRaised{Finding: s.name("f"), On: thingOf(s), What: s.Reply("what").Text}}, nil
}

// name is a new name that no other terminal gives: h12-b2 is set by the 12th
// fact of terminal b2.
func (s *Said) name(letter string) string { return letter + itoa(int(s.NextN)) + "-" + string(s.Here) }

func buildHandOver(s *Said) (engine.Command, error) {
	r := s.Reply("open")
	return engine.TakeOver{From: s.Who, To: events.Badge(s.Reply("to").Noun.ID), Open: r.Took, Left: r.Kept, Note: s.Reply("note").Text}, nil
}

func anythingOpen(s *Said) bool { return len(s.Job.HandOver()) > 0 }

// openThings lists what is open, in words, for a hand-over.
func openThings(s *Said) []string {
	var list []string
	for _, i := range s.Job.HandOver() {
		list = append(list, i.Text)
	}
	return list
}
