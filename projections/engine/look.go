package engine

import (
	"strings"

	"countback/events"
	"countback/projections/ledger"
)

// lookFor lists where the pieces of a short may be, the likeliest first: where
// they were heard to go, where as many are too many, the bags and benches that
// were handled in between, the cavities that were open and those that they lead
// to, then the places where things hide in every shop.
func (s *State) lookFor(en *ledger.Entry) []string {
	var list []string
	add := func(text string) {
		if text != "" && !contains(list, text) {
			list = append(list, text)
		}
	}
	if c := s.handsCavity(en); c != "" {
		add(c)
	}
	for _, text := range s.batchLooks(en) {
		add(text)
	}
	kind := s.book.KindOf(en.Item)
	for k := 1; k <= s.book.Entries(); k++ {
		if o := s.book.Entry(ledger.EntryNo(k)); o.Open > 0 && o.Sign == ledger.Over && o.Place != en.Place && s.book.KindOf(o.Item) == kind {
			add(s.placeWords(s.book.Path(o.Place)) + ", " + itoa(int(o.Open)) + " too many by the count of " + s.day(o.Shown))
		}
	}
	var heaps []string // what lies loose of a part and of its joint is one heap on one bench
	for _, a := range s.handledBetween(en, kind) {
		if name := s.placeWords(s.book.Path(a)); !contains(heaps, name) {
			heaps = append(heaps, name)
			add(name + s.countedWords(a))
		}
	}
	for _, c := range s.couldBeIn(en) {
		text := s.cavityWords(c)
		switch {
		case s.cleared(c, en.Shown):
			continue
		case s.now.Open(c):
			text += ", open"
		default:
			text += ", closed"
		}
		add(text)
	}
	for _, h := range s.lay.plan.HidingPlaces {
		add(h)
	}
	return list
}

// handsCavity is the cavity into which a loss was heard or seen to go.
func (s *State) handsCavity(en *ledger.Entry) string {
	ev, ok := s.job.standing(en.Shown)
	l, isLoss := ev.(events.LossReported)
	if !ok || !isLoss || l.Cavity == "" {
		return ""
	}
	return s.nounWords(noun("cavity", l.Cavity)) + ", it was heard to go there"
}

// handledBetween lists the containers and benches that hold pieces which could
// be mixed up with the missing ones and that a hand was at between the two
// counts: of the same kind first.
func (s *State) handledBetween(en *ledger.Entry, kind ledger.KindID) []ledger.AccountID {
	var same, other []ledger.AccountID
	met := make(map[ledger.AccountID]bool)
	for _, f := range s.handsOf(en) {
		for _, p := range s.book.Of(f) {
			for _, a := range [...]ledger.AccountID{p.From, p.To} {
				if a == en.Place || met[a] || !container(s.book.Class(a)) {
					continue
				}
				met[a] = true
				if s.book.KindOf(p.Item) == kind {
					same = append(same, a)
				} else {
					other = append(other, a)
				}
			}
		}
	}
	return append(same, other...)
}

func container(c ledger.Class) bool {
	return c == ledger.Bag || c == ledger.Bench || c == ledger.Rack || c == ledger.Placed || c == ledger.Stock
}

// countedWords says when a place was last counted.
func (s *State) countedWords(a ledger.AccountID) string {
	last := s.book.LastCount(a)
	if last.Fact == 0 {
		return ", never counted"
	}
	return ", counted " + s.day(last.Fact)
}

// intervalWords is when the pieces of a short or over went: after the last good
// count and not later than the first that differed.
func (s *State) intervalWords(en *ledger.Entry) string {
	verb := "missed"
	if en.Sign == ledger.Over {
		verb = "too many"
	}
	w := s.windowOf(en)
	if w.from == 0 {
		return "last known there by the plan only; first " + verb + " " + s.moment(w.to)
	}
	return "counted right " + s.moment(w.from) + ", " + verb + " " + s.moment(w.to)
}

// handsWords lists what was done at the place between the two counts.
func (s *State) handsWords(en *ledger.Entry) []string {
	var list []string
	for _, f := range s.handsOf(en) {
		list = append(list, s.clock(f)+": "+s.Sentence(f))
	}
	return list
}

// standing is what the fold reads in the place of the fact at a position.
func (j *Job) standing(f ledger.Fact) (events.Event, bool) {
	if f <= 0 || int(f) > len(j.facts) {
		return nil, false
	}
	if j.stands != nil {
		return j.stands(int(f) - 1)
	}
	return j.facts[f-1].Event, true
}

// placesOf lists the places that an event names.
func placesOf(ev events.Event) []events.Place {
	var list []events.Place
	add := func(places ...events.Place) {
		for _, p := range places {
			if p != "" {
				list = append(list, p)
			}
		}
	}
	bag := func(codes ...events.Code) {
		for _, c := range codes {
			add(events.Place("bag/" + c))
		}
	}
	switch e := ev.(type) {
	case events.PiecesOut:
		add(e.To)
	case events.PiecesParked:
		add(e.From)
	case events.PiecesFitted:
		add(e.From)
	case events.OtherEndTold:
		add(e.Where)
	case events.BagLabelled:
		bag(e.Bag)
	case events.BagOpened:
		bag(e.Bag)
	case events.BagClosed:
		bag(e.Bag)
	case events.Counted:
		add(e.Place)
	case events.BagsMerged:
		bag(e.From, e.Into)
	case events.BagSplit:
		bag(e.From, e.Into)
	case events.BagRetired:
		bag(e.Bag)
	case events.PiecesMoved:
		add(e.From, e.To)
	case events.Preserved:
		add(e.Place)
	case events.Carried:
		add(e.What, e.To)
	case events.TrayIssued:
		add(e.Tray)
	case events.TraySorted:
		add(e.From)
		for i := range e.Into {
			add(e.Into[i].To)
		}
	case events.PiecesScrapped:
		add(e.From)
	case events.PiecesKept:
		add(e.From)
	case events.ConditionChanged:
		add(e.Place)
	case events.FastenersMeasured:
		add(e.Place)
	case events.PartRemoved:
		add(e.To)
	case events.PartPlaced:
		add(e.Rack)
	case events.RackRead:
		add(e.Rack)
	case events.OrderLost:
		add(e.Rack)
	case events.PartFitted:
		add(e.From)
	case events.HardwareReceived:
		add(e.From, e.To)
	case events.KitOpened:
		add(e.To)
	case events.LossReported:
		add(e.From)
	case events.ShortEnded:
		add(e.To)
	case events.DisagreementSettled:
		for _, c := range e.Counts {
			add(c.Place)
		}
	case events.HardwareLent:
		add(e.From)
	case events.HardwareBorrowed:
		add(e.To)
	case events.Returned:
		add(e.To)
	}
	return list
}

// within says whether a place is another, or lies in it.
func within(p, in events.Place) bool {
	return p == in || strings.HasPrefix(string(p), string(in)+"/")
}
