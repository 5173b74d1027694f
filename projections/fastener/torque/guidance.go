package torque

import (
	"fmt"
	"math"
	"strings"

	"countback/projections/fastener"
)

// Deference is the sentence that every guidance ends with.
const Deference = "guidance only: what the engine's maker says comes first"

// Shares of the proof load for the short form.
const (
	// Reusable is the preload of joints that are taken apart again (Shigley, as
	// cited at mechconcepts.tech).
	Reusable = 0.75
	// Permanent is the preload of joints that stay (Shigley, from memory).
	Permanent = 0.90
)

// Guidance is a torque where the plan has none. Forces are newtons, torques
// newton metres. The torque is the one for the least friction of the range, so
// that the preload is not passed; with more friction it clamps less.
type Guidance struct {
	Spec     fastener.Spec
	Method   string
	Friction string // lubricant, factor and source

	PreloadN float64 // the preload that is aimed at
	Nm       float64 // the torque for it at the least friction
	MostNm   float64 // the torque for it at the most friction: not to be used on a guess
	LeastN   float64 // the preload that Nm gives at the most friction

	ProofN    float64 // proof load, 0 where the class has none
	OfProof   float64 // PreloadN as a part of ProofN, 0 where that is unknown
	OfYield   float64 // of the thread method: the part of the yield strength
	Questions []string
}

// Torque is the guidance in a unit, to three figures.
func (g Guidance) Torque(u Unit) Value { return round3(g.Nm/u.Nm(), u) }

// String is the guidance in one sentence with its source, what it rests on,
// and that the maker comes first.
func (g Guidance) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s (%s, %s) for %s", g.Spec.String(), g.Torque(NewtonMetre), g.Torque(PoundFoot), g.Torque(PoundInch), kilonewtons(g.PreloadN))
	if g.OfProof > 0 {
		fmt.Fprintf(&b, ", %.0f %% of its proof load", g.OfProof*100)
	}
	if g.LeastN < g.PreloadN*0.999 {
		fmt.Fprintf(&b, ", or down to %s at the most friction", kilonewtons(g.LeastN))
	}
	fmt.Fprintf(&b, "; %s; %s", g.Method, g.Friction)
	for _, q := range g.Questions {
		b.WriteString("; " + q)
	}
	return b.String() + "; " + Deference
}

func kilonewtons(n float64) string { return fmt.Sprintf("%.1f kN", n/1000) }

// ShortForm is T = K d F.
type ShortForm struct {
	Spec     fastener.Spec
	Friction NutFactor
	OfProof  float64 // preload as a part of the proof load, above 0 up to 1
}

// Guide computes the torque: F is OfProof times the proof load (stress area
// times proof stress), d the nominal diameter. It refuses a fastener without a
// known proof load, a lubricant that is not said, and a preload above the
// proof load. An error is a *Refusal.
func (s ShortForm) Guide() (Guidance, error) {
	if err := s.Friction.check(); err != nil {
		return Guidance{}, err
	}
	if !(s.OfProof > 0 && s.OfProof <= 1) {
		return Guidance{}, &Refusal{fmt.Sprintf("preload of %v of the proof load", s.OfProof), fmt.Sprintf("say a part above 0 and up to 1: %v where it comes apart again", Reusable)}
	}
	proof, ok := s.Spec.ProofLoadN()
	if !ok {
		return Guidance{}, noStrength(s.Spec, "proof load")
	}
	f, d := s.OfProof*proof, s.Spec.Thread.DiameterMm/1000
	return Guidance{
		Spec: s.Spec, Method: "T = K d F", Friction: s.Friction.String(),
		PreloadN: f, Nm: s.Friction.Min * d * f, MostNm: s.Friction.Max * d * f,
		LeastN: f * s.Friction.Min / s.Friction.Max, ProofN: proof, OfProof: s.OfProof,
		Questions: looks(s.Spec),
	}, nil
}

// looks are what a strength that is taken from the thread alone cannot see.
func looks(s fastener.Spec) []string {
	var list []string
	if strings.Contains(s.Head, "waisted") {
		list = append(list, "its shank is thinner than its thread: it bears less than this")
	}
	if strings.Contains(s.Feature, "hollow") {
		list = append(list, "it is hollow: it bears less than this")
	}
	return list
}

func noStrength(s fastener.Spec, what string) error {
	return &Refusal{fmt.Sprintf("%s: no %s known", s.String(), what), "write thread and class or grade, as in M8x1.25x30 8.8, or take the value from the maker"}
}

// Preload is the force in newtons that a torque in newton metres gives:
// F = T/(K d), with d in millimetres (ISO 16047, from memory).
func Preload(nm, k, diameterMm float64) float64 { return nm / (k * diameterMm / 1000) }

// NutFactorFrom is the K that a torque and a measured force give: K = T/(F d)
// (ISO 16047, from memory).
func NutFactorFrom(nm, forceN, diameterMm float64) float64 {
	return nm / (forceN * diameterMm / 1000)
}

// FrictionFrom is the one coefficient for thread and head that a torque in
// newton metres and a measured force in newtons give: mu = (T/F - P/(2 pi)) /
// (0.577 d2 + 0.5 Db), Db being the mean of head and hole diameter (ISO 16047,
// from memory).
func FrictionFrom(nm, forceN float64, t fastener.Thread, headMm, holeMm float64) float64 {
	return (nm*1000/forceN - t.PitchMm/(2*math.Pi)) / (0.577*t.PitchDiameterMm() + (headMm+holeMm)/4)
}
