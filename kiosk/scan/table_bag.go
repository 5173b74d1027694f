package scan

import (
	"strings"

	"countback/events"
	"countback/labels/code"
	"countback/projections/engine"
	"countback/projections/ledger"
)

var (
	askAt    = Ask{Key: "sizes", Kind: AskSizes, Prompt: "How many of each size are in it now?", Sizes: sizesAt}
	askLine  = Ask{Key: "line", Kind: AskLine, Prompt: "Which size, and how many?", Sizes: sizesFrom, When: noLines}
	askWhy   = Ask{Key: "why", Kind: AskText, Prompt: "Why?", Words: []Word{WrongBag, Torn, Look, Owner, Test}}
	askAgain = Ask{Key: "why", Kind: AskText, Prompt: "Why? (OK: not said)", Words: []Word{Torn}, Skip: true}
	askCame  = Ask{Key: "line", Kind: AskLine, Prompt: "Which size or part, and how many?", When: noLines}
	askEmpty = Ask{Key: "sizes", Kind: AskSizes, Prompt: "How many of each size are in it? (OK: not counted)", Sizes: sizesAt, Skip: true, When: uncounted}
)

var bagRows = []Sentence{
	{Subject: "container", Verb: Count, Lines: true, Asks: []Ask{askAtUnless}, Event: "counted", Known: events.CountedBlind,
		Does: "this is all that is in it now", Try: "bag, COUNT, 1, 8, 4, 5", Build: buildCount},
	{Subject: "container", Verb: Empty, Event: "counted", Known: events.CountedBlind,
		Does: "nothing is in it", Try: "bag, EMPTY", Build: buildEmpty},
	{Subject: "container", Verb: PutIn, Nature: AskFor, Lines: true, Asks: []Ask{askCame}, Source: "this bench", Event: "pieces-moved", Known: events.CountedOpen,
		Does: "adds to what is in it, from the bench", Try: "bag, size M8x1.25x30, 2, PUT IN", Build: buildPutIn},
	{Subject: "bag", Verb: Open, Event: "bag-opened", Does: "the bag was opened", Try: "bag, OPEN", Build: tell(func(s *Said) events.Event {
		return events.BagOpened{Bag: s.bag(0)}
	})},
	{Subject: "bag", Verb: Close, Asks: []Ask{askEmpty}, Event: "bag-closed", Known: events.CountedBlind,
		Does: "the bag was closed; what was touched since its last count is counted", Try: "bag, CLOSE, 17", Build: tell(func(s *Said) events.Event {
			return events.BagClosed{Bag: s.bag(0), Lines: s.AllLines()}
		})},
	{Subject: "bag", Verb: Retire, Nature: AskFor, Event: "bag-retired", Does: "the bag is empty and its label torn up", Try: "bag, RETIRE", Build: buildRetire},
	{Subject: "bag", Verb: PrintAgain, Asks: []Ask{askAgain}, Event: "label-reprinted",
		Does: "its label is printed once more, and says so", Try: "bag, PRINT AGAIN, TORN", Build: tell(func(s *Said) events.Event {
			return events.LabelReprinted{Code: s.bag(0), Why: s.Why("why")}
		})},
	{Subject: "bag bag", Verb: Merge, Nature: AskFor, Source: "the first bag", Event: "bags-merged",
		Does: "everything of the first bag is in the second", Try: "bag, bag, MERGE", Build: buildMerge},
	{Subject: "bag bag", Verb: Split, Lines: true, Asks: []Ask{askLine}, Source: "the first bag", Event: "bag-split", Known: events.CountedOpen,
		Does: "some of the first bag is in the second, a new one", Try: "bag, bag, SPLIT, size M8x1.25x45, 2", Build: tell(func(s *Said) events.Event {
			return events.BagSplit{From: s.bag(0), Into: s.bag(1), Lines: s.AllLines()}
		})},
	{Subject: "container bag|stock|rack|tray", Verb: Move, Lines: true, Asks: []Ask{askLine}, Source: "the first container", Event: "pieces-moved", Known: events.CountedOpen,
		Nature: AskFor,
		Does:   "some of the first is in the second; old and new of a size are not mixed", Try: "bag, bag, MOVE, size M8x1.25x45, 2", Build: buildMoveIn},
	{Subject: "container place|bench", Verb: Move, Lines: true, Source: "the container", Event: "pieces-moved",
		Does: "everything in it, or these sizes, is there now", Try: "bag, place wash, MOVE", Build: buildMove},
	{Subject: "part+ container", Verb: Move, Source: "where the part lay", Event: "pieces-moved",
		Does: "the part lies there now", Try: "part front-cover, place wash, MOVE", Build: buildMovePart},
	{Subject: "from", Verb: Scrap, Lines: true, Asks: []Ask{askLine}, Source: "the container", Event: "pieces-scrapped", Known: events.CountedOpen,
		Does: "thrown away", Try: "bag, SCRAP, size M8x1.25 copper nut, 9", Build: tell(func(s *Said) events.Event {
			return events.PiecesScrapped{From: s.from(), Lines: s.AllLines()}
		})},
	{Subject: "bench joint", Verb: Scrap, Lines: true, Asks: []Ask{askLine}, Source: "the bench", Event: "pieces-scrapped", Known: events.CountedOpen,
		Does: "what lies loose of a joint there: thrown away", Try: "bench b2, joint exhaust, SCRAP, size M8x1.25 copper nut, 9", Build: tell(func(s *Said) events.Event {
			return events.PiecesScrapped{From: s.from(), Lines: s.AllLines()}
		})},
	{Subject: "part", Verb: Scrap, Source: "where the part lay", Event: "pieces-scrapped", Does: "the part was thrown away", Try: "part chain, SCRAP", Build: tell(func(s *Said) events.Event {
		return events.PiecesScrapped{From: s.partAt(), Lines: s.partLines()}
	})},
	{Subject: "from", Verb: Keep, Lines: true, Asks: []Ask{askLine}, Source: "the container", Event: "pieces-kept", Known: events.CountedOpen,
		Does: "kept as a sample, for reference only", Try: "bag, KEEP, size M12x1.25x45, 1", Build: tell(func(s *Said) events.Event {
			return events.PiecesKept{From: s.from(), Lines: s.AllLines()}
		})},
	{Subject: "bench joint", Verb: Keep, Lines: true, Asks: []Ask{askLine}, Source: "the bench", Event: "pieces-kept", Known: events.CountedOpen,
		Does: "what lies loose of a joint there: kept as a sample", Try: "bench b2, joint exhaust, KEEP, size M8x1.25 copper nut, 1", Build: tell(func(s *Said) events.Event {
			return events.PiecesKept{From: s.from(), Lines: s.AllLines()}
		})},
	{Subject: "part", Verb: Keep, Source: "where the part lay", Event: "pieces-kept", Does: "the part is kept as a sample", Try: "part guide-fixed, KEEP", Build: tell(func(s *Said) events.Event {
		return events.PiecesKept{From: s.partAt(), Lines: s.partLines()}
	})},
	{Subject: "from cavity?", Verb: Lost, Lines: true, Asks: []Ask{askLine}, Source: "the container", Event: "loss-reported", Known: events.CountedOpen,
		Does: "dropped or gone, heard to go into a cavity or not", Try: "bag, cavity timing-case, LOST, size M8x1.25x30, 1", Build: tell(func(s *Said) events.Event {
			return events.LossReported{From: s.from(), Lines: s.AllLines(), Cavity: events.Cavity(s.At(0, Cavity).ID)}
		})},
	{Subject: "joint cavity?", Verb: Lost, Lines: true, Asks: []Ask{{Key: "line", Kind: AskLine, Prompt: "Which size, and how many?", Sizes: sizesOut, When: noLines}}, Source: "this bench", Event: "loss-reported", Known: events.CountedOpen,
		Does: "the same, of what is loose of a joint", Try: "joint oil-pan, LOST, size M6x1.0x20, 1", Build: tell(func(s *Said) events.Event {
			return events.LossReported{From: s.loose(), Lines: s.AllLines(), Cavity: events.Cavity(s.At(0, Cavity).ID)}
		})},
	{Subject: "from", Verb: Condemned, Lines: true, Asks: []Ask{askLine}, Event: "condition-changed", Known: events.CountedOpen,
		Does: "not to be used again", Try: "bag, CONDEMNED, size M10x1.5x150, 2", Build: buildCond(events.Condemned)},
	{Subject: "from", Verb: MeasuredGood, Lines: true, Asks: []Ask{askLine}, Event: "condition-changed", Known: events.CountedOpen,
		Does: "measured, may be used again", Try: "bag, MEASURED GOOD, size M10x1.5x150, 8", Build: buildCond(events.MeasuredGood)},
	{Subject: "bench joint?", Verb: Swept, Event: "bench-swept", Known: events.CountedBlind,
		Does: "nothing of the job, or of the joint, is loose on the bench", Try: "bench b2, SWEPT", Build: tell(func(s *Said) events.Event {
			return events.BenchSwept{Bench: events.Terminal(s.At(0, Bench).ID), Joint: s.Joint()}
		})},
	{Subject: "joint bag", Verb: LabelWord, Event: "bag-labelled", Does: "the bag is for this joint", Try: "joint exhaust, bag, LABEL", Build: tell(func(s *Said) events.Event {
		return events.BagLabelled{Bag: s.bag(0), Joint: s.Joint()}
	})},
	{Subject: "part bag", Verb: LabelWord, Event: "bag-labelled", Does: "the bag is for this part", Try: "part locks, bag, LABEL", Build: tell(func(s *Said) events.Event {
		return events.BagLabelled{Bag: s.bag(0), Part: s.Part()}
	})},
	{Subject: "supplier? container", Verb: Received, Lines: true, Asks: []Ask{askCame}, Source: "outside", Event: "hardware-received", Known: events.CountedOpen,
		Does: "came in from outside, new; from the drawer if no supplier is said", Try: "supplier fjord, stock kit-7, size M10x1.5x150, 10, RECEIVED", Build: buildReceived},
	{Subject: "supplier? container", Verb: ReceivedUsed, Lines: true, Asks: []Ask{askCame,
		{Key: "whose", Kind: AskWord, Prompt: "From whom? (OK: out of the drawer)", Words: []Word{Owner, Seller}, Skip: true, When: func(s *Said) bool { return !s.Has(Supplier) }}},
		Source: "outside", Event: "hardware-received", Known: events.CountedOpen,
		Does: "came in from outside, used: as found, from the owner, a supplier or the drawer", Try: "bag, size M8x1.25x45, 2, RECEIVED USED, OWNER", Build: buildReceived},
	{Subject: "kit container?", Verb: Opened, Lines: true, Asks: []Ask{{Key: "sizes", Kind: AskSizes, Prompt: "How many of each are in the kit?", Sizes: kitSizes, When: noLines}},
		Source: "outside", Event: "kit-opened", Known: events.CountedOpen, Does: "a kit was opened and counted", Try: "kit bolt-set, OPENED, 1, 1, 1, 8, 2, 2, 2, 6, 10", Build: buildKit},
	{Subject: "container job", Verb: Lend, Lines: true, Asks: []Ask{askLine}, Source: "the container", Event: "hardware-lent", Known: events.CountedOpen,
		Does: "lent to another job; the number on the screen goes with it", Try: "bag, job 4K9, LEND, size M8x1.25x30, 1", Build: buildLend},
	{Subject: "container job", Verb: Borrow, Lines: true, Asks: []Ask{askCame, {Key: "ref", Kind: AskText, Prompt: "Which number did the lending job show?"}}, Source: "the other job",
		Event: "hardware-borrowed", Known: events.CountedOpen, Does: "borrowed from another job, under its number", Try: "bag, job 4K7, BORROW, size M8x1.25x30, 1, text b2-96", Build: buildBorrow},
}

var askAtUnless = Ask{Key: "sizes", Kind: AskSizes, Prompt: askAt.Prompt, Sizes: sizesAt, When: noLines}

// tell makes a Build of a plain tell.
func tell(ev func(*Said) events.Event) func(*Said) (engine.Command, error) {
	return func(s *Said) (engine.Command, error) { return engine.Tell{Event: ev(s)}, nil }
}

func (s *Said) bag(i int) events.Code { return events.Code(s.At(i, Bag).ID) }

// from is the place of a sentence about what is in one, a rack's position
// among them.
func (s *Said) from() events.Place {
	if b, j := s.At(0, Bench), s.Joint(); b.ID != "" && j != "" {
		return events.Place("bench/" + b.ID + "/" + string(j))
	}
	if r, p := s.At(0, Rack), s.At(0, Position); r.ID != "" && p.ID != "" {
		return PlaceOf(r) + "/" + events.Place(last(p.ID))
	}
	return s.Container(0)
}

// loose is where the loose pieces of a joint are on this bench.
func (s *Said) loose() events.Place {
	return events.Place("bench/" + string(s.Here) + "/" + string(s.Joint()))
}

// partAt is where a part that is off lies; one that is on lay on this bench when
// it had come off.
func (s *Said) partAt() events.Place {
	if at := s.State().PartLies(s.Part(), ""); at != "" {
		return at
	}
	if at := s.State().PartAt(s.Part()); at != "" {
		return at
	}
	return events.Place("bench/" + string(s.Here) + "/part " + string(s.Part()))
}

func (s *Said) partLines() []events.Line {
	var lines []events.Line
	for _, id := range s.Parts() {
		n := 1
		if p, ok := s.Plan().Part(id); ok {
			n = max(1, s.Plan().Parts[p].Count)
		}
		lines = append(lines, events.Line{Kind: events.Kind(id), Qty: n})
	}
	return lines
}

// sizesFrom are the sizes that a sentence about some of a container offers.
func sizesFrom(s *Said) []events.Kind { return kindsAt(s, s.from()) }

// uncounted: something was moved at the bag since its last count.
func uncounted(s *Said) bool {
	book := s.State().Book()
	a, ok := book.Lookup(s.Container(0))
	if !ok || len(kindsAt(s, s.Container(0))) == 0 {
		return false
	}
	return !book.Undisturbed(a, book.LastCount(a).Fact)
}

func buildCount(s *Said) (engine.Command, error) {
	return engine.Tell{Event: events.Counted{Place: s.Container(0), Lines: s.AllLines(), All: true}}, nil
}

func buildEmpty(s *Said) (engine.Command, error) {
	return engine.Tell{Event: events.Counted{Place: s.Container(0), All: true}}, nil
}

func buildPutIn(s *Said) (engine.Command, error) {
	lines := s.AllLines()
	return engine.PutIn{From: looseWith(s, lines), To: s.Container(0), Lines: lines, Tray: trayOf(s, 0)}, nil
}

// looseWith is where pieces are loose on this bench: under the joint or part
// of the bag, or else under the first that has any of them.
func looseWith(s *Said, lines []events.Line) events.Place {
	bench := "bench/" + string(s.Here)
	if joint, part := BagOf(s.Job, s.bag(0)); joint != "" || part != "" {
		if from := events.Place(bench + "/" + string(joint) + string(part)); len(s.State().At(from)) > 0 {
			return from
		}
	}
	book := s.State().Book()
	for a := 1; a <= book.Accounts(); a++ {
		path := string(book.Path(ledger.AccountID(a)))
		if !strings.HasPrefix(path+"/", bench+"/") {
			continue
		}
		for _, l := range lines {
			if book.Balance(ledger.AccountID(a), ledger.OfKind(book.Kind(l.Kind))) > 0 {
				return events.Place(path)
			}
		}
	}
	return events.Place(bench)
}

func buildMoveIn(s *Said) (engine.Command, error) {
	return engine.PutIn{From: s.Container(0), To: s.Container(1), Lines: s.AllLines(), Tray: trayOf(s, 1)}, nil
}

func buildMove(s *Said) (engine.Command, error) {
	return engine.Tell{Event: events.PiecesMoved{From: s.Container(0), To: s.Container(1), Lines: s.AllLines()}}, nil
}

func buildMovePart(s *Said) (engine.Command, error) {
	return engine.Tell{Event: events.PiecesMoved{From: s.partAt(), To: s.Container(0), Lines: s.partLines()}}, nil
}

func buildRetire(s *Said) (engine.Command, error) {
	return engine.RetireBag{Bag: s.bag(0)}, nil
}

func buildMerge(s *Said) (engine.Command, error) {
	return engine.MergeBags{From: s.bag(0), Into: s.bag(1)}, nil
}

func buildCond(c events.Condition) func(*Said) (engine.Command, error) {
	return tell(func(s *Said) events.Event {
		return events.ConditionChanged{Place: s.from(), Lines: s.AllLines(), Cond: c}
	})
}

func buildReceived(s *Said) (engine.Command, error) {
	e := events.HardwareReceived{From: "outside/drawer", To: s.Container(0), Lines: s.AllLines(), AsFound: s.Verb == ReceivedUsed}
	switch s.Reply("whose").Word {
	case Owner:
		e.From = "outside/owner"
	case Seller:
		e.From = "outside/supplier/seller"
	}
	if n := s.At(0, Supplier); n.ID != "" {
		e.From = events.Place("outside/supplier/" + n.ID)
	}
	if n := s.At(0, Stock); n.ID != "" {
		e.Lot = events.Lot(n.ID)
	}
	return engine.Tell{Event: e}, nil
}

// kitSizes are the lines of a kit in the order of the plan.
func kitSizes(s *Said) []events.Kind {
	var kinds []events.Kind
	p := s.Plan()
	for i := range p.Kits {
		if p.Kits[i].ID != s.At(0, Kit).ID {
			continue
		}
		for _, l := range p.Kits[i].Lines {
			if l.Part >= 0 {
				kinds = addKind(kinds, events.Kind(p.Parts[l.Part].ID))
			} else {
				kinds = addKind(kinds, l.Kind)
			}
		}
	}
	return kinds
}

func buildKit(s *Said) (engine.Command, error) {
	kit := s.At(0, Kit).ID
	e := events.KitOpened{Kit: kit, Lot: events.Lot(kit), To: events.Place("stock/" + kit), Lines: s.AllLines()}
	if to := s.Container(0); to != "" {
		e.To = to
	}
	e.Order = kitOrder(s, events.Kind("kit "+kit))
	return engine.Tell{Event: e}, nil
}

func buildLend(s *Said) (engine.Command, error) {
	ref := string(s.Here) + "-" + itoa(int(s.NextN))
	return engine.Tell{Event: events.HardwareLent{Ref: ref, To: events.Job(s.At(0, JobNoun).ID), From: s.Container(0), Lines: s.AllLines()}}, nil
}

func buildBorrow(s *Said) (engine.Command, error) {
	return engine.Tell{Event: events.HardwareBorrowed{Ref: s.Reply("ref").Text, From: events.Job(s.At(0, JobNoun).ID), To: s.Container(0), Lines: s.AllLines()}}, nil
}

// caseCode is the label of a new case: the one that was scanned, or the next
// of this terminal.
func (s *Said) caseCode() events.Code {
	if n := s.At(0, Case); n.ID != "" {
		return events.Code(n.ID)
	}
	return s.Fresh(code.Case)
}
