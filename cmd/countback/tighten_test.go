package main

import (
	"encoding/json"
	"fmt"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestTightenShowsHolesByStages(t *testing.T) {
	s := sorrelShop(t)
	s.run("tighten", "J1", "head").ends(statusDone).says("Head bolts (head)", "Turned in this order: 1 2 3 4 5 6 7 8 9 10",
		"Loosened in this:     10 9 8 7 6 5 4 3 2 1", "they disagree, and nobody has chosen", "as the engine came")
	s.feed("job J1\njoint exhaust\nALL OUT\njoint exhaust\nALL IN\njoint exhaust\nhole 1\nhole 2\nSTAGE\n", "scan")
	d := s.run("tighten", "J1", "exhaust").ends(statusNo)
	d.says("Missing: 16", "stage 1, torque 14 N.m: ", "Falls due later: 9", "due cold after the first heat", "STAGE")
	s.feed("job J1\njoint exhaust\nhole 3\nSTAGE READ\n10.3 lbf.ft\njoint exhaust\nhole 4\nSTAGE READ\n13\n", "scan")

	var r tightenReport
	d = s.run("tighten", "J1", "exhaust", "--json").ends(statusNo)
	require.NoError(t, json.Unmarshal([]byte(d.out), &r))
	require.Len(t, r.Orders, 2, "the nuts, and the studs under them")
	require.Equal(t, "exhaust-studs", r.Orders[1].Order)
	require.Equal(t, "stud", r.Orders[1].Member)
	require.Empty(t, r.Orders[1].Missing, "the studs stayed in")
	o := r.Orders[0]
	require.Equal(t, "exhaust-nuts", o.Order)
	require.Len(t, o.Cells, 27, "nine holes by three stages")
	states := map[string]string{}
	for _, c := range o.Cells {
		if c.Stage == 1 {
			states[c.Hole] = c.State
		}
	}
	require.Equal(t, "done", states["1"])
	require.Equal(t, "done", states["3"], "10.3 lbf.ft are 14 N.m as far as they were read")
	require.Equal(t, "part done", states["4"])
	require.Equal(t, "open", states["5"])
	require.Len(t, o.Missing, 15)
	require.Len(t, o.Later, 9)
	require.NotEmpty(t, o.Past)

	for _, row := range []struct {
		args []string
		want status
		why  string
	}{
		{[]string{"tighten", "J1"}, statusUsage, "usage"},
		{[]string{"tighten", "J1", "lid"}, statusUnknown, "has no joint lid, and no part of that name"},
		{[]string{"tighten", "J9", "head"}, statusUnknown, "there is no job J9"},
	} {
		s.run(row.args...).ends(row.want).warns(row.why)
	}
}

// A part that is pressed in: positions by depths.
func TestTightenShowsHowDeep(t *testing.T) {
	s := sorrelShop(t)
	s.run("tighten", "J1", "core-plugs").ends(statusDone).says("Core plugs (core-plugs)", "Positions: 1 2", "press-depth 1 to 1.5 mm", "as the engine came")
	s.feed("job J1\npart core-plugs\nOFF\npart core-plugs\nON\npart core-plugs\nSTAGE\n0.05 in\n", "scan")
	s.run("tighten", "J1", "part core-plugs").ends(statusNo).says("read 0.05 in", "Missing: 1", "Next: part core-plugs, position 2, STAGE, the depth in mm")
	s.feed("job J1\npart core-plugs\nSTAGE\n0.97\n", "scan")
	var r tightenReport
	d := s.run("tighten", "J1", "core-plugs", "--json").ends(statusNo)
	require.NoError(t, json.Unmarshal([]byte(d.out), &r))
	require.Equal(t, "core-plugs", r.Part)
	require.Empty(t, r.Joint)
	require.Len(t, r.Orders[0].Cells, 2)
	require.Equal(t, "part done", r.Orders[0].Cells[1].State)
	require.Contains(t, r.Orders[0].Cells[1].Why, "read it a second time")
	s.run("tighten", "J1", "flywheel").ends(statusDone).says("Flywheel")
	s.run("tighten", "J1", "crank").ends(statusDone).says("The plan reads no depth of it.")
	s.run("tighten", "J1", "part ghost").ends(statusUnknown).warns("no part of that name")
}

// The longest pause inside an angle is the plan's, else the shop's: by its flag,
// its variable, its settings file, in that order.
func TestTightenSaysThePause(t *testing.T) {
	s := sorrelShop(t)
	const begun = "An angle that is gone on with after more than %s is begun anew (the plan gives none: the shop's setting)."
	s.run("tighten", "J1", "head").ends(statusDone).says(fmt.Sprintf(begun, "30 min"))
	s.run("tighten", "J1", "head", "--pause", "90m").ends(statusDone).says(fmt.Sprintf(begun, "90 min"))
	s.run("tighten", "J1", "head", "--pause", "0").ends(statusDone).says("No pause inside an angle is too long")
	d := s.run("tighten", "J1", "pickup").ends(statusDone)
	require.NotContains(t, d.out, "pause", "nothing there goes by angle")
	file := s.path("own.yaml")
	require.NoError(t, os.WriteFile(file, []byte("pause: 45m\nlimits: {minutes: 30}\n"), 0o644))
	s.run("tighten", "J1", "head", "--config", file).ends(statusDone).says(fmt.Sprintf(begun, "45 min"))
	s.env = append(s.env, "COUNTBACK_PAUSE=20m")
	s.run("tighten", "J1", "head", "--config", file).ends(statusDone).says(fmt.Sprintf(begun, "20 min"))
	var r tightenReport
	d = s.run("tighten", "J1", "head", "--config", file, "--pause", "1h", "--json").ends(statusDone)
	require.NoError(t, json.Unmarshal([]byte(d.out), &r))
	require.Equal(t, 60, r.Orders[0].Pause)
	require.Equal(t, "shop", r.Orders[0].PauseBy)
	for _, bad := range []string{"soon", "-5m", "5"} {
		s.run("tighten", "J1", "head", "--pause", bad).ends(statusUsage).warns("setting pause", "want a time")
	}
}

// Torques against published ones: M8x1 10.9 at a friction of 0.12 takes 38.3 N.m
// (VDI 2230 table, 2001 edition, as reproduced at mastik.pt), 3/8-16 grade 5 at
// 75 % of its proof load 23 lbf.ft with K 0.15 (mobiletechengineering.com,
// 2020-11-15).
func TestTorqueAgainstPublishedValues(t *testing.T) {
	s := newShop(t)
	var r torqueReport
	d := s.run("torque", "M8x1.0x30", "10.9", "--method", "vdi", "--json").ends(statusDone)
	require.NoError(t, json.Unmarshal([]byte(d.out), &r))
	require.Len(t, r.Guidance, 3)
	require.InEpsilon(t, 38.3, r.Guidance[1].Nm, 0.007)
	d = s.run("torque", "3/8-16x1-1/2", "--class", "grade 5", "--lubricant", "oil", "--json").ends(statusDone)
	require.NoError(t, json.Unmarshal([]byte(d.out), &r))
	require.InEpsilon(t, 23.16, r.Guidance[0].LbfFt, 0.005)
	require.InEpsilon(t, r.Guidance[0].LbfFt*12, r.Guidance[0].LbfIn, 0.005)
	require.InDelta(t, 0.75, r.Guidance[0].OfProof, 1e-9)

	s.run("torque", "M8x1.25x30 8.8").ends(statusDone).says("Guidance only: what the engine's maker says comes first", "T = K d F; oil (K 0.15 to 0.20", "mechconcepts.tech")
	s.run("torque", "M8x1.25x30").ends(statusNo).says("Its strength is not known")
	for _, row := range []struct {
		args []string
		why  string
	}{
		{[]string{"torque"}, "usage"},
		{[]string{"torque", "blue"}, "blue"},
		{[]string{"torque", "M8x1.25", "--lubricant", "butter"}, "no factor is cited for it"},
		{[]string{"torque", "M8x1.25 8.8", "--method", "guess"}, "short or vdi"},
	} {
		s.run(row.args...).ends(statusUsage).warns(row.why)
	}
}
