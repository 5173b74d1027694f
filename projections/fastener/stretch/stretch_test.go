package stretch

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/projections/fastener/torque"
	"countback/projections/gauge"
)

func rd(t testing.TB, text string) gauge.Reading {
	t.Helper()
	if text == "" {
		return gauge.Reading{}
	}
	r, err := gauge.Parse(text)
	require.NoError(t, err)
	return r
}

func tq(t testing.TB, text string) torque.Value {
	t.Helper()
	if text == "" {
		return torque.Value{}
	}
	v, err := torque.Parse(text)
	require.NoError(t, err)
	return v
}

// TM 55-1905-223-24-1: connecting rod bolt, stretch 0.0135 to 0.0185 in; over
// it, replace the bolt; under it, loosen both and try again; still under,
// replace rod and bolt.
func TestRodBolt(t *testing.T) {
	target := Target{Min: rd(t, "0.0135 in"), Max: rd(t, "0.0185 in"), Source: "TM 55-1905-223-24-1"}
	require.NoError(t, target.Check())
	for _, row := range []struct {
		before, after string
		try           int
		want          Outcome
	}{
		{"8.1250 in", "8.1385 in", 1, Holds},
		{"8.1250 in", "8.1435 in", 1, Holds},
		{"8.1250 in", "8.1436 in", 1, Spent},
		{"8.1250 in", "8.1384 in", 1, TooLittle},
		{"8.1250 in", "8.1384 in", 0, TooLittle},
		{"8.1250 in", "8.1384 in", 2, Still},
		{"8.1250 in", "8.1250 in", 1, TooLittle},
		{"206.375 mm", "206.795 mm", 1, Holds}, // 0.420 mm are 0.0165 in
		{"206.375 mm", "206.700 mm", 1, TooLittle},
		{"8.1250 in", "8.1240 in", 1, Doubted},  // shorter
		{"8.1250 in", "9.1385 in", 1, Doubted},  // an eighth of its length
		{"8.1250 in", "206.795 mm", 1, Holds},   // one in inches, one in mm
		{"8.1250 in", "206.795 in", 1, Doubted}, // the same, typed wrong
		{"8.1250 in", "", 1, NotRead},
		{"", "8.1385 in", 1, NotRead},
		{"8.1250 in", "45 deg", 1, NotRead},
		{"0 in", "0.0150 in", 1, Doubted}, // no length
		{"-8.1250 in", "-8.1100 in", 1, Doubted},
	} {
		v := target.Judge(gauge.Reading{}, Pull{Before: rd(t, row.before), After: rd(t, row.after), Try: row.try})
		require.Equal(t, row.want, v.Outcome, "%s to %s: %s", row.before, row.after, v)
		require.Contains(t, v.String(), row.want.String())
	}
	v := target.Judge(gauge.Reading{}, Pull{Before: rd(t, "8.1250 in"), After: rd(t, "8.1384 in"), Try: 2})
	require.Equal(t, "stretched 0.0134 in, wanted 0.0135 to 0.0185 in (TM 55-1905-223-24-1): too little again: replace it, and what it is threaded into", v.String())

	// A micrometer good to 0.0002 in reads a stretch to 0.0004 in.
	band := rd(t, "0.0002 in")
	for after, want := range map[string]Outcome{"8.1385 in": ReadAgain, "8.1389 in": ReadAgain, "8.1390 in": Holds, "8.1380 in": TooLittle, "8.1438 in": ReadAgain, "8.1440 in": Spent} {
		require.Equal(t, want, target.Judge(band, Pull{Before: rd(t, "8.1250 in"), After: rd(t, after)}).Outcome, after)
	}
}

// TM 9-2815-220-24 WP 0174: crankcase stud nuts, 700 to 825 lbf.in, stretch
// 0.019 to 0.022 in and never above 0.024; above the limit below 700 lbf.in,
// replace the stud; otherwise loosen and do it again.
func TestCrankcaseStud(t *testing.T) {
	target := Target{Min: rd(t, "0.019 in"), Max: rd(t, "0.022 in"), Never: rd(t, "0.024 in"), Torque: tq(t, "700 lbf.in")}
	require.NoError(t, target.Check())
	for _, row := range []struct {
		after, torque string
		want          Outcome
	}{
		{"20.0190 in", "700 lbf.in", Holds},
		{"20.0220 in", "825 lbf.in", Holds},
		{"20.0230 in", "690 lbf.in", Spent},
		{"20.0230 in", "700 lbf.in", TooMuch},
		{"20.0230 in", "80 N.m", TooMuch},
		{"20.0230 in", "78 N.m", Spent}, // 690 lbf.in
		{"20.0230 in", "", TooMuch},
		{"20.0241 in", "825 lbf.in", Spent},
		{"20.0180 in", "825 lbf.in", TooLittle},
	} {
		v := target.Judge(gauge.Reading{}, Pull{Before: rd(t, "20.0000 in"), After: rd(t, row.after), Torque: tq(t, row.torque)})
		require.Equal(t, row.want, v.Outcome, "%s at %s: %s", row.after, row.torque, v)
		require.Contains(t, v.String(), "never above 0.024 in")
	}
}

func TestTargetRefused(t *testing.T) {
	for _, bad := range []Target{
		{},
		{Min: rd(t, "2 mm"), Max: rd(t, "1 mm")},
		{Max: rd(t, "2 mm"), Never: rd(t, "1 mm")},
		{Min: rd(t, "1 mm"), Never: rd(t, "2 mm")},
		{Min: rd(t, "1 mm"), Max: rd(t, "2 deg")},
	} {
		require.Error(t, bad.Check())
	}
	require.Error(t, Rule{OneForAll: true}.Check())
	require.NoError(t, Rule{MinDiameter: rd(t, "7 mm")}.Check())
}

// The limits here are invented; that length, thinning and necked threads are
// what is looked at is common practice.
func TestRule(t *testing.T) {
	rule := Rule{MaxLength: rd(t, "151.5 mm"), MaxThinning: rd(t, "0.20 mm"), Source: "sheet 11"}
	bolt := func(name, length, shank, thin string) Bolt {
		return Bolt{Name: name, Length: rd(t, length), Shank: rd(t, shank), Thin: rd(t, thin)}
	}
	bolts := []Bolt{
		bolt("1", "150.8 mm", "9.80 mm", "9.75 mm"),
		bolt("2", "151.6 mm", "9.80 mm", "9.75 mm"),
		bolt("3", "150.9 mm", "9.80 mm", "9.55 mm"),
		bolt("4", "150.9 mm", "", "9.75 mm"),
		bolt("5", "151.6 mm", "", ""),
		{Name: "6", Length: rd(t, "150.8 mm"), Shank: rd(t, "9.80 mm"), Thin: rd(t, "9.79 mm"), Necked: true},
		bolt("7", "151.5 mm", "9.80 mm", "9.60 mm"),
	}
	uses := func(list []Used) (out []Use) {
		for i, u := range list {
			require.Equal(t, bolts[i].Name, u.Bolt.Name)
			require.Contains(t, u.String(), u.Use.String())
			out = append(out, u.Use)
		}
		return out
	}
	list := rule.Judge(gauge.Reading{}, bolts)
	require.Equal(t, []Use{Again, Replace, Replace, NotMeasured, Replace, Replace, Again}, uses(list))
	require.Equal(t, "2: replace it; length: 151.6 mm, service at most 151.5 mm (sheet 11): 0.1 mm above 151.5 mm", list[1].String())
	require.Equal(t, "4: measure it; not read: thinning", list[3].String())
	require.Contains(t, list[5].String(), "its threads are necked")

	// Inside the band of the gauge, and of a difference inside twice that.
	list = rule.Judge(rd(t, "0.05 mm"), []Bolt{bolts[0], bolts[6]})
	require.Equal(t, Again, list[0].Use)
	require.Equal(t, Look, list[1].Use)

	// Shank and neck the wrong way round, and a bolt shorter than new.
	list = rule.Judge(gauge.Reading{}, []Bolt{bolt("8", "150.8 mm", "9.55 mm", "9.80 mm")})
	require.Equal(t, Look, list[0].Use)
	require.Equal(t, "8: read it again; it is 0.25 mm thicker at its thinnest place than at its shank: are they the wrong way round?", list[0].String())
	shorter := bolts[0]
	shorter.New = rd(t, "151.0 mm")
	require.Contains(t, rule.Judge(rd(t, "0.05 mm"), []Bolt{shorter})[0].String(), "it is 0.2 mm shorter than when it was new")

	rule.OneForAll = true
	list = rule.Judge(gauge.Reading{}, bolts)
	for _, u := range list {
		require.Equal(t, Replace, u.Use)
	}
	require.Equal(t, "2", list[0].With)
	require.Contains(t, list[0].String(), "2 failed, and one condemns the set")
	require.Empty(t, list[1].With)
	require.Equal(t, []Use{Again}, uses(rule.Judge(gauge.Reading{}, bolts[:1])))
	require.Equal(t, NotMeasured, Rule{}.Judge(gauge.Reading{}, bolts[:1])[0].Use)

	rule = Rule{MaxGrowth: rd(t, "0.5 mm"), MinDiameter: rd(t, "0.300 in")}
	b := Bolt{Name: "1", Length: rd(t, "150.6 mm"), New: rd(t, "150.0 mm"), Thin: rd(t, "0.305 in")}
	require.Equal(t, Replace, rule.Judge(gauge.Reading{}, []Bolt{b})[0].Use)
	b.Length = rd(t, "150.5 mm")
	require.Equal(t, Again, rule.Judge(gauge.Reading{}, []Bolt{b})[0].Use)
	b.Thin = rd(t, "7.61 mm")
	require.Equal(t, Replace, rule.Judge(gauge.Reading{}, []Bolt{b})[0].Use)
}

// A longer or thinner bolt is never judged better, and a rule for the whole set
// only ever takes away.
func TestRuleProperties(t *testing.T) {
	rank := map[Use]int{Again: 0, Look: 1, Replace: 2}
	mm := func(t *rapid.T, n int) gauge.Reading {
		r, err := gauge.Of(float64(n)/100, gauge.Millimetre)
		require.NoError(t, err)
		return r
	}
	rapid.Check(t, func(t *rapid.T) {
		rule := Rule{MaxLength: mm(t, 15_050), MaxThinning: mm(t, 20)}
		band := mm(t, rapid.IntRange(0, 5).Draw(t, "band"))
		draw := func(i int) Bolt {
			return Bolt{Name: fmt.Sprint(i), Length: mm(t, rapid.IntRange(15_000, 15_100).Draw(t, "length")), Shank: mm(t, 980), Thin: mm(t, rapid.IntRange(940, 980).Draw(t, "thin"))}
		}
		b := draw(0)
		one := rule.Judge(band, []Bolt{b})[0]
		longer := b
		longer.Length = b.Length.Plus(mm(t, rapid.IntRange(1, 50).Draw(t, "longer")))
		require.GreaterOrEqual(t, rank[rule.Judge(band, []Bolt{longer})[0].Use], rank[one.Use])

		set := []Bolt{b}
		for i := range rapid.IntRange(0, 5).Draw(t, "others") {
			set = append(set, draw(i+1))
		}
		each := rule.Judge(band, set)
		require.Equal(t, one, each[0])
		rule.OneForAll = true
		all := rule.Judge(band, set)
		fails := false
		for i, u := range each {
			fails = fails || u.Use == Replace
			require.GreaterOrEqual(t, rank[all[i].Use], rank[u.Use])
		}
		for i, u := range all {
			require.Equal(t, fails || each[i].Use == Replace, u.Use == Replace)
		}
	})
}

var benchSink int

// BenchmarkJudge judges sixteen bolts by length and thinning; the baseline
// compares their lengths.
func BenchmarkJudge(b *testing.B) {
	rule := Rule{MaxLength: rd(b, "151.5 mm"), MaxThinning: rd(b, "0.20 mm")}
	var bolts []Bolt
	for range 16 {
		bolts = append(bolts, Bolt{Length: rd(b, "150.8 mm"), Shank: rd(b, "9.80 mm"), Thin: rd(b, "9.75 mm")})
	}
	b.ReportAllocs()
	start := time.Now()
	for range b.N {
		benchSink += len(rule.Judge(gauge.Reading{}, bolts))
	}
	took := time.Since(start)
	b.StopTimer()
	start = time.Now()
	for range b.N {
		for _, x := range bolts {
			benchSink += x.Length.Compare(rule.MaxLength)
		}
	}
	b.ReportMetric(float64(took)/float64(max(time.Since(start), 1)), "x-comparing")
}
