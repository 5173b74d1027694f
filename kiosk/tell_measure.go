package kiosk

import (
	"strings"

	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
	"countback/projections/gauge"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// measured tells a reading and how it stands against its limits.
func (t *Telling) measured(e events.Measured) string {
	m := t.Job.MeasureOf(e.Measurement, e.At)
	if m.Fact == 0 {
		return capital(t.st.Tells(e))
	}
	text := m.Name() + ": " + m.Said()
	if m.How != "" {
		text += ": " + m.Size.String() + " (" + m.How + ")"
	} else if len(m.Verdict.Readings) > 1 && m.Size.Known() {
		text += " (" + m.Size.String() + " counts)"
	}
	if short := m.Short(); short != "" {
		text += ", " + short
	}
	if m.Verdict.Place == gauge.Beyond && m.Advice != "" {
		text += ": " + m.Advice
	}
	return text
}

// derived tells what follows from a reading: what does not look like its
// siblings, what a neighbour allows, and the measurements that are worked out
// from it.
func (t *Telling) derived() []string {
	e, ok := t.Record.Event.(events.Measured)
	if !ok {
		return nil
	}
	var lines []string
	m := t.Job.MeasureOf(e.Measurement, e.At)
	for _, more := range append([]string{m.Fit, m.Stands}, m.Doubts...) {
		if more != "" {
			lines = append(lines, capital(more))
		}
	}
	for _, o := range t.drawn(e) {
		line := o.Name() + ": " + o.Size.String() + " (" + o.How + ")"
		if short := o.Short(); short != "" {
			line += ", " + short
		}
		if o.Verdict.Place == gauge.Beyond && o.Advice != "" {
			line += ": " + o.Advice
		}
		lines = append(lines, line)
		for _, d := range o.Doubts {
			lines = append(lines, capital(d))
		}
	}
	return lines
}

// drawn are the measurements that are worked out from the one that was read.
func (t *Telling) drawn(e events.Measured) []engine.Measure {
	ix, ok := t.p.Measurement(e.Measurement)
	if !ok {
		return nil
	}
	var list []engine.Measure
	for i := range t.p.Measurements {
		for _, f := range t.p.Measurements[i].From {
			if f != ix {
				continue
			}
			if o := t.Job.MeasureOf(t.p.Measurements[i].ID, e.At); o.Fact == t.fact() && o.Size.Known() {
				list = append(list, o)
			}
		}
	}
	return list
}

// fact is the number of the fact that is told.
func (t *Telling) fact() ledger.Fact {
	for i, r := range t.Job.Facts() {
		if r.Terminal == t.Record.Terminal && r.N == t.Record.N {
			return ledger.Fact(i + 1)
		}
	}
	return 0
}

// measureLooks reports whether a reading wants somebody to look.
func (t *Telling) measureLooks() bool {
	e, ok := t.Record.Event.(events.Measured)
	if !ok {
		return false
	}
	for _, m := range append([]engine.Measure{t.Job.MeasureOf(e.Measurement, e.At)}, t.drawn(e)...) {
		if m.Known && m.Advice != "" {
			return true
		}
	}
	return false
}

// readAgain asks for a further reading where the gauge cannot tell.
func (t *turn) readAgain(e events.Measured) *question {
	m := t.job.MeasureOf(e.Measurement, e.At)
	if !m.Verdict.Place.Open() {
		return nil
	}
	subject := []scan.Noun{{Type: scan.Measurement, ID: e.Measurement}}
	if e.At != "" {
		subject = append(subject, scan.Noun{Type: scan.Position, ID: string(e.At)})
	}
	if e.Gauge != "" {
		subject = append(subject, scan.Noun{Type: scan.Gauge, ID: e.Gauge})
	}
	which := "the second"
	if m.Verdict.Place == gauge.Disagree {
		which = "a third"
	}
	return &question{subject: subject, reads: true, text: "Read " + m.Name() + " again: " + which + " reading"}
}

// worksheet lists what was measured and how it stands.
func (t *turn) worksheet(said *scan.Said) {
	id := said.At(0, scan.Measurement).ID
	var bad, good []string
	read, places := 0, 0
	for _, m := range t.job.Measures() {
		if id != "" && m.Measurement != id {
			continue
		}
		places++
		if m.Fact == 0 {
			if id != "" {
				good = append(good, m.Name()+": not read")
			}
			continue
		}
		read++
		line := m.String()
		if m.Advice != "" {
			if !strings.HasSuffix(line, m.Advice) {
				line += ". " + capital(m.Advice)
			}
			bad = append(bad, line)
			continue
		}
		good = append(good, line)
	}
	for _, f := range t.job.State().Sets() {
		if id != "" && f.Measurement != id {
			continue
		}
		line := f.Measurement + ", " + engine.Several(len(f.Reads), namesOf(t.job.State()).kind(f.Kind)) + ": " + f.Words()
		if f.Bad+f.Near > 0 {
			bad = append(bad, line+". "+capital(joinComma(f.Why)))
		} else {
			good = append(good, line)
		}
	}
	first := plural(read, "size") + " read of " + itoa(places)
	if id != "" {
		first = id + ": " + first
		if line := t.limitsLine(id); line != "" {
			first += ". " + line
		}
	}
	sign := Plain
	if len(bad) > 0 {
		sign = Short
	}
	t.show(sign, first, plural(len(bad), "size")+" to look at")
	t.list = append(bad, good...)
	t.view.Ask = "MORE, or scan a measurement, its place, the number"
	t.beep(Heard)
}

// limitsLine is what a measurement is held against, and with what it is read.
func (s *Screen) limitsLine(id string) string {
	for _, m := range s.job.Measures() {
		if m.Measurement != id || !m.Known {
			continue
		}
		text := m.LimitsText()
		if m.Gauge != "" {
			text += ", by " + m.Gauge
		}
		if m.Kind != plan.MeasureSize {
			text += ", " + string(m.Kind)
		}
		return text
	}
	return ""
}

// set tells what was read of loose fasteners, and what that makes of them.
func (t *Telling) set(e events.FastenersMeasured) string {
	text := engine.Several(len(e.Reads), t.kind(e.Kind)) + " in " + t.place(e.Place) + " measured, " + e.Measurement
	if f := t.lastSet(); f != nil {
		text += ": " + f.Words()
	}
	return text
}

func (t *Telling) lastSet() *engine.FastenerSet {
	for _, f := range t.st.Sets() {
		if f.Fact == t.fact() {
			return &f
		}
	}
	return nil
}

// failed names the loose fasteners that are beyond the limit, or too near to it
// to tell.
func (t *Telling) failed() []string {
	if _, ok := t.Record.Event.(events.FastenersMeasured); !ok {
		return nil
	}
	f := t.lastSet()
	if f == nil || len(f.Why) == 0 {
		return nil
	}
	return []string{capital(joinComma(f.Why))}
}
