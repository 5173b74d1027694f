package torque

import (
	"fmt"
	"math"
	"slices"
)

// Lubricant is what is on the threads and under the head, in words.
type Lubricant string

// The lubricants and surfaces that the cited sources speak of.
const (
	Dry           Lubricant = "dry"
	Oil           Lubricant = "oil"
	AntiSeize     Lubricant = "anti-seize"
	Zinc          Lubricant = "zinc plated"
	Cadmium       Lubricant = "cadmium plated"
	PhosphateOil  Lubricant = "phosphated and oiled"
	StainlessDry  Lubricant = "stainless on stainless, dry"
	Lubricated    Lubricant = "lubricated" // with what, the source does not say
	NewPlated     Lubricant = "new and plated"
	Parkerized    Lubricant = "parkerized, oil"
	Molybdenum    Lubricant = "molybdenum or white lead paste"
	HardUnderHead Lubricant = "oil, hardened surface under the head"
	ThreadLock    Lubricant = "thread lock"
	TaperHead     Lubricant = "oil, taper head"
	TaperLock     Lubricant = "thread lock, taper head"
)

// NutFactor is the K of T = K d F for one lubricant, as a range, and where it
// was taken from. Where a source gives one number, Min is Max.
type NutFactor struct {
	Of     Lubricant
	Min    float64
	Max    float64
	Source string
}

// Mean nut factors were measured from 0.086 to 0.52 (abstract of the chapter
// at taylorfrancis.com 10.1201/9781482273786-19). Nothing is computed beyond.
const (
	leastK = 0.05
	mostK  = 0.6
)

const (
	handbooks = "mechconcepts.tech, citing Shigley and Machinery's Handbook"
	vendor    = "zipfastener.com, engineering data"
	shigley   = "Shigley table 8-15, from memory"
	shopTable = "mobiletechengineering.com, 2020-11-15"
)

var nutFactors = []NutFactor{
	{Dry, 0.20, 0.25, handbooks}, {Oil, 0.15, 0.20, handbooks}, {AntiSeize, 0.12, 0.16, handbooks},
	{Dry, 0.20, 0.20, shopTable}, {Lubricated, 0.15, 0.15, shopTable},
	{Dry, 0.18, 0.27, vendor}, {Oil, 0.10, 0.26, vendor}, {Cadmium, 0.15, 0.19, vendor},
	{PhosphateOil, 0.15, 0.22, vendor}, {Zinc, 0.17, 0.35, vendor}, {StainlessDry, 0.30, 0.50, vendor},
	{Dry, 0.30, 0.30, shigley}, {Zinc, 0.20, 0.20, shigley}, {Lubricated, 0.18, 0.18, shigley}, {Cadmium, 0.16, 0.16, shigley},
}

// NutFactors are the nut factors that public sources give, in a fixed order:
// the handbooks first. They disagree; which one holds is for the caller to
// say.
func NutFactors() []NutFactor { return slices.Clone(nutFactors) }

// NutFactorsOf are the nut factors of one lubricant, none where no source is
// known.
func NutFactorsOf(l Lubricant) []NutFactor {
	var list []NutFactor
	for _, k := range nutFactors {
		if k.Of == l {
			list = append(list, k)
		}
	}
	return list
}

// String is the lubricant with its factor and source.
func (k NutFactor) String() string {
	if k.Min == k.Max {
		return fmt.Sprintf("%s (K %.2f, %s)", k.Of, k.Min, k.Source)
	}
	return fmt.Sprintf("%s (K %.2f to %.2f, %s)", k.Of, k.Min, k.Max, k.Source)
}

// check refuses a factor without a lubricant or a source, and one that nobody
// has measured.
func (k NutFactor) check() error {
	switch {
	case k.Of == "":
		return &Refusal{"the lubricant is not said", "say what is on the threads and under the head: dry, oil, anti-seize"}
	case k.Source == "":
		return &Refusal{fmt.Sprintf("nut factor of %s without a source", k.Of), "say where it was taken from"}
	case !(k.Min >= leastK && k.Max <= mostK && k.Min <= k.Max):
		return &Refusal{fmt.Sprintf("nut factor %v to %v of %s", k.Min, k.Max, k.Of), fmt.Sprintf("write one from %v to %v, the least first", leastK, mostK)}
	}
	return nil
}

// Friction is a pair of coefficients of friction, in the thread and under the
// head, each as a range, and where they were taken from.
type Friction struct {
	Of                   string // material and lubricant in words
	ThreadMin, ThreadMax float64
	HeadMin, HeadMax     float64
	Source               string
}

// Alike is one coefficient for thread and head, as tables use it.
func Alike(mu float64, of, source string) Friction {
	return Friction{Of: of, ThreadMin: mu, ThreadMax: mu, HeadMin: mu, HeadMax: mu, Source: source}
}

const vdiClasses = "VDI 2230 friction classes, as reproduced at mastik.pt page 681 and scribd 398405909"

func class(of string, low, high float64) Friction {
	return Friction{Of: of, ThreadMin: low, ThreadMax: high, HeadMin: low, HeadMax: high, Source: vdiClasses}
}

var frictionClasses = []Friction{
	class("class A: bare, black, phosphated or zinc, with MoS2, graphite or PTFE as a coat or paste, or wax", 0.04, 0.10),
	class("class B: bare, black, phosphated, zinc or hot-dip galvanised, with grease, oil or as delivered, or with MoS2 or wax", 0.08, 0.16),
	class("class C: bare or phosphated, as delivered and slightly oiled; zinc with nothing; stainless with oil", 0.14, 0.24),
	class("class D: zinc or hot-dip galvanised with nothing; stainless with oil", 0.20, 0.35),
}

// FrictionClasses are the classes A to D of VDI 2230 at room temperature. Class
// E, 0.30 and more, has no upper end and is none to tighten with.
func FrictionClasses() []Friction { return slices.Clone(frictionClasses) }

// String is the pairing with its coefficients and source.
func (f Friction) String() string {
	if f.ThreadMin == f.HeadMin && f.ThreadMax == f.HeadMax {
		return fmt.Sprintf("%s (friction %s, %s)", f.Of, span(f.ThreadMin, f.ThreadMax), f.Source)
	}
	return fmt.Sprintf("%s (friction in the thread %s, under the head %s, %s)", f.Of, span(f.ThreadMin, f.ThreadMax), span(f.HeadMin, f.HeadMax), f.Source)
}

func span(low, high float64) string {
	if low == high {
		return fmt.Sprintf("%.2f", low)
	}
	return fmt.Sprintf("%.2f to %.2f", low, high)
}

func (f Friction) check() error {
	switch {
	case f.Of == "":
		return &Refusal{"the lubricant is not said", "say what is on the threads and under the head, as in bare, oiled"}
	case f.Source == "":
		return &Refusal{fmt.Sprintf("friction of %s without a source", f.Of), "say where it was taken from"}
	}
	for _, r := range [...][2]float64{{f.ThreadMin, f.ThreadMax}, {f.HeadMin, f.HeadMax}} {
		if math.IsNaN(r[0]) || math.IsNaN(r[1]) || r[0] < 0.02 || r[1] > 0.8 || r[0] > r[1] {
			return &Refusal{fmt.Sprintf("friction %v to %v of %s", r[0], r[1], f.Of), "write coefficients from 0.02 to 0.8, the least first"}
		}
	}
	return nil
}
