package engine

import (
	"slices"

	"countback/events"
	"countback/projections/gauge"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// FastenerSet is what one sentence told of loose fasteners, and what that means
// for each.
type FastenerSet struct {
	events.FastenersMeasured
	Fact ledger.Fact
	Good int  // may be used again
	Bad  int  // condemned
	Near int  // nearer to the limit than the gauge can tell: to be read again
	All  bool // one that failed took the whole set with it
	Why  []string
}

// Sets lists what was told of loose fasteners, oldest first.
func (s *State) Sets() []FastenerSet {
	list := make([]FastenerSet, len(s.gauging.sets))
	for i := range s.gauging.sets {
		g := &s.gauging.sets[i]
		list[i] = s.judgeSet(&g.FastenersMeasured)
		list[i].Fact, list[i].Kind = g.fact, g.kind
	}
	return list
}

type measuredSet struct {
	events.FastenersMeasured
	kind events.Kind
	fact ledger.Fact
}

// judgeSet holds each reading against the limit. Where the plan says so one that
// fails takes its whole set with it (rule R57).
func (s *State) judgeSet(e *events.FastenersMeasured) FastenerSet {
	set := FastenerSet{FastenersMeasured: *e}
	ix, ok := s.lay.plan.Measurement(e.Measurement)
	if !ok {
		return set
	}
	m := &s.lay.plan.Measurements[ix]
	limits, band := s.limitsOf(m), s.bandOf(m)
	for i, p := range e.Reads {
		if p.Unit == "" {
			p.Unit = e.Unit
		}
		t := telling{reads: []MeasureRead{{Reading: readingOf(p)}}}
		size, _, why := derive(m, limits, &t)
		if why != "" {
			continue
		}
		v := limits.Judge(band, size)
		one := Measure{Verdict: v, Limits: limits}
		switch {
		case v.Place.Good():
			set.Good++
		case v.Place == gauge.Beyond:
			set.Bad++
			set.Why = append(set.Why, "number "+itoa(i+1)+", "+size.String()+": "+one.Short())
		case v.Place.Open():
			set.Near++
			set.Why = append(set.Why, "number "+itoa(i+1)+", "+size.String()+": "+one.Short())
		}
	}
	if m.AllFail && set.Bad > 0 {
		set.Bad, set.Good, set.Near, set.All = len(e.Reads), 0, 0, true
	}
	return set
}

// fastenersMeasured makes the pieces measured good or condemned in the ledger.
// Those that the gauge cannot tell stay as they are.
func (s *State) fastenersMeasured(e *events.FastenersMeasured) {
	kind := e.Kind
	if kind == "" {
		if kinds := s.MeasuredKinds(e.Measurement, e.Place); len(kinds) == 1 {
			kind = kinds[0]
		}
	}
	s.gauging.sets = append(s.gauging.sets, measuredSet{*e, kind, s.fact})
	if kind == "" {
		s.note(NoSuch, "measurement "+e.Measurement, "of what is in "+string(e.Place))
		return
	}
	set := s.judgeSet(e)
	a := s.place(e.Place, "")
	k := s.book.Kind(kind)
	left := s.turnFrom(a, k, int32(set.Bad), events.Condemned)
	left += s.turnFrom(a, k, int32(set.Good), events.MeasuredGood)
	if left > 0 {
		// more than the book has there: it says so
		s.book.Turn(s.fact, ledger.Exactly(s.book.Item(ledger.Item{Kind: kind})), events.MeasuredGood, left, a)
	}
}

// turnFrom turns pieces of a kind into a condition: those that nobody has judged
// yet, then those that have it already, then those that were good before. What
// the account lacks is returned.
func (s *State) turnFrom(a ledger.AccountID, k ledger.KindID, n int32, to events.Condition) int32 {
	for _, from := range [...]events.Condition{events.AsFound, events.Used, events.New, to, events.MeasuredGood} {
		var items []ledger.ItemID
		have := map[ledger.ItemID]int32{}
		for it, q := range s.book.At(a) {
			if q > 0 && s.book.KindOf(it) == k && s.book.ItemName(it).Cond == from {
				items, have[it] = append(items, it), q
			}
		}
		slices.Sort(items)
		for _, it := range items {
			q := min(n, have[it])
			if q > 0 && from != to {
				s.book.Turn(s.fact, ledger.Exactly(it), to, q, a)
			}
			n -= max(0, q)
		}
	}
	return n
}

// MeasuredKinds are the kinds in a place that the plan wants measured so, in its
// order; all kinds there where it names none.
func (s *State) MeasuredKinds(measurement string, place events.Place) []events.Kind {
	ix, ok := s.lay.plan.Measurement(measurement)
	var here, wanted []events.Kind
	for _, l := range s.At(place) {
		if l.Qty > 0 && !contains(here, l.Kind) {
			here = append(here, l.Kind)
		}
	}
	for i := range s.lay.plan.Seats {
		for _, m := range s.lay.plan.Seats[i].Members {
			if ok && m.Reuse.Rule == plan.ReuseMeasure && m.Reuse.Measure == ix && contains(here, m.Kind) && !contains(wanted, m.Kind) {
				wanted = append(wanted, m.Kind)
			}
		}
	}
	if len(wanted) > 0 {
		return wanted
	}
	return here
}

// Words is what a set came to: "8 good, 2 condemned".
func (f *FastenerSet) Words() string {
	text := itoa(f.Good) + " good, " + itoa(f.Bad) + " condemned"
	if f.Near > 0 {
		text += ", " + itoa(f.Near) + " to be read again"
	}
	if f.All {
		text += ": one that fails takes the set with it"
	}
	return text
}

// tellsSet is what was read of loose fasteners, in its digits.
func (s *State) tellsSet(e *events.FastenersMeasured) string {
	var list []string
	for _, p := range e.Reads {
		if p.Unit == "" {
			p.Unit = e.Unit
		}
		list = append(list, readingOf(p).String())
	}
	what := string(e.Kind)
	if what == "" {
		what = "fasteners"
	}
	return itoa(len(e.Reads)) + " " + what + " in " + s.placeWords(e.Place) + " measured, " + e.Measurement + ": " + wordList(list)
}
