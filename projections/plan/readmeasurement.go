package plan

import (
	"regexp"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"countback/events"
)

func (r *reader) readMeasurement(e *entry) Measurement {
	m := Measurement{
		ID: e.text("id"), Of: e.text("of"), Line: e.line(), Unit: e.text("unit"),
		Min: e.limit("min"), Max: e.limit("max"), NewMin: e.limit("new-min"), NewMax: e.limit("new-max"),
		FailsTo: e.text("fails-to"), AllFail: e.choice("one-fails", "alone", "all") == 1,
		Outside: e.text("outside"), Source: e.text("source"), Gauge: e.text("gauge"),
		Kind:    MeasureKind(measureKinds[e.choice("kind", measureKinds...)]),
		From:    many(e, r.p.names.measurements, "from", "measurement"),
		Nominal: e.above("nominal"), Band: e.above("band"), Step: e.above("step"),
		Metal: e.metal(),
	}
	if m.Of == "" {
		m.Of = spoken(m.ID)
	}
	m.Places, m.Points = holesOf(e.places("at")), holesOf(e.places("points"))
	m.Allows = r.readAllows(e)
	r.measurementFaults(e, &m)
	e.done()
	return m
}

func holesOf(at []ref) []events.Hole {
	var list []events.Hole
	for _, a := range at {
		list = append(list, events.Hole(a.text))
	}
	return list
}

var roundPoint = regexp.MustCompile(`^[AB][0-9]{1,2}$`)

func (r *reader) measurementFaults(e *entry, m *Measurement) {
	bad := func(format string, args ...any) {
		r.fault(e.line(), CodeValue, "%s: "+format, append([]any{e.what}, args...)...)
	}
	if !m.Min.Set && !m.Max.Set && !m.NewMin.Set && !m.NewMax.Set && m.Allows.By == "" && len(m.Points) == 0 {
		r.fault(e.line(), CodeMissing, "%s: min or max is wanted; unknown is a value", e.what)
	}
	if m.Min.Known && m.Max.Known && m.Min.Value > m.Max.Value {
		bad("min %g is above max %g", m.Min.Value, m.Max.Value)
	}
	if m.NewMin.Known && m.NewMax.Known && m.NewMin.Value > m.NewMax.Value {
		bad("new-min %g is above new-max %g", m.NewMin.Value, m.NewMax.Value)
	}
	for _, t := range [...]struct {
		service, fresh Limit
		sign           float64
		a, b           string
	}{{m.Min, m.NewMin, 1, "min", "new-min"}, {m.Max, m.NewMax, -1, "max", "new-max"}} {
		if t.service.Known && t.fresh.Known && (t.service.Value-t.fresh.Value)*t.sign > 0 {
			bad("%s %g is tighter than %s %g", t.a, t.service.Value, t.b, t.fresh.Value)
		}
	}
	switch n := len(m.From); {
	case m.Kind == MeasureClearance && n != 2 && n != 0:
		bad("clearance is from two measurements, the bore first; it names %d", n)
	case m.Kind != MeasureClearance && n > 1 || m.Kind == MeasureSize && n > 0:
		bad("%s is not worked out from %d other measurements", m.Kind, n)
	case len(m.Points) > MaxPoints:
		bad("%d points; at most %d", len(m.Points), MaxPoints)
	case slices.Contains(m.From, r.p.names.measurements[m.ID]):
		r.fault(e.line(), CodeLoop, "%s: from: it is worked out from itself", e.what)
	}
	if i := slices.IndexFunc(m.Points, func(h events.Hole) bool { return !roundPoint.MatchString(string(h)) }); m.Kind.Round() && i >= 0 {
		bad("points: %q; a direction and a height such as A1, B1, A2 are wanted for %s", m.Points[i], m.Kind)
	}
}

// fromFaults looks at what a taper or an out-of-round is taken from, once all
// measurements are read.
func (r *reader) fromFaults() {
	for i := range r.p.Measurements {
		m := &r.p.Measurements[i]
		for _, f := range m.From {
			of := &r.p.Measurements[f]
			switch {
			case len(of.From) > 0:
				r.fault(m.Line, CodeValue, "measurement %s: from: %s is itself worked out from another", m.ID, of.ID)
			case m.Kind.Round() && len(of.Points) == 0:
				r.fault(m.Line, CodeMissing, "measurement %s: from: %s has no points; A1, B1, A2, B2 are wanted", m.ID, of.ID)
			case m.Kind.Round() && !roundPoint.MatchString(string(of.Points[0])):
				r.fault(m.Line, CodeValue, "measurement %s: from: %s has points such as %q; A1, B1, A2, B2 are wanted", m.ID, of.ID, of.Points[0])
			}
		}
	}
}

func (r *reader) readAllows(e *entry) Allows {
	a := Allows{Part: None}
	n := e.get("allows")
	if n == nil {
		return a
	}
	x := r.open(n, e.what+": allows")
	if x == nil {
		return a
	}
	a = Allows{By: x.text("by"), Part: one(x, r.p.names.parts, "part", "part"), Min: x.limit("min"), Max: x.limit("max"),
		About: x.above("about"), Otherwise: x.text("otherwise")}
	if a.By == "" && a.Part != None {
		a.By = spoken(string(child(n, "part").Value))
	}
	switch {
	case a.By == "":
		r.fault(x.line(), CodeMissing, "%s: by is missing: whose limit it is", x.what)
	case !a.Min.Known && !a.Max.Known:
		r.fault(x.line(), CodeMissing, "%s: min or max is wanted", x.what)
	}
	x.done()
	return a
}

func (e *entry) metal() Metal {
	n := e.get("metal")
	if n == nil {
		return ""
	}
	all := []string{string(CastIron), string(Steel), string(Aluminium)}
	if n.Kind == yaml.ScalarNode && slices.Contains(all, n.Value) {
		return Metal(n.Value)
	}
	e.r.faultNear(n.Line, CodeValue, Nearest(n.Value, all), "%s: metal is %q; one of %s is wanted", e.what, n.Value, strings.Join(all, ", "))
	return ""
}

// above is a number above zero, or 0 where it is not given.
func (e *entry) above(key string) float64 {
	n := e.get(key)
	if n == nil {
		return 0
	}
	v, ok := number(n)
	if !ok || v <= 0 {
		e.bad(n, key, "a number above zero")
		return 0
	}
	return v
}

func (e *entry) limit(key string) Limit {
	n := e.get(key)
	if n == nil {
		return Limit{}
	}
	if n.Value == unknownWord {
		return Limit{Set: true}
	}
	v, ok := number(n)
	if !ok {
		e.bad(n, key, "a number, or unknown")
	}
	return Limit{Set: true, Known: ok, Value: v}
}
