package scan

import (
	"fmt"
	"strconv"
	"strings"

	"countback/projections/engine"
	"countback/projections/fastener/stage"
	"countback/projections/fastener/torque"
)

// turnValue is a value that was read, in the unit in which it was said.
type turnValue struct {
	value float64
	unit  string
	other string // two units beside each other that disagree: the question
}

// readValue reads a value: a number in the unit of the stage, or with its own
// unit behind it; of a torque in two units, 40 N.m (29.5 lbf.ft). Why says what
// is wrong with it.
func readValue(text, unit string) (r turnValue, why string) {
	text = strings.TrimSpace(text)
	if v, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64); err == nil {
		return turnValue{value: v, unit: unit}, ""
	}
	if isTorque(unit) {
		first, second, two := strings.Cut(strings.TrimSuffix(text, ")"), "(")
		a, err := torque.Parse(first)
		if err != nil {
			return r, err.Error()
		}
		r = turnValue{value: a.Float(), unit: a.Unit().String()}
		if two {
			b, err := torque.Parse(second)
			if err != nil {
				return r, err.Error()
			}
			if g := torque.Agree(a, b); !g.OK {
				r.other = g.String()
			}
		}
		return r, ""
	}
	number, own, _ := strings.Cut(text, " ")
	v, err := strconv.ParseFloat(strings.Replace(number, ",", ".", 1), 64)
	own = strings.TrimSpace(own)
	if known := map[string]string{"deg": "deg", "degrees": "deg", "°": "deg", "mm": "mm", "in": "in", "inch": "in"}[own]; err == nil && known != "" && (known == unit || known == "in" && unit == "mm" || known == "mm" && unit == "in") {
		return turnValue{value: v, unit: known}, ""
	}
	return r, text + " is no value in " + unit
}

// isTorque reports whether a unit is one of torque.
func isTorque(unit string) bool {
	_, err := torque.Parse("1 " + unit)
	return err == nil
}

// said is the value of a stage as it was said; false: none was.
func valueSaid(s *Said, n *engine.NextStage) (turnValue, bool, string) {
	r := s.Reply("value")
	if !s.Answered("value") || r.None || r.Text == "" {
		return turnValue{}, false, ""
	}
	v, why := readValue(r.Text, unitOf(n))
	return v, why == "", why
}

func unitOf(n *engine.NextStage) string {
	if n.Unit == "" {
		return "N.m"
	}
	return n.Unit
}

// wantsValue: the stage is done by what is read, or nobody knows its value.
func wantsValue(s *Said) bool {
	n, ok := stageOf(s)
	return ok && s.Reply("due").Word != No && (n.Kind.Measured() || !n.Known && n.Unit != "" && n.Kind != stage.Snug && n.Kind != stage.Loosen)
}

func valuePrompt(s *Said) string {
	n, _ := stageOf(s)
	switch {
	case n.Kind == "":
		return "The plan has no torque for it. Which one was it, in " + unitOf(&n) + "? (OK: not known)"
	case ofPart(s):
		return depthPrompt(s, &n)
	case n.Kind == stage.PressDepth:
		return "How deep is it, in " + unitOf(&n) + "? (OK: not measured)"
	case n.Kind == stage.Height:
		return "How high does it stand above the face, in " + unitOf(&n) + "? (OK: not measured)"
	case n.Kind == stage.Stretch:
		return "How much longer is it, in " + unitOf(&n) + "? (OK: not measured)"
	case !n.Known:
		return "The plan does not know the value. Which one was it, in " + unitOf(&n) + "? (OK: not known)"
	}
	return wanted(&n) + ". What was read, in " + unitOf(&n) + "?"
}

// wanted is what a stage is, in the unit that is read too: torque 40 N.m (29.5
// lbf.ft).
func wanted(n *engine.NextStage) string {
	if n.Beside == "" {
		return n.What
	}
	return n.What + " (" + n.Beside + ")"
}

// sureTimes is how far a reading may be from the stage, as a factor, before it
// is asked about: pounds for newton metres, a slip of the decimal point.
const sureTimes = 3

// questioned is why a value is asked about before it is stored; empty: it is
// not.
func questioned(s *Said) string {
	n, ok := stageOf(s)
	if !ok {
		return ""
	}
	v, ok, _ := valueSaid(s, &n)
	if !ok {
		return ""
	}
	if v.other != "" {
		return v.other
	}
	if isTorque(unitOf(&n)) {
		if why := s.Job.Strains(s.Joint(), s.Holes(), v.value, v.unit); why != "" {
			return why
		}
	}
	if least, most, ok := n.Range(); ok {
		if x, ok := engine.InUnit(v.value, v.unit, n.Kind); ok && (x > most*sureTimes || x < least/sureTimes) {
			return fmt.Sprintf("%s %s was read, and the stage is %s", decimal(v.value), v.unit, n.What)
		}
	}
	return ""
}

func decimal(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
