package engine

import (
	"time"

	"countback/events"
	"countback/projections/ledger"
)

// span is when a fact happened: the interval that was told, or the moment at
// which it was recorded. Rule R66: an interval never moves a fact in the order;
// it bounds the search for what was lost.
func span(r *events.Record) (from, to int64) {
	if r.To != 0 {
		return r.From, r.To
	}
	return r.At, r.At
}

// Happened is between when a fact happened, microseconds since 1970 UTC: the
// interval that was told with it, or twice the moment at which it was
// recorded. It is 0, 0 for no fact.
func (s *State) Happened(f ledger.Fact) (from, to int64) {
	if r := s.Fact(f); r != nil {
		return span(r)
	}
	return 0, 0
}

// HappenedWords is ", between 11 May 08:00 and 12 May 00:00" for what was
// recorded later than it happened, and empty for all else.
func (s *State) HappenedWords(r *events.Record) string {
	switch {
	case r == nil || r.To == 0:
		return ""
	case minute(r.From) == minute(r.To):
		return ", at " + s.moment(r.From)
	}
	return ", between " + s.moment(r.From) + " and " + s.moment(r.To)
}

func minute(at int64) int64 { return at / 60_000_000 }

// moment is a day and a time: "12 May 10:20".
func (s *State) moment(at int64) string {
	return s.dayOf(at) + " " + time.UnixMicro(at).UTC().Format("15:04")
}

// dayOf is a day, with its year where that is not the year of the last fact.
func (s *State) dayOf(at int64) string {
	t := time.UnixMicro(at).UTC()
	if t.Year() != time.UnixMicro(s.job.LatestAt()).UTC().Year() {
		return t.Format("2 January 2006")
	}
	return t.Format("2 January")
}

// witness is a count that was told after a hand or another count had been at
// its place. Rule R67: it sets nothing any more, and says how it was then.
type witness struct {
	fact  ledger.Fact
	place ledger.AccountID
	rows  []kindQty
	all   bool
}

type kindQty struct {
	kind ledger.KindID
	n    int32
}

// overtaken says whether a place was touched after the fact in hand happened.
func (s *State) overtaken(a ledger.AccountID) bool {
	if s.rec.To == 0 {
		return false
	}
	if from, _ := s.Happened(s.book.LastCount(a).Fact); from > s.rec.To {
		return true
	}
	log := s.book.Log()
	for i := len(log) - 1; i >= 0; i-- {
		p := &log[i]
		if s.Fact(p.Fact).At <= s.rec.To {
			return false
		}
		if from, _ := s.Happened(p.Fact); from > s.rec.To && (p.From == a || p.To == a) {
			return true
		}
	}
	return false
}

// testify keeps a count that was told too late to set its place.
func (s *State) testify(a ledger.AccountID, lines []events.Line, all bool) {
	w := witness{fact: s.fact, place: a, all: all}
	for i := range lines {
		w.rows = append(w.rows, kindQty{s.book.Kind(lines[i].Kind), int32(lines[i].Qty)})
	}
	s.witnesses = append(s.witnesses, w)
}

// Overtaken says whether a fact is a count that was told too late to set its
// place: it only says how it was then.
func (s *State) Overtaken(f ledger.Fact) bool {
	for i := range s.witnesses {
		if s.witnesses[i].fact == f {
			return true
		}
	}
	return false
}

// window is in which time and between which facts the pieces of a short or
// over went.
type window struct {
	after, shown ledger.Fact
	from, to     int64
	dated        bool // some fact of the job has an interval: times decide, not places in the order
}

// windowOf is the window of an entry: not before the last good count can have
// been made, and not after the count that differed can have been. Counts that
// were told late narrow it.
func (s *State) windowOf(en *ledger.Entry) window {
	w := window{after: en.After, shown: en.Shown, dated: s.dated}
	w.from, _ = s.Happened(en.After)
	_, w.to = s.Happened(en.Shown)
	kind := s.book.KindOf(en.Item)
	for i := range s.witnesses {
		t := &s.witnesses[i]
		from, to := s.Happened(t.fact)
		n, ok := t.number(kind)
		if t.place != en.Place || !ok || to < w.from || from > w.to {
			continue
		}
		if n >= s.heldThen(en.Place, kind, to) {
			w.from = max(w.from, from)
		} else {
			w.to = min(w.to, to)
		}
	}
	return w
}

// LostBetween is in which time the pieces of a short or over went,
// microseconds since 1970 UTC: after the last good count, 0 if there was none,
// and not after the count that differed.
func (s *State) LostBetween(k ledger.EntryNo) (from, to int64) {
	en := s.book.Entry(k)
	w := s.windowOf(&en)
	return w.from, w.to
}

// number is what a witness says of a kind; false if it says nothing.
func (t *witness) number(kind ledger.KindID) (n int32, ok bool) {
	for _, r := range t.rows {
		if r.kind == kind {
			n, ok = n+r.n, true
		}
	}
	return n, ok || t.all
}

// heldThen is what the book had of a kind at a place at a time.
func (s *State) heldThen(a ledger.AccountID, kind ledger.KindID, at int64) (n int32) {
	log := s.book.Log()
	for i := range log {
		p := &log[i]
		if _, to := s.Happened(p.Fact); to > at || s.book.KindOf(p.Item) != kind {
			continue
		}
		if p.To == a {
			n += p.Qty
		}
		if p.From == a {
			n -= p.Qty
		}
	}
	return n
}

// holds says whether a fact may have happened within the window.
func (w window) holds(s *State, f ledger.Fact) bool {
	if !w.dated {
		return f > w.after && f <= w.shown
	}
	from, to := s.Happened(f)
	return f == w.shown || f != w.after && to >= w.from && from <= w.to
}

// handsOf lists the facts in which a hand may have been at an entry's place
// within its window.
func (s *State) handsOf(en *ledger.Entry) []ledger.Fact {
	if !s.dated {
		return s.book.Hands(en.Place, en.After, en.Shown)
	}
	w := s.windowOf(en)
	var list []ledger.Fact
	for _, f := range s.book.Hands(en.Place, 0, ledger.Fact(len(s.job.facts))) {
		if w.holds(s, f) {
			list = append(list, f)
		}
	}
	return list
}
