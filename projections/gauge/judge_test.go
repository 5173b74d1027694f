package gauge

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func between(t testing.TB, low, high string) Range { return Between(rd(t, low), rd(t, high)) }

func readings(t testing.TB, texts ...string) []Reading {
	t.Helper()
	var list []Reading
	for _, text := range texts {
		list = append(list, rd(t, text))
	}
	return list
}

// The clearances of the 6.2 and 6.5 L engine, TM 9-2815-237-34 p. 239-240 of
// 272, as limits for new parts; warped more than 0.010 in, replace: TM
// 5-3810-227-15.
func TestJudgePublicLimits(t *testing.T) {
	const tm = "TM 9-2815-237-34"
	for _, row := range []struct {
		of        string
		low, high string
		good, bad []string
	}{
		{"main bearing clearance", "0.002 in", "0.004 in", []string{"0.002 in", "0.0031 in", "0.004 in", "0.0508 mm", "0.1016 mm"}, []string{"0.0019 in", "0.0041 in", "0.0507 mm", "0.1017 mm"}},
		{"rod side clearance", "0.007 in", "0.025 in", []string{"0.007 in", "0.6350 mm"}, []string{"0.006 in", "0.026 in", "0.6351 mm"}},
		{"crank end play", "0.004 in", "0.010 in", []string{"0.10161 mm", "10 thou"}, []string{"3.9 thou", "0.2541 mm"}},
		{"piston clearance 1 to 6", "0.0035 in", "0.0045 in", []string{"0.0889 mm", "0.1143 mm"}, []string{"0.0888 mm", "0.0046 in"}},
		{"piston clearance 7 and 8", "0.004 in", "0.005 in", []string{"0.0045 in"}, []string{"0.0039 in"}},
		{"top ring gap", "0.012 in", "0.022 in", []string{"0.31 mm", "0.55 mm"}, []string{"0.30 mm", "0.56 mm"}},
		{"second ring gap", "0.030 in", "0.039 in", []string{"0.80 mm"}, []string{"1.00 mm", "0.029 in"}},
		{"valve stem clearance", "0.001 in", "0.003 in", []string{"0.05 mm"}, []string{"0.0009 in", "0.08 mm"}},
	} {
		l := Limits{Of: row.of, New: between(t, row.low, row.high), Source: tm}
		require.NoError(t, l.Check())
		for _, text := range row.good {
			require.Equal(t, AsNew, l.Judge(Reading{}, rd(t, text)).Place, "%s %s", row.of, text)
		}
		for _, text := range row.bad {
			require.Equal(t, Beyond, l.Judge(Reading{}, rd(t, text)).Place, "%s %s", row.of, text)
		}
	}
	warp := Limits{Of: "block face", Service: AtMost(rd(t, "0.010 in")), Source: "TM 5-3810-227-15"}
	require.Equal(t, InService, warp.Judge(Reading{}, rd(t, "0.254 mm")).Place)
	require.Equal(t, Beyond, warp.Judge(Reading{}, rd(t, "0.2541 mm")).Place)
	require.Equal(t, "block face: 0.28 mm, service at most 0.010 in (TM 5-3810-227-15): 0.00102 in above 0.010 in", warp.Judge(Reading{}, rd(t, "0.28 mm")).String())
}

func TestJudgeNewAndService(t *testing.T) {
	l := Limits{Of: "main journal 2", New: between(t, "51.98 mm", "52.00 mm"), Service: AtLeast(rd(t, "51.93 mm")), Source: "sheet 4"}
	require.NoError(t, l.Check())
	band := rd(t, "0.005 mm")
	for _, row := range []struct {
		read []string
		want Place
		says string
	}{
		{[]string{"51.990 mm"}, AsNew, "as new"},
		{[]string{"51.975 mm"}, InService, "in service"},
		{[]string{"51.985 mm"}, AsNew, "as new"},
		{[]string{"51.995 mm"}, ReadAgain, "0.005 mm from 52.00 mm, the gauge is good to 0.005 mm; read it again"},
		{[]string{"51.934 mm"}, ReadAgain, "0.004 mm from 51.93 mm, the gauge is good to 0.005 mm; read it again"},
		{[]string{"51.926 mm"}, ReadAgain, "read it again"},
		{[]string{"51.935 mm"}, ReadAgain, "read it again"},
		{[]string{"51.936 mm"}, InService, "in service"},
		{[]string{"51.924 mm"}, Beyond, "0.006 mm below 51.93 mm"},
		{[]string{"52.006 mm"}, Beyond, "0.006 mm above 52.00 mm"},
		{[]string{"51.934 mm", "51.932 mm"}, InService, "51.933 mm counts"},
		{[]string{"51.932 mm", "51.926 mm"}, Beyond, "0.001 mm below 51.93 mm, by less than the 0.005 mm of the gauge"},
		{[]string{"51.934 mm", "51.923 mm"}, Disagree, "farther apart than a gauge good to 0.005 mm explains; read it a third time"},
		{[]string{"51.934 mm", "51.922 mm", "51.933 mm"}, InService, "51.922 mm does not fit the others"},
		{[]string{"51.934 mm", "51.923 mm", "51.924 mm"}, Beyond, "0.006 mm below 51.93 mm"},
		{[]string{"2.0455 in"}, InService, "in service"},
	} {
		v := l.Judge(band, readings(t, row.read...)...)
		require.Equal(t, row.want, v.Place, "%v: %s", row.read, v)
		require.Contains(t, v.String(), row.says, "%v", row.read)
		require.Contains(t, v.String(), "main journal 2: ")
		require.Contains(t, v.String(), "new 51.98 to 52.00 mm, service at least 51.93 mm (sheet 4)")
		require.Equal(t, row.want == ReadAgain || row.want == Disagree, v.Place.Open())
		require.Equal(t, row.want == AsNew || row.want == InService, v.Place.Good())
	}
}

func TestJudgeWithoutLimitsOrReadings(t *testing.T) {
	require.Equal(t, NoLimits, Limits{}.Judge(Reading{}, rd(t, "5 mm")).Place)
	require.Contains(t, Limits{Of: "lift"}.Judge(Reading{}, rd(t, "5 mm")).String(), "lift: 5 mm, no limits known: recorded as found")
	l := Limits{Of: "lift", New: AtMost(rd(t, "5 mm"))}
	require.Equal(t, "lift: not read", l.Judge(Reading{}).String())
	v := l.Judge(Reading{}, rd(t, "45 deg"))
	require.Equal(t, NotAlike, v.Place)
	require.Contains(t, v.String(), "look at the unit")
	require.Equal(t, NotAlike, l.Judge(rd(t, "1 deg"), rd(t, "4 mm")).Place)
	seat := Limits{Of: "seat", New: between(t, "44.5 deg", "45.5 deg")}
	require.Equal(t, AsNew, seat.Judge(Reading{}, rd(t, "45 deg")).Place)
	require.Equal(t, Beyond, seat.Judge(Reading{}, rd(t, "46 deg")).Place)
}

func TestLimitsRefused(t *testing.T) {
	for _, row := range []struct {
		l   Limits
		why string
	}{
		{Limits{Of: "x"}, "none is given"},
		{Limits{Of: "x", New: between(t, "2 mm", "1 mm")}, "2 to 1 mm runs backwards"},
		{Limits{Of: "x", New: between(t, "1 in", "2 mm")}, "1 in to 2 mm runs backwards"},
		{Limits{Of: "x", New: Between(rd(t, "1 mm"), rd(t, "2 deg"))}, "measure different things"},
		{Limits{Of: "x", New: between(t, "1 mm", "2 mm"), Service: AtMost(rd(t, "1.9 mm"))}, "service at most 1.9 mm is tighter"},
		{Limits{Of: "x", New: AtMost(rd(t, "2 mm")), Service: AtLeast(rd(t, "2.1 mm"))}, "is tighter"},
		{Limits{Of: "x", New: AtLeast(rd(t, "2 mm")), Service: AtMost(rd(t, "1.9 mm"))}, "is tighter"},
	} {
		require.ErrorContains(t, row.l.Check(), row.why)
	}
}

// A size is as new, in service or beyond by what it is and never by its unit;
// one reading inside the band is never decided on, and two that agree always
// are; repeating a reading changes nothing.
func TestJudgeProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm := func(n int64) Reading { return Reading{digits: n, decimals: 3, unit: Millimetre} }
		low := rapid.Int64Range(1, 90_000).Draw(t, "low")
		high := low + rapid.Int64Range(0, 900).Draw(t, "width")
		l := Limits{New: Between(mm(low), mm(high))}
		if rapid.Bool().Draw(t, "service") {
			l.Service = Between(mm(low-rapid.Int64Range(0, 200).Draw(t, "below")), mm(high+rapid.Int64Range(0, 200).Draw(t, "above")))
		}
		require.NoError(t, l.Check())
		size := mm(low + rapid.Int64Range(-300, 1300).Draw(t, "size"))
		plain := l.Judge(Reading{}, size)
		inches := size.In(Inch, 6)
		if inches.base() == size.base() {
			require.Equal(t, plain.Place, l.Judge(Reading{}, inches).Place)
		}
		require.Equal(t, plain.Place, l.Judge(Reading{}, size.In(Micrometre, 0)).Place)
		require.Equal(t, plain.Place, l.Judge(Reading{}, size, size).Place)

		band := mm(rapid.Int64Range(1, 20).Draw(t, "band"))
		v := l.Judge(band, size)
		if v.By.base() <= band.base() {
			require.Equal(t, ReadAgain, v.Place)
		} else {
			require.Equal(t, plain.Place, v.Place)
			// What the band is for: no size that the gauge may have shown so is on
			// the other side.
			for _, d := range []int64{-band.base(), band.base()} {
				require.Equal(t, plain.Place == Beyond, !l.deciding().holds(size.base()+d))
			}
		}
		require.Equal(t, plain.Place, l.Judge(band, size, size).Place)
		require.NotEmpty(t, v.String())
	})
}
