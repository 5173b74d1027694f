package plan

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
)

// faced is a plan of one joint with a face, and holes from the given entries.
func faced(face, holes string) string {
	return "plan: {id: faced, left-right: from the flywheel end}\nparts: [{id: box, root: true}, {id: lid, in: box}]\n" +
		"joints:\n  - id: lid\n    face: " + face + "\n    holes:\n" + holes +
		"steps:\n  off: [{id: lid-off, takes-out: {lid: all}, removes: [lid]}]\n  on: [{id: lid-on, fits: [lid], fastens: {lid: all}}]\n"
}

const lidHole = "in: box, clamps: [lid], fastener: M6x1.0x20 8.8 flange, grip: 8, depth: 16, thread-in: aluminium}\n"

func TestFaceInWords(t *testing.T) {
	for _, row := range []struct{ face, want string }{
		{"{}", ""},
		{"{side: left, end: timing end, seen-from: the left, at-left: front}", "left side, timing end, seen from the left"},
		{"{side: bottom}", "bottom"},
		{"{end: flywheel end}", "flywheel end"},
	} {
		p, err := Parse("faced", []byte(faced(row.face, "      - {at: 1, "+lidHole)))
		require.NoError(t, err)
		require.Equal(t, row.want, p.Joints[0].Face.String(), row.face)
	}
}

func TestPlacesOfHoles(t *testing.T) {
	for _, row := range []struct {
		name, holes string
		want        []XY
		placed      bool
	}{
		{"a pair for each", "      - {at: [1, 2], xy: [[0, 0], [-12.5, 80.12345]], " + lidHole, []XY{{0, 0, true}, {-12.5, 80.123, true}}, true},
		{"unknown among them", "      - {at: [1, 2], xy: [[0, 0], unknown], " + lidHole, []XY{{0, 0, true}, {}}, false},
		{"one hole without outer brackets", "      - {at: 7, xy: [30, 40], " + lidHole, []XY{{30, 40, true}}, true},
		{"one hole with them", "      - {at: 7, xy: [[30, 40]], " + lidHole, []XY{{30, 40, true}}, true},
		{"unknown altogether", "      - {at: [1, 2], xy: unknown, " + lidHole, []XY{{}, {}}, false},
		{"not said", "      - {at: 1, " + lidHole, []XY{{}}, false},
		{"no minus nought", "      - {at: 1, xy: [-0, -0.0001], " + lidHole, []XY{{0, 0, true}}, true},
	} {
		p, err := Parse("faced", []byte(faced("{side: left}", row.holes)))
		require.NoError(t, err, row.name)
		for i, want := range row.want {
			require.Equal(t, want, p.Seats[i].XY, "%s: hole %d", row.name, i)
			require.Equal(t, fmt.Sprint(want), fmt.Sprint(p.Seats[i].XY), row.name)
		}
		require.Equal(t, row.placed, p.Placed(0), row.name)
		require.False(t, Check(p).Broken(), row.name)
		q, err := Parse("again", Write(p))
		require.NoError(t, err)
		require.Equal(t, says(p), says(q), row.name)
	}
}

func TestHolesWithoutAPlaceAmongOthersAreSaid(t *testing.T) {
	p, err := Parse("faced", []byte(faced("{}", "      - {at: [1, 2, 3], xy: [[0, 0], unknown, unknown], "+lidHole)))
	require.NoError(t, err)
	require.Contains(t, Check(p).Error(), "unknown: joint lid: the place of hole 2, 3 is not known, so that it is drawn in order")
	p, err = Parse("faced", []byte(faced("{}", "      - {at: [1, 2, 3], "+lidHole)))
	require.NoError(t, err)
	require.NotContains(t, Check(p).Error(), "place of hole", "where none has a place nobody wanted any")
}

// One hole of several takes its place along, and the rest keep theirs.
func TestAmendKeepsPlaces(t *testing.T) {
	base, err := Parse("faced", []byte(faced("{side: top}", "      - {at: 1..3, xy: [[0, 0], [40, 0], [80, 0]], "+lidHole)))
	require.NoError(t, err)
	p := amended(t, base, Amendment{"alter", "holes", "lid:2", "{note: insert fitted}"})
	for hole, want := range map[events.Seat]XY{"lid:1": {0, 0, true}, "lid:2": {40, 0, true}, "lid:3": {80, 0, true}} {
		require.Equal(t, want, p.Seats[seat(t, p, hole)].XY, hole)
	}
	p = amended(t, base, Amendment{"drop", "holes", "lid:1", ""}, Amendment{"alter", "holes", "lid:3", "{xy: [90, 5]}"})
	require.Equal(t, XY{40, 0, true}, p.Seats[seat(t, p, "lid:2")].XY)
	require.Equal(t, XY{90, 5, true}, p.Seats[seat(t, p, "lid:3")].XY)
	_, err = Amend(base, Amendment{"alter", "holes", "lid:3", "{xy: [40.5, 0.5]}"})
	require.ErrorContains(t, err, "holes 2 and 3 are on the same spot")
	p = amended(t, base, Amendment{"alter", "joints", "lid", "{face: {side: rear, seen-from: behind}}"})
	require.Equal(t, Face{Side: Rear, SeenFrom: "behind"}, p.Joints[0].Face)
	require.True(t, p.Placed(0), "the holes keep their places")
}

// The grid that looks for holes on one spot finds what comparing each with
// each finds.
func TestSameSpotIsFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 12).Draw(t, "holes")
		coordinate := rapid.Float64Range(-4, 4)
		var pairs []string
		at := make([]XY, n)
		for i := range at {
			at[i] = XY{thousandth(coordinate.Draw(t, "x")), thousandth(coordinate.Draw(t, "y")), true}
			pairs = append(pairs, fmt.Sprintf("[%v, %v]", at[i].X, at[i].Y))
		}
		want := 0
		for i := range at {
			for j := range i {
				if dx, dy := at[i].X-at[j].X, at[i].Y-at[j].Y; dx*dx+dy*dy < 1 {
					want++
				}
			}
		}
		_, err := Parse("faced", []byte(faced("{}", fmt.Sprintf("      - {at: 1..%d, xy: [%s], %s", n, strings.Join(pairs, ", "), lidHole))))
		got := 0
		if err != nil {
			got = strings.Count(err.Error(), "on the same spot")
		}
		require.Equal(t, want, got, "%v", pairs)
	})
}

// A hole of another joint is never taken for one of the joint's own.
func TestHolesOfOneNameAreToldApart(t *testing.T) {
	p := sorrel(t)
	bracket, _ := p.Joint("mount-bracket")
	cover, _ := p.Joint("front-cover")
	seen := map[string]bool{}
	for _, s := range p.Joints[bracket].Seats {
		name := p.HoleName(bracket, s)
		require.False(t, seen[name], "%s twice", name)
		seen[name] = true
	}
	require.True(t, seen["2"] && seen["2*"] && seen["8"] && seen["11"], "%v", seen)
	require.Equal(t, cover, p.Starred(bracket))
	require.Equal(t, JointIndex(None), p.Starred(cover))
	require.Equal(t, "2", p.HoleName(cover, seat(t, p, "front-cover:2")))
	two := "plan: {id: two}\njoints:\n  - {id: a, holes: [{at: 1, holds: nothing}]}\n  - {id: b, holes: [{at: 1, holds: nothing}]}\n" +
		"  - {id: c, shares: {a: [1], b: [1]}}\n  - {id: d, shares: {a: [1], b: [1]}, holes: [{at: 1, holds: nothing}]}\n"
	p, err := Parse("two", []byte(two))
	require.NoError(t, err)
	for i, want := range [][]string{{"1"}, {"1"}, {"a:1", "b:1"}, {"1", "a:1", "b:1"}} {
		var got []string
		for _, s := range p.Joints[i].Seats {
			got = append(got, p.HoleName(JointIndex(i), s))
		}
		require.Equal(t, want, got)
	}
}
