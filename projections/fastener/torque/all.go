package torque

import "countback/projections/fastener"

// usualMu are the coefficients of the tables of VDI 2230, thread and head alike.
var usualMu = [...]float64{0.10, 0.12, 0.14}

// All is the guidance for a fastener: T = K d F at three quarters of its proof
// load by every nut factor that is cited with a range, and by the form of VDI
// 2230 for the usual coefficients where the head is that of a hexagon bolt. None
// where its strength is not known.
func All(s fastener.Spec) []Guidance {
	var list []Guidance
	for _, k := range nutFactors {
		if k.Source != handbooks && k.Source != vendor {
			continue
		}
		if g, err := (ShortForm{Spec: s, Friction: k, OfProof: Reusable}).Guide(); err == nil {
			list = append(list, g)
		}
	}
	head, hole, ok := HexHead(s.Thread)
	if !ok {
		return list
	}
	for _, mu := range usualMu {
		a := Assembly{Spec: s, Friction: Alike(mu, "thread and head alike", "VDI 2230 tables, 2001"), HeadMm: head, HoleMm: hole, OfYield: UsualOfYield}
		if g, err := a.Guide(); err == nil {
			list = append(list, g)
		}
	}
	return list
}
