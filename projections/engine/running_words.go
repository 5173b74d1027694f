package engine

import (
	"fmt"
	"strconv"
	"strings"

	"countback/events"
)

// tellsRun tells what happened while the engine ran, and after.
func (s *State) tellsRun(ev events.Event) string {
	switch e := ev.(type) {
	case events.EngineStarted:
		return "Engine started" + because(e.Note)
	case events.RunRead:
		text := e.Reading + ": " + readingOf(events.PointRead{Value: e.Value, Text: e.Text, Unit: e.Unit}).String()
		if e.RPM > 0 {
			text += " at " + itoa(e.RPM) + " rpm"
		}
		if e.After > 0 {
			text += " after " + itoa(e.After) + " s"
		}
		return text
	case events.OutputRead:
		return outputWords(e)
	case events.EngineStopped:
		if e.Warm {
			return "Engine stopped, warm" + because(e.Why)
		}
		return "Engine stopped before it got warm" + because(e.Why)
	case events.EngineCooled:
		return "Engine cold again"
	case events.DistanceRead:
		return "Distance " + strconv.FormatFloat(e.Km, 'f', -1, 64) + " km"
	case events.ObligationMet:
		what := e.Obligation
		if i, ok := s.lay.plan.Obligation(e.Obligation); ok {
			what = s.lay.plan.Obligations[i].What
		}
		return capital(what) + ": done" + because(e.Why)
	}
	return ""
}

// outputWords is "434 hp and 400 lbf.ft at 5700 rpm".
func outputWords(e events.OutputRead) string {
	units := strings.Fields(e.Units + " ? ?")
	var list []string
	if e.Power != 0 {
		list = append(list, fmt.Sprintf("%g %s", e.Power, units[0]))
	}
	if e.Torque != 0 {
		list = append(list, fmt.Sprintf("%g %s", e.Torque, units[1]))
	}
	return strings.Join(list, " and ") + " at " + itoa(e.RPM) + " rpm"
}

// Words is both numbers of an output, the one that was worked out marked so.
func (l *OutputLine) Words() string {
	units := strings.Fields(l.Units + " ? ?")
	say := func(read, of float64, unit string) string {
		text := strconv.FormatFloat(of, 'f', 1, 64)
		text = strings.TrimSuffix(text, ".0") + " " + unit
		if read == 0 {
			text += " (worked out)"
		}
		return text
	}
	text := itoa(l.RPM) + " rpm: " + say(l.Power, l.PowerOf, units[0]) + ", " + say(l.Torque, l.TorqueOf, units[1])
	if l.Doubt != "" {
		text += "; told to be so, though " + l.Doubt
	}
	return text
}
