package plan

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"
)

// RunReading is something that is read on the running engine, with its limits
// by speed.
type RunReading struct {
	ID     string
	Of     string // what, in words
	Unit   string
	Line   int
	Limits []RunLimit // by rising speed; one of 0 rpm holds at every speed
	Steps  bool       // between two speeds the lower one's limits hold; otherwise a straight line
	Within int        // seconds after the start by which it must be there; 0: not said
	Source string     // document and edition
	Gauge  string     // what it is read with, in words
	Band   float64    // guard band of that to each side; 0: not known
}

// RunLimit is the limits at one speed in revolutions per minute.
type RunLimit struct {
	RPM      int
	Min, Max Limit
}

// At is the limits at a speed: below the least speed those of the least, above
// the greatest those of the greatest, in between a straight line from one to
// the other, or with Steps those of the speed below.
func (r *RunReading) At(rpm int) (low, high Limit) {
	n := len(r.Limits)
	switch {
	case n == 0:
		return Limit{}, Limit{}
	case rpm <= r.Limits[0].RPM:
		return r.Limits[0].Min, r.Limits[0].Max
	case rpm >= r.Limits[n-1].RPM:
		return r.Limits[n-1].Min, r.Limits[n-1].Max
	}
	i := 1
	for r.Limits[i].RPM <= rpm {
		i++
	}
	a, b := &r.Limits[i-1], &r.Limits[i]
	if r.Steps {
		return a.Min, a.Max
	}
	part := float64(rpm-a.RPM) / float64(b.RPM-a.RPM)
	between := func(a, b Limit) Limit {
		if !a.Known || !b.Known {
			return Limit{}
		}
		return Limit{Set: true, Known: true, Value: a.Value + part*(b.Value-a.Value)}
	}
	return between(a.Min, b.Min), between(a.Max, b.Max)
}

// Obligation is what falls due after the engine was started: by whichever comes
// first of what After names.
type Obligation struct {
	ID         string
	What       string
	Line       int
	HeatCycles int         // 0: not by these
	Minutes    int         // of running
	Km         int         // of distance
	Marks      []MarkIndex // all of them stand
}

func (r *reader) readRunReading(e *entry) RunReading {
	m := RunReading{ID: e.text("id"), Of: e.text("of"), Unit: e.text("unit"), Line: e.line(), Steps: e.choice("between", "line", "step") == 1,
		Within: int(e.duration("within").Seconds()), Source: e.text("source"), Gauge: e.text("gauge"), Band: e.above("band")}
	if m.Of == "" {
		m.Of = spoken(m.ID)
	}
	low, high := e.limit("min"), e.limit("max")
	if n := e.get("limits"); n != nil {
		m.Limits = r.runLimits(e, n)
	}
	switch {
	case len(m.Limits) > 0 && (low.Set || high.Set):
		r.fault(e.line(), CodeValue, "%s: limits by speed, or min and max; it has both", e.what)
	case len(m.Limits) == 0 && !low.Set && !high.Set:
		r.fault(e.line(), CodeMissing, "%s: min, max or limits is wanted; unknown is a value", e.what)
	case len(m.Limits) == 0:
		m.Limits = []RunLimit{{Min: low, Max: high}}
	}
	if low.Known && high.Known && low.Value > high.Value {
		r.fault(e.line(), CodeValue, "%s: min %g is above max %g", e.what, low.Value, high.Value)
	}
	e.done()
	return m
}

var speedLimit = regexp.MustCompile(`^\s*(-?\d+(?:\.\d+)?)?\s*(\.\.)?\s*(-?\d+(?:\.\d+)?)?\s*$`)

// runLimits reads {800: 1.0, 2000: 2.5..6, 6000: ..7}: speeds in revolutions per
// minute, each with its least, both, or its most.
func (r *reader) runLimits(e *entry, n *yaml.Node) []RunLimit {
	if n.Kind != yaml.MappingNode {
		e.bad(n, "limits", "{rpm: least..most, ...}")
		return nil
	}
	var list []RunLimit
	for i := 0; i+1 < len(n.Content); i += 2 {
		rpm, err := strconv.Atoi(n.Content[i].Value)
		low, high, ok := speedRange(n.Content[i+1].Value)
		switch {
		case err != nil || rpm < 1 || rpm > 25_000:
			r.fault(n.Content[i].Line, CodeValue, "%s: limits: %q; a speed from 1 to 25000 revolutions per minute is wanted", e.what, n.Content[i].Value)
		case !ok:
			r.fault(n.Content[i+1].Line, CodeValue, "%s: limits at %d: %q; 1.0, 1.0..6 or ..6 is wanted", e.what, rpm, n.Content[i+1].Value)
		case len(list) > 0 && rpm <= list[len(list)-1].RPM:
			r.fault(n.Content[i].Line, CodeValue, "%s: limits: %d behind %d; rising speeds are wanted", e.what, rpm, list[len(list)-1].RPM)
		default:
			list = append(list, RunLimit{rpm, low, high})
		}
	}
	return list
}

// speedRange reads "1.0", "1.0..6" or "..6"; one number alone is the least.
func speedRange(text string) (low, high Limit, ok bool) {
	m := speedLimit.FindStringSubmatch(text)
	if m == nil || m[1] == "" && (m[2] == "" || m[3] == "") || m[2] == "" && m[3] != "" {
		return low, high, false
	}
	for i, l := range [...]*Limit{&low, &high} {
		if word := m[1+2*i]; word != "" {
			v, err := strconv.ParseFloat(word, 64)
			if err != nil || v < -1e6 || v > 1e6 {
				return low, high, false
			}
			*l = Limit{Set: true, Known: true, Value: v}
		}
	}
	return low, high, !low.Known || !high.Known || low.Value <= high.Value
}

// RangeText writes limits as a plan does: "1.0", "1.0..6", "..6".
func (l RunLimit) RangeText() string {
	text := ""
	if l.Min.Known {
		text = strconv.FormatFloat(l.Min.Value, 'f', -1, 64)
	}
	if l.Max.Known {
		text += ".." + strconv.FormatFloat(l.Max.Value, 'f', -1, 64)
	}
	return text
}

func (r *reader) readObligation(e *entry) Obligation {
	o := Obligation{ID: e.text("id"), What: e.text("what"), Line: e.line()}
	if o.What == "" {
		o.What = spoken(o.ID)
	}
	if n := e.get("after"); n == nil {
		r.fault(e.line(), CodeMissing, "%s: after is missing: {heat-cycles: 1}, {minutes: 20}, {distance-km: 800} or {marks: [...]}", e.what)
	} else if a := r.open(n, e.what+": after"); a != nil {
		o.HeatCycles, o.Minutes = a.whole("heat-cycles", 1, 1000, 0), a.whole("minutes", 1, 100_000, 0)
		o.Km, o.Marks = a.whole("distance-km", 1, 1_000_000, 0), many(a, r.p.names.marks, "marks", "mark")
		if o.HeatCycles+o.Minutes+o.Km+len(o.Marks) == 0 {
			r.fault(a.line(), CodeMissing, "%s: one of heat-cycles, minutes, distance-km, marks is wanted", a.what)
		}
		a.done()
	}
	e.done()
	return o
}

// AfterText says when an obligation falls due: "1 heat cycle", "20 minutes of
// running or 800 km".
func (o *Obligation) AfterText(p *Plan) string {
	var list []string
	add := func(n int, one, more string) {
		if n == 1 {
			list = append(list, "1 "+one)
		} else if n > 1 {
			list = append(list, fmt.Sprintf("%d %s", n, more))
		}
	}
	add(o.HeatCycles, "heat cycle", "heat cycles")
	add(o.Minutes, "minute of running", "minutes of running")
	add(o.Km, "km", "km")
	for _, m := range o.Marks {
		list = append(list, p.Marks[m].Name)
	}
	return strings.Join(list, " or ")
}

// RunReading is the index of a run reading, and whether the plan has it.
func (p *Plan) RunReading(id string) (int, bool) {
	for i := range p.RunReadings {
		if p.RunReadings[i].ID == id {
			return i, true
		}
	}
	return None, false
}

// Obligation is the index of an obligation, and whether the plan has it.
func (p *Plan) Obligation(id string) (int, bool) {
	for i := range p.Obligations {
		if p.Obligations[i].ID == id {
			return i, true
		}
	}
	return None, false
}
