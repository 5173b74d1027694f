package engine

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
	"countback/projections/gauge"
)

const gaugedPlan = `
plan: {id: bench, family: Bench, edition: 1, units: {length: mm}}
parts:
  - {id: block, root: true, host: true}
  - {id: crank, in: block, host: true, measure: [journal, bearing]}
  - {id: cam, in: block, measure: [lift]}
joints: []
measurements:
  - {id: journal, at: 1..5, min: 51.97, max: 52.00, new-min: 51.98, band: 0.003, metal: steel}
  - {id: tunnel, at: 1..5, min: 52.02, max: 52.06, points: [A1, B1, A2, B2], metal: cast iron}
  - {id: bearing, at: 1..5, kind: clearance, from: [tunnel, journal], min: 0.02, max: 0.07}
  - {id: tunnel-taper, at: 1..5, kind: taper, from: [tunnel], max: 0.02}
  - {id: tunnel-round, at: 1..5, kind: out-of-round, from: [tunnel], max: 0.02}
  - {id: play, kind: end-play, points: [to, fro], min: 0.004, max: 0.010, unit: in}
  - {id: ring, at: 1..2, kind: gap, points: [f1, f2], min: 0.012, max: 0.022, unit: in}
  - {id: deck, kind: warpage, points: [p1, p2, p3], max: 0.010, unit: in}
  - {id: neck, kind: thinning, points: [thick, thin], max: 0.15}
  - {id: rod-bolt, kind: stretch, nominal: 44.00, max: 0.15}
  - {id: lift, unit: in, allows: {by: stock rocker pivot, max: 0.530, about: 0.005, otherwise: the pivots must change}}
steps:
  off: []
  on:
    - {id: crank-on, fits: [crank]}
    - {id: cam-on, fits: [cam]}
`

// crewOn opens a job on a plan given as text.
func crewOn(t testing.TB, text string) *crew {
	c := &crew{t: t, job: &Job{}, name: "b2", who: "Marit", at: 1_747_000_000_000_000, tick: 60_000_000, bags: map[events.Joint]events.Code{}}
	c.tell(events.Told, c.ask(OpenJob{Engine: "Bench", Plan: text}))
	return c
}

func read(id string, at events.Hole, digits ...string) events.Measured {
	m := events.Measured{Measurement: id, At: at, Unit: "mm"}
	for i, d := range digits {
		v, _ := strconv.ParseFloat(d, 64)
		if i == 0 {
			m.Value, m.Text = v, d
		}
		m.Points = append(m.Points, events.PointRead{Value: v, Text: d})
	}
	if len(digits) == 1 {
		m.Points = nil
	}
	return m
}

func inches(m events.Measured, points ...string) events.Measured {
	m.Unit = "in"
	for i, p := range points {
		m.Points[i].Point = p
	}
	return m
}

// What each kind of measurement comes to. The clearances, end play and ring gap
// are those of TM 9-2815-237-34 (main bearing 0.002 to 0.004 in, crank end play
// 0.004 to 0.010 in, top ring gap 0.012 to 0.022 in); a face warped more than
// 0.010 in is replaced by TM 5-3810-227-15.
func TestWhatReadingsComeTo(t *testing.T) {
	for _, row := range []struct {
		name string
		told []events.Measured
		id   string
		at   events.Hole
		size string
		how  string
		says string
		next string
	}{
		{"inside the new limits", []events.Measured{read("journal", "1", "51.990")}, "journal", "1", "51.990 mm", "", "as new", ""},
		{"inside the service limits only", []events.Measured{read("journal", "1", "51.975")}, "journal", "1", "51.975 mm", "", "within service limits", ""},
		{"beyond", []events.Measured{read("journal", "1", "51.950")}, "journal", "1", "51.950 mm", "", "0.020 mm below 51.97 mm", "FINDING, then what is done with it"},
		{"inside the band", []events.Measured{read("journal", "1", "51.971")}, "journal", "1", "51.971 mm", "", "0.001 mm from 51.97 mm, and the gauge is good to 0.003 mm: read it again", "read it again"},
		{"two that disagree", []events.Measured{read("journal", "1", "51.971"), read("journal", "1", "51.979")}, "journal", "1", "51.975 mm", "", "farther apart than the gauge explains: read it a third time", "read it a third time"},
		{"the middle of three", []events.Measured{read("journal", "1", "51.971"), read("journal", "1", "51.979"), read("journal", "1", "51.978")}, "journal", "1", "51.978 mm", "", "within service limits", ""},
		{"another size after a settled one", []events.Measured{read("journal", "1", "51.950"), read("journal", "1", "51.990")}, "journal", "1", "51.990 mm", "", "as new", ""},
		{"taper", []events.Measured{read("tunnel", "2", "52.030", "52.031", "52.045", "52.033")}, "tunnel-taper", "2", "0.015 mm", "along A", "within limits", ""},
		{"out of round", []events.Measured{read("tunnel", "2", "52.030", "52.031", "52.060", "52.033")}, "tunnel-round", "2", "0.027 mm", "A against B at 2", "0.007 mm above 0.02 mm", "FINDING, then what is done with it"},
		{"clearance", []events.Measured{read("tunnel", "3", "52.030", "52.031", "52.032", "52.033"), read("journal", "3", "51.990")}, "bearing", "3", "0.040 mm", "tunnel less journal", "within limits", ""},
		{"clearance too small", []events.Measured{read("tunnel", "3", "52.002", "52.031", "52.032", "52.033"), read("journal", "3", "51.990")}, "bearing", "3", "0.012 mm", "tunnel less journal", "0.008 mm below 0.02 mm", "FINDING, then what is done with it"},
		{"clearance read as such", []events.Measured{read("bearing", "3", "0.035")}, "bearing", "3", "0.035 mm", "", "within limits", ""},
		{"end play", []events.Measured{inches(read("play", "", "0.0012", "0.0085"), "to", "fro")}, "play", "", "0.0073 in", "indicator, most less least", "within limits", ""},
		{"ring gap of two feelers", []events.Measured{inches(read("ring", "1", "0.010", "0.004"), "f1", "f2")}, "ring", "1", "0.014 in", "feelers added up", "within limits", ""},
		{"warpage", []events.Measured{inches(read("deck", "", "0.004", "0.011", "0"), "p1", "p2", "p3")}, "deck", "", "0.011 in", "greatest gap", "0.001 in above 0.01 in", "FINDING, then what is done with it"},
		{"thinning", []events.Measured{read("neck", "", "9.96", "9.78")}, "neck", "", "0.18 mm", "thickest less thinnest", "0.03 mm above 0.15 mm", "FINDING, then what is done with it"},
		{"stretch", []events.Measured{read("rod-bolt", "", "44.12")}, "rod-bolt", "", "0.12 mm", "length less 44 mm", "within limits", ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			c := crewOn(t, gaugedPlan)
			for _, m := range row.told {
				if m.Measurement == "tunnel" {
					for i, p := range []string{"A1", "B1", "A2", "B2"} {
						m.Points[i].Point = p
					}
				}
				c.told(m)
			}
			m := c.job.MeasureOf(row.id, row.at)
			require.Equal(t, row.size, m.Size.String())
			require.Equal(t, row.how, m.How)
			require.Equal(t, row.says, m.Short())
			require.Equal(t, row.next, m.Advice)
			require.Empty(t, m.Doubts)
		})
	}
}

// A cam that lifts 0.550 in over a stock rocker pivot good for about 0.530 in:
// the pivots must change (common practice, from a practitioner). It is said
// before the cam is fitted.
func TestALimitOfANeighbourIsSaidBeforeFitting(t *testing.T) {
	c := crewOn(t, gaugedPlan)
	require.Empty(t, c.job.Can("cam-on"))
	c.told(inches(read("lift", "", "0.550")))
	m := c.job.MeasureOf("lift", "")
	require.Equal(t, "Lift 0.550 in, stock rocker pivot allows about at most 0.53 in: 0.020 in too much; the pivots must change", m.Fit)
	why := c.job.Can("cam-on")
	require.Len(t, why, 1)
	require.Equal(t, "the pivots must change; or scan measurement lift, FINDING", why[0].Clear)
	require.Contains(t, codes(c.job.Red()), RedMeasure)
	c.told(inches(read("lift", "", "0.500")))
	require.Empty(t, c.job.Can("cam-on"))
	c.told(inches(read("lift", "", "0.528")))
	require.Contains(t, c.job.MeasureOf("lift", "").Fit, "too near to say")
}

// What is beyond its limit holds the steps that fit its part, until a finding
// on it or on its part is decided, or it is read again (rule R55).
func TestBeyondALimitHoldsUntilDecided(t *testing.T) {
	for _, on := range []string{"measurement journal:4", "measurement journal", "part crank"} {
		c := crewOn(t, gaugedPlan)
		c.told(read("journal", "4", "51.95"))
		require.Len(t, c.job.Can("crank-on"), 1)
		c.told(events.FindingRaised{Finding: "f1", On: on, What: "worn"})
		require.Len(t, c.job.Can("crank-on"), 2)
		c.told(events.FindingDecided{Finding: "f1", Decision: "use"})
		require.Empty(t, c.job.Can("crank-on"))
		require.Equal(t, "decided: use it (f1)", c.job.MeasureOf("journal", "4").Decided)
		c.told(read("journal", "4", "51.94"))
		require.Len(t, c.job.Can("crank-on"), 1, "read again since, and worse: decided anew")
	}
	c := crewOn(t, gaugedPlan)
	c.told(read("journal", "4", "51.95"))
	c.told(events.Exchanged{Part: "crank", Old: "crank 1", New: "crank 2"})
	require.Empty(t, c.job.Can("crank-on"), "the readings were of the other crank")
	require.Equal(t, "journal at 4: not read", func() string { m := c.job.MeasureOf("journal", "4"); return m.String() }())
}

func TestDoubts(t *testing.T) {
	c := crewOn(t, gaugedPlan)
	for _, row := range []struct{ digits, unit, meant string }{
		{"2.1", "", "2.1 in"}, {"519.8", "", "51.98 mm"}, {"2.047", "", "2.047 in"}, {"51.99", "", ""}, {"51.90", "", ""}, {"2.047", "in", ""},
	} {
		q, ok := c.job.Doubt("journal", row.digits, row.unit)
		require.Equal(t, row.meant != "", ok, row.digits)
		if ok {
			require.Equal(t, row.meant, q.Meant[0].String(), row.digits)
		}
	}
	_, ok := c.job.Doubt("nothing", "5", "")
	require.False(t, ok)
	_, ok = c.job.Doubt("tunnel-taper", "5", "")
	require.False(t, ok, "its limits are not those of a reading")
}

// Whatever is read, and in whatever order: nothing panics, every reading is on
// the worksheet or was followed by another of its size, and the same facts give
// the same words.
func TestNoReadingIsLost(t *testing.T) {
	outer := t
	rapid.Check(t, func(t *rapid.T) {
		c := crewOn(outer, gaugedPlan)
		ids := []string{"journal", "tunnel", "bearing", "tunnel-taper", "play", "ring", "deck", "neck", "rod-bolt", "lift", "unplanned"}
		last := map[[2]string]events.Measured{}
		for range rapid.IntRange(1, 25).Draw(t, "facts") {
			m := events.Measured{Measurement: rapid.SampledFrom(ids).Draw(t, "id"), At: events.Hole(rapid.SampledFrom([]string{"", "1", "2", "9"}).Draw(t, "at")),
				Value: float64(rapid.IntRange(-10, 5_300_000).Draw(t, "value")) / 1e5, Unit: rapid.SampledFrom([]string{"mm", "in", "bar", "", "ells"}).Draw(t, "unit")}
			for _, p := range rapid.SliceOfN(rapid.SampledFrom([]string{"A1", "B1", "A2", "B", "", "A99"}), 0, 4).Draw(t, "points") {
				m.Points = append(m.Points, events.PointRead{Point: p, Value: m.Value + float64(len(m.Points))/100, Unit: rapid.SampledFrom([]string{"", "in", "thou"}).Draw(t, "other")})
			}
			c.told(m)
			last[[2]string{m.Measurement, string(m.At)}] = m
		}
		shown := map[[2]string]bool{}
		for _, m := range c.job.Measures() {
			if len(m.Reads) > 0 {
				shown[[2]string{m.Measurement, string(m.At)}] = true
			}
			require.NotEmpty(t, m.String())
		}
		for key := range last {
			require.True(t, shown[key], "%v", key)
		}
		for _, l := range c.job.Red() {
			require.NotEmpty(t, l.Scan, "%s says what to do", l.Text)
		}
	})
}

func TestUnitsOfReadings(t *testing.T) {
	require.Equal(t, gauge.Plain, unitOf("ells"))
	require.Equal(t, "51.980 mm", readingOf(events.PointRead{Value: 51.98, Text: "51.980", Unit: "mm"}).String())
	require.Equal(t, "51.98 mm", readingOf(events.PointRead{Value: 51.98, Text: "52.980", Unit: "mm"}).String(), "the number stands where the digits say another")
}
