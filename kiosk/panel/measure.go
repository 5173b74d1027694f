package panel

import (
	"slices"
	"strings"

	"countback/projections/engine"
	"countback/projections/gauge"
)

// OfMeasure is the worksheet of one measurement, or of all that was measured:
// limits, gauge, what was read at each place, and how it stands.
func OfMeasure(j *engine.Job, id string) Panel {
	p := Panel{Name: "measure", Title: "What was measured"}
	look, good, open := Group{Head: "To look at"}, Group{Head: "Within limits"}, Group{Head: "Not read"}
	derived := Group{Head: "What follows from it"}
	read := 0
	for _, m := range j.Measures() {
		if id != "" && m.Measurement != id {
			if m.Fact != 0 && m.How != "" && follows(j, m.Measurement, id) {
				derived.add(measureMark(m), m.Name()+": "+m.Size.String()+" ("+m.How+")", strings.Trim(m.Short()+"; "+m.Advice, "; "))
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
			look.add(measureMark(m), m.Name()+": "+m.Said(), measureMore(m))
		default:
			good.add(Done, m.Name()+": "+m.Said(), measureMore(m))
		}
		read++
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
	if m.How != "" {
		list = append(list, m.Size.String()+" "+m.How)
	}
	for _, more := range append([]string{m.Short(), m.Fit, m.Decided}, m.Doubts...) {
		if more != "" {
			list = append(list, more)
		}
	}
	if m.Advice != "" && (len(list) == 0 || !strings.HasSuffix(list[len(list)-1], m.Advice)) {
		list = append(list, m.Advice)
	}
	return strings.Join(list, "; ")
}
