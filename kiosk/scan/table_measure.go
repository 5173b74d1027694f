package scan

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"countback/events"
	"countback/projections/engine"
	"countback/projections/plan"
)

var measureRows = []Sentence{
	{Subject: "measurement position|hole? gauge?", Asks: []Ask{{Key: "reads", Kind: AskReadings, Prompts: whatItReads, Points: pointsOf, Doubt: doubtOf},
		{Key: "place", Kind: AskText, Types: []Type{Position, Hole}, Prompts: whichPlace, When: func(s *Said) bool { return whichPlace(s) != "" }}}, Event: "measured",
		Does: "one reading, or one at each point that the plan names; a place that it does not have is asked for; with its unit and temperature where they are not the usual", Try: "measurement clearance-intake, position 2Ia, 0.24", Build: buildMeasured},
	{Subject: "measurement position|hole?", Verb: FindingWord, Asks: []Ask{{Key: "what", Kind: AskText, Prompt: "What was found? (OK: as it reads)", Skip: true}}, Event: "finding-raised",
		Does: "what was measured is a finding; holds its part until decided", Try: "measurement main-journal, position 4, FINDING, OK", Build: buildMeasuredFinding},
	{Subject: "container measurement gauge?", Asks: []Ask{
		{Key: "kind", Kind: AskNoun, Types: []Type{Size}, Prompt: "Which size is it? Several there are measured so", When: severalMeasured},
		{Key: "reads", Kind: AskReadings, Prompt: "What does the first one read? OK ends it", Doubt: doubtOf}}, Source: "the container", Event: "fasteners-measured",
		Does: "one reading of each loose fastener in it, one after the other until OK: good or condemned by the limit", Try: "bag, measurement head-bolt-thinning, 0.02, 0.04, 0.17, OK", Build: buildSet},
	{Subject: "measurement", Verb: Worksheet, Nature: Query, Does: "limits, readings and verdicts of this measurement, place by place", Try: "measurement bore, WORKSHEET"},
	{Subject: "", Verb: Worksheet, Nature: Query, Does: "what was measured and how it stands, the worst first", Try: "WORKSHEET"},
}

// measurement is the plan's measurement that a sentence is about; nil if the
// plan has none of that name.
func (s *Said) measurement() *plan.Measurement {
	if ix, ok := s.Plan().Measurement(s.At(0, Measurement).ID); ok {
		return &s.Plan().Measurements[ix]
	}
	return nil
}

// measuredAt is the place that was named, or said when it was asked for.
func (s *Said) measuredAt() events.Hole {
	if r := s.Reply("place"); r.Key != "" {
		_, place, ok := strings.Cut(r.Text, ":")
		if !ok {
			place = r.Text
		}
		return events.Hole(strings.TrimPrefix(place, "position "))
	}
	if at := append(s.Positions(), s.Holes()...); len(at) > 0 {
		return at[0]
	}
	return ""
}

// whichPlace asks for the place of a reading where the plan has several and none
// of them was named: it would count for nothing. Empty: it is clear.
func whichPlace(s *Said) string {
	m := s.measurement()
	if m == nil || len(m.Places) == 0 || slices.Contains(m.Places, s.measuredAt()) {
		return ""
	}
	list := make([]string, 0, len(m.Places))
	for i, p := range m.Places {
		if i == 12 && len(m.Places) > 14 {
			list = append(list, "...", string(m.Places[len(m.Places)-1]))
			break
		}
		list = append(list, string(p))
	}
	has := m.ID + " is read at " + strings.Join(list, ", ")
	if at := s.measuredAt(); at != "" {
		has += ", not at " + string(at)
	}
	return has + ". Which is it? Scan the position, or type it"
}

func pointsOf(s *Said) []string {
	m := s.measurement()
	if m == nil || len(m.Points) == 0 {
		return []string{""}
	}
	list := make([]string, len(m.Points))
	for i, p := range m.Points {
		list[i] = string(p)
	}
	return list
}

// whatItReads asks for the reading: for a further one where the gauge cannot
// tell.
func whatItReads(s *Said) string {
	m := s.Job.MeasureOf(s.At(0, Measurement).ID, s.measuredAt())
	if m.Verdict.Place.Open() {
		return "What does it read, once more?"
	}
	if p := s.measurement(); p != nil && p.Unit == "" && s.unit() != s.Plan().Units.Length {
		return "What does it read, in " + map[string]string{"in": "inches", "mm": "millimetres"}[s.unit()] + "?"
	}
	return "What does it read?"
}

func doubtOf(s *Said, r ReadSaid) *Doubt {
	q, ok := s.Job.Doubt(s.At(0, Measurement).ID, r.Digits, cmp.Or(r.Unit, s.unit()))
	if !ok {
		return nil
	}
	d := &Doubt{Text: q.String()}
	if len(q.Meant) > 0 {
		m := q.Meant[0]
		d.Has, d.Meant = true, ReadSaid{Point: r.Point, Digits: m.Digits(), Unit: m.Unit().String(), Value: m.Float(), Celsius: r.Celsius}
	}
	return d
}

// unit is the unit of a measurement where nobody says another.
func (s *Said) unit() string {
	switch m := s.measurement(); {
	case m != nil && m.Unit != "":
		return m.Unit
	}
	return s.Job.LengthUnit()
}

// shortest reports whether digits are how a number is written anyway.
func shortest(r ReadSaid) bool { return strconv.FormatFloat(r.Value, 'f', -1, 64) == r.Digits }

// pointRead is a reading as it is stored in an event of a unit.
func pointRead(r ReadSaid, unit string) events.PointRead {
	p := events.PointRead{Point: r.Point, Value: r.Value, Sure: r.Sure}
	if !shortest(r) {
		p.Text = r.Digits
	}
	if r.Unit != "" && r.Unit != unit {
		p.Unit = r.Unit
	}
	return p
}

func buildMeasured(s *Said) (engine.Command, error) {
	reads := s.Reply("reads").Reads
	if len(reads) == 0 {
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: "nothing was read", Next: "scan the measurement, then the number"}
	}
	if no := whichPlace(s); no != "" {
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: no[:strings.Index(no, ". Which")], Next: "say the measurement again, its position, then the number"}
	}
	e := events.Measured{Measurement: s.At(0, Measurement).ID, At: s.measuredAt(), Unit: s.unit(), Gauge: s.At(0, Gauge).ID}
	for _, r := range reads {
		if r.Celsius != 0 {
			e.Celsius = r.Celsius
		}
	}
	if len(reads) == 1 && reads[0].Point == "" {
		p := pointRead(reads[0], e.Unit)
		e.Value, e.Text, e.Sure = p.Value, p.Text, p.Sure
		if p.Unit != "" {
			e.Unit = p.Unit
		}
		return engine.Tell{Event: e}, nil
	}
	for _, r := range reads {
		e.Points = append(e.Points, pointRead(r, e.Unit))
	}
	e.Value = e.Points[0].Value
	return engine.Tell{Event: e}, nil
}

// buildMeasuredFinding raises what was measured as a finding: in the words of
// the verdict where nobody says others.
func buildMeasuredFinding(s *Said) (engine.Command, error) {
	id, at := s.At(0, Measurement).ID, s.measuredAt()
	e := events.FindingRaised{Finding: s.name("f"), On: Noun{Type: Measurement, ID: id}.Text(), What: s.Reply("what").Text}
	if at != "" {
		e.On += ":" + string(at)
	}
	if e.What == "" {
		m := s.Job.MeasureOf(id, at)
		if m.Fact == 0 {
			return nil, &engine.Refusal{Code: engine.Conflict, Fact: m.Name() + " was not read", Next: "say what was found, or read it first"}
		}
		e.What = m.Said()
		if short := m.Short(); short != "" {
			e.What += ", " + short
		}
	}
	return engine.Tell{Event: e}, nil
}

func severalMeasured(s *Said) bool {
	return len(s.State().MeasuredKinds(s.At(0, Measurement).ID, s.Container(0))) > 1
}

func buildSet(s *Said) (engine.Command, error) {
	id, place := s.At(0, Measurement).ID, s.Container(0)
	e := events.FastenersMeasured{Measurement: id, Place: place, Unit: s.unit(), Gauge: s.At(0, Gauge).ID, Kind: events.Kind(s.Reply("kind").Noun.ID)}
	if kinds := s.State().MeasuredKinds(id, place); e.Kind == "" && len(kinds) == 1 {
		e.Kind = kinds[0]
	}
	if e.Kind == "" {
		return nil, &engine.Refusal{Code: engine.Conflict, Fact: "nothing is in " + string(place) + " by the book", Next: "count what is in it, then measure"}
	}
	for _, r := range s.Reply("reads").Reads {
		e.Reads = append(e.Reads, pointRead(r, e.Unit))
	}
	if len(e.Reads) == 0 {
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: "nothing was read", Next: "scan the bag, the measurement, then a number for each"}
	}
	return engine.Tell{Event: e}, nil
}
