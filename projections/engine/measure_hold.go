package engine

import (
	"strings"

	"countback/events"
	"countback/projections/gauge"
	"countback/projections/plan"
)

// holding are the measurements that hold something up: beyond a limit and not
// decided, more than a neighbour allows, or to be read again (rule R55).
func (s *State) holding() []Measure {
	if len(s.measured) == 0 {
		return nil
	}
	var list []Measure
	for _, m := range s.measures() {
		if m.holds() && m.Decided == "" {
			list = append(list, m)
		}
	}
	return list
}

func (m *Measure) holds() bool {
	return m.Known && m.Fact != 0 && (m.Verdict.Place == gauge.Beyond || m.Verdict.Place == gauge.NotAlike || m.Verdict.Place.Open() || m.Fit != "" && !m.Fits || len(m.Doubts) > 0)
}

// noun names a measurement at a place: "measurement main-journal:2".
func (m *Measure) noun() string {
	if m.At == "" {
		return noun("measurement", m.Measurement)
	}
	return noun("measurement", m.Measurement+":"+string(m.At))
}

// decision is what was decided about a measurement, or about a part that it
// belongs to, after it was read; empty: nothing.
func (s *State) decision(m *Measure) string {
	if !m.holds() {
		return ""
	}
	on, all := m.noun(), noun("measurement", m.Measurement)
	if s.overrideAfter(on, m.Fact) || s.overrideAfter(all, m.Fact) {
		return "let pass by a second person"
	}
	for _, f := range s.findings {
		if f.Decision == "" || f.Decided <= m.Fact {
			continue
		}
		about := f.On == on || f.On == all
		for _, p := range s.measuredParts(m.Measurement) {
			about = about || f.On == noun("part", s.lay.plan.Parts[p].ID)
		}
		if about {
			return "decided: " + decisionWords(f.Decision) + " (" + f.ID + ")"
		}
	}
	return ""
}

// decisionWords is a decision as people say it.
func decisionWords(d string) string {
	if w, ok := map[string]string{"use": "use it", "repair": "repair", "replace": "replace", "send-out": "send it out", "ask-owner": "ask the owner"}[d]; ok {
		return w
	}
	return d
}

// measuredParts are the parts that a measurement belongs to.
func (s *State) measuredParts(id string) []plan.PartIndex {
	ix, ok := s.lay.plan.Measurement(id)
	if !ok {
		return nil
	}
	var list []plan.PartIndex
	for i := range s.lay.plan.Parts {
		if contains(s.lay.plan.Parts[i].Measures, ix) {
			list = append(list, plan.PartIndex(i))
		}
	}
	return list
}

// measuresFor reports whether a step fits what a measurement is of.
func (s *State) measuresFor(ix plan.StepIndex, id string) bool {
	id, _, _ = strings.Cut(id, ":")
	for _, p := range s.measuredParts(id) {
		if contains(s.lay.plan.Steps[ix].Fits, p) {
			return true
		}
	}
	return false
}

func (v *view) openMeasures(ix plan.StepIndex, list []Blocker) []Blocker {
	for i := range v.measured {
		if m := &v.measured[i]; v.s.measuresFor(ix, m.Measurement) {
			list = append(list, Blocker{m.String(), v.s.clearsMeasure(m)})
		}
	}
	return list
}

// clears is what to do about a measurement that holds something up.
func (s *State) clearsMeasure(m *Measure) string {
	nouns := []string{"measurement " + m.Measurement}
	if m.At != "" {
		nouns = append(nouns, s.placeNoun(m.Measurement)+" "+string(m.At))
	}
	again := say(append(nouns, "numbers")...)
	finding := say(append(append([]string{}, nouns...), "FINDING")...)
	switch {
	case m.Verdict.Place == gauge.Beyond && !strings.HasPrefix(m.Advice, "FINDING"):
		return orSay(m.Advice, "or else "+finding)
	case m.Verdict.Place == gauge.Beyond:
		return finding
	case strings.HasPrefix(m.Advice, "read") || strings.HasPrefix(m.Advice, "look"):
		return m.Advice + ": " + again
	}
	return orSay(m.Advice, finding)
}

// placeNoun is what the places of a measurement are called when they are
// scanned.
func (s *State) placeNoun(string) string { return "position" }

func (r *redList) measures() {
	for _, m := range r.s.holding() {
		r.add(RedMeasure, m.Fact, m.String(), r.s.clearsMeasure(&m))
	}
}

// tellsMeasured is what was read, in the digits in which it was read.
func tellsMeasured(e events.Measured) string {
	m := Measure{Measurement: e.Measurement, At: e.At}
	points := e.Points
	if len(points) == 0 {
		points = []events.PointRead{{Value: e.Value, Text: e.Text}}
	}
	for _, p := range points {
		if p.Unit == "" {
			p.Unit = e.Unit
		}
		m.Reads = append(m.Reads, MeasureRead{Point: p.Point, Reading: readingOf(p)})
	}
	text := m.Name() + ": " + m.Said()
	if e.Gauge != "" {
		text += ", with " + e.Gauge
	}
	return text
}
