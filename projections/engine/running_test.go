package engine

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
)

const runPlan = `
plan: {id: bench, family: Bench, edition: 1, units: {length: mm}}
parts: [{id: block, root: true}]
marks: [{id: oiled, name: Pre-oiled, void-by: []}]
start-evidence: [oiled]
run-readings:
  - {id: oil, of: oil pressure, unit: bar, within: 10s, limits: {800: 1.0, 2000: 2.5..6, 4000: 3.5..6}}
  - {id: water, unit: C, min: 75, max: 105}
obligations:
  - {id: cold, what: look at it cold, after: {heat-cycles: 1}}
  - {id: filter, what: filter cut open, after: {minutes: 20}}
  - {id: service, what: first service, after: {distance-km: 800}}
`

// minutes lets time pass at the bench.
func (c *crew) minutes(n int64) { c.at = max(c.at, c.job.LatestAt()) + n*60_000_000 - c.tick }

func TestAStartWantsItsEvidence(t *testing.T) {
	c := crewOn(t, runPlan)
	c.live()
	require.Equal(t, "Pre-oiled: not done", c.job.MayStart()[0].Text)
	c.told(events.EngineStarted{})
	require.Contains(t, codes(c.job.Red()), RedStart)
	c.told(c.ask(Override{Ask: "act cranking", Operator: "Marit", Second: "Ole", Why: "pressure came at once"}))
	require.NotContains(t, codes(c.job.Red()), RedStart)
	c = crewOn(t, runPlan)
	c.told(events.MarkMade{Mark: "oiled"})
	require.Equal(t, []string{"Battery: not confirmed as on, 11 May", "Fuel: not confirmed, 11 May"}, textsOf(c.job.MayStart()))
	c.live()
	require.Empty(t, c.job.MayStart())
	c.told(events.EngineStarted{})
	require.NotContains(t, codes(c.job.Red()), RedStart)
}

// A heat cycle is over when it was warm and is cold again; minutes are those
// between start and stop; distance is counted from its first reading.
func TestObligationsFallDue(t *testing.T) {
	c := crewOn(t, runPlan)
	due := func() string {
		text := ""
		for _, o := range c.job.Obligations() {
			if o.Due && o.Met == 0 {
				text += o.ID + " "
			}
		}
		return text
	}
	require.Equal(t, Conflict, c.refused(MeetObligation{Obligation: "cold"}).Code)
	require.Equal(t, Unknown, c.refused(MeetObligation{Obligation: "cows"}).Code)
	c.told(events.EngineStarted{})
	c.minutes(5)
	c.told(events.EngineStopped{})
	c.told(events.EngineCooled{})
	require.Zero(t, c.s().HeatCycles(), "it had not got warm")
	c.told(events.EngineStarted{})
	c.minutes(14)
	c.told(events.EngineStopped{Warm: true})
	require.Equal(t, 19, c.s().MinutesRun())
	require.Empty(t, due())
	c.told(events.EngineCooled{})
	require.Equal(t, "cold ", due())
	c.told(c.ask(MeetObligation{Obligation: "cold"}))
	require.Empty(t, due())
	c.told(events.EngineStarted{})
	c.minutes(1)
	c.told(events.EngineStopped{Warm: true})
	require.Equal(t, "filter ", due())
	c.told(events.DistanceRead{Km: 100})
	require.Equal(t, "filter ", due())
	c.told(events.DistanceRead{Km: 900})
	require.Equal(t, "filter service ", due())
	a, ok := c.job.Audit("released")
	require.True(t, ok)
	require.Contains(t, codes(a.Red), RedObligation)
	require.Contains(t, codes(a.Red), RedRunRead)
	start, _ := c.job.Audit("ready-to-start")
	require.NotContains(t, codes(start.Red), RedObligation, "what falls due later does not hold the start")
}

// Readings are held against the limits of their speed; between two speeds a
// straight line.
func TestReadingsOfTheRunningEngine(t *testing.T) {
	for _, row := range []struct {
		read events.RunRead
		says string
		next string
	}{
		{events.RunRead{Reading: "oil", Value: 1.3, Unit: "bar", RPM: 1000, After: 4}, "1.3 bar at 1000 rpm after 4 s, within limits", ""},
		{events.RunRead{Reading: "oil", Value: 1.2, Unit: "bar", RPM: 1000, After: 4}, "1.2 bar at 1000 rpm after 4 s, 0.05 bar below 1.25 bar", "stop it and find out why; then scan reading oil, numbers"},
		{events.RunRead{Reading: "oil", Value: 6.5, Unit: "bar", RPM: 6000}, "6.5 bar at 6000 rpm, 0.5 bar above 6 bar", "stop it and find out why; then scan reading oil, numbers"},
		{events.RunRead{Reading: "oil", Value: 50, Text: "50.0", Unit: "psi", RPM: 3000}, "50.0 psi at 3000 rpm, within limits", ""},
		{events.RunRead{Reading: "oil", Value: 1.5, Unit: "bar", RPM: 800, After: 30}, "1.5 bar at 800 rpm after 30 s, within limits, too late", "it came late: find out why before the next start; then scan reading oil, numbers"},
		{events.RunRead{Reading: "water", Value: 88, Unit: "C"}, "88 C, within limits", ""},
		{events.RunRead{Reading: "water", Value: 3, Unit: "bar"}, "3 bar, the limits are of another sort: look at the unit", "look at the unit; scan reading water, numbers"},
	} {
		c := crewOn(t, runPlan)
		c.told(events.MarkMade{Mark: "oiled"})
		c.told(events.EngineStarted{})
		c.told(row.read)
		for _, n := range c.job.Running() {
			if n.Reading == row.read.Reading {
				require.Equal(t, row.says, n.Reads[0].Words())
				require.Equal(t, row.next, n.Advice)
			}
		}
	}
	c := crewOn(t, runPlan)
	q, ok := c.job.DoubtRun("oil", "34", "")
	require.True(t, ok)
	require.Contains(t, q.String(), "3.4 bar")
	_, ok = c.job.DoubtRun("oil", "3.4", "")
	require.False(t, ok)
	_, ok = c.job.DoubtRun("smoke", "3.4", "")
	require.False(t, ok)
}

// A practitioner's run: 429 hp peak, 400 hp first passed at 4,900 rpm, 400
// lbf.ft still there at 5,700 rpm. All agree within a few per cent by hp =
// lbf.ft x rpm / 5252.
func TestPowerAndTorqueAgree(t *testing.T) {
	c := crewOn(t, runPlan)
	require.Empty(t, c.s().OutputUnits(), "nobody has said in which")
	for _, o := range []events.OutputRead{{RPM: 4900, Power: 400}, {RPM: 5700, Torque: 400}, {RPM: 5700, Power: 429, Torque: 400}} {
		require.Empty(t, c.job.DoubtOutput("hp lbf.ft", o.RPM, o.Power, o.Torque))
		o.Units = "hp lbf.ft"
		c.told(o)
	}
	list := c.job.OutputLines()
	require.InDelta(t, 428.7, list[0].TorqueOf, 0.1)
	require.InDelta(t, 434.1, list[1].PowerOf, 0.1)
	require.InDelta(t, 429, list[1].PowerOf, 0.03*429, "the peak, within a few per cent")
	for _, bad := range []struct {
		rpm           int
		power, torque float64
		why           string
	}{
		{5000, 250, 400, "400 lbf.ft at 5000 rpm make 381 hp, not 250"},
		{5000, 400, 381, "the other way round they agree"},
		{5000, 284, 400, "in kW and lbf.ft they agree"},
		{60000, 400, 0, "no speed of an engine"},
		{5000, 0, 0, "neither power nor torque"},
		{100, 400, 0, "look at the speed and the units"},
	} {
		why := c.job.DoubtOutput("hp lbf.ft", bad.rpm, bad.power, bad.torque)
		require.NotEmpty(t, why, "%v", bad)
		if bad.why != "in kW and lbf.ft they agree" {
			require.Contains(t, why, bad.why)
		}
	}
	require.NotEmpty(t, c.job.DoubtOutput("oxen", 5000, 1, 1))
}

func init() {
	makers = append(makers,
		func(d draw) events.Event { return events.EngineStarted{} },
		func(d draw) events.Event { return events.EngineStopped{Warm: d.yes("warm")} },
		func(d draw) events.Event { return events.EngineCooled{} },
		func(d draw) events.Event { return events.DistanceRead{Km: float64(d.n("km")) * 100} },
		func(d draw) events.Event {
			return events.RunRead{Reading: pick(d, []string{"oil-pressure", "coolant", "zz"}, "r"), Value: float64(d.n("v")), Unit: pick(d, []string{"bar", "C", "zz"}, "u"), RPM: d.n("rpm") * 300}
		},
		func(d draw) events.Event {
			return events.OutputRead{RPM: d.n("rpm") * 300, Power: float64(d.n("p")), Torque: float64(d.n("t")), Units: pick(d, []string{"kW N.m", "hp lbf.ft", "zz"}, "u")}
		},
		func(d draw) events.Event {
			return events.ObligationMet{Obligation: pick(d, []string{"oil-filter", "zz"}, "o")}
		},
	)
}

func init() {
	makers = append(makers, func(d draw) events.Event {
		return events.FastenersMeasured{Measurement: pick(d, []string{"head-bolt-thinning", "zz"}, "m"), Place: pick(d, anyPlace, "at"), Unit: "mm",
			Reads: []events.PointRead{{Value: 0.02}, {Value: float64(d.n("v")) / 50}}}
	})
}
