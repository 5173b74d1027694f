package torque

import (
	"fmt"
	"math"

	"countback/projections/fastener"
)

// Assembly is a bolted joint as VDI 2230 and DIN 946 see it: friction in the
// thread apart from friction under the head.
type Assembly struct {
	Spec     fastener.Spec
	Friction Friction
	HeadMm   float64 // outside diameter of the bearing surface under head or nut
	HoleMm   float64 // hole that the surface lies on
	ShankMm  float64 // thinnest diameter of the shank, 0 not thinner than the thread
	OfYield  float64 // part of the yield strength that is used, usually 0.9
}

// Usual part of the yield strength in the tables of VDI 2230.
const UsualOfYield = 0.9

// Guide computes the assembly preload and the tightening torque:
//
//	F = A0 OfYield Rp0.2 / sqrt(1 + 3 [ 3/2 d2/d0 ( P/(pi d2) + 1.155 muG ) ]^2)
//	T = F [ 0.159 P + 0.577 d2 muG + DKm/2 muK ],  DKm = (HeadMm + HoleMm)/2
//
// with d0 the diameter of the stress area ((d2+d3)/2 of metric threads), or the
// shank where that is thinner, A0 its area, muG in the thread and muK under the
// head (VDI 2230, DIN 946; the torque in part as
// seen at genfast.com, the preload from memory; both reproduce the printed
// tables). The torque is the one at the least friction. It refuses a fastener
// without a known yield strength, impossible diameters, and a lubricant that is
// not said. An error is a *Refusal.
func (a Assembly) Guide() (Guidance, error) {
	if err := a.check(); err != nil {
		return Guidance{}, err
	}
	yield, ok := a.Spec.YieldMPa()
	if !ok {
		return Guidance{}, noStrength(a.Spec, "yield strength")
	}
	f := a.preloadN(yield, a.Friction.ThreadMin)
	g := Guidance{
		Spec: a.Spec, Friction: a.Friction.String(), OfYield: a.OfYield,
		Method:   fmt.Sprintf("VDI 2230 at %.0f %% of yield, head %.1f mm on a hole of %.1f mm", a.OfYield*100, a.HeadMm, a.HoleMm),
		PreloadN: f,
		Nm:       f * a.arm(a.Friction.ThreadMin, a.Friction.HeadMin) / 1000,
		MostNm:   a.preloadN(yield, a.Friction.ThreadMax) * a.arm(a.Friction.ThreadMax, a.Friction.HeadMax) / 1000,
	}
	g.LeastN = g.Nm * 1000 / a.arm(a.Friction.ThreadMax, a.Friction.HeadMax)
	if proof, ok := a.Spec.ProofLoadN(); ok {
		g.ProofN, g.OfProof = proof, f/proof
	}
	if a.ShankMm == 0 {
		g.Questions = looks(a.Spec)
	}
	return g, nil
}

func (a Assembly) check() error {
	if err := a.Friction.check(); err != nil {
		return err
	}
	d := a.Spec.Thread.DiameterMm
	switch {
	case !hasArea(a.Spec.Thread):
		return noStrength(a.Spec, "yield strength")
	case !(a.HoleMm >= d && a.HoleMm < 3*d):
		return &Refusal{fmt.Sprintf("a hole of %v mm for %s", a.HoleMm, a.Spec.Thread), "write the hole under the head, not smaller than the thread"}
	case !(a.HeadMm > a.HoleMm && a.HeadMm < 6*d):
		return &Refusal{fmt.Sprintf("a head of %v mm on a hole of %v mm", a.HeadMm, a.HoleMm), "write the outside diameter of what lies on the part"}
	case !(a.OfYield > 0 && a.OfYield <= 1):
		return &Refusal{fmt.Sprintf("%v of the yield strength", a.OfYield), fmt.Sprintf("say a part above 0 and up to 1, usually %v", UsualOfYield)}
	case !(a.ShankMm >= 0 && a.ShankMm < 3*d):
		return &Refusal{fmt.Sprintf("a shank of %v mm on %s", a.ShankMm, a.Spec.Thread), "write its thinnest diameter, or 0"}
	}
	return nil
}

func hasArea(t fastener.Thread) bool {
	_, ok := t.StressAreaMm2()
	return ok
}

// preloadN is the assembly preload in newtons at a friction in the thread.
func (a Assembly) preloadN(yieldMPa, mu float64) float64 {
	t := a.Spec.Thread
	d2 := t.PitchDiameterMm()
	area, _ := t.StressAreaMm2()
	d0 := math.Sqrt(4 / math.Pi * area)
	if a.ShankMm > 0 {
		d0 = min(d0, a.ShankMm)
	}
	twist := 1.5 * d2 / d0 * (t.PitchMm/(math.Pi*d2) + 1.155*mu)
	return math.Pi / 4 * d0 * d0 * a.OfYield * yieldMPa / math.Sqrt(1+3*twist*twist)
}

// arm is torque over preload in millimetres.
func (a Assembly) arm(muThread, muHead float64) float64 {
	t := a.Spec.Thread
	return 0.159*t.PitchMm + 0.577*t.PitchDiameterMm()*muThread + (a.HeadMm+a.HoleMm)/4*muHead
}

// seat is a bearing surface and the hole under it.
type seat struct{ headMm, holeMm float64 }

// hexMetric is the washer face of ISO 4014 hexagon heads and the medium hole of
// ISO 273 by nominal diameter; M5, M6, M18 and M20 from memory.
var hexMetric = map[float64]seat{
	5: {6.9, 5.5}, 6: {8.9, 6.6}, 8: {11.6, 9}, 10: {14.6, 11}, 12: {16.6, 13.5}, 14: {19.6, 15.5},
	16: {22.5, 17.5}, 18: {25.3, 20}, 20: {28.2, 22},
}

// hexInch is, by nominal size, 0.95 of the width across flats of ASME B18.2.1
// hexagon heads and the normal hole of ASME B18.2.8, in inches (from memory).
var hexInch = map[string]seat{
	"1/4": {0.416, 0.281}, "5/16": {0.475, 0.344}, "3/8": {0.534, 0.406}, "7/16": {0.594, 0.469},
	"1/2": {0.713, 0.563}, "9/16": {0.772, 0.625}, "5/8": {0.891, 0.688}, "3/4": {1.069, 0.813},
}

// HexHead is the bearing surface of a plain hexagon head and the usual hole
// under it in millimetres; false where the size is in no table. Flanged,
// socket and waisted heads have other ones, and a washer has its own.
func HexHead(t fastener.Thread) (headMm, holeMm float64, ok bool) {
	if t.System == fastener.Metric {
		s, ok := hexMetric[t.DiameterMm]
		return s.headMm, s.holeMm, ok
	}
	if t.System != fastener.Inch {
		return 0, 0, false
	}
	s, ok := hexInch[t.Size]
	return s.headMm * mmPerInch, s.holeMm * mmPerInch, ok
}

const mmPerInch = 25.4
