package engine

import (
	"countback/events"
	"countback/projections/ledger"
)

// Difference is one open short or over with all that is known about it.
type Difference struct {
	Short    events.ShortID // its lasting name
	No       int            // its number on screens; may change when late facts arrive
	Kind     events.Kind
	Qty      int // still unexplained
	Sign     ledger.Sign
	Place    events.Place
	Disputed bool            // between two facts that had not seen each other
	Facts    []events.FactID // the count that showed it; of a disagreement both facts
	Interval string          // when it happened, in words
	Hands    []string        // what was done at the place in between
	Look     []string        // where to look, the likeliest first
	Offers   []string        // endings that offer themselves
	Text     string          // the whole in one line
}

// Differences lists every open short and over, the oldest first, with its
// interval, the hands in between, the places to look, and the endings that
// offer themselves. Nothing nets: two shorts of one kind are two lines.
func (j *Job) Differences() []Difference {
	s := j.State()
	var list []Difference
	for _, k := range s.OpenShorts() {
		list = append(list, s.difference(k))
	}
	return list
}

func (s *State) difference(k ledger.EntryNo) Difference {
	en := s.book.Entry(k)
	d := Difference{Short: s.ShortID(k), No: int(k), Kind: s.kindOf(&en), Qty: int(en.Open), Sign: en.Sign,
		Place: s.book.Path(en.Place), Disputed: en.Disputed(), Interval: s.intervalWords(&en), Hands: s.handsWords(&en)}
	d.Facts = []events.FactID{s.factID(en.Shown)}
	if d.Disputed {
		d.Facts = []events.FactID{s.factID(en.Facts[0]), s.factID(en.Facts[1])}
	}
	if en.Sign == ledger.Short {
		d.Look = s.lookFor(&en)
	}
	d.Offers = s.offers(&en)
	d.Text = s.differenceWords(&en)
	return d
}

func (s *State) differenceWords(en *ledger.Entry) string {
	where := s.placeWords(s.book.Path(en.Place))
	if en.Disputed() {
		return capital(where) + ": " + s.factWords(en.Facts[0]) + "; " + s.factWords(en.Facts[1]) + "; neither bench knew of the other"
	}
	if en.Sign == ledger.Over {
		return capital(s.shortWords(en)) + " more than the book in " + where
	}
	text := capital(s.shortWords(en)) + " missing from " + where
	if day := s.promiseOn(OnShort(s.ShortID(en.No))); day.Valid() {
		text += ", still to come: promised for " + day.Words()
	}
	return text
}

// factWords tells a fact with its bench and time: "emptied by bench 1 at 10:00".
func (s *State) factWords(f ledger.Fact) string {
	r := s.Fact(f)
	if r == nil {
		return "the opening"
	}
	return s.Sentence(f) + " (" + string(r.Terminal) + ", " + s.clock(f) + ")"
}

// offers lists the endings that the book itself suggests.
func (s *State) offers(en *ledger.Entry) []string {
	var list []string
	for _, o := range s.book.Recounted(en.No) {
		other := s.book.Entry(o)
		list = append(list, "miscount: "+s.placeWords(s.book.Path(en.Place))+" was counted again "+
			s.clock(max(en.Shown, other.Shown))+" and nobody was at it in between; it answers "+s.shortWords(&other))
	}
	if en.Disputed() {
		return append(list, "settle: count "+s.placeWords(s.book.Path(en.Place))+" again, and say which of the two facts falls")
	}
	if s.book.Class(en.Place) == ledger.Fitted && en.Sign == ledger.Short && s.unsureIn(en) {
		list = append(list, "still in: it never left its hole", "never there: it was missing when the engine came")
	}
	for k := 1; k <= s.book.Entries(); k++ {
		o := s.book.Entry(ledger.EntryNo(k))
		if o.Open > 0 && o.Sign == -en.Sign && o.Place != en.Place && s.book.KindOf(o.Item) == s.book.KindOf(en.Item) {
			list = append(list, "paired: with "+s.shortWords(&o)+" in "+s.placeWords(s.book.Path(o.Place)))
		}
	}
	return list
}

// unsureIn says whether a hole of the place may still hold the piece.
func (s *State) unsureIn(en *ledger.Entry) bool {
	kind := s.book.KindOf(en.Item)
	for i := range s.seats {
		sl := &s.lay.seats[i]
		if !s.seats[i].unsure || s.group[sl.group] != en.Place {
			continue
		}
		for _, m := range sl.members {
			if s.kinds[m.kind] == kind {
				return true
			}
		}
	}
	return false
}
