package panel

import (
	"slices"
	"strings"

	"countback/projections/engine"
	"countback/projections/gauge"
)

// OfMeasure is the worksheet of one measurement, or of all that was measured:
// each place on a line with its limits, the guard band of the gauge and what
// was read, places of one measurement below each other, so that one that does
// not look like its siblings is seen.
func OfMeasure(j *engine.Job, id string) Panel {
	p := Panel{Name: "measure", Title: "What was measured"}
	look, good, open := Group{Head: "To look at"}, Group{Head: "Within limits"}, Group{Head: "Not read"}
	derived := Group{Head: "What follows from it"}
	read := 0
	kin := map[string][]*Scale{}
	line := func(m *engine.Measure) *Scale {
		s := measured(m, shortName(m, id))
		if s != nil {
			kin[m.Measurement] = append(kin[m.Measurement], s)
		}
		return s
	}
	for _, m := range j.Measures() {
		if id != "" && m.Measurement != id {
			if m.Fact != 0 && m.How != "" && follows(j, m.Measurement, id) {
				derived.draw(measureMark(m), m.Name()+": "+m.Size.String(), measureMore(m), line(&m))
			}
			continue
		}
		if id != "" && p.Stand == "" {
			p.Title, p.Stand = capital(m.Of)+" ("+id+")", measureStand(m)
		}
		switch {
		case m.Fact == 0:
			open.add(Plain, m.Name(), m.Gauge)
			continue
		case m.Advice != "":
			look.draw(measureMark(m), m.Name()+": "+m.Said(), measureMore(m), line(&m))
		default:
			good.draw(Done, m.Name()+": "+m.Said(), measureMore(m), line(&m))
		}
		read++
	}
	for _, list := range kin {
		span(list...)
	}
	p.with(look)
	p.with(derived)
	p.with(good)
	if id != "" {
		p.with(open)
	} else {
		p.Stand = plural(read, "size") + " read, " + itoa(len(look.Rows)) + " to look at"
	}
	return p
}

// shortName is a place of the measurement that the panel is about, or the
// measurement with its place.
func shortName(m *engine.Measure, about string) string {
	if m.Measurement == about && m.At != "" {
		return string(m.At)
	}
	return m.Name()
}

// follows reports whether a measurement is worked out from another.
func follows(j *engine.Job, id, from string) bool {
	pl := j.State().Plan()
	ix, ok := pl.Measurement(id)
	of, known := pl.Measurement(from)
	return ok && known && slices.Contains(pl.Measurements[ix].From, of)
}

func measureStand(m engine.Measure) string {
	text := m.LimitsText()
	if text == "" {
		text = "no limits: as found is the reference"
	}
	if m.Limits.Source != "" {
		text += " (" + m.Limits.Source + ")"
	}
	if m.Gauge != "" {
		text += ", by " + m.Gauge
	}
	return text
}

func measureMark(m engine.Measure) Mark {
	switch {
	case m.Decided != "", m.Advice == "":
		return Done
	case m.Verdict.Place == gauge.Beyond:
		return Look
	case m.Verdict.Place.Open():
		return Waits
	}
	return Look
}

func measureMore(m engine.Measure) string {
	var list []string
	if m.How == "" && len(m.Reads) > 1 {
		list = append(list, m.Said())
	}
	if m.How != "" {
		list = append(list, m.Size.String()+" "+m.How)
	}
	for _, more := range append([]string{m.Short(), m.Fit, m.Stands, m.Decided}, m.Doubts...) {
		if more != "" {
			list = append(list, more)
		}
	}
	if m.Advice != "" && (len(list) == 0 || !strings.HasSuffix(list[len(list)-1], m.Advice)) {
		list = append(list, m.Advice)
	}
	return strings.Join(list, "; ")
}
