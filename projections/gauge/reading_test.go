package gauge

import (
	"math"
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// rd reads a reading that must be one.
func rd(t testing.TB, text string) Reading {
	t.Helper()
	r, err := Parse(text)
	require.NoError(t, err)
	return r
}

func TestParse(t *testing.T) {
	for text, want := range map[string]string{
		"51.98 mm": "51.98 mm", "51,980mm": "51.980 mm", " 2.0472 in ": "2.0472 in", `2.0472"`: "2.0472 in", ".0015 inch": "0.0015 in",
		",35 mm": "0.35 mm", "-0.02 mm": "-0.02 mm", "-.002 in": "-0.002 in", "+1 mm": "1 mm", "2 thou": "2 thou", "1.5 mils": "1.5 thou", "12 µm": "12 um",
		"12 μm": "12 um", "45°": "45 deg", "44.5 deg": "44.5 deg", "0 mm": "0 mm", "0.0000001 mm": "0.0000001 mm", "007.0 mm": "7.0 mm",
	} {
		require.Equal(t, want, rd(t, text).String(), text)
	}
	for _, row := range []struct{ text, why string }{
		{"51.98", "without a unit"},
		{"", "no number"},
		{"mm", "no number"},
		{"51.98 kg", `no unit "kg"`},
		{"51.98 mm mm", "no unit"},
		{"5 1 mm", "no unit"},
		{"1.2.3 mm", "no unit"},
		{"1e3 mm", "no unit"},
		{"2-1/8 in", "no unit"},
		{"100000 mm", "out of range"},
		{"0.00000001 mm", "has 8 decimals"},
		{"0.0000001 in", "has 7 decimals"},
		{"0.0001 thou", "has 4 decimals"},
		{"NaN mm", "no number"},
		{strings.Repeat("9", 300) + " mm", "no unit"},
	} {
		_, err := Parse(row.text)
		var refusal *Refusal
		require.ErrorAs(t, err, &refusal, row.text)
		require.Contains(t, refusal.Fact, row.why, row.text)
		require.NotEmpty(t, refusal.Action)
	}
}

func TestOf(t *testing.T) {
	r, err := Of(51.98, Millimetre)
	require.NoError(t, err)
	require.Equal(t, rd(t, "51.98 mm"), r)
	r, err = Of(0.1+0.2, Inch)
	require.NoError(t, err)
	require.Equal(t, "0.3 in", r.String())
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e5, -1e5} {
		_, err := Of(bad, Millimetre)
		require.ErrorContains(t, err, "out of range")
	}
	for _, bad := range []Unit{NoUnit, units, 99} {
		_, err := Of(1, bad)
		require.ErrorContains(t, err, "without a unit")
	}
}

func TestUnits(t *testing.T) {
	for u := Millimetre; u < Plain; u++ {
		back, ok := ParseUnit(u.String())
		require.True(t, ok)
		require.Equal(t, u, back)
		require.Zero(t, unitRows[u].parts%pow10(unitRows[u].decimals), "%s is exact to its decimals", u)
	}
	_, ok := ParseUnit("")
	require.False(t, ok)
	require.Equal(t, "unit 99", Unit(99).String())
	require.Equal(t, NoDimension, Unit(99).Dimension())
}

// An inch is 25.4 mm exactly. The clearances of the 6.2 and 6.5 L engine, TM
// 9-2815-237-34 p. 239-240, in both units.
func TestConvert(t *testing.T) {
	for _, row := range []struct{ from, to, back string }{
		{"1 in", "25 mm", "1 in"},
		{"0.001 in", "0.03 mm", "0.001 in"},
		{"0.0001 in", "0.003 mm", "0.0001 in"},
		{"2.0472 in", "51.999 mm", "2.0472 in"},
		{"0.01 mm", "0.0004 in", "0.01 mm"},
		{"51.98 mm", "2.0465 in", "51.98 mm"},
		{"0.042 in", "1.07 mm", "0.042 in"},
		{"2 thou", "0.05 mm", "2 thou"},
	} {
		r := rd(t, row.from)
		u := Inch
		if r.unit != Millimetre {
			u = Millimetre
		}
		c := r.Convert(u)
		require.Equal(t, row.to, c.String(), row.from)
		require.Equal(t, row.back, c.In(r.unit, int(r.decimals)).String())
	}
	for in, mm := range map[string]string{
		"0.002 in": "0.0508 mm", "0.004 in": "0.1016 mm", "0.007 in": "0.1778 mm", "0.025 in": "0.6350 mm", "0.010 in": "0.2540 mm",
		"0.0035 in": "0.0889 mm", "0.0045 in": "0.1143 mm", "0.012 in": "0.3048 mm", "0.022 in": "0.5588 mm", "0.030 in": "0.7620 mm", "0.039 in": "0.9906 mm",
	} {
		require.Equal(t, mm, rd(t, in).In(Millimetre, 4).String())
		require.Zero(t, rd(t, in).Compare(rd(t, mm)), "to the last digit")
	}
	require.Equal(t, "0.002 in", rd(t, "2 thou").Convert(Inch).String())
	require.Equal(t, "0.012 mm", rd(t, "12 um").Convert(Millimetre).String())
	require.False(t, rd(t, "45 deg").Convert(Millimetre).Known())
	require.False(t, rd(t, "45 mm").In(Degree, 2).Known())
	require.False(t, Reading{}.In(Inch, 3).Known())
	require.Equal(t, "1000 um", rd(t, "1 mm").In(Micrometre, 0).String())
	require.InDelta(t, 51.98, rd(t, "51.98 mm").Mm(), 1e-12)
	require.Zero(t, rd(t, "45 deg").Mm())
}

func TestArithmetic(t *testing.T) {
	require.Equal(t, "0.042 mm", rd(t, "52.041 mm").Minus(rd(t, "51.999 mm")).String())
	require.Equal(t, "0.061 mm", rd(t, "52.041 mm").Minus(rd(t, "51.98 mm")).String())
	require.Equal(t, "0.04212 mm", rd(t, "52.041 mm").Minus(rd(t, "2.0472 in")).String(), "exact across units")
	require.Equal(t, "-0.04212 mm", rd(t, "2.0472 in").Minus(rd(t, "52.041 mm")).String())
	require.Equal(t, "0.30 mm", rd(t, "0.10 mm").Plus(rd(t, "0.2 mm")).String())
	require.Equal(t, "0.3 in", rd(t, "0.1 in").Plus(rd(t, "0.2 in")).String())
	require.Equal(t, "26.4 mm", rd(t, "1 mm").Plus(rd(t, "1 in")).String())
	require.False(t, rd(t, "1 mm").Plus(rd(t, "1 deg")).Known())
	require.False(t, Reading{}.Minus(Reading{}).Known())
	require.Equal(t, "no reading", Reading{}.String())
	require.Equal(t, 1, rd(t, "1 in").Compare(rd(t, "25.3 mm")))
	require.Equal(t, -1, rd(t, "1 in").Compare(rd(t, "25.41 mm")))
	require.Zero(t, rd(t, "1 in").Compare(rd(t, "25.4 mm")))
}

func drawReading(t *rapid.T, label string, us ...Unit) Reading {
	u := rapid.SampledFrom(us).Draw(t, label+" unit")
	return Reading{
		digits:   rapid.Int64Range(-9_999_999, 9_999_999).Draw(t, label+" digits"),
		decimals: uint8(rapid.IntRange(0, int(min(unitRows[u].decimals, 5))).Draw(t, label+" decimals")),
		unit:     u,
	}
}

var lengths = []Unit{Millimetre, Inch, Micrometre, Thou}

// rat is a reading in millimetres as a rational number.
func rat(r Reading) *big.Rat {
	mm := map[Unit]string{Millimetre: "1", Inch: "25.4", Micrometre: "0.001", Thou: "0.0254"}[r.unit]
	f, _ := new(big.Rat).SetString(mm)
	return f.Mul(f, new(big.Rat).SetFrac(big.NewInt(r.digits), big.NewInt(pow10(r.decimals))))
}

// Sizes are those of the rational numbers: they compare, add, subtract and
// round as those do; a conversion comes back; text and reading are one.
func TestReadingProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawReading(t, "a", lengths...), drawReading(t, "b", lengths...)
		back, err := Parse(a.String())
		if math.Abs(a.Float()) < most {
			require.NoError(t, err)
			require.Equal(t, a, back)
		} else {
			require.Error(t, err)
		}
		require.Equal(t, rat(a).Cmp(rat(b)), a.Compare(b))
		require.Zero(t, rat(a.Plus(b)).Cmp(new(big.Rat).Add(rat(a), rat(b))))
		require.Zero(t, rat(a.Minus(b)).Cmp(new(big.Rat).Sub(rat(a), rat(b))))
		require.Equal(t, a.Minus(b).base(), -b.Minus(a).base())

		u := rapid.SampledFrom(lengths).Draw(t, "to")
		n := rapid.IntRange(0, int(unitRows[u].decimals)).Draw(t, "decimals")
		off := new(big.Rat).Sub(rat(a), rat(a.In(u, n)))
		half := rat(Reading{digits: 1, decimals: uint8(n), unit: u})
		require.LessOrEqual(t, off.Abs(off).Cmp(half.Mul(half, big.NewRat(1, 2))), 0)

		c := a.Convert(u)
		if c.step() <= a.step() {
			require.Equal(t, a, c.In(a.unit, int(a.decimals)))
		} else {
			require.Equal(t, unitRows[u].decimals, c.decimals, "only where the unit has no more decimals")
		}
		again, err := Of(a.Float(), a.unit)
		if math.Abs(a.Float()) < most {
			require.NoError(t, err)
			require.Zero(t, again.Compare(a), "a number that goes through floating point is the same size")
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"51.98 mm", "-,5 in", "2 thou", "45°", "", "x", "1 \""} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r, err := Parse(text)
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		back, err := Parse(r.String())
		require.NoError(t, err)
		require.Equal(t, r, back)
	})
}

// What the units of one dimension are of each other: NIST SP 811 Appendix B.8,
// and the pound-foot as 4.4482216152605 N x 0.3048 m.
func TestUnitFactors(t *testing.T) {
	for _, row := range []struct {
		one  string
		in   Unit
		want float64
	}{
		{"1 psi", Kilopascal, 6.894757}, {"1 bar", Kilopascal, 100}, {"1 lbf.ft", NewtonMetre, 1.355818}, {"1 lbf.in", NewtonMetre, 0.1129848},
		{"1 lbf", Newton, 4.448222}, {"1 min", Second, 60}, {"1 in", Millimetre, 25.4},
	} {
		got := rd(t, row.one).In(row.in, 6).Float()
		require.InDelta(t, row.want, got, max(6e-7*row.want, 5e-7), row.one)
	}
	require.False(t, rd(t, "1 bar").Alike(rd(t, "1 mm")))
	require.Equal(t, "3.50 bar", rd(t, "3.50 bar").String())
	three, err := Of(3, Plain)
	require.NoError(t, err)
	require.Equal(t, "3", three.String())
	q, ok := Limits{Service: between(t, "2 bar", "5 bar")}.Question(rd(t, "50 bar"))
	require.True(t, ok)
	require.Contains(t, q.String(), "50 psi")
}
