package engine

import (
	"slices"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// ShortID is the lasting name of a short or over.
func (s *State) ShortID(k ledger.EntryNo) events.ShortID {
	en := s.book.Entry(k)
	if en.No == 0 {
		return events.ShortID{}
	}
	id := s.factID(en.Shown)
	return events.ShortID{Terminal: id.Terminal, N: id.N, K: int(en.Ord)}
}

// Short finds a short or over by its lasting name; 0 if the job has none such
// any more, for instance since a correction took away the fact that showed it.
func (s *State) Short(id events.ShortID) ledger.EntryNo {
	i := s.job.index(events.FactID{Terminal: id.Terminal, N: id.N})
	if i < 0 {
		return 0
	}
	return s.book.ShownBy(ledger.Fact(i+1), int32(id.K))
}

func (s *State) factID(f ledger.Fact) events.FactID {
	if f <= 0 || int(f) > len(s.job.facts) {
		return events.FactID{}
	}
	return s.job.facts[f-1].ID()
}

// Fact gives the record behind a place in the canonical order, nil for 0.
func (s *State) Fact(f ledger.Fact) *events.Record {
	if f <= 0 || int(f) > len(s.job.facts) {
		return nil
	}
	return &s.job.facts[f-1]
}

// disputes looks whether the differences that the fact in hand showed lie
// between facts that had not seen each other: then each is a disagreement of
// those two, not a short or an over (rule R17). Facts that had not seen each
// other are few, so they are looked for first.
func (s *State) disputes() {
	unseen := s.unseen()
	for k := s.opened.First; len(unseen) > 0 && k < s.opened.First+ledger.EntryNo(s.opened.N); k++ {
		en := s.book.Entry(k)
		for _, f := range unseen {
			if f >= en.After && s.touched(en.Place, f, en.After) {
				s.book.Dispute(k, f, s.fact)
				break
			}
		}
	}
}

// unseen lists the facts before the one in hand that its terminal had not
// seen and that had not seen it, the latest first.
func (s *State) unseen() (list []ledger.Fact) {
	if !s.missedSome() {
		return nil
	}
	for i := range s.heard {
		h := &s.heard[i]
		if h.terminal == s.rec.Terminal || s.rec.Seen.N(h.terminal) >= h.n {
			continue
		}
		for _, run := range h.runs {
			for f := run.from; f < run.to; f++ {
				if s.rec.Concurrent(s.Fact(f)) {
					list = append(list, f)
				}
			}
		}
	}
	slices.SortFunc(list, func(a, b ledger.Fact) int { return int(b - a) })
	return list
}

// touched says that a hand was at a place in a fact, or that the fact is the
// count that a difference is measured from.
func (s *State) touched(place ledger.AccountID, f, counted ledger.Fact) bool {
	if f == counted {
		return true
	}
	for _, p := range s.book.Of(f) {
		if !p.Hand {
			continue
		}
		if p.From == place || p.To == place {
			return true
		}
		if e := s.book.Entry(s.book.EntryAt(p.From)); e.No != 0 && e.Place == place && e.Shown == f {
			return true
		}
	}
	return false
}

// OpenShorts lists the shorts and overs that nobody has explained.
func (s *State) OpenShorts() []ledger.EntryNo {
	var open []ledger.EntryNo
	for k := 1; k <= s.book.Entries(); k++ {
		if s.book.Entry(ledger.EntryNo(k)).Open > 0 {
			open = append(open, ledger.EntryNo(k))
		}
	}
	return open
}

// lossReported tells that pieces fell or cannot be found: the place holds that
// many fewer, and the short is open from now.
func (s *State) lossReported(e *events.LossReported) {
	a := s.place(e.From, "")
	for i := range e.Lines {
		l := &e.Lines[i]
		m := s.match(l)
		have := s.book.Balance(a, m)
		if have < int32(l.Qty) {
			// it was not where it is said to have come from: it is missing all the same
			k := s.book.Kind(l.Kind)
			m = ledger.OfKind(k)
			if from := s.source(k, int32(l.Qty), false, a); from != a && s.book.Balance(from, m) > 0 {
				s.book.Move(s.fact, m, min(s.book.Balance(from, m), int32(l.Qty)-have), from, a)
			}
			have = s.book.Balance(a, m)
		}
		s.book.Count(s.fact, events.CountedOpen, a, m, max(0, have-int32(l.Qty)))
	}
}

// shortEnded ends one short or over by name.
func (s *State) shortEnded(e *events.ShortEnded) {
	k := s.Short(e.Short)
	if k == 0 {
		s.note(NoSuch, "short "+shortName(e.Short), "")
		return
	}
	en := s.book.Entry(k)
	qty := en.Open
	if e.Qty > 0 {
		qty = min(qty, int32(e.Qty))
	}
	if qty <= 0 {
		return
	}
	b := s.book
	switch e.How {
	case events.Found:
		s.found(k, en, qty, e.To)
	case events.Miscount:
		s.miscount(k, en, qty)
	case events.StillIn:
		s.stillIn(k, en, qty, e.Holes)
	case events.NeverThere, events.PlanWrong:
		b.Close(s.fact, k, e.How, qty, s.arrived)
	case events.Borrowed:
		b.Close(s.fact, k, events.Borrowed, qty, b.Account(events.Place("outside/job/"+e.Job)))
	case events.WrittenOff:
		if en.Sign == ledger.Over {
			b.Close(s.fact, k, events.WrittenOff, qty, s.arrived)
			return
		}
		b.Close(s.fact, k, events.WrittenOff, qty, s.lost)
	case events.Paired:
		s.pair(k, s.Short(e.With), qty)
	}
}

// found puts the pieces of a short where they are now. If a count had shown
// them there already, as an over of the same kind, the two are one thing.
func (s *State) found(k ledger.EntryNo, en ledger.Entry, qty int32, to events.Place) {
	a := en.Place
	if to != "" {
		a = s.place(to, "")
	}
	if en.Sign == ledger.Short {
		for o := s.book.Entries(); o > 0 && qty > 0; o-- {
			ov := s.book.Entry(ledger.EntryNo(o))
			if ov.Sign == ledger.Over && ov.Open > 0 && ov.Place == a && s.book.KindOf(ov.Item) == s.book.KindOf(en.Item) {
				n := min(qty, ov.Open)
				s.book.Pair(s.fact, k, ledger.EntryNo(o), n, 0)
				qty -= n
			}
		}
	}
	if qty > 0 {
		s.book.Close(s.fact, k, events.Found, qty, a)
	}
}

// miscount takes the difference back: a later count of an undisturbed
// container agrees with the book again, or the first count was wrong.
func (s *State) miscount(k ledger.EntryNo, en ledger.Entry, qty int32) {
	for _, o := range s.book.Recounted(k) {
		n := min(qty, s.book.Entry(o).Open)
		if n <= 0 {
			continue
		}
		if en.Sign == ledger.Short {
			s.book.Pair(s.fact, k, o, n, 0)
		} else {
			s.book.Pair(s.fact, o, k, n, 0)
		}
		qty -= n
	}
	if qty > 0 {
		s.book.Close(s.fact, k, events.Miscount, qty, en.Place)
	}
}

func (s *State) pair(k, with ledger.EntryNo, qty int32) {
	a, b := s.book.Entry(k), s.book.Entry(with)
	n := min(qty, b.Open)
	if a.Sign == ledger.Short {
		s.book.Pair(s.fact, k, with, n, s.arrived)
	} else {
		s.book.Pair(s.fact, with, k, n, s.arrived)
	}
}

// stillIn answers a short of a joint: the pieces never left their holes. The
// holes that were named are filled again, then those that came out unsure, and
// what they hold by their bolts or nuts is on.
func (s *State) stillIn(k ledger.EntryNo, en ledger.Entry, qty int32, named []events.Hole) {
	s.book.Close(s.fact, k, events.Miscount, qty, en.Place)
	guessed := 0 // holes that the count was taken to have left, and that another was named for
	for _, byName := range []bool{true, false} {
		for i := range s.seats {
			is := plan.SeatIndex(i)
			if qty == 0 || byName != contains(named, s.lay.plan.Seats[i].Hole) || !s.mayBeIn(is, en) || !byName && !s.seats[i].unsure {
				continue
			}
			kind := s.book.KindOf(en.Item)
			st := &s.seats[i]
			for b, m := range s.lay.seats[i].members {
				if s.kinds[m.kind] == kind && st.in&(1<<b) == 0 && qty > 0 {
					st.in |= 1 << b
					if byName && !st.unsure {
						guessed++
					}
					st.byNumber = st.byNumber && !byName
					st.unsure, st.kept = false, true
					qty--
					if g := s.group[s.lay.seats[i].group]; g != en.Place {
						s.book.MoveKind(s.fact, kind, 1, en.Place, g)
					}
					s.backIn(is)
				}
			}
		}
	}
	for i := range s.seats {
		if st := &s.seats[i]; guessed > 0 && st.unsure && s.mayBeIn(plan.SeatIndex(i), en) {
			st.unsure = false
			guessed--
		}
	}
}

// mayBeIn reports whether a piece of an entry could still be in a hole: the hole
// was emptied by the fact that showed the entry, or is of the place that the
// book took it to be missing from, and is empty of that kind.
func (s *State) mayBeIn(ix plan.SeatIndex, en ledger.Entry) bool {
	sl, st := &s.lay.seats[ix], &s.seats[ix]
	if s.group[sl.group] != en.Place && st.changed != en.Shown {
		return false
	}
	kind := s.book.KindOf(en.Item)
	for b, m := range sl.members {
		if s.kinds[m.kind] == kind && st.in&(1<<b) == 0 {
			return true
		}
	}
	return false
}

// StillInWhich lists the holes of which one or more may still hold what a short
// lacks, where more of them are alike than pieces are missing; nil where there
// is no choice.
func (s *State) StillInWhich(k ledger.EntryNo, qty int) []events.Seat {
	en := s.book.Entry(k)
	if en.Open <= 0 || en.Sign != ledger.Short {
		return nil
	}
	if qty <= 0 {
		qty = int(en.Open)
	}
	var list []events.Seat
	for i := range s.seats {
		if ix := plan.SeatIndex(i); s.seats[i].changed == en.Shown && !s.seats[i].broken && s.now.Seat(ix) == plan.SeatEmpty && s.mayBeIn(ix, en) {
			list = append(list, s.lay.plan.Seats[i].ID)
		}
	}
	if len(list) <= qty {
		return nil
	}
	return list
}

// backIn takes back that a hole was emptied: its pieces are in, finished as
// they were found, and what it clamps is on. A washer alone holds nothing.
func (s *State) backIn(ix plan.SeatIndex) {
	sl, st := &s.lay.seats[ix], &s.seats[ix]
	if letsGo(st.in, sl.stay, sl.main) {
		return // its washer stayed, and nothing over that: it holds nothing on
	}
	st.stages = uint8(min(s.allStages(ix), 250))
	s.logTurn(ix, turnCame, 0, false)
	if st.in == sl.full {
		s.setSeat(ix, plan.SeatFinished)
	}
	for _, p := range s.lay.plan.Seats[ix].Clamps {
		if s.now.Part(p) == plan.PartOff {
			s.presumeOn(p)
		}
	}
}

// disagreementSettled closes a disagreement between two facts by a count of
// the places concerned.
func (s *State) disagreementSettled(e *events.DisagreementSettled) {
	var disputed []ledger.EntryNo
	for k := 1; k <= s.book.Entries(); k++ {
		en := s.book.Entry(ledger.EntryNo(k))
		if en.Open > 0 && en.Disputed() && s.named(en, e.Facts) {
			disputed = append(disputed, ledger.EntryNo(k))
		}
	}
	first, kept := s.book.Entries()+1, len(s.job.lineList)
	for i := range e.Counts {
		c := &e.Counts[i]
		count := events.Counted{Place: c.Place, Lines: c.Lines, All: true}
		s.meant = &meant{}
		s.understand(s.meant, count)
		s.counted(&count)
	}
	s.job.lineList = s.job.lineList[:kept]
	for k := first; k <= s.book.Entries(); k++ {
		s.pairAny(ledger.EntryNo(k), disputed)
	}
	for _, k := range disputed {
		if en := s.book.Entry(k); en.Open > 0 {
			s.book.Dispute(k, 0, 0)
		}
	}
}

func (s *State) named(en ledger.Entry, ids []events.FactID) bool {
	for _, f := range en.Facts {
		if !contains(ids, s.factID(f)) {
			return false
		}
	}
	return true
}

// pairAny pairs a new entry with the disputed ones of its kind.
func (s *State) pairAny(k ledger.EntryNo, with []ledger.EntryNo) {
	for _, o := range with {
		a, b := s.book.Entry(k), s.book.Entry(o)
		n := min(a.Open, b.Open)
		if n <= 0 || a.Sign == b.Sign || s.book.KindOf(a.Item) != s.book.KindOf(b.Item) {
			continue
		}
		if a.Sign == ledger.Short {
			s.book.Pair(s.fact, k, o, n, 0)
		} else {
			s.book.Pair(s.fact, o, k, n, 0)
		}
	}
}

// OnShort is a short as a promise names it.
func OnShort(id events.ShortID) string { return "short " + shortName(id) }

// promisedShort is the short that a promise is about; 0: none of this job.
func (s *State) promisedShort(on string) ledger.EntryNo {
	for k := 1; k <= s.book.Entries(); k++ {
		if OnShort(s.ShortID(ledger.EntryNo(k))) == on {
			return ledger.EntryNo(k)
		}
	}
	return 0
}

func shortName(id events.ShortID) string {
	return string(id.Terminal) + "-" + itoa(int(id.N)) + "." + itoa(id.K)
}
