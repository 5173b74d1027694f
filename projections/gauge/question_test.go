package gauge

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestQuestion(t *testing.T) {
	journal := Limits{New: between(t, "51.98 mm", "52.00 mm"), Service: AtLeast(rd(t, "51.93 mm"))}
	gap := Limits{New: between(t, "0.30 mm", "0.56 mm")}
	clearance := Limits{New: between(t, "0.002 in", "0.004 in")}
	warp := Limits{New: AtMost(rd(t, "0.10 mm"))}
	plug := Limits{New: between(t, "0.042 in", "0.042 in")}
	thick := Limits{New: AtLeast(rd(t, "9.5 mm"))}
	seat := Limits{New: between(t, "44.5 deg", "45.5 deg")}
	deck := Limits{New: between(t, "-0.05 mm", "0.05 mm")}
	for _, row := range []struct {
		l     Limits
		read  string
		doubt bool
		meant []string
	}{
		{journal, "51.99 mm", false, nil},
		{journal, "51.93 mm", false, nil},
		{journal, "51.80 mm", false, nil}, // badly worn, and judged
		{journal, "50.50 mm", false, nil},
		{journal, "2.1 mm", true, []string{"2.1 in"}},
		{journal, "2.0468 mm", true, []string{"2.0468 in"}},
		{journal, "51.99 in", true, []string{"51.99 mm"}},
		{journal, "5.199 mm", true, []string{"51.99 mm"}},
		{journal, "519.9 mm", true, []string{"51.99 mm"}},
		{journal, "51990 mm", true, []string{"51990 um"}},
		{journal, "40 mm", true, nil},
		{journal, "-51.99 mm", true, nil},
		{journal, "0 mm", true, nil},
		{journal, "45 deg", true, nil},
		{gap, "0.60 mm", false, nil}, // worn
		{gap, "0.25 mm", false, nil}, // tight
		{gap, "0.014 mm", true, []string{"0.014 in"}},
		{gap, "0.01 mm", true, []string{"0.01 in"}}, // give or take half of its last digit
		{gap, "14 mm", true, []string{"14 thou"}},
		{gap, "0.40 in", true, []string{"0.40 mm"}},
		{gap, "4.0 mm", true, []string{"0.40 mm"}},
		{gap, "400 mm", true, []string{"400 um"}},
		{gap, "-0.4 mm", true, nil},
		{clearance, "0.0051 in", false, nil},
		{clearance, "0.06 in", true, []string{"0.06 mm"}},
		{clearance, "3 in", true, []string{"3 thou"}},
		{clearance, "0.003 mm", true, []string{"0.003 in"}},
		{warp, "0.15 mm", false, nil},
		{warp, "0.90 mm", false, nil},
		{warp, "1.5 mm", true, []string{"1.5 thou"}},
		{warp, "2 in", true, []string{"2 thou"}},
		{plug, "0.042 in", false, nil},
		{plug, "0.044 in", false, nil},
		{plug, "1.07 in", true, []string{"1.07 mm"}},
		{plug, "42 in", true, []string{"42 thou"}},
		{thick, "9.2 mm", false, nil},
		{thick, "25.4 mm", false, nil}, // inside: there is no most
		{thick, "4.7 mm", true, []string{"47 mm"}},
		{thick, "0.95 mm", true, []string{"0.95 in", "9.5 mm"}},
		{seat, "46 deg", false, nil},
		{seat, "450 deg", true, []string{"45.0 deg"}},
		{seat, "4.5 deg", true, []string{"45 deg"}},
		{seat, "45 mm", true, nil},
		{deck, "0.2 mm", false, nil},
		{deck, "2 mm", true, []string{"2 thou", "2 um"}},
		{Limits{}, "5 mm", false, nil},
		{Limits{New: AtMost(rd(t, "0 mm"))}, "5 mm", false, nil},
	} {
		q, doubt := row.l.Question(rd(t, row.read))
		require.Equal(t, row.doubt, doubt, "%s against %s: %s", row.read, row.l.hull(), q)
		if doubt {
			require.NotEmpty(t, q.Why)
		}
		var meant []string
		for _, m := range q.Meant {
			meant = append(meant, m.String())
		}
		require.Equal(t, row.meant, meant, "%s against %s", row.read, row.l.hull())
	}
	_, doubt := journal.Question(Reading{})
	require.False(t, doubt)
}

func TestQuestionWords(t *testing.T) {
	journal := Limits{New: between(t, "51.98 mm", "52.00 mm")}
	q, _ := journal.Question(rd(t, "2.1 mm"))
	require.Equal(t, "2.1 mm: far from 51.98 to 52.00 mm; was 2.1 in (53 mm) meant?", q.String())
	q, _ = journal.Question(rd(t, "40 mm"))
	require.Equal(t, "40 mm: far from 51.98 to 52.00 mm; read it again", q.String())
	q, _ = Limits{New: between(t, "0.30 mm", "0.56 mm")}.Question(rd(t, "0.014 mm"))
	require.Equal(t, "0.014 mm: outside 0.30 to 0.56 mm; was 0.014 in (0.36 mm) meant?", q.String())
}

func TestGaugeQuestion(t *testing.T) {
	mic := Gauge{Name: "micrometer 3", Step: rd(t, "0.01 mm"), From: rd(t, "50 mm"), To: rd(t, "75 mm"), Band: rd(t, "0.005 mm")}
	for _, row := range []struct {
		g    Gauge
		read string
		why  string
	}{
		{mic, "51.98 mm", ""},
		{mic, "50 mm", ""},
		{mic, "75.00 mm", ""},
		{mic, "51.985 mm", "micrometer 3 reads in steps of 0.01 mm"},
		{mic, "49.99 mm", "micrometer 3 reads 50 to 75 mm"},
		{mic, "75.01 mm", "micrometer 3 reads 50 to 75 mm"},
		{mic, "2.0465 in", "micrometer 3 reads in mm"},
		{mic, "45 deg", "micrometer 3 reads in mm"},
		{Gauge{Name: "unknown"}, "2.0465 in", ""},
		{Gauge{Name: "feeler", To: rd(t, "1 mm")}, "1.05 mm", "feeler reads at most 1 mm"},
	} {
		q, doubt := row.g.Question(rd(t, row.read))
		require.Equal(t, row.why != "", doubt, row.read)
		require.Equal(t, row.why, q.Why, row.read)
	}
	_, doubt := mic.Question(Reading{})
	require.False(t, doubt)
	q, _ := mic.Question(rd(t, "51.98 in"))
	require.Equal(t, "51.98 in: micrometer 3 reads in mm; was 51.98 mm (2.0465 in) meant?", q.String())
}

func TestQuestionAngle(t *testing.T) {
	for text, doubt := range map[string]bool{"0 deg": false, "90 deg": false, "360 deg": false, "360.001 deg": true, "-1 deg": true, "900 deg": true, "45 mm": true} {
		q, got := QuestionAngle(rd(t, text))
		require.Equal(t, doubt, got, text)
		require.Equal(t, doubt, q.Why != "")
	}
	_, got := QuestionAngle(Reading{})
	require.False(t, got)
}

// Inches typed as millimetres, and the reverse, are always found on a size with
// two limits, and what was meant is among the answers; a reading inside its
// limits is never doubted.
func TestQuestionFindsEveryUnitSlip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := Reading{digits: rapid.Int64Range(1000, 12_000).Draw(t, "low"), decimals: 2, unit: Millimetre}
		high := low.Plus(Reading{digits: rapid.Int64Range(2, 20).Draw(t, "width"), decimals: 2, unit: Millimetre})
		l := Limits{New: Between(low, high)}
		right := low.Plus(Reading{digits: rapid.Int64Range(0, high.digits-low.digits).Draw(t, "inside"), decimals: 2, unit: Millimetre})
		_, doubt := l.Question(right)
		require.False(t, doubt)

		asInch := right
		asInch.unit = Inch
		q, doubt := l.Question(asInch)
		require.True(t, doubt)
		require.Contains(t, q.Meant, right)

		inches := right.Convert(Inch)
		asMm := inches
		asMm.unit = Millimetre
		q, doubt = l.Question(asMm)
		require.True(t, doubt)
		require.Contains(t, q.Meant, inches)
	})
}
