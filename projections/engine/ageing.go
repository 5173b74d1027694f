package engine

import (
	"slices"
	"strings"
	"time"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// Aged is one thing that gets no better by lying: bare iron, old oil, spent
// desiccant, a lot past its day.
type Aged struct {
	Code  string // one of the Aged constants
	On    string // noun
	Text  string // the fact
	Scan  string // what clears it; empty: nothing is due
	Since int64  // microseconds since 1970 UTC
	Days  int    // since then; of a lot the days that it is good for, below zero when past
	Due   bool   // something has to be done
}

// What an aged line is about.
const (
	AgedIron      = "bare-iron" // iron or steel that is off and was never preserved
	AgedOil       = "old-oil"   // preserved too long ago
	AgedKept      = "preserved" // preserved, and still good
	AgedDesiccant = "desiccant" // in for longer than it dries
	AgedLot       = "lot"       // its day
	AgedUsed      = "lot-used"  // used after its day
)

// preserved is the last time that a part or a place was kept from rust.
type preserved struct {
	part  events.Part
	place events.Place
	with  string
	fact  ledger.Fact
}

type lotDay struct {
	lot     events.Lot
	expires events.Day
	fact    ledger.Fact
}

func (s *State) preservedNow(e *events.Preserved) {
	s.oiled = slices.DeleteFunc(s.oiled, func(p preserved) bool { return p.part == e.Part && p.place == e.Place })
	s.oiled = append(s.oiled, preserved{e.Part, e.Place, e.With, s.fact})
}

func (s *State) lotDated(e *events.LotDated) {
	s.lotDays = slices.DeleteFunc(s.lotDays, func(l lotDay) bool { return l.lot == e.Lot })
	s.lotDays = append(s.lotDays, lotDay{e.Lot, e.Expires, s.fact})
}

// Ageing lists what gets no better by lying, what is due first, then the
// oldest. It goes by the time that the job was told (Job.Clock) and by the
// shop's limits. Rule R65.
func (j *Job) Ageing() []Aged {
	a := &ageing{s: j.State(), now: j.moment(), limits: j.Limits()}
	a.parts()
	a.desiccant()
	a.lots()
	slices.SortStableFunc(a.list, func(x, y Aged) int {
		if x.Due != y.Due {
			return yes(y.Due) - yes(x.Due)
		}
		switch {
		case x.Since < y.Since:
			return -1
		case x.Since > y.Since:
			return 1
		}
		return 0
	})
	return a.list
}

type ageing struct {
	s      *State
	now    int64
	limits Limits
	list   []Aged
}

func (a *ageing) since(f ledger.Fact) (at int64, days int) {
	r := a.s.Fact(f)
	if r == nil {
		return 0, 0
	}
	return r.At, int((a.now - r.At) / (24 * time.Hour).Microseconds())
}

// over says that something is older than a limit; a limit of 0 is none.
func (a *ageing) over(at int64, limit time.Duration) bool {
	return limit > 0 && a.now-at > limit.Microseconds()
}

// parts looks at every part that is off.
func (a *ageing) parts() {
	s := a.s
	for i := range s.lay.plan.Parts {
		ix, pt := plan.PartIndex(i), &s.lay.plan.Parts[i]
		if s.now.Part(ix) != plan.PartOff {
			continue
		}
		if p := s.preservedAs(ix); p != nil {
			a.kept(pt, p)
			continue
		}
		at, days := a.since(s.parts[i].changed)
		if at == 0 || !s.iron(ix) || !a.over(at, a.limits.BareIron) {
			continue
		}
		a.list = append(a.list, Aged{Code: AgedIron, On: noun("part", pt.ID), Since: at, Days: days, Due: true,
			Text: pt.Name + ": bare iron, off for " + plural(days, "day") + " and not preserved", Scan: "oil it, then: part " + string(pt.ID) + ", PRESERVED"})
	}
}

func (a *ageing) kept(pt *plan.Part, p *preserved) {
	at, days := a.since(p.fact)
	l := Aged{Code: AgedKept, On: noun("part", pt.ID), Since: at, Days: days, Text: pt.Name + ": " + p.with + " " + weeks(days) + " ago"}
	if a.over(at, a.limits.Oiled) {
		l.Code, l.Due, l.Scan = AgedOil, true, "look at it and do it again; then "+say("part "+string(pt.ID), "PRESERVED")
	}
	a.list = append(a.list, l)
}

func weeks(days int) string {
	if days < 14 {
		return plural(days, "day")
	}
	return plural(days/7, "week")
}

// preservedAs is the last time since it came off that a part was preserved, by
// itself or with what it lies in; nil: never.
func (s *State) preservedAs(ix plan.PartIndex) *preserved {
	pt, at := &s.lay.plan.Parts[ix], s.PartAt(s.lay.plan.Parts[ix].ID)
	var last *preserved
	for i := range s.oiled {
		p := &s.oiled[i]
		if p.fact < s.parts[ix].changed || p.part != pt.ID && (p.place == "" || !within(at, p.place)) {
			continue
		}
		if last == nil || p.fact > last.fact {
			last = p
		}
	}
	return last
}

// iron says that a part rusts: by its material, or by that of the threads in
// it, where the plan says nothing of its material.
func (s *State) iron(ix plan.PartIndex) bool {
	if m := s.lay.plan.Parts[ix].Material; m != "" {
		return rusts(m)
	}
	for i := range s.lay.plan.Seats {
		if st := &s.lay.plan.Seats[i]; st.Host == ix && rusts(st.ThreadIn) {
			return true
		}
	}
	return false
}

// rusts reads a material in words: iron and steel do, stainless does not.
func rusts(material string) bool {
	m := strings.ToLower(material)
	return !strings.Contains(m, "stainless") && (strings.Contains(m, "iron") || strings.Contains(m, "steel"))
}

// desiccant looks at loans that dry what they lie in.
func (a *ageing) desiccant() {
	s := a.s
	var names []events.Loan
	for l, st := range s.loans {
		if st.In > 0 && (strings.Contains(string(l), "desiccant") || st.loan != plan.None && strings.Contains(strings.ToLower(s.lay.plan.Loans[st.loan].Name), "desiccant")) {
			names = append(names, l)
		}
	}
	slices.Sort(names)
	for _, l := range names {
		at, days := a.since(s.loans[l].Since)
		line := Aged{Code: AgedDesiccant, On: noun("loan", l), Since: at, Days: days, Text: capital(s.nounWords(noun("loan", l))) + ": in for " + weeks(days)}
		if a.over(at, a.limits.Desiccant) {
			line.Due, line.Scan = true, "dry it or take a fresh one: "+say("loan "+string(l), "OUT")+"; then "+say("loan "+string(l), "IN")
		}
		a.list = append(a.list, line)
	}
}

// lots looks at the days of lots, and at what was used of them afterwards.
func (a *ageing) lots() {
	s := a.s
	today := events.DayOf(a.now)
	for _, l := range s.lotDays {
		at, _ := a.since(l.fact)
		days := today.Until(l.expires)
		line := Aged{Code: AgedLot, On: noun("lot", l.lot), Since: at, Days: days}
		if l.expires < today {
			line.Due, line.Text, line.Scan = true, "Lot "+string(l.lot)+": was good until "+l.expires.Words(), "throw it away; take another"
		} else {
			line.Text = "Lot " + string(l.lot) + ": good until " + l.expires.Words() + ", " + plural(days, "day") + " more"
		}
		a.list = append(a.list, line)
	}
	for i := range s.job.facts {
		ev, ok := s.job.standing(ledger.Fact(i + 1))
		lot := lotOf(ev)
		if !ok || lot == "" {
			continue
		}
		if text := s.LotLate(lot, events.DayOf(s.job.facts[i].At)); text != "" {
			a.list = append(a.list, Aged{Code: AgedUsed, On: noun("lot", lot), Since: s.job.facts[i].At, Due: true,
				Text: text + ", and was used on " + s.day(ledger.Fact(i+1)), Scan: "take it off and do it again with a good one, or let it pass"})
		}
	}
}

// LotLate says that a lot is past its day on a day; empty: it is not, or nobody
// said how long it is good.
func (s *State) LotLate(lot events.Lot, day events.Day) string {
	for _, l := range s.lotDays {
		if l.lot == lot && l.expires.Valid() && day.Valid() && l.expires < day {
			return "Lot " + string(lot) + " was good until " + l.expires.Words()
		}
	}
	return ""
}

// lotOf is the lot of sealant or the like that a fact used.
func lotOf(ev events.Event) events.Lot {
	switch e := ev.(type) {
	case events.SealantApplied:
		return e.Lot
	case events.LoanIn:
		return e.Lot
	}
	return ""
}

// ageWords tells what was preserved or dated; empty for other facts.
func (s *State) ageWords(ev events.Event) string {
	switch e := ev.(type) {
	case events.Preserved:
		what := s.placeWords(e.Place)
		if e.Part != "" {
			what = s.partWords(string(e.Part))
		}
		return capital(what) + " preserved: " + e.With
	case events.LotDated:
		if f := s.fact; s.Fact(f) != nil && e.Expires < events.DayOf(s.Fact(f).At) {
			return "Lot " + string(e.Lot) + " was good until " + e.Expires.Words()
		}
		return "Lot " + string(e.Lot) + " is good until " + e.Expires.Words()
	}
	return ""
}
