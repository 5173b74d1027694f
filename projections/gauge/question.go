package gauge

import (
	"fmt"
	"math"
	"strings"
)

// Question is a doubt about a reading before it is judged.
type Question struct {
	Reading Reading
	Why     string    // the fact
	Meant   []Reading // what may have been meant, the likeliest first
}

// String is the question in one line.
func (q Question) String() string {
	text := fmt.Sprintf("%s: %s", q.Reading, q.Why)
	if len(q.Meant) == 0 {
		return text + "; read it again"
	}
	var list []string
	for _, m := range q.Meant {
		if m.unit != q.Reading.unit {
			list = append(list, fmt.Sprintf("%s (%s)", m, m.Convert(q.Reading.unit)))
		} else {
			list = append(list, m.String())
		}
	}
	return text + "; was " + strings.Join(list, " or ") + " meant?"
}

// Question doubts a reading that can hardly be true of this size: read as the
// same digits of another unit, or with its point one place off, it would fit,
// and as it stands it does not. False where there is no doubt: a reading inside
// its limits is never doubted, and one that is merely worn is judged.
//
// Of a size above 5 mm with a narrow range (the whole of it less than a tenth of
// the size), more than three times that range and 3 % of the size outside is
// hardly true. Of a gap or a clearance, which wears to several times its limit,
// more than four times its most; of a size with a most alone, ten times; with
// a least alone, below half of it (common practice).
func (l Limits) Question(r Reading) (Question, bool) {
	hull := l.hull()
	if !hull.Known() || !r.Known() {
		return Question{}, false
	}
	if r.unit.Dimension() != hull.dimension() {
		return Question{Reading: r, Why: fmt.Sprintf("the limits are %s", hull)}, true
	}
	base := r.base()
	if hull.holds(base) {
		return Question{}, false
	}
	far := hull.far(base)
	q := Question{Reading: r}
	var nearly []Reading
	for _, m := range slips(r) {
		half := m.step() / 2
		switch {
		case !far && (m.unit == r.unit || !hull.twoSided()):
		case hull.openEnded(m.base()):
		case hull.meets(m.base()-half, m.base()+half):
			q.Meant = append(q.Meant, m)
		case far && hull.near(m.base(), half):
			nearly = append(nearly, m)
		}
	}
	if len(q.Meant) == 0 {
		q.Meant = nearly
	}
	if !far && len(q.Meant) == 0 {
		return Question{}, false
	}
	q.Why = fmt.Sprintf("outside %s", hull)
	if far {
		q.Why = fmt.Sprintf("far from %s", hull)
	}
	return q, true
}

// hull is the widest of the limits.
func (l Limits) hull() Range {
	h := l.New
	if s := l.Service.Min; s.Known() && (!h.Min.Known() || s.Compare(h.Min) < 0) {
		h.Min = s
	}
	if s := l.Service.Max; s.Known() && (!h.Max.Known() || s.Compare(h.Max) > 0) {
		h.Max = s
	}
	return h
}

// twoSided reports whether it leaves out sizes at both ends. Otherwise the same
// digits of a smaller unit always lie inside, and say nothing.
func (r Range) twoSided() bool { return r.Min.base() > 0 && r.Max.Known() }

// openEnded reports whether a size lies so deep inside a range with one end
// that this is no sign of having been meant.
func (r Range) openEnded(base int64) bool {
	if !r.Max.Known() {
		return base > r.Min.base()*10
	}
	return !r.twoSided() && max(base, -base) <= r.Max.base()/50
}

// meets reports whether sizes from low to high and the range have any in common.
func (r Range) meets(low, high int64) bool {
	return !(r.Min.Known() && high < r.Min.base()) && !(r.Max.Known() && low > r.Max.base())
}

// far reports whether a size can hardly be true.
func (r Range) far(base int64) bool {
	low, high := r.reach()
	return base < low || base > high
}

// near reports whether a size could be true, give or take half of its last
// place.
func (r Range) near(base, half int64) bool {
	low, high := r.reach()
	return base+half >= low && base-half <= high
}

// smallSize is the greatest length in base parts that is taken for a gap even
// where its range is narrow: 5 mm.
const smallSize = 5 * 10_000_000

// reach is how far a size may stray and still be true.
func (r Range) reach() (low, high int64) {
	least, greatest := r.Min.base(), r.Max.base()
	switch {
	case r.Min.Known() && !r.Max.Known() && least > 0:
		return least / 2, math.MaxInt64
	case !r.Min.Known() && greatest > 0:
		return -greatest * 10, greatest * 10
	case !r.Min.Known() || !r.Max.Known() || least == 0 && greatest == 0:
		return math.MinInt64, math.MaxInt64
	case least <= 0:
		most := max(-least, greatest)
		return -most * 10, most * 10
	case (greatest-least)*10 < greatest && (greatest > smallSize || r.dimension() != Length):
		slack := max(3*(greatest-least), greatest*3/100)
		return least - slack, greatest + slack
	}
	return 0, greatest * 4
}

// slipUnits are the units that are taken for each other.
var slipUnits = map[Dimension][]Unit{
	Length: {Millimetre, Inch, Thou, Micrometre}, Pressure: {Bar, PSI, Kilopascal}, Torque: {NewtonMetre, PoundFoot, PoundInch},
	Force: {Newton, Pound}, Time: {Second, Minute},
}

// slips are what a hand may have meant by the same digits: another unit, or
// the point one place off.
func slips(r Reading) []Reading {
	var list []Reading
	for _, u := range slipUnits[r.unit.Dimension()] {
		if m := r; u != r.unit && r.decimals <= unitRows[u].decimals {
			m.unit = u
			list = append(list, m)
		}
	}
	if r.decimals > 0 {
		m := r
		m.decimals--
		list = append(list, m)
	}
	if r.decimals < unitRows[r.unit].decimals {
		m := r
		m.decimals++
		list = append(list, m)
	}
	return list
}

// Gauge is what a reading was taken with.
type Gauge struct {
	Name string
	Step Reading // its finest division, in its unit
	From Reading // the least that it shows
	To   Reading // the most
	Band Reading // guard band to each side
}

// Question doubts a reading that this gauge cannot show: in another unit than
// its own, finer than its division, outside its range. What is not known of the
// gauge is not asked.
func (g Gauge) Question(r Reading) (Question, bool) {
	ask := func(format string, args ...any) (Question, bool) {
		return Question{Reading: r, Why: g.Name + " " + fmt.Sprintf(format, args...)}, true
	}
	switch {
	case !r.Known():
		return Question{}, false
	case g.Step.Known() && g.Step.unit != r.unit:
		q, _ := ask("reads in %s", g.Step.unit)
		if m := r; r.Alike(g.Step) && r.decimals <= unitRows[g.Step.unit].decimals {
			m.unit = g.Step.unit
			q.Meant = []Reading{m}
		}
		return q, true
	case g.Step.base() > 0 && r.base()%g.Step.base() != 0:
		return ask("reads in steps of %s", g.Step)
	case g.From.Alike(r) && r.Compare(g.From) < 0 || g.To.Alike(r) && r.Compare(g.To) > 0:
		return ask("reads %s", Range{g.From, g.To})
	}
	return Question{}, false
}

// wholeCircle is the greatest angle that a part can have, in degrees.
const wholeCircle = 360

// QuestionAngle doubts an angle that is none: below zero or more than a whole
// circle, and a reading that is no angle at all.
func QuestionAngle(r Reading) (Question, bool) {
	switch {
	case !r.Known():
		return Question{}, false
	case r.unit != Degree:
		return Question{Reading: r, Why: "this is no angle"}, true
	case r.base() < 0 || r.base() > wholeCircle*unitRows[Degree].parts:
		return Question{Reading: r, Why: "an angle is from 0 to 360 deg"}, true
	}
	return Question{}, false
}
