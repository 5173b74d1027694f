package gauge

import (
	"fmt"
	"math"
)

// Measure is a pair of units in which an engine's output is told.
type Measure uint8

// The measures.
const (
	HorsepowerPoundFeet      Measure = iota // hp, lbf.ft
	KilowattsNewtonMetres                   // kW, N.m
	MetricHorsesNewtonMetres                // PS, N.m
)

// measureRow is the speed in revolutions per minute at which the two numbers of
// a measure are equal, and its words.
type measureRow struct {
	equalRPM      float64
	power, torque string
}

// A horsepower is 33 000 ft.lbf a minute, so hp = lbf.ft x rpm / (33 000 / 2
// pi), commonly written 5252; kW = N.m x rpm / (60 000 / 2 pi); a metric horse
// is 75 kgf.m a second, 735.49875 W.
var measureRows = [...]measureRow{
	{33000 / (2 * math.Pi), "hp", "lbf.ft"},
	{60000 / (2 * math.Pi), "kW", "N.m"},
	{60000 / (2 * math.Pi) * 0.73549875, "PS", "N.m"},
}

// Power is the power at a torque and a speed in revolutions per minute.
func (m Measure) Power(torque, rpm float64) float64 { return torque * rpm / measureRows[m].equalRPM }

// Torque is the torque at a power and a speed; endless at no speed.
func (m Measure) Torque(power, rpm float64) float64 { return power * measureRows[m].equalRPM / rpm }

// Point is one reading of a run. What was not read is 0.
type Point struct{ RPM, Power, Torque float64 }

// Run is what an engine gave on a dynamometer, or what somebody says it gave.
type Run struct {
	Measure    Measure
	PeakPower  float64 // 0 unknown
	PeakTorque float64 // 0 unknown
	Points     []Point
}

// FewPercent is how far power, torque and speed of one run may stand apart:
// they are read off a curve, rounded, and corrected for the weather.
const FewPercent = 0.03

// steep is by how much the greatest torque of a run exceeds any other of its
// readings at most.
const steep = 3

// fastest is the greatest speed in revolutions per minute that is believed.
const fastest = 25_000

// Doubt is a reading of a run that does not agree with the others.
type Doubt struct {
	Point int // from 1; 0 where no single one is meant
	Why   string
}

// String is the doubt in one line.
func (d Doubt) String() string {
	if d.Point == 0 {
		return d.Why
	}
	return fmt.Sprintf("reading %d: %s", d.Point, d.Why)
}

// Check doubts what cannot all be true within a part such as FewPercent: power,
// torque and speed of one reading that do not agree, a reading above the peak,
// a torque that no other comes near to, numbers that are none. None where all
// agree.
func (r Run) Check(within float64) []Doubt {
	if int(r.Measure) >= len(measureRows) {
		return []Doubt{{Why: fmt.Sprintf("measure %d is none", r.Measure)}}
	}
	w := measureRows[r.Measure]
	var list []Doubt
	doubt := func(point int, format string, args ...any) {
		list = append(list, Doubt{point, fmt.Sprintf(format, args...)})
	}
	for _, peak := range [...]float64{r.PeakPower, r.PeakTorque} {
		if peak < 0 || math.IsNaN(peak) || math.IsInf(peak, 0) {
			doubt(0, "a peak of %v is none", peak)
		}
	}
	torques := make([]float64, len(r.Points))
	for i, p := range r.Points {
		power, torque, why := r.complete(p, within)
		if why != "" {
			doubt(i+1, "%s", why)
			continue
		}
		torques[i] = torque
		if r.PeakPower > 0 && power > r.PeakPower*(1+within) {
			doubt(i+1, "%s at %s rpm make %s %s, and the peak is %s", said(p.Torque, torque, w.torque), plain(p.RPM), plain(power), w.power, plain(r.PeakPower))
		}
		if r.PeakTorque > 0 && torque > r.PeakTorque*(1+within) {
			doubt(i+1, "%s at %s rpm want %s %s, and the peak is %s", said(p.Power, power, w.power), plain(p.RPM), plain(torque), w.torque, plain(r.PeakTorque))
		}
	}
	for i, t := range torques {
		if o := others(torques, i); o > 0 && t > steep*o {
			doubt(i+1, "%s %s, and no other reading is above %s: look at the speed and the units", plain(t), w.torque, plain(o))
		}
	}
	return list
}

// complete is the power and the torque of a reading, the missing one computed,
// or why it cannot be.
func (r Run) complete(p Point, within float64) (power, torque float64, why string) {
	w := measureRows[r.Measure]
	for _, v := range [...]float64{p.RPM, p.Power, p.Torque} {
		if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
			return 0, 0, fmt.Sprintf("%v is no reading", v)
		}
	}
	switch {
	case p.RPM == 0 || p.RPM > fastest:
		return 0, 0, fmt.Sprintf("%s rpm is no speed of an engine", plain(p.RPM))
	case p.Power == 0 && p.Torque == 0:
		return 0, 0, "neither power nor torque"
	case p.Power == 0:
		return r.Measure.Power(p.Torque, p.RPM), p.Torque, ""
	case p.Torque == 0:
		return p.Power, r.Measure.Torque(p.Power, p.RPM), ""
	}
	makes := r.Measure.Power(p.Torque, p.RPM)
	if math.Abs(p.Power-makes) <= within*makes {
		return p.Power, p.Torque, ""
	}
	return 0, 0, fmt.Sprintf("%s %s at %s rpm make %s %s, not %s", plain(p.Torque), w.torque, plain(p.RPM), plain(makes), w.power, plain(p.Power)) + r.meant(p, within)
}

// meant is what would make a reading agree: the other measure, or power and
// torque the other way round.
func (r Run) meant(p Point, within float64) string {
	if makes := r.Measure.Power(p.Power, p.RPM); math.Abs(p.Torque-makes) <= within*makes {
		return "; the other way round they agree"
	}
	for m, w := range measureRows {
		if makes := Measure(m).Power(p.Torque, p.RPM); math.Abs(p.Power-makes) <= within*makes {
			return fmt.Sprintf("; in %s and %s they agree", w.power, w.torque)
		}
	}
	return ""
}

// said is a number that was read, or the one that was computed for it.
func said(read, computed float64, unit string) string {
	if read == 0 {
		read = computed
	}
	return plain(read) + " " + unit
}

// others is the greatest of the numbers but the i-th.
func others(list []float64, i int) float64 {
	most := 0.0
	for j, v := range list {
		if j != i {
			most = max(most, v)
		}
	}
	return most
}

// plain is a number to the nearest whole one, small ones to a tenth.
func plain(v float64) string {
	if math.Abs(v) < 100 {
		return fmt.Sprintf("%.4g", math.Round(v*10)/10)
	}
	return fmt.Sprintf("%.0f", v)
}
