package panel

import (
	"math"
	"strconv"

	"countback/projections/engine"
	"countback/projections/gauge"
	"countback/projections/plan"
)

// Scale is readings on a line with their limits, or how far something has come
// on its way. All numbers are in one unit.
type Scale struct {
	Name   string // what it is, in short: drawn before the line
	Value  string // what was read, in its own digits: drawn behind the line
	Min    End    // the limits that decide
	Max    End
	New    [2]End    // the limits for new parts, where others decide
	Band   float64   // nearer to a limit that decides one reading proves nothing; 0: not known
	At     float64   // what counts
	Known  bool      // there is something that counts
	Beside []float64 // other readings of it
	Low    float64   // what the line spans; Low < High
	High   float64
}

// End is one end of a range; without Known it is open.
type End struct {
	Known bool
	At    float64
	Text  string // as it is written, without its unit
}

func endOf(r gauge.Reading, u gauge.Unit) End {
	if !r.Known() {
		return End{}
	}
	c := r.Convert(u)
	if !c.Known() {
		return End{}
	}
	return End{Known: true, At: c.Float(), Text: c.Digits()}
}

// within is the scale of a verdict: the deciding limits, those for new parts
// inside them, the guard band, and what was read. It is nil where there is
// nothing to draw. Limits and readings are drawn in the unit of the limits.
func within(name string, v gauge.Verdict, size gauge.Reading, reads []gauge.Reading) *Scale {
	u := unitOf(v.Limits, size)
	if u == gauge.NoUnit {
		return nil
	}
	s := &Scale{Name: name, Value: size.String(), Min: endOf(v.Limits.Service.Min, u), Max: endOf(v.Limits.Service.Max, u)}
	if !size.Known() {
		s.Value = ""
	}
	fresh := [2]End{endOf(v.Limits.New.Min, u), endOf(v.Limits.New.Max, u)}
	for i, end := range [2]*End{&s.Min, &s.Max} {
		switch {
		case !end.Known:
			*end = fresh[i]
		case fresh[i].Known && fresh[i].At != end.At:
			s.New[i] = fresh[i]
		}
	}
	if b := v.Band.Convert(u); b.Known() {
		s.Band = math.Abs(b.Float())
	}
	if size.Alike(reading1(u)) {
		s.At, s.Known = size.In(u, 9).Float(), true
	}
	for _, r := range reads {
		if r.Alike(reading1(u)) && r.Compare(size) != 0 {
			s.Beside = append(s.Beside, r.In(u, 9).Float())
		}
	}
	if !s.Known && !s.Min.Known && !s.Max.Known {
		return nil
	}
	return s
}

func reading1(u gauge.Unit) gauge.Reading {
	r, _ := gauge.Of(1, u)
	return r
}

// unitOf is the unit that a verdict is drawn in: that of its limits, or of the
// reading where it has none.
func unitOf(l gauge.Limits, size gauge.Reading) gauge.Unit {
	for _, r := range []gauge.Reading{l.Service.Min, l.Service.Max, l.New.Min, l.New.Max, size} {
		if r.Known() {
			return r.Unit()
		}
	}
	return gauge.NoUnit
}

// measured is the scale of one measurement at one place.
func measured(m *engine.Measure, name string) *Scale {
	v := m.Verdict
	v.Limits = m.Limits
	reads := v.Readings
	if m.Kind == plan.MeasureSize || m.Kind == "" { // otherwise they are of another size
		for _, r := range m.Reads {
			reads = append(reads, r.Reading)
		}
	}
	return within(name, v, m.Size, reads)
}

// span lays scales of one kind over one stretch, so that they can be compared
// by eye: all readings and limits are on it, but none farther out than the
// limits are wide; what lies farther is drawn at its end.
func span(list ...*Scale) {
	low, high := math.Inf(1), math.Inf(-1)
	first, last := math.Inf(1), math.Inf(-1) // of the limits
	band := 0.0
	for _, s := range list {
		for _, e := range []End{s.Min, s.Max, s.New[0], s.New[1]} {
			if e.Known {
				first, last = min(first, e.At), max(last, e.At)
			}
		}
		band = max(band, s.Band)
		for _, v := range s.values() {
			low, high = min(low, v), max(high, v)
		}
	}
	low, high = min(low, first), max(high, last)
	if math.IsInf(low, 0) || math.IsInf(high, 0) {
		return
	}
	if wide := last - first; wide > 0 {
		low, high = max(low, first-wide), min(high, last+wide)
	}
	// what only has a most, and is no large part of it, is seen from nothing on
	if first == last && first > 0 && low > 0 && first <= 5*max(first-low, high-first) {
		low = 0
	}
	room := max((high-low)/8, 2*band)
	if room <= 0 {
		room = max(math.Abs(high)/8, 1e-9)
	}
	for _, s := range list {
		s.Low, s.High = low-room, high+room
		if low >= 0 {
			s.Low = max(0, s.Low)
		}
	}
}

// values are all numbers that were read.
func (s *Scale) values() []float64 {
	if !s.Known {
		return s.Beside
	}
	return append([]float64{s.At}, s.Beside...)
}

// way is how far something has come towards where it falls due.
func way(name string, have, want float64, unit string) *Scale {
	return &Scale{Name: name, Max: End{Known: true, At: want, Text: number(want)}, At: have, Known: true,
		Value: number(have) + " of " + number(want) + " " + unit, High: max(want*1.1, min(have, want*1.5), 1)}
}

// number is a number with as many decimals as it has, at most two.
func number(v float64) string {
	return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64)
}

// draw adds a row with a scale.
func (g *Group) draw(m Mark, text, more string, s *Scale) {
	g.Rows = append(g.Rows, Row{Mark: m, Text: text, More: more, Scale: s})
}

// cells adds a row of a table; its text is what the cells say, for a screen
// without room.
func (g *Group) cells(m Mark, more string, cells ...string) {
	text := ""
	for i, c := range cells {
		if c == "" {
			continue
		}
		if text != "" {
			text += ", "
		}
		if i > 0 && i < len(g.Heads) && g.Heads[i] != "" {
			text += g.Heads[i] + " "
		}
		text += c
	}
	g.Rows = append(g.Rows, Row{Mark: m, Text: text, More: more, Cells: cells})
}
