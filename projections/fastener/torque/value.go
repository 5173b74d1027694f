package torque

import (
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"
)

// Unit is a unit of torque.
type Unit uint8

// The units. The numbers are not stored; the words are.
const (
	NewtonMetre   Unit = iota // N.m
	PoundFoot                 // lbf.ft
	PoundInch                 // lbf.in
	KilopondMetre             // kgf.m, in old manuals
	units
)

var unitWords = [units]string{"N.m", "lbf.ft", "lbf.in", "kgf.m"}

// String is the word for the unit, as it is stored and shown.
func (u Unit) String() string {
	if u < units {
		return unitWords[u]
	}
	return "unit " + strconv.Itoa(int(u))
}

// unitParts is each unit in ten-quadrillionths (1e-16) of a newton metre. A
// pound-force is 4.4482216152605 N and a foot 0.3048 m, both exact (NIST SP
// 811 appendix B), so a lbf.ft is 1.3558179483314004 N.m exactly; a kilopond
// is 9.80665 N.
var unitParts = [units]int64{1e16, 13558179483314004, 1129848290276167, 98066500000000000}

// Nm is the unit in newton metres.
func (u Unit) Nm() float64 { return float64(unitParts[u]) / 1e16 }

const (
	maxDecimals = 6
	million     = 1_000_000
)

// Value is a torque as it was written: 40 N.m and 40.0 N.m are two values of
// the same size. Values compare with ==. The zero value is 0 N.m.
type Value struct {
	digits   int64
	decimals uint8
	unit     Unit
}

// Of is a torque of v units, with as many decimals as v has, up to six. It
// refuses what is no torque: negative, endless, or a million and more.
func Of(v float64, u Unit) (Value, error) {
	if u >= units {
		return Value{}, fmt.Errorf("torque: %s: no such unit", u)
	}
	if math.IsNaN(v) || v < 0 || v >= million {
		return Value{}, fmt.Errorf("torque %v %s: not a number from 0 to a million", v, u)
	}
	text := strconv.FormatFloat(v, 'f', -1, 64)
	if _, after, _ := strings.Cut(text, "."); len(after) > maxDecimals {
		text = strings.TrimRight(strconv.FormatFloat(v, 'f', maxDecimals, 64), "0")
	}
	return decimalValue(strings.TrimSuffix(text, "."), u)
}

// decimalValue is a number of digits with or without a point.
func decimalValue(text string, u Unit) (Value, error) {
	whole, after, _ := strings.Cut(text, ".")
	n, err := strconv.ParseInt(whole+after, 10, 64)
	if err != nil || n < 0 || len(after) > maxDecimals || len(strings.TrimLeft(whole, "0")) > 6 {
		return Value{}, fmt.Errorf("torque %s: not a number from 0 to a million with up to %d decimals", text, maxDecimals)
	}
	return Value{digits: n, decimals: uint8(len(after)), unit: u}, nil
}

// Unit is the unit that the torque is written in.
func (v Value) Unit() Unit { return v.unit }

// Float is the torque in its own unit.
func (v Value) Float() float64 { return float64(v.digits) / math.Pow10(int(v.decimals)) }

// Nm is the torque in newton metres.
func (v Value) Nm() float64 { return v.Float() * v.unit.Nm() }

// Known reports whether there is any torque at all.
func (v Value) Known() bool { return v.digits > 0 }

// String is the torque with the decimals that it was written with, and its
// unit.
func (v Value) String() string { return v.number() + " " + v.unit.String() }

func (v Value) number() string {
	text := strconv.FormatInt(v.digits, 10)
	n := int(v.decimals)
	if n == 0 {
		return text
	}
	for len(text) <= n {
		text = "0" + text
	}
	return text[:len(text)-n] + "." + text[len(text)-n:]
}

// In is the torque in another unit, rounded once to 0 to 6 decimals, half
// away from zero.
func (v Value) In(u Unit, decimals int) Value {
	decimals = max(0, min(decimals, maxDecimals))
	num := big.NewInt(v.digits)
	num.Mul(num, big.NewInt(unitParts[v.unit]))
	num.Mul(num, power(decimals))
	den := big.NewInt(unitParts[u])
	den.Mul(den, power(int(v.decimals)))
	// Adding half before the division rounds half up; torques are not negative.
	num.Lsh(num, 1).Add(num, den).Quo(num, den.Lsh(den, 1))
	return Value{digits: num.Int64(), decimals: uint8(decimals), unit: u}
}

// Convert is the torque in another unit with the digits kept: with as few
// decimals as leave its last place no coarser than it was written. Converted
// back to its own unit and decimals it is the same value, unless six decimals
// do not suffice.
func (v Value) Convert(u Unit) Value {
	if u == v.unit {
		return v
	}
	step := v.unit.Nm() / math.Pow10(int(v.decimals))
	for n := range maxDecimals {
		if u.Nm()/math.Pow10(n) <= step {
			return v.In(u, n)
		}
	}
	return v.In(u, maxDecimals)
}

func power(n int) *big.Int {
	p := int64(1)
	for range n {
		p *= 10
	}
	return big.NewInt(p)
}

// round3 is a computed torque to three figures, as it is read on a wrench.
func round3(v float64, u Unit) Value {
	if v <= 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return Value{unit: u}
	}
	decimals := 2 - int(math.Floor(math.Log10(v)))
	if decimals < 0 {
		p := math.Pow10(-decimals)
		v = math.Round(v/p) * p
	}
	decimals = max(0, min(decimals, maxDecimals))
	return Value{digits: int64(math.Round(v * math.Pow10(decimals))), decimals: uint8(decimals), unit: u}
}
