package gauge

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func siblings(t testing.TB, texts ...string) []Sibling {
	t.Helper()
	var list []Sibling
	for i, text := range texts {
		list = append(list, Sibling{fmt.Sprint(i + 1), rd(t, text)})
	}
	return list
}

func TestStandOuts(t *testing.T) {
	for _, row := range []struct {
		what string
		band string
		read []string
		want []string
	}{
		{"one worn lash", "0.01 mm", []string{"0.20 mm", "0.21 mm", "0.19 mm", "0.20 mm", "0.38 mm", "0.20 mm", "0.22 mm", "0.21 mm"}, []string{"5"}},
		{"all alike", "0.01 mm", []string{"0.20 mm", "0.20 mm", "0.20 mm", "0.20 mm"}, nil},
		{"within the gauge", "0.02 mm", []string{"0.20 mm", "0.20 mm", "0.20 mm", "0.27 mm"}, nil},
		{"one that the gauge can tell", "0.02 mm", []string{"0.20 mm", "0.20 mm", "0.20 mm", "0.28 mm"}, []string{"4"}},
		{"two", "0.01 mm", []string{"10 mm", "10.01 mm", "9.99 mm", "10 mm", "10.02 mm", "10.2 mm", "9.8 mm"}, nil}, // the coarsest last digit is 1 mm
		{"two, read alike", "0.01 mm", []string{"10.00 mm", "10.01 mm", "9.99 mm", "10.00 mm", "10.02 mm", "10.20 mm", "9.80 mm"}, []string{"6", "7"}},
		{"spread wide", "0.01 mm", []string{"1.0 mm", "2.0 mm", "3.0 mm", "4.0 mm", "6.0 mm"}, nil},
		{"too few", "0.01 mm", []string{"0.20 mm", "0.20 mm", "9.00 mm"}, nil},
		{"different things", "0.01 mm", []string{"0.20 mm", "0.20 mm", "0.20 mm", "0.20 mm", "9 deg"}, nil},
		{"in inches", "0.0004 in", []string{"0.0120 in", "0.0122 in", "0.31 mm", "0.0121 in", "0.0190 in", "0.0120 in"}, []string{"5"}},
	} {
		var got []string
		for _, s := range StandOuts(rd(t, row.band), siblings(t, row.read...)) {
			got = append(got, s.Name)
		}
		require.Equal(t, row.want, got, row.what)
	}
	out := StandOuts(rd(t, "0.01 mm"), siblings(t, "0.20 mm", "0.21 mm", "0.19 mm", "0.20 mm", "0.38 mm", "0.02 mm"))
	require.Len(t, out, 2)
	require.Equal(t, "5: 0.38 mm stands out, 0.180 mm above the middle of its siblings: look here", out[0].String())
	require.Equal(t, "6: 0.02 mm stands out, 0.180 mm below the middle of its siblings: look here", out[1].String())
	require.Empty(t, StandOuts(rd(t, "1 deg"), siblings(t, "1 mm", "1 mm", "1 mm", "9 mm")))
}

// Against the formula in floating point: 0.6745 (x - median)/MAD above 3.5.
func TestStandOutsAgainstTheFormula(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(4, 16).Draw(t, "n")
		var list []Sibling
		for i := range n {
			list = append(list, Sibling{fmt.Sprint(i), Reading{digits: rapid.Int64Range(0, 60).Draw(t, fmt.Sprint(i)), decimals: 2, unit: Millimetre}})
		}
		var xs, ds []int64
		for _, s := range list {
			xs = append(xs, s.Reading.base())
		}
		mid := median(xs)
		for _, x := range xs {
			ds = append(ds, max(x-mid, mid-x))
		}
		mad := math.Max(float64(median(ds)), float64(list[0].Reading.step())/1.4826)
		out := map[string]bool{}
		for _, s := range StandOuts(Reading{}, list) {
			out[s.Name] = true
		}
		require.LessOrEqual(t, len(out), n/2, "most are usual")
		for i, s := range list {
			z := 0.67449 * math.Abs(float64(xs[i]-mid)) / mad
			if math.Abs(z-3.5) > 0.01 {
				require.Equal(t, z > 3.5, out[s.Name], "%s: z %.3f", s.Reading, z)
			}
		}
	})
}

// Common practice, from a practitioner: 0.550 in of valve lift against a stock
// rocker pivot that is good for about 0.530 in: the pivots must change. Spark
// plugs gapped to 0.042 in.
func TestTake(t *testing.T) {
	pivot := Allows{Neighbour: "stock rocker pivot", Range: AtMost(rd(t, "0.530 in")), About: rd(t, "0.005 in"), Otherwise: "the pivots must change"}
	fit := pivot.Take("valve lift", rd(t, "0.550 in"))
	require.False(t, fit.Goes() || fit.Asks())
	require.Equal(t, "valve lift 0.550 in, stock rocker pivot allows about at most 0.530 in: 0.020 in too much; the pivots must change", fit.String())
	for _, row := range []struct {
		a          Allows
		value      string
		goes, asks bool
		says       string
	}{
		{pivot, "0.520 in", true, false, "they go together"},
		{pivot, "13.2 mm", true, false, "they go together"},
		{pivot, "0.527 in", false, true, "too near to say: ask whoever made the stock rocker pivot"},
		{pivot, "13.97 mm", false, false, "too much"},
		{pivot, "45 deg", false, true, "cannot be said"},
		{Allows{Neighbour: "pivot"}, "0.550 in", false, true, "cannot be said"},
		{Allows{Neighbour: "ignition", Range: between(t, "0.042 in", "0.042 in"), About: rd(t, "0.002 in")}, "0.042 in", false, true, "too near"},
		{Allows{Neighbour: "ignition", Range: between(t, "0.040 in", "0.044 in")}, "0.042 in", true, false, "they go together"},
		{Allows{Neighbour: "ignition", Range: between(t, "0.040 in", "0.044 in"), Otherwise: "set it again"}, "0.035 in", false, false, "0.005 in too little; set it again"},
	} {
		fit := row.a.Take("value", rd(t, row.value))
		require.Equal(t, row.goes, fit.Goes(), fit.String())
		require.Equal(t, row.asks, fit.Asks(), fit.String())
		require.Contains(t, fit.String(), row.says)
	}
}

// A practitioner's run (common practice): 429 hp at the peak, 400 hp first
// passed at 4,900 rpm, 400 lbf.ft still there at 5,700 rpm. All agree within a
// few per cent: 400 hp at 4,900 are 428.7 lbf.ft, and 400 lbf.ft at 5,700 are
// 434 hp.
func TestRunOfAPractitioner(t *testing.T) {
	run := Run{PeakPower: 429, Points: []Point{{RPM: 4900, Power: 400}, {RPM: 5700, Torque: 400}}}
	require.Empty(t, run.Check(FewPercent))
	require.InDelta(t, 428.7, HorsepowerPoundFeet.Torque(400, 4900), .1)
	require.InDelta(t, 434.1, HorsepowerPoundFeet.Power(400, 5700), .1)
	require.Len(t, run.Check(0.01), 1, "to the per cent they do not")
}

func TestRunDoubts(t *testing.T) {
	for _, row := range []struct {
		run   Run
		wants []string
	}{
		{Run{Points: []Point{{5252, 400, 400}}}, nil},
		{Run{Points: []Point{{5252, 411, 400}}}, nil},
		{Run{Points: []Point{{5252, 420, 400}}}, []string{"reading 1: 400 lbf.ft at 5252 rpm make 400 hp, not 420"}},
		{Run{Points: []Point{{4900, 400, 429}, {5700, 434, 400}}}, nil},
		{Run{Points: []Point{{4900, 429, 400}}}, []string{"reading 1: 400 lbf.ft at 4900 rpm make 373 hp, not 429"}},
		{Run{Points: []Point{{3000, 400, 228.5}}}, []string{"the other way round they agree"}},
		{Run{Points: []Point{{5000, 209.4, 400}}}, []string{"in kW and N.m they agree"}},
		{Run{Points: []Point{{5000, 284.8, 400}}}, []string{"in PS and N.m they agree"}},
		{Run{Measure: KilowattsNewtonMetres, Points: []Point{{5000, 209.4, 400}}}, nil},
		{Run{Measure: KilowattsNewtonMetres, Points: []Point{{5000, 380.8, 400}}}, []string{"in hp and lbf.ft they agree"}},
		{Run{Measure: MetricHorsesNewtonMetres, Points: []Point{{5000, 284.8, 400}}}, nil},
		{Run{PeakPower: 329, Points: []Point{{5700, 0, 400}}}, []string{"400 lbf.ft at 5700 rpm make 434 hp, and the peak is 329"}},
		{Run{PeakTorque: 400, Points: []Point{{4900, 400, 0}}}, []string{"400 hp at 4900 rpm want 429 lbf.ft, and the peak is 400"}},
		{Run{Points: []Point{{490, 400, 0}, {5700, 0, 400}}}, []string{"reading 1: 4287 lbf.ft, and no other reading is above 400: look at the speed and the units"}},
		{Run{Points: []Point{{0, 400, 400}, {57000, 0, 400}, {5000, 0, 0}, {5000, -1, 0}, {math.NaN(), 1, 0}, {5000, math.Inf(1), 0}}},
			[]string{"0 rpm is no speed", "57000 rpm is no speed", "neither power nor torque", "-1 is no reading", "NaN is no reading", "+Inf is no reading"}},
		{Run{PeakPower: math.NaN(), PeakTorque: -3}, []string{"a peak of NaN is none", "a peak of -3 is none"}},
		{Run{Measure: 9}, []string{"measure 9 is none"}},
	} {
		got := row.run.Check(FewPercent)
		require.Len(t, got, len(row.wants), "%v", got)
		for i, w := range row.wants {
			require.Contains(t, got[i].String(), w)
		}
	}
}

// A run along any smooth curve agrees with itself, and one number of it that is
// a tenth off does not.
func TestRunProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Measure(rapid.IntRange(0, 2).Draw(t, "measure"))
		run := Run{Measure: m}
		for rpm := 2000.0; rpm <= 6500; rpm += 500 {
			torque := 300 + 100*math.Sin(rpm/2500)
			p := Point{RPM: rpm, Torque: torque, Power: m.Power(torque, rpm)}
			require.InEpsilon(t, torque, m.Torque(p.Power, rpm), 1e-12)
			run.PeakPower, run.PeakTorque = max(run.PeakPower, p.Power), max(run.PeakTorque, torque)
			switch rapid.IntRange(0, 2).Draw(t, "left out") {
			case 1:
				p.Power = 0
			case 2:
				p.Torque = 0
			}
			run.Points = append(run.Points, p)
		}
		require.Empty(t, run.Check(FewPercent))
		i := rapid.IntRange(0, len(run.Points)-1).Draw(t, "typed wrong")
		p := &run.Points[i]
		if p.Power == 0 || p.Torque == 0 {
			return
		}
		p.RPM *= rapid.SampledFrom([]float64{0.9, 1.1}).Draw(t, "by a tenth")
		require.NotEmpty(t, run.Check(FewPercent))
	})
}
