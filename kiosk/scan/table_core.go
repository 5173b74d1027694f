package scan

import (
	"strings"

	"countback/events"
	"countback/projections/engine"
)

var coreRows = []Sentence{
	{Subject: "part supplier part*", Verb: CoreWord, Asks: []Ask{
		{Key: "deposit", Kind: AskText, Prompt: "What deposit? As 120.50 EUR (OK: none)", Skip: true},
		{Key: "due", Kind: AskDate, Prompt: "Back by which day? (OK: no day was said)", Skip: true},
		{Key: "whole", Kind: AskWord, Prompt: "May it be taken apart?", Words: []Word{KeepWhole, MayStrip}}},
		Event: "core-agreed", Does: "the old part goes back to this supplier: deposit, day, whether it must stay whole; parts behind it must be with it", Try: "part alternator, supplier fjord, part pulley, CORE, text 120.50 EUR, 2026-12-14, DO NOT STRIP", Build: buildCore},
	{Subject: "part", Verb: CoreSent, Nature: AskFor, Source: "where the part lay", Event: "core-sent", Does: "the old part left for who sold the new one", Try: "part alternator, CORE SENT", Build: func(s *Said) (engine.Command, error) {
		return engine.SendCore{Part: s.Part()}, nil
	}},
	{Subject: "part", Verb: Credited, Asks: []Ask{{Key: "credit", Kind: AskText, Prompt: "How much was paid back? As 120.50 EUR"},
		{Key: "off", Kind: AskText, Prompt: "What was taken off, and why? As 20.00 no pulley; 5.00 dirty (OK: nothing)", Skip: true},
		{Key: "sure", Kind: AskWord, Prompts: func(s *Said) string { return doubtCredit(s) + ". YES, it is so; NO, say it again" }, Words: []Word{Yes, No}, When: func(s *Said) bool { return doubtCredit(s) != "" }}},
		Event: "core-credited", Does: "what was paid back for the old part, and what was taken off", Try: "part alternator, CREDITED, text 100.50 EUR, text 20.00 no pulley", Build: buildCredited},
	{Subject: "", Verb: Cores, Nature: Query, Does: "old parts that go back: to whom, days left, deposit, what voids the credit", Try: "CORES"},
	{Subject: "container part*", Verb: OwnerBrought, Lines: true, Asks: []Ask{
		{Key: "line", Kind: AskLine, Prompt: "Which size or part, and how many?", When: func(s *Said) bool { return noLines(s) && len(s.Parts()) == 0 }},
		{Key: "sealed", Kind: AskWord, Prompt: "In its sealed packing? (OK: not said)", Words: []Word{Sealed, NotSealed}, Skip: true}},
		Source: "outside", Event: "owner-brought", Known: events.CountedOpen, Does: "the owner brought new pieces or a part, sealed or not", Try: "place shelf, part water-pump, OWNER BROUGHT, SEALED", Build: buildOwnerBrought},
	{Subject: "part", Verb: OwnerWants, Asks: []Ask{{Key: "wish", Kind: AskWord, Prompt: "What of the old one?", Words: []Word{ShowIt, GiveItBack, Nothing}}},
		Event: "owner-asked", Does: "what the owner wants of the old part: to see it, to have it, nothing", Try: "part water-pump, OWNER WANTS, SHOW IT", Build: buildOwnerWants},
	{Subject: "part", Verb: Shown, Event: "owner-shown", Does: "the owner has seen the old part", Try: "part water-pump, SHOWN", Build: tell(func(s *Said) events.Event {
		return events.OwnerShown{Part: s.Part()}
	})},
	{Subject: "part container?", Verb: GivenBack, Asks: []Ask{{Key: "which", Kind: AskWord, Prompt: "Which: the one that the OWNER brought, or the ORIGINAL off the engine?", Words: []Word{Owner, Original}, When: twoToGive}}, Source: "where the part lay", Event: "owner-given", Does: "the owner has the old part again, out of where it lay", Try: "part water-pump, GIVEN BACK", Build: tell(givenPart)},
	{Subject: "from", Verb: GivenBack, Lines: true, Asks: []Ask{askLine}, Source: "the container", Event: "owner-given", Known: events.CountedOpen, Does: "the owner has these again", Try: "bag, GIVEN BACK, size M8x1.25x30, 2", Build: tell(func(s *Said) events.Event {
		return events.OwnerGiven{From: s.from(), Lines: s.AllLines()}
	})},
	{Subject: "", Verb: OwnersThings, Nature: Query, Does: "what the owner brought, wants to see or have, and what is not settled", Try: "OWNER'S THINGS"},
}

// amount reads an answer that is money.
func amount(text string) (engine.Money, error) {
	m, ok := engine.ParseMoney(text)
	if !ok {
		return m, &engine.Refusal{Code: engine.Malformed, Fact: `"` + text + `" is no amount`, Next: "say it again, as 120.50 EUR"}
	}
	return m, nil
}

func buildCore(s *Said) (engine.Command, error) {
	parts := s.Parts()
	e := events.CoreAgreed{Part: parts[0], Supplier: s.At(0, Supplier).ID, Due: s.Reply("due").Day, With: parts[1:], Whole: s.Reply("whole").Word == KeepWhole}
	if len(e.With) == 0 {
		e.With = nil
	}
	if r := s.Reply("deposit"); !r.None && r.Text != "" {
		m, err := amount(r.Text)
		if err != nil {
			return nil, err
		}
		e.Deposit, e.Currency = m.Amount, m.Currency
	}
	return engine.Tell{Event: e}, nil
}

// doubtCredit is what is odd about money paid back for an old part.
func doubtCredit(s *Said) string {
	m, ok := engine.ParseMoney(s.Reply("credit").Text)
	if !ok {
		return ""
	}
	return s.Job.DoubtCredit(s.Part(), m)
}

// buildCredited reads what was paid back and each deduction: an amount, then why.
func buildCredited(s *Said) (engine.Command, error) {
	m, err := amount(s.Reply("credit").Text)
	if err != nil {
		return nil, err
	}
	if s.Reply("sure").Word == No {
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: "that credit is not stored", Next: "scan the part, CREDITED and the amount again"}
	}
	e := events.CoreCredited{Part: s.Part(), Credit: m.Amount, Currency: m.Currency}
	for _, one := range strings.Split(s.Reply("off").Text, ";") {
		one = strings.TrimSpace(one)
		if one == "" {
			continue
		}
		number, why, _ := strings.Cut(one, " ")
		off, err := amount(number)
		if err != nil {
			return nil, err
		}
		if strings.TrimSpace(why) == "" {
			return nil, &engine.Refusal{Code: engine.Malformed, Fact: off.String() + " was taken off without a reason", Next: "say the amount, then why, as 20.00 no pulley"}
		}
		e.Off = append(e.Off, events.Deduction{Amount: off.Amount, Why: strings.TrimSpace(why)})
	}
	return engine.Tell{Event: e}, nil
}

func buildOwnerBrought(s *Said) (engine.Command, error) {
	e := events.OwnerBrought{To: s.Container(0), Lines: append(s.partLines(), s.AllLines()...)}
	switch s.Reply("sealed").Word {
	case Sealed:
		e.Sealed = events.SealWhole
	case NotSealed:
		e.Sealed = events.SealOpen
	}
	return engine.Tell{Event: e}, nil
}

func buildOwnerWants(s *Said) (engine.Command, error) {
	e := events.OwnerAsked{Part: s.Part()}
	switch s.Reply("wish").Word {
	case ShowIt:
		e.Wish = events.WishShown
	case GiveItBack:
		e.Wish = events.WishBack
	}
	return engine.Tell{Event: e}, nil
}

func givenPart(s *Said) events.Event {
	from, here := s.Container(0), s.State().OwnersPartLies(s.Part())
	if from == "" && here != "" && (s.Reply("which").Word == Owner || !twoToGive(s)) {
		lines := s.partLines()
		for i := range lines {
			lines[i].Lot = engine.OwnersLot
		}
		return events.OwnerGiven{From: here, Lines: lines}
	}
	if from == "" {
		from = s.partAt()
	}
	return events.OwnerGiven{Part: s.Part(), From: from, Lines: s.partLines()}
}

// twoToGive: one that the owner brought lies here, and so does the old one, and
// nobody said where.
func twoToGive(s *Said) bool {
	return s.Container(0) == "" && s.State().OwnersPartLies(s.Part()) != "" && s.State().PartLies(s.Part(), "") != ""
}
