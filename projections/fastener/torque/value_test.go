package torque

import (
	"math"
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func value(t testing.TB, text string) Value {
	t.Helper()
	v, err := Parse(text)
	require.NoError(t, err)
	return v
}

// NIST SP 811 appendix B: 1 lbf.ft = 1.355 818 N.m, 1 lbf.in = 0.112 984 8
// N.m, 1 kgf.m = 9.806 65 N.m exactly. Exact from the definitions: a lbf.ft is
// 4.4482216152605 x 0.3048 = 1.3558179483314004 N.m, as also seen at
// velocityhousing (1.3558179483); 1 N.m = 0.7375621493 lbf.ft.
func TestFactors(t *testing.T) {
	require.Equal(t, "1.355818 N.m", value(t, "1 lbf.ft").In(NewtonMetre, 6).String())
	require.Equal(t, "0.112985 N.m", value(t, "1 lbf.in").In(NewtonMetre, 6).String())
	require.Equal(t, "9.806650 N.m", value(t, "1 kgf.m").In(NewtonMetre, 6).String())
	require.Equal(t, "0.737562 lbf.ft", value(t, "1 N.m").In(PoundFoot, 6).String())
	require.Equal(t, "12 lbf.in", value(t, "1 lbf.ft").In(PoundInch, 0).String())
	require.InDelta(t, 0.7375621493, 1/PoundFoot.Nm(), 5e-11)

	exact := func(text string) *big.Rat {
		r, ok := new(big.Rat).SetString(text)
		require.True(t, ok)
		return r
	}
	foot := new(big.Rat).Mul(exact("4.4482216152605"), exact("0.3048"))
	require.Zero(t, foot.Cmp(big.NewRat(unitParts[PoundFoot], 1e16)))
	inch := new(big.Rat).Mul(exact("4.4482216152605"), exact("0.0254"))
	require.Zero(t, inch.Cmp(big.NewRat(unitParts[PoundInch], 1e16)))
}

func TestParse(t *testing.T) {
	for text, want := range map[string]string{
		"40 N.m": "40 N.m", "40Nm": "40 N.m", "40 N·m": "40 N.m", "6,6 nm": "6.6 N.m", "40 newton metres": "40 N.m",
		"29.5 lb-ft": "29.5 lbf.ft", "150 ft-lbs": "150 lbf.ft", "90 ft lb": "90 lbf.ft", "25 foot-pounds": "25 lbf.ft",
		"225 in-lb": "225 lbf.in", "500 lb in": "500 lbf.in", " 4.1 kgf·m ": "4.1 kgf.m", "4.10 mkg": "4.10 kgf.m", "0.50 N.m": "0.50 N.m",
	} {
		require.Equal(t, want, value(t, text).String(), text)
	}
	for _, row := range []struct{ text, why string }{
		{"40", "a number without a unit"},
		{"", "no number"},
		{"tight", "no number"},
		{"-5 N.m", "no number"},
		{"40 mm", "no unit of torque"},
		{"40 N", "no unit of torque"},
		{"40 kg", "no unit of torque"},
		{"4 0 N.m", "no unit of torque"},
		{"1.2.3 N.m", "no unit of torque"},
		{"9999999 N.m", "out of range"},
		{"1e3 N.m", "no unit of torque"},
		{"NaN N.m", "no number"},
		{strings.Repeat("9", 400), "no unit of torque"},
	} {
		_, err := Parse(row.text)
		var refusal *Refusal
		require.ErrorAs(t, err, &refusal, row.text)
		require.Contains(t, refusal.Fact, row.why, row.text)
		require.NotEmpty(t, refusal.Action)
	}
}

func TestOf(t *testing.T) {
	v, err := Of(6.6, NewtonMetre)
	require.NoError(t, err)
	require.Equal(t, "6.6 N.m", v.String())
	v, err = Of(0.1+0.2, PoundInch)
	require.NoError(t, err)
	require.Equal(t, "0.3 lbf.in", v.String())
	for _, bad := range []float64{-1, math.NaN(), math.Inf(1), 1e6} {
		_, err := Of(bad, NewtonMetre)
		require.Error(t, err)
	}
	_, err = Of(1, units)
	require.Error(t, err)
}

func drawValue(t *rapid.T) Value {
	return Value{
		digits:   rapid.Int64Range(0, 999_999).Draw(t, "digits"),
		decimals: uint8(rapid.IntRange(0, 3).Draw(t, "decimals")),
		unit:     Unit(rapid.IntRange(0, int(units)-1).Draw(t, "unit")),
	}
}

// Text and value are one; a conversion with the digits kept comes back; and In
// rounds as the rational numbers say.
func TestValueProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v, u := drawValue(t), Unit(rapid.IntRange(0, int(units)-1).Draw(t, "other"))
		back, err := Parse(v.String())
		require.NoError(t, err)
		require.Equal(t, v, back)

		require.Equal(t, v, v.Convert(u).In(v.unit, int(v.decimals)))

		n := rapid.IntRange(0, maxDecimals).Draw(t, "to")
		want := new(big.Rat).SetFrac(
			new(big.Int).Mul(big.NewInt(v.digits), big.NewInt(unitParts[v.unit])),
			new(big.Int).Mul(big.NewInt(unitParts[u]), power(int(v.decimals))))
		got := v.In(u, n)
		off := want.Sub(want, new(big.Rat).SetFrac(big.NewInt(got.digits), power(n)))
		half := new(big.Rat).SetFrac(big.NewInt(1), new(big.Int).Mul(big.NewInt(2), power(n)))
		require.LessOrEqual(t, off.Abs(off).Cmp(half), 0)
		require.InEpsilon(t, v.Nm()+1, v.In(u, maxDecimals).Nm()+1, 1e-5)
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"40 N.m", "29,5 lb-ft", "500 in·lb", "4.1 mkg", "", "x"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		v, err := Parse(text)
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		back, err := Parse(v.String())
		require.NoError(t, err)
		require.Equal(t, v, back)
	})
}

// Two units that stand beside each other. The slips are in official tables: TM
// 10-4320-346-12&P prints 1-1/4-12 grade 8 as 1820 (2712) where TM
// 10-3510-220-24 prints 2000 (2712); TM 9-4310-394-13 prints 7/8-14 as 70.0
// (7.97), 7.91 is right; TM 5-2815-241-34&P prints 140-150 ft lb as 196-210
// N.m on p. 2-64 and as 190-203, correctly, on p. 2-224; engineersedge.com
// torque_table_hexagon_screws_13478 prints 1-1/2 type 3 as 1618 N.m, 2070
// ft-lb.
func TestAgree(t *testing.T) {
	for _, row := range []struct {
		a, b string
		ok   bool
		why  string
	}{
		{"1820 lbf.ft", "2712 N.m", false, "2712 is 2000 lbf.ft"},
		{"2000 lbf.ft", "2712 N.m", true, "as the other manual has it"},
		{"70.0 lbf.in", "7.97 N.m", false, "a digit"},
		{"70.0 lbf.in", "7.91 N.m", true, ""},
		{"140 lbf.ft", "196 N.m", false, "1.4 for 1.356"},
		{"150 lbf.ft", "210 N.m", false, "1.4 for 1.356"},
		{"140 lbf.ft", "190 N.m", true, ""},
		{"150 lbf.ft", "203 N.m", true, ""},
		{"2070 lbf.ft", "1618 N.m", false, "a line further up"},
		{"40 N.m", "29.5 lbf.ft", true, "TM 10-3930-669-20 table E-1"},
		{"30 lbf.ft", "40 N.m", true, "TM 5-3810-306-34 p. 4-40, rounded to tens"},
		{"60 lbf.ft", "80 N.m", true, "the same"},
		{"88 lbf.ft", "120 N.m", true, "the same"},
		{"40 N.m", "29.5 lbf.in", false, "inches for feet"},
		{"10 N.m", "1.02 kgf.m", true, ""},
		{"0 N.m", "0 lbf.ft", true, "loosened to nothing"},
		{"0 N.m", "5 lbf.ft", false, ""},
	} {
		g := Agree(value(t, row.a), value(t, row.b))
		require.Equal(t, row.ok, g.OK, "%s %s: %s", g, row.why, row.b)
		require.Equal(t, row.ok, Agree(value(t, row.b), value(t, row.a)).OK, "the other way round: %s", g)
		require.Equal(t, row.ok, !strings.HasSuffix(g.String(), "?"))
	}
	require.Equal(t, "1820 lbf.ft is 2468 N.m, but 2712 N.m stands beside it, which is 2000 lbf.ft: which one is meant?",
		Agree(value(t, "1820 lbf.ft"), value(t, "2712 N.m")).String())
}

// What is converted always agrees with what it was converted from, and a
// twentieth more never does.
func TestAgreeProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawValue(t)
		u := Unit(rapid.IntRange(0, int(units)-1).Draw(t, "other"))
		require.True(t, Agree(v, v.Convert(u)).OK)
		if v.digits < 100 {
			return
		}
		more := v
		more.digits += v.digits/20 + 2
		require.False(t, Agree(v, more.Convert(u)).OK)
	})
}
