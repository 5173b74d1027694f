package engine

import (
	"countback/events"
	"countback/projections/gauge"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// running is what the fold knows of the engine under its own power.
type running struct {
	starts  []Start
	reads   []RunRead
	outputs []Output
	km      []distance
	met     map[string]ledger.Fact // obligations, by the fact that met them last
}

// Start is one time that the engine ran, from its start to cold again.
type Start struct {
	Fact    ledger.Fact
	At      int64       // microseconds since 1970
	Without []string    // marks, and signatures, that should have been there
	Stopped ledger.Fact // 0: it runs
	Off     int64
	Warm    bool        // it got warm
	Cold    ledger.Fact // 0: not cold again
}

// RunRead is one reading of the running engine.
type RunRead struct {
	events.RunRead
	Fact  ledger.Fact
	Start int   // index of the start that it belongs to, -1: none
	Secs  int64 // seconds since that start, by the clock or as it was said
}

// Output is what the engine gave at one speed.
type Output struct {
	events.OutputRead
	Fact ledger.Fact
}

type distance struct {
	km   float64
	fact ledger.Fact
}

// ran folds what happens while the engine runs, and after (rule R58).
func (s *State) ran(ev events.Event) {
	g := &s.run
	at := s.rec.At
	switch e := ev.(type) {
	case events.EngineStarted:
		g.starts = append(g.starts, Start{Fact: s.fact, At: at, Without: s.unsignedNow(s.lacksEvidence())})
		s.actDone(events.Cranking)
	case events.RunRead:
		r := RunRead{RunRead: e, Fact: s.fact, Start: len(g.starts) - 1, Secs: int64(e.After)}
		if r.Start >= 0 && e.After == 0 {
			r.Secs = (at - g.starts[r.Start].At) / 1_000_000
		}
		g.reads = append(g.reads, r)
	case events.OutputRead:
		g.outputs = append(g.outputs, Output{e, s.fact})
	case events.EngineStopped:
		if n := len(g.starts); n > 0 && g.starts[n-1].Stopped == 0 {
			g.starts[n-1].Stopped, g.starts[n-1].Off = s.fact, at
			g.starts[n-1].Warm = e.Warm
		}
	case events.EngineCooled:
		if n := len(g.starts); n > 0 && g.starts[n-1].Stopped != 0 {
			g.starts[n-1].Cold = s.fact
		}
	case events.DistanceRead:
		g.km = append(g.km, distance{e.Km, s.fact})
	case events.ObligationMet:
		if g.met == nil {
			g.met = map[string]ledger.Fact{}
		}
		g.met[e.Obligation] = s.fact
	}
}

// lacksEvidence names the marks that should stand before a start and do not.
func (s *State) lacksEvidence() []string {
	var list []string
	for _, m := range s.lay.plan.Evidence {
		if !s.now.Mark(m) {
			list = append(list, s.lay.plan.Marks[m].Name)
		}
	}
	return list
}

// MayStart is why the engine may not be started now; nil: it may. What stands
// against cranking stands against it, and the evidence that the plan wants has
// to be there: pre-oiled, oil and coolant (rules R25 and R58).
func (j *Job) MayStart() []Blocker {
	s := j.State()
	list := s.unfilled(j.MayDo(events.Cranking))
	for _, m := range s.lay.plan.Evidence {
		if mark := &s.lay.plan.Marks[m]; !s.now.Mark(m) {
			b := Blocker{mark.Name + ": not done", "do it; then " + say(noun("mark", mark.ID), "DONE")}
			if !s.letPass(noun("act", events.Cranking), b.Text) {
				list = append(list, b)
			}
		}
	}
	return list
}

// unfilled adds the cavities of this engine that lack what the plan says is in
// them.
func (s *State) unfilled(list []Blocker) []Blocker {
	for i := range s.lay.plan.Cavities {
		c := &s.lay.plan.Cavities[i]
		if c.Fluid == "" || s.now.Fluid(plan.CavityIndex(i)) == plan.Filled || s.noneHas(c.Of) {
			continue
		}
		b := Blocker{c.Name + ": no " + c.Fluid + " in it by the book", "fill it; then " + say(noun("cavity", c.ID), "FILLED")}
		if !s.letPass(noun("act", events.Cranking), b.Text) {
			list = append(list, b)
		}
	}
	return list
}

// noneHas reports whether this engine has none of some parts.
func (s *State) noneHas(parts []plan.PartIndex) bool {
	for _, p := range parts {
		if s.now.Part(p) != plan.PartAbsent {
			return false
		}
	}
	return len(parts) > 0
}

// LastDistance is what the distance counter showed last, in km; false: it was
// not read.
func (s *State) LastDistance() (km float64, ok bool) {
	if n := len(s.run.km); n > 0 {
		return s.run.km[n-1].km, true
	}
	return 0, false
}

// Starts lists the times that the engine ran. Read only.
func (s *State) Starts() []Start { return s.run.starts }

// Runs reports whether it runs now.
func (s *State) Runs() bool {
	n := len(s.run.starts)
	return n > 0 && s.run.starts[n-1].Stopped == 0
}

// HeatCycles counts the times that it was warm and is cold again.
func (s *State) HeatCycles() int {
	n := 0
	for i := range s.run.starts {
		if s.run.starts[i].Warm && s.run.starts[i].Cold != 0 {
			n++
		}
	}
	return n
}

// MinutesRun is how long it ran, up to the last fact where it runs still.
func (s *State) MinutesRun() int {
	sum := int64(0)
	for i := range s.run.starts {
		off := s.run.starts[i].Off
		if s.run.starts[i].Stopped == 0 {
			off = s.job.LatestAt()
			if i+1 < len(s.run.starts) {
				off = s.run.starts[i+1].At // nobody said that it stopped
			}
		}
		sum += max(0, off-s.run.starts[i].At)
	}
	return int(sum / 60_000_000)
}

// Km is the distance since the first reading of it.
func (s *State) Km() float64 {
	n := len(s.run.km)
	if n < 2 {
		return 0
	}
	return max(0, s.run.km[n-1].km-s.run.km[0].km)
}

// RunNow is one reading that the plan wants of the running engine, and how it
// stands since the last start.
type RunNow struct {
	Reading string
	Of      string
	Known   bool
	Within  int // seconds after the start; 0: not said
	Source  string
	Gauge   string
	Reads   []RunLine
	Advice  string // the next action; empty: none
}

// RunLine is one reading with the limits of its speed.
type RunLine struct {
	RunRead
	Read    gauge.Reading
	Limits  gauge.Limits
	Verdict gauge.Verdict
	Late    bool // after the time by which it had to be there
}

// Running lists the readings that the plan wants of the running engine, in its
// order, with those of the last start; then those that it does not have.
func (j *Job) Running() []RunNow {
	s := j.State()
	p := s.lay.plan
	list := make([]RunNow, len(p.RunReadings))
	for i := range p.RunReadings {
		r := &p.RunReadings[i]
		list[i] = RunNow{Reading: r.ID, Of: r.Of, Known: true, Within: r.Within, Source: r.Source, Gauge: r.Gauge}
	}
	for i := range s.run.reads {
		r := &s.run.reads[i]
		if r.Start != len(s.run.starts)-1 {
			continue
		}
		at, ok := p.RunReading(r.Reading)
		if !ok {
			at = len(list)
			for k := len(p.RunReadings); k < len(list); k++ {
				if list[k].Reading == r.Reading {
					at = k
				}
			}
			if at == len(list) {
				list = append(list, RunNow{Reading: r.Reading, Of: r.Reading})
			}
		}
		list[at].Reads = append(list[at].Reads, s.runLine(r))
	}
	for i := range list {
		list[i].advise()
	}
	return list
}

func (s *State) runLine(r *RunRead) RunLine {
	unit := r.Unit
	l := RunLine{RunRead: *r}
	i, ok := s.lay.plan.RunReading(r.Reading)
	if ok && unit == "" {
		unit = s.lay.plan.RunReadings[i].Unit
	}
	l.Read = readingOf(events.PointRead{Value: r.Value, Text: r.Text, Unit: unit})
	if !ok {
		return l
	}
	m := &s.lay.plan.RunReadings[i]
	l.Limits = runLimits(m, r.RPM)
	band := gauge.Reading{}
	if m.Band > 0 {
		band, _ = gauge.Of(m.Band, unitOf(m.Unit))
	}
	l.Verdict = l.Limits.Judge(band, l.Read)
	l.Late = m.Within > 0 && r.After > m.Within
	return l
}

// runLimits are the limits of a run reading at a speed. A line between two
// speeds is rounded to a hundredth.
func runLimits(m *plan.RunReading, rpm int) gauge.Limits {
	low, high := m.At(rpm)
	end := func(l plan.Limit) gauge.Reading {
		if !l.Known {
			return gauge.Reading{}
		}
		r, _ := gauge.Of(float64(int64(l.Value*100+0.5))/100, unitOf(m.Unit))
		return r
	}
	return gauge.Limits{Of: m.Of, Source: m.Source, Service: gauge.Range{Min: end(low), Max: end(high)}}
}

// advise says what the last reading of a kind asks for.
func (n *RunNow) advise() {
	if len(n.Reads) == 0 {
		if n.Known {
			n.Advice = "read it while the engine runs: " + say("reading "+n.Reading, "numbers")
		}
		return
	}
	l := &n.Reads[len(n.Reads)-1]
	switch {
	case l.Verdict.Place == gauge.Beyond:
		n.Advice = "stop it and find out why; then " + say("reading "+n.Reading, "numbers")
	case l.Verdict.Place.Open():
		n.Advice = "read it again: " + say("reading "+n.Reading, "numbers")
	case l.Verdict.Place == gauge.NotAlike:
		n.Advice = "look at the unit; " + say("reading "+n.Reading, "numbers")
	case n.Reads[0].Late:
		n.Advice = "it came late: find out why before the next start; then " + say("reading "+n.Reading, "numbers")
	}
}

// Words is the reading with its speed and how it stands.
func (l *RunLine) Words() string {
	text := l.Read.String()
	if l.RPM > 0 {
		text += " at " + itoa(l.RPM) + " rpm"
	}
	if l.After > 0 {
		text += " after " + itoa(l.After) + " s"
	}
	m := Measure{Verdict: l.Verdict, Limits: l.Limits}
	if short := m.Short(); short != "" {
		text += ", " + short
	}
	if l.Late {
		text += ", too late"
	}
	return text
}

// DoubtRun is what makes a reading of the running engine hard to believe.
func (j *Job) DoubtRun(reading, digits, unit string) (gauge.Question, bool) {
	s := j.State()
	i, ok := s.lay.plan.RunReading(reading)
	if !ok {
		return gauge.Question{}, false
	}
	m := &s.lay.plan.RunReadings[i]
	if unit == "" {
		unit = m.Unit
	}
	r, err := gauge.Read(digits, unitOf(unit))
	if err != nil {
		return gauge.Question{}, false
	}
	all := gauge.Limits{Of: m.Of}
	for _, l := range m.Limits {
		at := runLimits(m, l.RPM)
		if low := at.Service.Min; low.Known() && (!all.Service.Min.Known() || low.Compare(all.Service.Min) < 0) {
			all.Service.Min = low
		}
		if high := at.Service.Max; high.Known() && (!all.Service.Max.Known() || high.Compare(all.Service.Max) > 0) {
			all.Service.Max = high
		}
	}
	return all.Question(r)
}

// unmetStart is what stands against a start, and what stood against those that
// were made: both can be let pass by a second person.
func (s *State) unmetStart() []string {
	list := textsOf(s.job.MayStart())
	for _, l := range s.job.Red() {
		if l.Code == RedStart {
			list = append(list, l.Text)
		}
	}
	return list
}
