package scan

import (
	"strings"

	"countback/events"
	"countback/projections/engine"
)

var (
	askPromised = Ask{Key: "day", Kind: AskDate, Prompt: "Promised for which day? (OK: not said)", Skip: true}
	askWhatElse = Ask{Key: "lines", Kind: AskLines, Prompt: "What was ordered: size or part, then how many; OK ends it", When: nothingListed}
	askDays     = Ask{Key: "days", Kind: AskNumber, Prompt: "How many days from order to here?", When: noNumber}
)

var aheadRows = []Sentence{
	{Subject: "supplier", Verb: OrderedWord, Lines: true, Asks: []Ask{askWhatElse, askPromised}, Event: "ordered",
		Does: "was ordered there: the sizes said before it, or else all that the buy list has for this supplier, or for nobody yet", Try: "supplier Fjord, ORDERED, 14.12.", Build: buildOrdered},
	{Subject: "supplier part+", Verb: OrderedWord, Lines: true, Asks: []Ask{askPromised}, Event: "ordered",
		Does: "these parts were ordered there", Try: "supplier Fjord, part head-gasket, ORDERED, 14.12.", Build: buildOrdered},
	{Subject: "supplier kit", Verb: OrderedWord, Lines: true, Asks: []Ask{askPromised}, Event: "ordered",
		Does: "a kit was ordered there", Try: "supplier Fjord, kit gasket-set, ORDERED, 14.12.", Build: buildOrdered},
	{Subject: "order", Verb: Closed, Asks: []Ask{{Key: "why", Kind: AskText, Prompt: "Why does no more come?", Words: []Word{WaitsPart, Agreed}}}, Event: "order-closed",
		Does: "no more comes of it: what lacks is to be bought again", Try: "order o12-b2, CLOSED, text out of make", Build: tell(func(s *Said) events.Event {
			return events.OrderClosed{Order: s.At(0, Order).ID, Why: s.Why("why")}
		})},
	{Subject: "order part?", Verb: PromisedWord, Asks: []Ask{askDay}, Event: "promised",
		Does: "is promised for a day; of several words the last stands; a size or part before it: one line of the order", Try: "order o12-b2, PROMISED, 14.12.", Build: buildPromised},
	{Subject: "slip|part|hold", Verb: PromisedWord, Asks: []Ask{askDay}, Event: "promised",
		Does: "comes back, or goes away, on a day: as somebody promised", Try: "slip, PROMISED, 14.12.", Build: buildPromised},
	{Subject: "step", Verb: PlannedWord, Asks: []Ask{{Key: "day", Kind: AskDate, Prompt: "Which day is it to start?", Words: []Word{DoNotKnow}}}, Event: "step-planned",
		Does: "is to start on a day; the steps around it follow", Try: "step head-on, PLANNED, 14.12.", Build: buildPlanned},
	{Subject: "supplier part?", Verb: LeadTime, N: true, Asks: []Ask{askDays}, Event: "lead-time-set",
		Does: "so many days from order to here; with a part or a size: of whom that is bought, too", Try: "supplier Fjord, 6, LEAD TIME", Build: buildLead},
	{Subject: "supplier kit", Verb: LeadTime, N: true, Asks: []Ask{askDays}, Event: "lead-time-set",
		Does: "the same, of a kit", Try: "supplier Fjord, kit gasket-set, 6, LEAD TIME", Build: buildLead},
	{Subject: "order container?", Verb: Received, Lines: true, Asks: []Ask{
		{Key: "sizes", Kind: AskSizes, Prompt: "How many of each came?", Sizes: dueSizes, When: stillDue},
		{Key: "line", Kind: AskLine, Prompt: "Nothing is due of it. Which size or part came, and how many?", When: nothingDue},
		{Key: "odd", Kind: AskOK, Items: oddlyReceived, When: func(s *Said) bool { return len(oddlyReceived(s)) > 0 }},
		{Key: "rest", Kind: AskWord, Words: []Word{StillToCome, DeliveredShort}, Prompts: restPrompt, When: func(s *Said) bool { return len(restOf(s)) > 0 }, Skip: true}},
		Source: "outside", Event: "hardware-received", Known: events.CountedOpen,
		Does: "this came of the order; more and other than ordered is shown and asked about, and of less, whether the rest is still to come", Try: "order o12-b2, stock kit-7, RECEIVED, 10, 0, DELIVERED SHORT", Build: buildCame},
	{Subject: "container order", Verb: SentBack, Lines: true, Asks: []Ask{askLine, askBackWhy}, Source: "the container", Event: "hardware-sent-back", Known: events.CountedOpen,
		Does: "went back to the supplier: it is owed again", Try: "stock kit-7, order o12-b2, SENT BACK, size M10x1.5x150, 2, DAMAGED", Build: buildSentBack},
	{Subject: "container supplier", Verb: SentBack, Lines: true, Asks: []Ask{askLine, askBackWhy}, Source: "the container", Event: "hardware-sent-back", Known: events.CountedOpen,
		Does: "went back to the supplier", Try: "stock kit-7, supplier Fjord, SENT BACK, size M10x1.5x150, 2, DAMAGED", Build: buildSentBack},
	{Subject: "step|joint|part", Verb: SealantOn, Asks: []Ask{{Key: "lot", Kind: AskText, Prompt: "Which lot is it? (OK: not said)", Skip: true}}, Event: "sealant-applied",
		Does: "the bead is on: its open time runs until all is in; once more, it starts anew", Try: "joint front-cover, SEALANT ON, OK", Build: buildSealant},
	{Subject: "", Verb: BuyListWord, Nature: Query, Does: "what has to come from outside, why, and by when to order it", Try: "BUY LIST"},
	{Subject: "", Verb: OrdersWord, Nature: Query, Does: "what was ordered, what came of it, and when the rest was promised", Try: "ORDERS"},
	{Subject: "order", Verb: OrdersWord, Nature: Query, Does: "the same, of one order, with every promise", Try: "order o12-b2, ORDERS"},
	{Subject: "kit", Verb: OrdersWord, Nature: Query, Does: "what was counted of a kit against its list", Try: "kit gasket-set, ORDERS"},
}

var (
	askDay     = Ask{Key: "day", Kind: AskDate, Prompt: "For which day? (DO NOT KNOW takes a promise back)", Words: []Word{DoNotKnow}}
	askBackWhy = Ask{Key: "why", Kind: AskText, Prompt: "Why? (OK: not said)", Words: []Word{Damaged, WrongBag}, Skip: true}
)

func noNumber(s *Said) bool { return !s.HasN }

// supplier is the supplier of a sentence, as it was spelled before.
func (s *Said) supplier() string {
	name := s.At(0, Supplier).ID
	for _, o := range s.State().Orders() {
		if strings.EqualFold(o.Supplier, name) {
			return o.Supplier
		}
	}
	for _, l := range s.State().LeadTimes() {
		if strings.EqualFold(l.Supplier, name) {
			return l.Supplier
		}
	}
	return name
}

// listed is what the buy list has for a supplier, or for nobody yet.
func listed(s *Said) []events.Line {
	var own, others []events.Line
	name := s.supplier()
	for _, g := range s.Job.Buy().Groups {
		for _, l := range g.Lines {
			switch {
			case l.Buy == 0:
			case g.Supplier == name:
				own = append(own, events.Line{Kind: l.Kind, Qty: l.Buy})
			case g.Supplier == "":
				others = append(others, events.Line{Kind: l.Kind, Qty: l.Buy})
			}
		}
	}
	if len(own) > 0 {
		return own
	}
	return others
}

func nothingListed(s *Said) bool { return len(s.Lines) == 0 && len(listed(s)) == 0 }

func buildOrdered(s *Said) (engine.Command, error) {
	lines := s.AllLines()
	for _, l := range s.partLines() {
		if !hasLine(lines, l.Kind) {
			lines = append(lines, l)
		}
	}
	if n := s.At(0, Kit); n.ID != "" {
		lines = append(lines, events.Line{Kind: events.Kind(n.Text()), Qty: 1})
	}
	if len(lines) == 0 {
		lines = listed(s)
	}
	return engine.Tell{Event: events.Ordered{Order: s.name("o"), Supplier: s.supplier(), Lines: lines, Promised: s.Reply("day").Day}}, nil
}

func hasLine(lines []events.Line, k events.Kind) bool {
	for _, l := range lines {
		if l.Kind == k {
			return true
		}
	}
	return false
}

// oneKind is the size or part that a sentence is about beside its first noun.
func (s *Said) oneKind() events.Kind {
	switch {
	case len(s.Sizes) > 0:
		return s.Sizes[0]
	case s.At(0, Kit).ID != "":
		return events.Kind(s.At(0, Kit).Text())
	}
	return events.Kind(s.Part())
}

func buildPromised(s *Said) (engine.Command, error) {
	e := events.Promised{On: s.Nouns[0].Text(), Day: s.Reply("day").Day}
	if s.Has(Order) {
		e.Kind = s.oneKind()
		o := s.State().Order(s.Nouns[0].ID)
		if e.Kind != "" && (o == nil || !onOrder(o, e.Kind)) {
			return nil, &engine.Refusal{Code: engine.Unknown, Fact: "order " + s.Nouns[0].ID + " has no " + string(e.Kind), Next: "scan a size or part that was ordered"}
		}
	}
	return engine.Tell{Event: e}, nil
}

func onOrder(o *engine.Order, k events.Kind) bool {
	for i := range o.Lines {
		if o.Lines[i].Kind == k {
			return true
		}
	}
	return false
}

func buildPlanned(s *Said) (engine.Command, error) {
	return engine.Tell{Event: events.StepPlanned{Step: events.Step(s.At(0, Step).ID), Day: s.Reply("day").Day}}, nil
}

func buildLead(s *Said) (engine.Command, error) {
	days := s.Number
	if !s.HasN {
		days = s.Reply("days").N
	}
	return engine.Tell{Event: events.LeadTimeSet{Supplier: s.supplier(), Kind: s.oneKind(), Days: days}}, nil
}

// dueSizes are the kinds that are still to come of an order.
func dueSizes(s *Said) []events.Kind {
	var kinds []events.Kind
	o := s.State().Order(s.At(0, Order).ID)
	if o == nil || o.Closed != 0 {
		return nil
	}
	for i := range o.Lines {
		if o.Lines[i].Due() > 0 {
			kinds = append(kinds, o.Lines[i].Kind)
		}
	}
	return kinds
}

func stillDue(s *Said) bool   { return len(s.Lines) == 0 && len(dueSizes(s)) > 0 }
func nothingDue(s *Said) bool { return len(s.Lines) == 0 && len(dueSizes(s)) == 0 }

// oddlyReceived is what came and was not ordered so, to be confirmed.
func oddlyReceived(s *Said) []string {
	o := s.State().Order(s.At(0, Order).ID)
	if o == nil {
		return nil
	}
	var list []string
	if o.Closed != 0 {
		list = append(list, "Order "+o.ID+" is closed")
	} else if o.Due() == 0 && o.State() == "received" {
		list = append(list, "All of order "+o.ID+" was received before")
	}
	for _, l := range s.AllLines() {
		due, ordered := 0, false
		for i := range o.Lines {
			if o.Lines[i].Kind == l.Kind {
				due, ordered = o.Lines[i].Due(), o.Lines[i].Ordered > 0
			}
		}
		switch {
		case l.Qty > 0 && !ordered:
			list = append(list, itoa(l.Qty)+" "+string(l.Kind)+" came, and none was ordered")
		case l.Qty > due && due > 0:
			list = append(list, itoa(l.Qty)+" "+string(l.Kind)+" came, and "+itoa(due)+" were due")
		}
	}
	return list
}

// restOf is what was due of the sizes that were counted and did not come.
func restOf(s *Said) []events.Line {
	o := s.State().Order(s.At(0, Order).ID)
	if o == nil || o.Closed != 0 {
		return nil
	}
	var list []events.Line
	came := false
	for _, l := range s.AllLines() {
		came = came || l.Qty > 0
		for i := range o.Lines {
			if due := o.Lines[i].Due(); o.Lines[i].Kind == l.Kind && due > l.Qty {
				list = append(list, events.Line{Kind: l.Kind, Qty: due - l.Qty})
			}
		}
	}
	if !came {
		return nil // nothing came at all: that is refused
	}
	return list
}

func restPrompt(s *Said) string {
	text := ""
	for i, l := range restOf(s) {
		if i > 0 {
			text += ", "
		}
		text += engine.Several(l.Qty, s.State().KindWords(l.Kind))
	}
	return "Not here: " + text + ". What of the rest? (OK: not said)"
}

func buildCame(s *Said) (engine.Command, error) {
	id := s.At(0, Order).ID
	e := events.HardwareReceived{From: "outside/supplier/not said", To: events.Place("stock/" + id), Order: id}
	if o := s.State().Order(id); o != nil && o.Supplier != "" {
		e.From = events.Place("outside/supplier/" + o.Supplier)
	}
	if to := s.Container(0); to != "" {
		e.To = to
	}
	if n := s.At(0, Stock); n.ID != "" {
		e.Lot = events.Lot(n.ID)
	}
	for _, l := range s.AllLines() {
		if l.Qty > 0 {
			e.Lines = append(e.Lines, l)
		}
	}
	if s.Reply("rest").Word == DeliveredShort {
		e.Short = restOf(s)
	}
	if len(e.Lines) == 0 {
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: "nothing came of order " + id, Next: "PROMISED says when it will; CLOSED, that no more does"}
	}
	return engine.Tell{Event: e}, nil
}

func buildSentBack(s *Said) (engine.Command, error) {
	e := events.HardwareSentBack{From: s.Container(0), Supplier: s.supplier(), Order: s.At(0, Order).ID, Lines: s.AllLines(), Why: s.Why("why")}
	if o := s.State().Order(e.Order); o != nil {
		e.Supplier = o.Supplier
	}
	return engine.Tell{Event: e}, nil
}

func buildSealant(s *Said) (engine.Command, error) {
	e := events.SealantApplied{Lot: events.Lot(s.Reply("lot").Text)}
	switch n := s.Nouns[0]; n.Type {
	case Step:
		e.Step = events.Step(n.ID)
	case Joint:
		e.Joint = events.Joint(n.ID)
	case Part:
		e.Part = events.Part(n.ID)
	}
	return engine.Tell{Event: e}, nil
}

// kitOrder is the order that a kit came with that is opened as it comes: the
// first that it is due of, where none lies here unopened. Empty: none.
func kitOrder(s *Said, kit events.Kind) string {
	if s.State().Unopened(kit) > 0 {
		return ""
	}
	for _, o := range s.State().Orders() {
		for i := range o.Lines {
			if o.Closed == 0 && o.Lines[i].Kind == kit && o.Lines[i].Due() > 0 {
				return o.ID
			}
		}
	}
	return ""
}
