package torque

import (
	"fmt"

	"countback/projections/fastener"
)

// Strain is what a torque does to a fastener, from harmless to breaking.
type Strain uint8

// The strains. The numbers are not stored.
const (
	NotKnown Strain = iota // no proof load to hold it against
	Bears                  // below the proof load at any friction of the range
	MayYield               // questioned: above the proof load at the least friction
	Yields                 // refused: above the proof load at any friction of the range
	MayBreak               // refused: above the ultimate load at the least friction
	Breaks                 // refused: above the ultimate load at any friction of the range
)

var strainWords = [...]string{"not known", "bears it", "may pass its proof load", "passes its proof load", "may break", "breaks"}

// String is the strain in a few words.
func (s Strain) String() string {
	if int(s) < len(strainWords) {
		return strainWords[s]
	}
	return fmt.Sprintf("strain %d", uint8(s))
}

// Refused reports whether a fastener must not be turned so hard by torque
// alone. A stage that means to stretch a bolt past its yield says so as an
// angle.
func (s Strain) Refused() bool { return s >= Yields }

// Questioned reports whether somebody should look first.
func (s Strain) Questioned() bool { return s == MayYield }

// Load is what a torque does to one kind of fastener.
type Load struct {
	Strain    Strain
	Torque    Value
	Spec      fastener.Spec
	Friction  NutFactor
	LeastN    float64 // preload in newtons at the most friction
	MostN     float64 // preload in newtons at the least friction
	ProofN    float64 // 0 where unknown
	UltimateN float64 // 0 where unknown
	Slip      Value   // the same number in the unit in which it would be borne; unknown where there is none
}

// Check holds a torque against what a fastener bears. It refuses only a
// lubricant that is not said; a fastener whose strength is unknown gives
// NotKnown. An error is a *Refusal.
func Check(s fastener.Spec, v Value, k NutFactor) (Load, error) {
	if err := k.check(); err != nil {
		return Load{}, err
	}
	l := Load{Torque: v, Spec: s, Friction: k}
	if l.Strain = l.weigh(v); l.Strain.Refused() {
		l.Slip = l.slip()
	}
	return l, nil
}

func (l *Load) weigh(v Value) Strain {
	d := l.Spec.Thread.DiameterMm
	ultimate, ok := l.Spec.UltimateLoadN()
	if !ok || d <= 0 {
		return NotKnown
	}
	l.LeastN, l.MostN = Preload(v.Nm(), l.Friction.Max, d), Preload(v.Nm(), l.Friction.Min, d)
	l.UltimateN = ultimate
	proof, ok := l.Spec.ProofLoadN()
	if ok {
		l.ProofN = proof
	}
	switch {
	case l.LeastN > ultimate:
		return Breaks
	case l.MostN > ultimate:
		return MayBreak
	case !ok:
		return NotKnown
	case l.LeastN > proof:
		return Yields
	case l.MostN > proof:
		return MayYield
	}
	return Bears
}

// slip is the same number in a smaller unit, the largest that is borne: 95
// lbf.in typed as 95 N.m.
func (l Load) slip() Value {
	for _, u := range [...]Unit{PoundFoot, NewtonMetre, PoundInch} {
		if u.Nm() >= l.Torque.unit.Nm() {
			continue
		}
		w := l.Torque
		w.unit = u
		if probe := l; probe.weigh(w) == Bears {
			return w
		}
	}
	return Value{}
}

// String says what the torque does, with the numbers.
func (l Load) String() string {
	text := fmt.Sprintf("%s on %s", l.Torque, l.Spec.String())
	if l.UltimateN == 0 {
		return text + ": its strength is not known"
	}
	text += fmt.Sprintf(", %s: %s", l.Friction, kilonewtons(l.LeastN))
	if l.MostN > l.LeastN {
		text += " to " + kilonewtons(l.MostN)
	}
	if l.ProofN > 0 {
		text += ", proof load " + kilonewtons(l.ProofN)
	} else {
		text += ", breaks at " + kilonewtons(l.UltimateN) + ", and its class has no proof load"
	}
	text += ": " + l.Strain.String()
	if l.Slip.Known() {
		text += "; was " + l.Slip.String() + " meant?"
	}
	return text
}
