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

// sourceSeen is how a source was found.
type sourceSeen struct {
	on   bool
	fact ledger.Fact // 0: nobody has looked
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

// found keeps how a source was found; of one that has no name here, nothing.
func (s *sources) found(w events.Source, on bool, f ledger.Fact) {
	if seen := s.of(w); seen != nil {
		*seen = sourceSeen{on, f}
	}
}

// ran: an engine that was started has both on.
func (s *sources) ran(ev events.Event, f ledger.Fact) {
	if _, ok := ev.(events.EngineStarted); ok {
		s.battery, s.fuel = sourceSeen{true, f}, sourceSeen{true, f}
	}
}

// ofToday reports whether a fact was recorded on the day of the job's present
// moment.
func (s *State) ofToday(f ledger.Fact) bool {
	r := s.Fact(f)
	return r != nil && events.DayOf(r.At) == s.today()
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
		case seen.fact != 0 && seen.on:
			list = append(list, Blocker{capital(string(w)) + " on since " + s.clock(seen.fact) + s.byWords(seen.fact), makeOff(w)})
		case seen.fact == 0 || !s.ofToday(seen.fact):
			list = append(list, Blocker{capital(string(w)) + ": not confirmed as off, " + s.thisDay(), makeOff(w)})
		}
	}
	return list
}

// notReady lists what cranking wants to know of battery and fuel: the one
// connected, the other looked at, whether it is to run or not.
func (s *State) notReady(list []Blocker) []Blocker {
	connect := "see that nobody's hands are in it, connect it: " + say("BATTERY ON")
	switch b := s.sources.battery; {
	case b.fact != 0 && !b.on:
		list = append(list, Blocker{"Battery off since " + s.clock(b.fact) + s.byWords(b.fact), connect})
	case b.fact == 0 || !s.ofToday(b.fact):
		list = append(list, Blocker{"Battery: not confirmed as on, " + s.thisDay(), connect})
	}
	if f := s.sources.fuel; f.fact == 0 || !s.ofToday(f.fact) {
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
		since := func(seen sourceSeen) bool { return seen.on && seen.fact > c.HotWork }
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
