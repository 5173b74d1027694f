package plan

import (
	"math"
	"math/big"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"countback/projections/fastener/torque"
)

// torqueUnits are the units in which a plan may give its torques.
var torqueUnits = []string{torque.NewtonMetre.String(), torque.PoundFoot.String(), torque.PoundInch.String()}

// lengthUnits are the units in which a plan may give its lengths.
var lengthUnits = []string{"mm", "in"}

// inMm is a length of the file in millimetres: of a number as it is written, so
// that 0.865 in is the number that 21.971 mm is.
func (r *reader) inMm(v float64) float64 {
	if r.p.Units.Length != "in" {
		return v
	}
	x, ok := new(big.Rat).SetString(strconv.FormatFloat(v, 'f', -1, 64))
	if !ok {
		panic("unreachable: a number that was read: " + strconv.FormatFloat(v, 'f', -1, 64))
	}
	mm, _ := x.Mul(x, big.NewRat(254, 10)).Float64()
	return mm
}

// inUnit reads what a stage is worth in a unit of its own, or in the plan's: 9
// lbf.ft, 45..55 lbf.ft, 0.004..0.005 in, and a pair as manuals print it, 40 N.m
// (29.5 lbf.ft). The first of a pair counts; where the other one does not agree
// with it, which is meant is asked. A pound-foot is 1.3558179483314004 N.m and
// an inch 25.4 mm, exactly.
func (r *reader) inUnit(e *entry, s *Stage, n *yaml.Node) {
	sort := sortOf(s.Kind)
	if sort == "" || n.Kind != yaml.ScalarNode || n.Value == unknownWord {
		return
	}
	text := n.Value
	if s.Known {
		own := map[string]string{"torque": r.p.Units.Torque, "length": r.p.Units.Length}[sort]
		if own == torqueUnits[0] || own == lengthUnits[0] {
			return // as it is counted
		}
		text += " " + own
	}
	first, beside, pair := strings.Cut(text, "(")
	a, ok := readAmount(first, sort)
	if !ok {
		return
	}
	s.Min, s.Max, s.Known = a.low(), a.high(), true
	if a.unit != "N.m" && a.unit != "mm" {
		s.Said, s.Unit = a.String(), a.unit
	}
	if !pair {
		return
	}
	b, ok := readAmount(strings.TrimSuffix(strings.TrimSpace(beside), ")"), sort)
	switch why := a.against(&b); {
	case !ok || !strings.HasSuffix(strings.TrimSpace(beside), ")"):
		r.fault(s.Line, CodeValue, "%s: %s: beside %s stands %q, which is no %s", e.what, s.Kind, a.String(), strings.TrimSuffix(beside, ")"), sort)
	case why != "":
		r.fault(s.Line, CodeValue, "%s: %s: %s", e.what, s.Kind, why)
	}
}

// sortOf is what a kind of stage measures in: torque, length; empty: neither.
func sortOf(k StageKind) string {
	switch k {
	case StageSnug, StageTorque, StageAgain:
		return "torque"
	case StageStretch, StagePressDepth, StageHeight:
		return "length"
	}
	return ""
}

// amount is a value with its unit, or two with .. between them, as written.
type amount struct {
	texts []string // one number or two
	unit  string
	size  float64 // of the unit in N.m or mm
	units []torque.Value
}

func (a *amount) number(i int) float64 {
	v, _ := strconv.ParseFloat(a.texts[i], 64)
	return v
}

func (a *amount) value(i int) float64 {
	if len(a.units) > i {
		return a.units[i].Nm()
	}
	return a.number(i) * a.size
}

func (a *amount) low() float64  { return a.value(0) }
func (a *amount) high() float64 { return a.value(len(a.texts) - 1) }

// String is "45 to 55 lbf.ft".
func (a *amount) String() string { return strings.Join(a.texts, " to ") + " " + a.unit }

// against says what is wrong with an amount that stands beside another; empty:
// they agree.
func (a *amount) against(b *amount) string {
	if len(a.texts) != len(b.texts) {
		return a.String() + " and " + b.String() + ": one is a range, and the other is not: which one is meant?"
	}
	for i := range a.texts {
		if len(a.units) > 0 {
			if g := torque.Agree(a.units[i], b.units[i]); !g.OK {
				return g.String()
			}
			continue
		}
		x, y := a.value(i), b.value(i)
		if math.Abs(x-y) > a.half(i)+b.half(i) {
			return a.String() + " is " + strconv.FormatFloat(x/b.size, 'f', decimals(b.texts[i]), 64) + " " + b.unit + ", but " + b.String() + " stands beside it: which one is meant?"
		}
	}
	return ""
}

// half is half of the last digit that was written, in mm.
func (a *amount) half(i int) float64 {
	return a.size/math.Pow10(decimals(a.texts[i]))/2 + 1e-9
}

func decimals(number string) int {
	_, after, _ := strings.Cut(number, ".")
	return len(after)
}

// readAmount reads "9 lbf.ft", "45..55 lbf.ft" or "0.004 in".
func readAmount(text, sort string) (amount, bool) {
	text = strings.TrimSpace(text)
	at := strings.LastIndexAny(text, "0123456789")
	if at < 0 || at+1 >= len(text) {
		return amount{}, false
	}
	a := amount{unit: strings.TrimSpace(text[at+1:])}
	for _, one := range strings.SplitN(text[:at+1], "..", 2) {
		one = strings.Replace(strings.TrimSpace(one), ",", ".", 1)
		if v, err := strconv.ParseFloat(one, 64); err != nil || v < 0 || v > 1e6 {
			return amount{}, false
		}
		a.texts = append(a.texts, one)
	}
	switch {
	case sort == "torque":
		for _, one := range a.texts {
			v, err := torque.Parse(one + " " + a.unit)
			if err != nil {
				return amount{}, false
			}
			a.units = append(a.units, v)
		}
		a.unit = a.units[0].Unit().String()
	case a.unit == "mm":
		a.size = 1
	case a.unit == "in":
		a.size = 25.4
	default:
		return amount{}, false
	}
	return a, a.low() <= a.high()
}
