package gauge

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestRound(t *testing.T) {
	// A bore read at three heights, along the crankshaft and across.
	s, err := Round([]Section{
		{rd(t, "86.021 mm"), rd(t, "86.048 mm")},
		{rd(t, "86.017 mm"), rd(t, "86.030 mm")},
		{rd(t, "86.009 mm"), rd(t, "86.012 mm")},
	})
	require.NoError(t, err)
	require.Equal(t, Shape{Least: rd(t, "86.009 mm"), Most: rd(t, "86.048 mm"), Taper: rd(t, "0.036 mm"), TaperIn: "B",
		OutOfRound: rd(t, "0.027 mm"), OutOfRoundAt: 1}, s)
	require.Equal(t, "86.009 mm to 86.048 mm, taper 0.036 mm along B, out of round 0.027 mm at 1", s.String())

	// One direction only has no out-of-round, one height no taper.
	s, err = Round([]Section{{A: rd(t, "2.0472 in")}, {A: rd(t, "2.0468 in")}})
	require.NoError(t, err)
	require.Equal(t, "0.0004 in", s.Taper.String())
	require.False(t, s.OutOfRound.Known())
	s, err = Round([]Section{{rd(t, "51.98 mm"), rd(t, "51.99 mm")}})
	require.NoError(t, err)
	require.False(t, s.Taper.Known())
	require.Equal(t, "0.01 mm", s.OutOfRound.String())
	// Two units in one bore are compared exactly.
	s, err = Round([]Section{{A: rd(t, "25.4 mm")}, {A: rd(t, "1.000 in")}})
	require.NoError(t, err)
	require.Zero(t, s.Taper.base())

	for _, bad := range [][]Section{nil, {{}}, {{A: rd(t, "45 deg")}}} {
		_, err := Round(bad)
		require.Error(t, err)
	}
}

// Main bearing clearance of the 6.2 and 6.5 L engine, 0.002 to 0.004 in (TM
// 9-2815-237-34), from a bore and a journal that were read in two units.
func TestClearance(t *testing.T) {
	bore, err := Round([]Section{{rd(t, "74.994 mm"), rd(t, "75.004 mm")}})
	require.NoError(t, err)
	play, err := Clearance(bore, Single(rd(t, "2.9497 in")))
	require.NoError(t, err)
	require.Equal(t, "0.07162 mm", play.Least.String())
	require.Equal(t, "0.08162 mm", play.Most.String())
	require.Empty(t, play.Why)
	limits := Limits{Of: "main bearing", New: between(t, "0.002 in", "0.004 in")}
	require.Equal(t, AsNew, limits.Judge(Reading{}, play.Most).Place)

	play, err = Clearance(Single(rd(t, "51.98 mm")), Single(rd(t, "52.00 mm")))
	require.NoError(t, err)
	require.Contains(t, play.Why, "the journal is 0.02 mm larger than the bore")
	for _, bad := range [][2]Shape{{{}, {}}, {Single(rd(t, "1 mm")), {}}, {Single(rd(t, "1 deg")), Single(rd(t, "1 deg"))}, {Single(rd(t, "1 mm")), Single(rd(t, "1 deg"))}} {
		_, err := Clearance(bad[0], bad[1])
		require.ErrorContains(t, err, "not both read")
	}
}

func TestPlayGapAndWarpage(t *testing.T) {
	play, err := EndPlay(readings(t, "0.12 mm", "-0.08 mm", "0.11 mm")...)
	require.NoError(t, err)
	require.Equal(t, "0.20 mm", play.String())
	_, err = EndPlay(rd(t, "0.1 mm"))
	require.ErrorContains(t, err, "end play from 1 readings")
	_, err = EndPlay(readings(t, "0.1 mm", "1 deg")...)
	require.ErrorContains(t, err, "1 deg is no length")

	gap, err := Gap(readings(t, "0.20 mm", "0.15 mm", "0.05 mm")...)
	require.NoError(t, err)
	require.Equal(t, "0.40 mm", gap.String())
	_, err = Gap()
	require.ErrorContains(t, err, "nothing was read")

	warp, err := Warpage(readings(t, "0 mm", "0.05 mm", "0.002 in", "0.04 mm")...)
	require.NoError(t, err)
	require.Equal(t, "0.002 in", warp.String())
	_, err = Warpage(rd(t, "-0.05 mm"))
	require.ErrorContains(t, err, "write 0 where")
	_, err = Warpage()
	require.Error(t, err)
}

func TestStraightness(t *testing.T) {
	for _, row := range []struct {
		heights []string
		want    string
	}{
		{[]string{"0.00 mm", "0.00 mm", "0.00 mm"}, "0.000 mm"},
		{[]string{"0.00 mm", "0.10 mm", "0.20 mm"}, "0.000 mm"}, // set up out of level
		{[]string{"0.00 mm", "0.10 mm", "0.00 mm"}, "0.100 mm"},
		{[]string{"0.00 mm", "0.10 mm", "0.10 mm"}, "0.050 mm"},
		{[]string{"0.00 mm", "0.04 mm", "0.05 mm", "0.03 mm", "0.00 mm"}, "0.050 mm"},
		{[]string{"0.000 in", "0.003 in", "-0.001 in", "0.002 in"}, "0.0035 in"},
	} {
		got, err := Straightness(readings(t, row.heights...)...)
		require.NoError(t, err)
		require.Equal(t, row.want, got.String(), "%v", row.heights)
	}
	for _, bad := range [][]Reading{nil, readings(t, "0 mm", "1 mm"), readings(t, "0 mm", "1 mm", "1 deg"), make([]Reading, 1001)} {
		_, err := Straightness(bad...)
		require.Error(t, err)
	}
}

// The slow way: try every slope between two heights, and a fan of others.
func TestStraightnessAgainstEverySlope(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 12).Draw(t, "n")
		var list []Reading
		for i := range n {
			list = append(list, Reading{digits: rapid.Int64Range(-300, 300).Draw(t, fmt.Sprint(i)), decimals: 3, unit: Millimetre})
		}
		got, err := Straightness(list...)
		require.NoError(t, err)
		width := func(slope float64) float64 {
			low, high := math.Inf(1), math.Inf(-1)
			for i, r := range list {
				v := r.Float() - slope*float64(i)
				low, high = min(low, v), max(high, v)
			}
			return high - low
		}
		best := math.Inf(1)
		for i := range list {
			for j := range i {
				best = min(best, width((list[i].Float()-list[j].Float())/float64(i-j)))
			}
		}
		for s := -100; s <= 100; s++ {
			require.GreaterOrEqual(t, width(float64(s)/50), best-1e-9)
		}
		require.InDelta(t, best, got.Float(), 0.00006)

		// Tilting the set-up changes nothing.
		tilt := rapid.Int64Range(-50, 50).Draw(t, "tilt")
		for i := range list {
			list[i].digits += tilt * int64(i)
		}
		again, err := Straightness(list...)
		require.NoError(t, err)
		require.Equal(t, got, again)
	})
}

// Taper and out-of-round are never negative nor larger than least to most, and
// turning the bore over changes neither.
func TestRoundProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(label string) Reading {
			if rapid.IntRange(0, 5).Draw(t, label+" missing") == 0 {
				return Reading{}
			}
			return Reading{digits: rapid.Int64Range(85_900, 86_100).Draw(t, label), decimals: 3, unit: Millimetre}
		}
		var sections, turned []Section
		for i := range rapid.IntRange(1, 5).Draw(t, "heights") {
			s := Section{draw(fmt.Sprint("a", i)), draw(fmt.Sprint("b", i))}
			sections = append(sections, s)
			turned = append([]Section{{s.B, s.A}}, turned...)
		}
		s, err := Round(sections)
		if err != nil {
			require.ErrorContains(t, err, "no diameter")
			return
		}
		span := s.Most.Minus(s.Least)
		require.LessOrEqual(t, s.Least.Compare(s.Most), 0)
		for _, r := range []Reading{s.Taper, s.OutOfRound} {
			require.GreaterOrEqual(t, r.base(), int64(0))
			require.LessOrEqual(t, r.base(), span.base())
		}
		o, err := Round(turned)
		require.NoError(t, err)
		require.Equal(t, s.Taper, o.Taper)
		require.Equal(t, s.OutOfRound, o.OutOfRound)
		require.NotEmpty(t, s.String())
	})
}

// 52 mm of steel grow 6 um when 10 K warmer (11.5e-6 for one kelvin).
func TestWarm(t *testing.T) {
	grows := Growth(rd(t, "52.00 mm"), Steel, 10)
	require.Equal(t, "0.00598 mm", grows.In(Millimetre, 5).String())
	require.Zero(t, grows.Plus(Growth(rd(t, "52.00 mm"), Steel, -10)).base())
	require.False(t, Growth(rd(t, "45 deg"), Steel, 10).Known())
	require.Greater(t, Growth(rd(t, "52 mm"), Aluminium, 10).base(), grows.base())
	require.Less(t, Growth(rd(t, "52 mm"), CastIron, 10).base(), grows.base())

	bore, journal, band := rd(t, "52.04 mm"), rd(t, "51.99 mm"), rd(t, "0.005 mm")
	_, doubt := QuestionWarm(bore, journal, band, Steel, 20, 25)
	require.False(t, doubt)
	q, doubt := QuestionWarm(bore, journal, band, Steel, 31, 20)
	require.True(t, doubt)
	require.Contains(t, q.String(), "52.04 mm: read at 31 °C and the other at 20 °C, which alone makes 0.0066 mm; let both come to one temperature")
	_, doubt = QuestionWarm(bore, journal, band, Steel, math.NaN(), 20)
	require.False(t, doubt)
	_, doubt = QuestionWarm(bore, Reading{}, band, Steel, 80, 20)
	require.False(t, doubt)
}
