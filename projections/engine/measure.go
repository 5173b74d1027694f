package engine

import (
	"slices"

	"countback/events"
	"countback/projections/gauge"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// Measure is how one measurement stands at one place: what was read, what
// follows from it, and what to do next.
type Measure struct {
	Measurement string
	Of          string      // what is measured, in words
	At          events.Hole // empty: at its one place
	Kind        plan.MeasureKind
	Known       bool // the plan has it
	Limits      gauge.Limits
	Gauge       string        // what the plan wants it read with
	Reads       []MeasureRead // those that decide, oldest first; an earlier size that was settled is not among them
	Size        gauge.Reading // what counts: read, or worked out
	How         string        // how it was worked out; empty: it was read
	Verdict     gauge.Verdict
	Stands      string // look here: it does not look like its siblings
	Fit         string // how it goes with its neighbour
	Fits        bool   // false with a Fit: it does not
	Doubts      []string
	Decided     string      // what was decided about it since; empty: nothing
	Advice      string      // the next action; empty: none
	Fact        ledger.Fact // of the last reading; 0: not read
}

// MeasureRead is one reading as it was told.
type MeasureRead struct {
	Fact    ledger.Fact
	Time    int64
	Point   string
	Reading gauge.Reading
	Who     events.Badge
	Gauge   string // what it was read with, if that was said
	Sure    bool   // it was doubted, and told to be so
	Celsius float64
}

// gauging is what the fold keeps about measurements beside the readings.
type gauging struct {
	exchanged map[events.Part]ledger.Fact // host parts that were exchanged, and when last
	sets      []measuredSet               // of loose fasteners
}

func (g *gauging) exchange(p events.Part, f ledger.Fact) {
	if g.exchanged == nil {
		g.exchanged = map[events.Part]ledger.Fact{}
	}
	g.exchanged[p] = f
}

// telling is what one sentence told of one place.
type telling struct {
	fact    ledger.Fact
	reads   []MeasureRead
	celsius float64
}

// measuring is one look at all readings of a job.
type measuring struct {
	s    *State
	told map[measureAt][]telling
}

type measureAt struct {
	id string
	at events.Hole
}

// Measures is how every measurement of the plan stands at each of its places,
// in the plan's order, and then what was measured that the plan does not have.
func (j *Job) Measures() []Measure { return j.State().measures() }

// MeasureOf is how one measurement stands at one place.
func (j *Job) MeasureOf(id string, at events.Hole) Measure {
	for _, m := range j.Measures() {
		if m.Measurement == id && m.At == at {
			return m
		}
	}
	return Measure{Measurement: id, Of: id, At: at}
}

func (s *State) measures() []Measure {
	g := s.measuring()
	var list []Measure
	for i := range s.lay.plan.Measurements {
		m := &s.lay.plan.Measurements[i]
		places := g.places(m)
		first := len(list)
		for _, at := range places {
			list = append(list, g.measure(m, at))
		}
		g.siblings(m, list[first:])
	}
	return append(list, g.unplanned()...)
}

func (s *State) measuring() *measuring {
	g := &measuring{s: s, told: map[measureAt][]telling{}}
	for i := range s.measured {
		r := &s.measured[i]
		if s.outgrown(r) {
			continue
		}
		t := telling{fact: r.Fact, celsius: r.Celsius}
		points := r.Points
		if len(points) == 0 {
			points = []events.PointRead{{Value: r.Value, Text: r.Text, Sure: r.Sure}}
		}
		for _, p := range points {
			if p.Unit == "" {
				p.Unit = r.Unit
			}
			read := MeasureRead{Fact: r.Fact, Point: p.Point, Reading: readingOf(p), Gauge: r.Gauge, Sure: p.Sure, Celsius: r.Celsius}
			if rec := s.Fact(r.Fact); rec != nil {
				read.Time, read.Who = rec.At, rec.Operator
			}
			t.reads = append(t.reads, read)
		}
		key := measureAt{r.Measurement, r.At}
		g.told[key] = append(g.told[key], t)
	}
	return g
}

// outgrown reports whether a reading is of a part that was exchanged since.
func (s *State) outgrown(r *Reading) bool {
	if len(s.gauging.exchanged) == 0 {
		return false
	}
	ix, ok := s.lay.plan.Measurement(r.Measurement)
	if !ok {
		return false
	}
	for id, fact := range s.gauging.exchanged {
		if p, ok := s.lay.plan.Part(id); ok && fact > r.Fact && slices.Contains(s.lay.plan.Parts[p].Measures, ix) {
			return true
		}
	}
	return false
}

// readingOf is a reading with its digits as they were read; no unit that is
// known makes it a plain number.
func readingOf(p events.PointRead) gauge.Reading {
	u := unitOf(p.Unit)
	if r, err := gauge.Read(p.Text, u); err == nil && p.Text != "" && r.Float() == p.Value {
		return r
	}
	r, _ := gauge.Of(p.Value, u)
	return r
}

func unitOf(text string) gauge.Unit {
	if u, ok := gauge.ParseUnit(text); ok {
		return u
	}
	return gauge.Plain
}

// places are where a measurement is taken: where the plan says, and where it
// was taken besides.
func (g *measuring) places(m *plan.Measurement) []events.Hole {
	list := slices.Clone(m.Places)
	if len(list) == 0 {
		list = append(list, "")
	}
	for i := range g.s.measured {
		if r := &g.s.measured[i]; r.Measurement == m.ID && !slices.Contains(list, r.At) {
			list = append(list, r.At)
		}
	}
	return list
}

// unplanned are readings of what the plan does not have.
func (g *measuring) unplanned() []Measure {
	var list []Measure
	for i := range g.s.measured {
		r := &g.s.measured[i]
		if _, ok := g.s.lay.plan.Measurement(r.Measurement); ok {
			continue
		}
		if slices.ContainsFunc(list, func(m Measure) bool { return m.Measurement == r.Measurement && m.At == r.At }) {
			continue
		}
		m := &plan.Measurement{ID: r.Measurement, Of: r.Measurement, Unit: r.Unit, Kind: plan.MeasureSize, Allows: plan.Allows{Part: plan.None}}
		out := g.measure(m, r.At)
		out.Known = false
		list = append(list, out)
	}
	return list
}

// limitsOf are the limits of a measurement in its unit.
func (s *State) limitsOf(m *plan.Measurement) gauge.Limits {
	u := unitOf(s.unitWord(m))
	end := func(l plan.Limit) gauge.Reading {
		if !l.Known {
			return gauge.Reading{}
		}
		r, _ := gauge.Of(l.Value, u)
		return r
	}
	return gauge.Limits{Of: m.Of, Source: m.Source,
		New:     gauge.Range{Min: end(m.NewMin), Max: end(m.NewMax)},
		Service: gauge.Range{Min: end(m.Min), Max: end(m.Max)}}
}

// unitWord is the unit of a measurement.
func (s *State) unitWord(m *plan.Measurement) string {
	switch {
	case m.Unit != "":
		return m.Unit
	case s.lay.plan.Units.Length != "":
		return s.lay.plan.Units.Length
	}
	return "mm"
}

// bandOf is the guard band of what a measurement is read with.
func (s *State) bandOf(m *plan.Measurement) gauge.Reading {
	if m.Band <= 0 {
		return gauge.Reading{}
	}
	r, _ := gauge.Of(m.Band, unitOf(s.unitWord(m)))
	return r
}

// Doubt is what makes a reading hard to believe before it is stored: another
// unit, a point in the wrong place, more than the gauge can show. The text is
// the digits as they were typed. False: nothing does.
func (j *Job) Doubt(measurement, digits, unit string) (gauge.Question, bool) {
	s := j.State()
	ix, ok := s.lay.plan.Measurement(measurement)
	if !ok {
		return gauge.Question{}, false
	}
	m := &s.lay.plan.Measurements[ix]
	if unit == "" {
		unit = s.unitWord(m)
	}
	r, err := gauge.Read(digits, unitOf(unit))
	if err != nil {
		return gauge.Question{}, false
	}
	if m.Direct() {
		if q, ok := s.limitsOf(m).Question(r); ok {
			return q, true
		}
	}
	if m.Step > 0 {
		g := gauge.Gauge{Name: m.Gauge}
		if g.Name == "" {
			g.Name = "the gauge"
		}
		g.Step, _ = gauge.Of(m.Step, unitOf(s.unitWord(m)))
		if g.Step.Unit() == r.Unit() {
			return g.Question(r)
		}
	}
	return gauge.Question{}, false
}
