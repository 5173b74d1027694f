package fastener

import "strings"

const (
	mpaPerKsi = 6.894757 // NIST SP 811: 1 psi = 6 894.757 Pa
	over6in   = 152.4
)

// Strength is what a class promises at least, in megapascals. ProofMPa is 0
// where the standard has no proof stress.
type Strength struct {
	ProofMPa    float64 // proof stress Sp
	YieldMPa    float64 // 0.2 % proof strength, or lower yield
	UltimateMPa float64 // tensile strength Rm
}

// metricStrength is ISO 898-1:2013 Table 3. These are the minima, which the
// designation does not give: a 10.9 has 1040 and 940, not 1000 and 900. The
// classes below 8.8 are from memory.
var metricStrength = map[string]Strength{
	"4.6": {225, 240, 400}, "4.8": {310, 340, 420}, "5.6": {280, 300, 500},
	"5.8": {380, 420, 520}, "6.8": {440, 480, 600},
	"8.8": {580, 640, 800}, "9.8": {650, 720, 900},
	"10.9": {830, 940, 1040}, "12.9": {970, 1100, 1220},
}

// strong88 is class 8.8 above 16 mm, ISO 898-1:2013 Table 3.
var strong88 = Strength{600, 660, 830}

// stainlessStrength is ISO 3506-1 (from memory): no proof stress of its own.
var stainlessStrength = map[string]Strength{
	"A2-50": {0, 210, 500}, "A2-70": {0, 450, 700}, "A2-80": {0, 600, 800},
	"A4-50": {0, 210, 500}, "A4-70": {0, 450, 700}, "A4-80": {0, 600, 800},
}

// gradeBand is one line of SAE J429 Table 1 in ksi: from and up to a nominal
// diameter in inches.
type gradeBand struct {
	grade           string
	fromIn, toIn    float64
	proof, yield, u float64
}

// gradeBands is SAE J429 Table 1; grade 7 is from memory.
var gradeBands = []gradeBand{
	{"grade 1", 0.25, 1.5, 33, 36, 60},
	{"grade 2", 0.25, 0.75, 55, 57, 74}, {"grade 2", 0.75, 1.5, 33, 36, 60},
	{"grade 5", 0.25, 1, 85, 92, 120}, {"grade 5", 1, 1.5, 74, 81, 105},
	{"grade 7", 0.25, 1.5, 105, 115, 133},
	{"grade 8", 0.25, 1.5, 120, 130, 150},
}

// Strength is what the class of a bolt, screw or stud promises at its size; ok
// is false where class or thread are unknown, where the standard does not
// cover the size, and for nuts.
//
// Property classes ISO 898-1:2013 Table 3, 8.8 by size, 9.8 up to 16 mm;
// grades SAE J429 Table 1, 1/4 to 1-1/2, grade 2 up to 3/4 and 6 inches long
// and weaker beyond; stainless ISO 3506-1 by its class.
func (s Spec) Strength() (Strength, bool) {
	d := s.Thread.DiameterMm
	if formRules[s.Form].family != outside || !s.Thread.Known() || s.Thread.System.Pipe() {
		return Strength{}, false
	}
	switch {
	case s.Class == "8.8" && d > 16:
		return strong88, true
	case s.Class == "9.8" && d > 16:
		return Strength{}, false
	case strings.HasPrefix(s.Class, "grade "):
		return s.gradeStrength()
	}
	if st, ok := metricStrength[s.Class]; ok {
		return st, true
	}
	st, ok := stainlessStrength[s.Class]
	return st, ok
}

func (s Spec) gradeStrength() (Strength, bool) {
	grade, d := s.Class, s.Thread.DiameterMm
	if grade == "grade 2" && s.LengthMm > over6in {
		grade = "grade 1"
	}
	for _, b := range gradeBands {
		if b.grade == grade && d >= nano(b.fromIn*mmPerInch) && d <= nano(b.toIn*mmPerInch) {
			return Strength{b.proof * mpaPerKsi, b.yield * mpaPerKsi, b.u * mpaPerKsi}, true
		}
	}
	return Strength{}, false
}

// ProofLoadN is the load in newtons that a fastener of this kind bears without
// a lasting stretch: stress area times proof stress. ok as for Strength, and
// false where the class has no proof stress.
func (s Spec) ProofLoadN() (float64, bool) {
	st, ok := s.Strength()
	return s.load(st.ProofMPa, ok)
}

// UltimateLoadN is the least load in newtons at which it breaks: stress area
// times tensile strength. ok as for Strength.
func (s Spec) UltimateLoadN() (float64, bool) {
	st, ok := s.Strength()
	return s.load(st.UltimateMPa, ok)
}

// YieldMPa is the least stress in megapascals at which it begins to stretch
// for good. ok as for Strength.
func (s Spec) YieldMPa() (float64, bool) {
	st, ok := s.Strength()
	return st.YieldMPa, ok && st.YieldMPa > 0
}

// load is a stress on the smaller stress area of a fastener.
func (s Spec) load(mpa float64, ok bool) (float64, bool) {
	area, has := s.Thread.StressAreaMm2()
	if s.SecondThread.Known() {
		if second, ok := s.SecondThread.StressAreaMm2(); ok {
			area = min(area, second)
		}
	}
	if !ok || !has || mpa <= 0 {
		return 0, false
	}
	return area * mpa, true
}
