package torque

import (
	"regexp"
	"strings"
)

// Refusal says why something cannot be answered: the fact, then what to do.
type Refusal struct{ Fact, Action string }

// Error is the fact and the next action.
func (r *Refusal) Error() string { return r.Fact + ": " + r.Action }

var (
	valueRE = regexp.MustCompile(`^(\d{1,7}(?:[.,]\d{1,6})?)\s*(.*)$`)
	joinRE  = regexp.MustCompile(`[\s.·⋅*-]+`)
)

// unitNames are the ways to write a unit, without what joins its halves.
var unitNames = map[string]Unit{
	"nm": NewtonMetre, "newtonmetre": NewtonMetre, "newtonmetres": NewtonMetre,
	"newtonmeter": NewtonMetre, "newtonmeters": NewtonMetre,
	"lbfft": PoundFoot, "lbft": PoundFoot, "lbsft": PoundFoot, "ftlb": PoundFoot, "ftlbs": PoundFoot, "ftlbf": PoundFoot,
	"footpound": PoundFoot, "footpounds": PoundFoot, "poundfoot": PoundFoot, "poundfeet": PoundFoot,
	"lbfin": PoundInch, "lbin": PoundInch, "lbsin": PoundInch, "inlb": PoundInch, "inlbs": PoundInch, "inlbf": PoundInch,
	"inchpound": PoundInch, "inchpounds": PoundInch, "poundinch": PoundInch, "poundinches": PoundInch,
	"kgfm": KilopondMetre, "kgm": KilopondMetre, "mkg": KilopondMetre, "mkgf": KilopondMetre, "kpm": KilopondMetre, "mkp": KilopondMetre,
}

// Parse reads a torque as people write it: 40 N.m, 40Nm, 29,5 lb-ft, 150
// ft-lbs, 225 in lb, 4.1 kgf.m. A number without a unit is refused: 40 may be
// three different torques. An error is a *Refusal.
func Parse(text string) (Value, error) {
	m := valueRE.FindStringSubmatch(strings.TrimSpace(text))
	if m == nil {
		return Value{}, &Refusal{"torque " + quote(text) + ": no number that can be read", "write a number from 0 to a million and a unit, as in 40 N.m"}
	}
	if m[2] == "" {
		return Value{}, &Refusal{"torque " + quote(text) + ": a number without a unit", "write " + strings.Join(unitWords[:], ", ") + " after it"}
	}
	unit, ok := unitNames[joinRE.ReplaceAllString(strings.ToLower(m[2]), "")]
	if !ok {
		return Value{}, &Refusal{"torque " + quote(text) + ": no unit of torque " + quote(m[2]), "write one of " + strings.Join(unitWords[:], ", ")}
	}
	v, err := decimalValue(strings.Replace(m[1], ",", ".", 1), unit)
	if err != nil {
		return Value{}, &Refusal{"torque " + quote(text) + ": out of range", "write a number from 0 to a million and a unit, as in 40 N.m"}
	}
	return v, nil
}

// quote is a text in quotation marks, cut short.
func quote(text string) string {
	if r := []rune(text); len(r) > 40 {
		text = string(r[:40]) + "…"
	}
	return `"` + text + `"`
}
