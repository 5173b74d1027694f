package sheet

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/projections/plan"
)

// tricky is a plan in which every sign that a sheet uses for itself stands in a
// text, and every word that it uses for itself is a name.
const tricky = `
plan: {id: tricky, family: "12; \"x\", y", edition: 7, left-right: 'from "here"; a, b'}
hiding-places: ["pan; tray", "a, b", 1, 2, 3, '"quoted"', "it's  two  blanks"]
parts:
  - {id: block, root: true, host: true, name: "yes", note: "first\nsecond; third, \"fourth\""}
  - {id: lid, in: block, optional: true, seats: {at: [off], set: 2, place: "a > b"}, sealant: {}, way-round: "true"}
  - {id: never, in: block, count: 3, reuse: measure and, own-seat: by-measurement, sealant: {lot: any, open-time: 90s}}
  - {id: pan, in: lid, count: 1, seats: {at: [1], place: bore}, graded: "=1+1", feature: "#", stays: true}
variants:
  - {id: or, one-of: {off: {joints: [pan], parts: [lid]}, on: {parts: [never]}}, default: on}
joints:
  - id: pan
    name: "Pan; of the ]"
    only-with: lid
    face: {side: left, end: "timing; end", seen-from: "a > b, c", at-left: front, at-top: "off"}
    holes:
      - {at: [on, 2, 3, 4], xy: [[0, 0], [12.345, -7.001], unknown, [5000, -5000]], in: block, grip: 0.5, depth: 10.123456, thread-in: steel, free-behind: unknown, stack: [{stud: unknown, run-in: 9, stays: true, way-round: 'long; end > "up" [here]'}, {clamps: [lid, never]}, {nut: M8x1.25 castle nut, feature: "a; b, c", height: unknown}]}
      - {at: 5..7, fastener: unknown, clamps: [lid]}
      - {at: 8, xy: [0.1, 33.3], holds: nothing, thread: M8x1.25}
  - id: and
    shares: {pan: [3, on]}
    dry-holes: true
    holds-back: "oil, and water"
    holes:
      - {at: [I1, I2, I3, 01], in: lid, clamps: [never], fastener: M6x1.0x20 8.8 flange, feature: "patch; blue", reuse: measure and, thread-lock: true, own-seat: true}
measurements:
  - {id: and, of: "x; y", at: [1, 2, 3], unit: "%", min: -1.5, max: 1234.5678901}
  - {id: pan, max: unknown}
cavities:
  - {id: case, closed-by: [{part: lid, is: on}, {any: [{seats: {pan: all}, are: filled}, {all: [{mark: step}, {loan: mark, is: out}]}]}], fluid: {of: oil}}
  - {id: seats, of: [block], open-when: [{part: lid, is: off}, {seats: {pan: [2, 3], and: [I1]}, some-are: empty}], leads-to: [case], carried: "a;b"}
marks:
  - {id: step, at-arrival: stands, needs: [and-off, {any: []}], void-by: [turning, cranking, {part: lid, is: away}, sending-out]}
loans:
  - {id: mark, count: 30, piece: M6x1.0 post, feature: "x; y", fills: {}, owner: other-shop, in: any-cavity, must-be-out-for: {stops: [turning, never, {removal: lid}, {finished: pan}], reminds: [audit]}}
  - {id: rag, fills: {pan: [8], and: [01]}, count: 2, harmless: true}
gates: [{id: look, asks: look}]
audit-points: [{id: audit, needs: [parts-on, dues-met], signs: two-persons, when: [{cavity: case, is: closed}]}]
steps:
  off:
    - {id: never, name: Never, takes-out: {pan: [2, 3]}, when: [{any: [{all: [and-off, {part: lid, is: on}]}, {seats: {and: all}, are: out}]}, {all: [{part: lid, is: here}, {mark: step}]}], wait: 1h30m, minutes: 5, tools: [puller.2, lamp]}
    - {id: and-off, takes-out: {and: all}, removes: [never], loan-may: [rag], when: [never]}
  bench:
    - {id: or, way: apart, part: lid, sends-out: [lid], gate: look}
    - {id: back, way: together, part: lid, takes-back: [lid], audit: audit}
  on:
    - {id: always, trial: {pan: [on]}, sealant: {lot: "blue; 5"}, cranks: true, optional: true}
tightening:
  - {id: pan, way: loosen, rounds: "a; b", note: "x > y", groups: [{seats: {pan: [2, 3], lid: all}, stages: [{loosen: "half; turn"}, {loosen: 1..2}]}, {seats: {and: all}, editions: [{edition: 1, stages: [{snug: by hand}]}, {edition: 1, source: "b, c", stages: [{angle: 90..95, needs: {loan: mark, is: out}, due: "later; on"}, {torque: unknown}]}]}]}
  - {id: nuts, member: nut, order: ["inner; first", outer], passes: 3, tools: [wrench-5_25], seats: {pan: all}, stages: [{torque: 12.345678}]}
kits:
  - {id: kit, lines: [{part: never, count: 3}, {piece: unknown, count: 2, surplus-expected: 1}]}
prices:
  - {part: never, each: "12,50"}
  - {piece: M6x1.0x20 8.8, feature: "patch; blue", each: EUR 0.4}
`

func TestTrickyTexts(t *testing.T) {
	p, err := plan.Parse("tricky", []byte(tricky))
	require.NoError(t, err)
	for name, format := range formats {
		sheets := Write(p, format)
		q, faults := Read(folder(sheets), "other")
		require.Empty(t, lines(faults), name)
		want, got := said(p), said(q)
		require.Equal(t, want, got, name)
		require.Equal(t, sheets, Write(q, format), name)
	}
}
