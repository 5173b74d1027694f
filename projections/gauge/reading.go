package gauge

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// Reading is what was read off a gauge: digits and a unit. Readings compare
// with == as they were written; Compare compares their sizes. The zero value is
// no reading.
type Reading struct {
	digits   int64
	decimals uint8
	unit     Unit
}

// most is the greatest reading of either sign, in millimetres, inches or
// degrees and in every other unit.
const most = 100_000

// Refusal says why something is no reading: the fact, then what to do.
type Refusal struct{ Fact, Action string }

// Error is the fact and the next action.
func (r *Refusal) Error() string { return r.Fact + ": " + r.Action }

// Of is a reading of v units with the decimals that v has, as many as the unit
// is exact to. It refuses what is no number, is 100 000 or more of either sign,
// or has no unit. An error is a *Refusal.
func Of(v float64, u Unit) (Reading, error) {
	if u == NoUnit || u >= units {
		return Reading{}, &Refusal{fmt.Sprintf("reading %v without a unit", v), "write one of " + words()}
	}
	if math.IsNaN(v) || math.Abs(v) >= most {
		return Reading{}, &Refusal{fmt.Sprintf("reading %v %s is out of range", v, u), fmt.Sprintf("write a number below %d", most)}
	}
	text := strconv.FormatFloat(v, 'f', -1, 64)
	if _, after, _ := strings.Cut(text, "."); len(after) > int(unitRows[u].decimals) {
		text = strings.TrimRight(strconv.FormatFloat(v, 'f', int(unitRows[u].decimals), 64), "0")
	}
	return readDigits(strings.TrimSuffix(text, "."), u)
}

var readingRE = regexp.MustCompile(`^([+-]?(?:\d{1,6}(?:[.,]\d{1,9})?|[.,]\d{1,9}))\s*(.*)$`)

// Parse reads a reading with its unit: 51.98 mm, 0,35mm, .0015 in, 2 thou, 45
// deg. A comma is a decimal comma. Without a unit it is refused: 2.047 may be
// two sizes. An error is a *Refusal.
func Parse(text string) (Reading, error) {
	m := readingRE.FindStringSubmatch(strings.TrimSpace(text))
	if m == nil {
		return Reading{}, &Refusal{"reading " + quote(text) + ": no number that can be read", "write a number and a unit, as in 51.98 mm"}
	}
	u, ok := ParseUnit(m[2])
	if !ok {
		fact := "reading " + quote(text) + ": no unit " + quote(m[2])
		if m[2] == "" {
			fact = "reading " + quote(text) + " without a unit"
		}
		return Reading{}, &Refusal{fact, "write one of " + words() + " after the number"}
	}
	return readDigits(strings.Replace(m[1], ",", ".", 1), u)
}

func readDigits(text string, u Unit) (Reading, error) {
	whole, after, _ := strings.Cut(text, ".")
	n, err := strconv.ParseInt(whole+after, 10, 64)
	row := unitRows[u]
	switch {
	case err != nil || math.Abs(float64(n)) >= most*math.Pow10(len(after)):
		return Reading{}, &Refusal{fmt.Sprintf("reading %s %s is out of range", text, u), fmt.Sprintf("write a number below %d", most)}
	case len(after) > int(row.decimals):
		return Reading{}, &Refusal{fmt.Sprintf("reading %s %s has %d decimals", text, u, len(after)), fmt.Sprintf("write up to %d", row.decimals)}
	}
	return Reading{digits: n, decimals: uint8(len(after)), unit: u}, nil
}

// quote is a text in quotation marks, cut short.
func quote(text string) string {
	if r := []rune(text); len(r) > 40 {
		text = string(r[:40]) + "…"
	}
	return `"` + text + `"`
}

// Known reports whether there is a reading at all.
func (r Reading) Known() bool { return r.unit != NoUnit }

// Unit is the unit that it was read in.
func (r Reading) Unit() Unit { return r.unit }

// Float is the reading as a number of its unit.
func (r Reading) Float() float64 { return float64(r.digits) / math.Pow10(int(r.decimals)) }

// Mm is the size in millimetres, 0 for angles.
func (r Reading) Mm() float64 {
	if r.unit.Dimension() != Length {
		return 0
	}
	return float64(r.base()) / float64(unitRows[Millimetre].parts)
}

// base is the size in base parts, exact.
func (r Reading) base() int64 {
	if r.unit == NoUnit {
		return 0
	}
	return r.digits * (unitRows[r.unit].parts / pow10(r.decimals))
}

// step is one of the last decimal in base parts.
func (r Reading) step() int64 { return unitRows[r.unit].parts / pow10(r.decimals) }

func pow10(n uint8) int64 {
	p := int64(1)
	for range n {
		p *= 10
	}
	return p
}

// sized is a size in base parts as a reading, rounded half away from zero.
func sized(base int64, u Unit, decimals uint8) Reading {
	decimals = min(decimals, unitRows[u].decimals)
	step := unitRows[u].parts / pow10(decimals)
	half := step / 2
	if base < 0 {
		half = -half
	}
	return Reading{digits: (base + half) / step, decimals: decimals, unit: u}
}

// exact is a size in base parts with as few decimals as it needs, and not fewer
// than said; rounded where the unit is not exact to it.
func exact(base int64, u Unit, decimals uint8) Reading {
	r := sized(base, u, unitRows[u].decimals)
	for r.decimals > decimals && r.digits%10 == 0 {
		r.digits /= 10
		r.decimals--
	}
	return r
}

// String is the reading with its digits and unit; "no reading" for none.
func (r Reading) String() string {
	if !r.Known() {
		return "no reading"
	}
	return strings.TrimSpace(r.number() + " " + r.unit.String())
}

func (r Reading) number() string {
	n, sign := r.digits, ""
	if n < 0 {
		n, sign = -n, "-"
	}
	text := strconv.FormatInt(n, 10)
	d := int(r.decimals)
	if d == 0 {
		return sign + text
	}
	for len(text) <= d {
		text = "0" + text
	}
	return sign + text[:len(text)-d] + "." + text[len(text)-d:]
}

// Compare is -1, 0 or 1 as the size is smaller than, equal to or greater than
// another; 0 where they do not measure the same thing.
func (r Reading) Compare(o Reading) int {
	if r.unit.Dimension() != o.unit.Dimension() {
		return 0
	}
	return cmp.Compare(r.base(), o.base())
}

// Alike reports whether both measure the same thing.
func (r Reading) Alike(o Reading) bool {
	return r.Known() && r.unit.Dimension() == o.unit.Dimension()
}

// In is the reading in another unit of the same dimension, rounded once to so
// many decimals, half away from zero; no reading where the dimension differs.
func (r Reading) In(u Unit, decimals int) Reading {
	if u >= units || !r.Alike(Reading{unit: u}) {
		return Reading{}
	}
	return sized(r.base(), u, uint8(max(0, min(decimals, int(unitRows[u].decimals)))))
}

// Convert is the reading in another unit with its digits kept: with as few
// decimals as leave its last place no coarser than it was read. Back in its own
// unit and decimals it is the same reading.
func (r Reading) Convert(u Unit) Reading {
	if u == r.unit {
		return r
	}
	if u >= units || !r.Alike(Reading{unit: u}) {
		return Reading{}
	}
	n := uint8(0)
	for n < unitRows[u].decimals && unitRows[u].parts/pow10(n) > r.step() {
		n++
	}
	return sized(r.base(), u, n)
}

// Beside is the reading in the unit of what it is held against, with all its
// digits: as many as it has there, or where they do not end one more than it was
// read with. No reading where they do not measure the same thing.
func (r Reading) Beside(u Unit) Reading {
	if u == r.unit {
		return r
	}
	if u >= units || !r.Alike(Reading{unit: u}) {
		return Reading{}
	}
	if all := exact(r.base(), u, 0); all.base() == r.base() {
		return all
	}
	return sized(r.base(), u, r.Convert(u).decimals+1)
}

// Plus is the sum of two readings: in their unit with the decimals of the
// finer; where the units differ, in millimetres, which is exact, or the first unit of
// their like. No reading
// where they do not measure the same thing.
func (r Reading) Plus(o Reading) Reading { return r.combine(o, 1) }

// Minus is the difference of two readings, as Plus.
func (r Reading) Minus(o Reading) Reading { return r.combine(o, -1) }

func (r Reading) combine(o Reading, sign int64) Reading {
	if !r.Alike(o) {
		return Reading{}
	}
	base := r.base() + sign*o.base()
	if r.unit == o.unit {
		return sized(base, r.unit, max(r.decimals, o.decimals))
	}
	return exact(base, unitOf(r.unit.Dimension()), 0)
}

// unitOf is the unit in which readings of different units are added: for
// lengths the millimetre, which is exact.
func unitOf(d Dimension) Unit {
	for u := Millimetre; u < units; u++ {
		if unitRows[u].dimension == d {
			return u
		}
	}
	return NoUnit
}

// Abs is the reading without its sign.
func (r Reading) Abs() Reading {
	r.digits = max(r.digits, -r.digits)
	return r
}

// Read is a reading of digits as they were written, with a point or a comma, in
// a unit. It refuses what is no number, is out of range or finer than the unit
// is exact to. An error is a *Refusal.
func Read(digits string, u Unit) (Reading, error) {
	m := readingRE.FindStringSubmatch(strings.TrimSpace(digits))
	if m == nil || m[2] != "" || u == NoUnit || u >= units {
		return Reading{}, &Refusal{"reading " + quote(digits) + ": no number that can be read", "write a number, as in 51.98"}
	}
	return readDigits(strings.Replace(m[1], ",", ".", 1), u)
}

// Digits are the digits as they were read, without the unit.
func (r Reading) Digits() string { return r.number() }
