package engine

import (
	"slices"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// sources is what was said last about battery and fuel. What somebody looked
// at holds for the rest of that day, or until it is told otherwise: an engine
// that cranked had its battery on, one that ran its fuel too.
type sources struct{ battery, fuel sourceSeen }

// sourceSeen is how a source was found, and when that was.
type sourceSeen struct {
	on       bool
	unsure   bool        // told both on and off of one time: neither is known
	fact     ledger.Fact // 0: nobody has looked
	from, to int64       // microseconds since 1970 UTC
}

func (s *sources) of(w events.Source) *sourceSeen {
	switch w {
	case events.Battery:
		return &s.battery
	case events.Fuel:
		return &s.fuel
	}
	return nil
}

// sourceFound keeps how a source was found, in the order in which it happened: a word
// about an earlier time changes nothing, and one that may have been before or
// after what contradicts it leaves both in doubt. Of a source that has no name
// here it keeps nothing.
func (s *State) sourceFound(w events.Source, on bool) {
	seen := s.sources.of(w)
	if seen == nil {
		return
	}
	now := sourceSeen{on: on, fact: s.fact}
	now.from, now.to = s.Happened(s.fact)
	switch told := s.rec.To != 0; {
	case seen.fact == 0 || now.from >= seen.to || !told && seen.to == seen.from:
	case now.to <= seen.from:
		return
	default:
		now.unsure = seen.unsure || seen.on != on
		now.from, now.to = max(now.from, seen.from), max(now.to, seen.to)
	}
	*seen = now
}

// sourcesRan: an engine that was started has both on.
func (s *State) sourcesRan(ev events.Event) {
	if _, ok := ev.(events.EngineStarted); ok {
		s.sourceFound(events.Battery, true)
		s.sourceFound(events.Fuel, true)
	}
}

// seenToday reports whether it is known how a source was on the day of the
// job's present moment.
func (s *State) seenToday(seen *sourceSeen) bool {
	return seen.fact != 0 && !seen.unsure && events.DayOf(seen.from) == s.today()
}

// ofToday reports whether a fact happened on the day of the job's present moment.
func (s *State) ofToday(f ledger.Fact) bool {
	from, _ := s.Happened(f)
	return s.Fact(f) != nil && events.DayOf(from) == s.today()
}

// sinceWords is since when a source is as it was found, and who said so.
func (s *State) sinceWords(seen *sourceSeen) string {
	return s.moment(seen.from) + s.byWords(seen.fact)
}

// thisDay is the day of the job's present moment in words. It stands in what is
// not confirmed, so that what a second person lets pass is let pass for that day.
func (s *State) thisDay() string { return s.dayOf(s.job.moment()) }

// makeOff is what makes a source safe, and the scan that confirms it. Common
// practice; what the maker says comes first.
func makeOff(w events.Source) string {
	if w == events.Battery {
		return "take its cables off, negative first: " + say("BATTERY OFF")
	}
	return "shut it off, relieve its pressure, cap its lines: " + say("FUEL OFF")
}

// notOff lists the sources that were not found off today.
func (s *State) notOff(list []Blocker, which ...events.Source) []Blocker {
	for _, w := range which {
		seen := s.sources.of(w)
		switch {
		case seen.fact != 0 && seen.on && !seen.unsure:
			list = append(list, Blocker{capital(string(w)) + " on since " + s.sinceWords(seen), makeOff(w)})
		case !s.seenToday(seen):
			list = append(list, Blocker{capital(string(w)) + ": not confirmed as off, " + s.thisDay(), makeOff(w)})
		}
	}
	return list
}

// notReady lists what cranking wants to know of battery and fuel: the one
// connected, the other looked at, whether it is to run or not.
func (s *State) notReady(list []Blocker) []Blocker {
	connect := "see that nobody's hands are in it, connect it: " + say("BATTERY ON")
	switch b := &s.sources.battery; {
	case b.fact != 0 && !b.on && !b.unsure:
		list = append(list, Blocker{"Battery off since " + s.sinceWords(b), connect})
	case !s.seenToday(b):
		list = append(list, Blocker{"Battery: not confirmed as on, " + s.thisDay(), connect})
	}
	if !s.seenToday(&s.sources.fuel) {
		list = append(list, Blocker{"Fuel: not confirmed, " + s.thisDay(), "shut it off: " + say("FUEL OFF") + "; or look at its lines under pressure for leaks: " + say("FUEL ON")})
	}
	return list
}

// byWords is ", Marit" for who recorded a fact; empty where nobody is known.
func (s *State) byWords(f ledger.Fact) string {
	if r := s.Fact(f); r != nil && r.Operator != "" {
		return ", " + string(r.Operator)
	}
	return ""
}

// hotToday reports whether the cautions of an open case, battery and fuel among
// them, were all confirmed today, and neither was told to be on since.
func (s *State) hotToday() bool {
	for _, c := range s.cases {
		if _, open := c.unconfirmed(); open || !c.Open() || !s.ofToday(c.HotWork) {
			continue
		}
		_, confirmed := s.Happened(c.HotWork)
		since := func(seen sourceSeen) bool {
			return (seen.on || seen.unsure) && seen.fact > c.HotWork && seen.to > confirmed
		}
		if !since(s.sources.battery) && !since(s.sources.fuel) {
			return true
		}
	}
	return false
}

// toolsInside lists what was told to be in the engine and is no loan of the
// plan: a lamp, a socket, a magnet.
func (s *State) toolsInside(list []Blocker) []Blocker {
	var in []events.Loan
	for id, st := range s.loans {
		if st.loan == plan.None && st.In > 0 {
			in = append(in, id)
		}
	}
	slices.Sort(in)
	for _, id := range in {
		list = append(list, Blocker{s.loanIsIn(id, s.loans[id]), s.sayLoanOut(id)})
	}
	return list
}

// tellsSource is a source as somebody found it.
func tellsSource(e events.SourceConfirmed) string {
	switch {
	case e.Source == events.Battery && e.On:
		return "Battery confirmed on: connected, and nobody's hands in the engine"
	case e.Source == events.Battery:
		return "Battery confirmed off: its cables are off"
	case e.Source == events.Fuel && e.On:
		return "Fuel confirmed on: its lines hold pressure and do not leak"
	case e.Source == events.Fuel:
		return "Fuel confirmed off: shut off, its pressure relieved"
	}
	word := "off"
	if e.On {
		word = "on"
	}
	return capital(string(e.Source)) + " confirmed " + word
}
