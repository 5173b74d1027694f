package torque

import (
	"fmt"
	"math"
)

// fives is how far apart, as a part of the first, two torques may stand where
// one of them is a whole number that ends in 0 or 5: such a number may have
// been rounded for the wrench. Public manuals do so by up to 1.7 % (30 lbf.ft
// printed as 40 N.m, TM 5-3810-306-34); their slips are 3.2 % and more, or
// stand in numbers that were written with decimals.
const fives = 0.02

// Agreement is how two torques that are meant to be the same compare.
type Agreement struct {
	A, B      Value
	OK        bool
	ByPercent float64 // how far B stands from A, in percent of A; negative below
	AInB      Value   // A in the unit of B, to as many decimals
	BInA      Value   // B in the unit of A, to as many decimals
}

// Agree compares a torque that was written in two units, as tables and plans
// do: 40 N.m (29.5 lb-ft). They agree where some torque could be rounded to
// both as written, or where one of them is a round number and they stand less
// than 2 % apart.
func Agree(a, b Value) Agreement {
	g := Agreement{A: a, B: b, AInB: a.In(b.unit, int(b.decimals)), BInA: b.In(a.unit, int(a.decimals))}
	lowA, highA := a.rounded()
	lowB, highB := b.rounded()
	g.OK = lowA <= highB && lowB <= highA
	if a.digits > 0 {
		g.ByPercent = (b.Nm()/a.Nm() - 1) * 100
	}
	if (a.round() || b.round()) && a.digits > 0 && b.digits > 0 {
		g.OK = g.OK || math.Abs(g.ByPercent) < fives*100
	}
	return g
}

// rounded are the least and the greatest torque in N.m that are written so.
// The hair beyond takes up what floating point loses.
func (v Value) rounded() (low, high float64) {
	half := v.unit.Nm() / math.Pow10(int(v.decimals)) / 2
	hair := v.Nm() * 1e-12
	return v.Nm() - half - hair, v.Nm() + half + hair
}

// round reports whether it is a whole number that ends in 0 or 5.
func (v Value) round() bool { return v.decimals == 0 && v.digits%5 == 0 }

// String says that they agree, or asks which of the two is meant.
func (g Agreement) String() string {
	if g.OK {
		return fmt.Sprintf("%s and %s agree", g.A, g.B)
	}
	return fmt.Sprintf("%s is %s, but %s stands beside it, which is %s: which one is meant?", g.A, g.AInB, g.B, g.BInA)
}
