package plan

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// What a plan says about depths, heights and cold loosening, good and bad.
func TestDepthsInAPlan(t *testing.T) {
	const head = `plan: {id: p, family: P, edition: 1}
parts: [{id: box, root: true}, {id: lid, in: box}, {id: plugs, in: box, count: 2, seats: {at: 1..2, place: pressed bore}}]
joints: [{id: lid, holes: [{at: 1..2, in: box, stack: [{stud: M6x1.0x30, stays: true}, {clamps: [lid]}, {nut: M6x1.0}]}]}]
tightening:
`
	for _, row := range []struct{ list, want string }{
		{"{id: a, seats: {plugs: all}, stages: [{press-depth: 1..1.5, band: 0.05}]}", ""},
		{"{id: a, seats: {plugs: all}, stages: [{press-depth: 0}]}", ""},
		{"{id: a, member: stud, seats: {lid: all}, stages: [{height: 24..24.5, band: 0.1}, {torque: 5}]}", ""},
		{"{id: a, way: loosen, cold: true, seats: {lid: all}, stages: [{loosen: half turns}]}", ""},
		{"{id: a, seats: {plugs: all}, stages: [{torque: 5}]}", "plugs:1 is a pressed part: it is torque; a press-depth is wanted"},
		{"{id: a, seats: {plugs: [2]}, stages: [{press-depth: 1, due: cold}]}", "plugs:2 is a pressed part: a depth is read when it is pressed, and falls due at no later time"},
		{"{id: a, seats: {plugs: all}, stages: [{press-depth: 1}]}\n  - {id: b, seats: {plugs: [2]}, stages: [{press-depth: 2}]}", "plugs:2 is pressed in by the list a too"},
		{"{id: a, seats: {lid: all}, stages: [{torque: 5, band: 0.05}]}", "a band of 0.05: how good a reading is in mm, of a stretch, press-depth or height"},
		{"{id: a, seats: {plugs: all}, stages: [{press-depth: 1..1.5, band: -1}]}", "a band of -1"},
		{"{id: a, seats: {plugs: all}, stages: [{press-depth: 1..1.5, band: fine}]}", `band is "fine"; a number of millimetres is wanted`},
		{"{id: a, seats: {plugs: [7]}, stages: [{press-depth: 1..1.5}]}", `part plugs has no position "7"`},
		{"{id: a, cold: true, seats: {lid: all}, stages: [{torque: 5}]}", "cold: only a loosening has that"},
	} {
		faults := CheckSource("p.yaml", []byte(head+"  - "+row.list+"\n"))
		var said []string
		for _, f := range faults {
			if f.Level == Broken {
				said = append(said, f.String())
			}
		}
		if row.want == "" {
			require.Empty(t, said, row.list)
			continue
		}
		require.Contains(t, strings.Join(said, "\n"), row.want, row.list)
	}
}
