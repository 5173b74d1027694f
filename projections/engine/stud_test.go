package engine

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
	"countback/projections/fastener/stage"
	"countback/projections/plan"
)

const studPlan = `plan: {id: flange, family: Flange, edition: 1}
parts: [{id: box, root: true}, {id: lid, in: box}]
joints:
  - {id: lid, holes: [{at: 1..3, in: box, stack: [{stud: M8x1.25x40, stays: true}, {clamps: [lid]}, {nut: M8x1.25}]}]}
steps:
  "off": [{id: lid-off, takes-out: {lid: all}, removes: [lid]}]
  "on": [{id: lid-on, fits: [lid], fastens: {lid: all}}]
tightening:
  - {id: studs, member: stud, seats: {lid: all}, stages: [{height: 24..24.5, band: 0.05}, {snug: 10}]}
  - {id: nuts, member: nut, seats: {lid: all}, order: [1, 2, 3], stages: [{torque: 14}]}
audit-points: [{id: ready, needs: [seats-finished], signs: second-person}]
`

const lidStud = "M8x1.25x40"

// newStuds takes the nuts off, the studs of some holes with them, and sets new ones.
func newStuds(c *crew, holes ...events.Hole) {
	ix, _ := c.s().lay.plan.Hole("lid", "1")
	kind := c.s().lay.plan.Seats[ix].Members[0].Kind
	c.told(events.PiecesOut{Joint: "lid", All: true})
	for _, h := range holes {
		c.told(events.PiecesOut{Joint: "lid", Holes: []events.Hole{h}, Lines: []events.Line{{Kind: kind, Qty: 1}}})
		c.told(events.PiecesFitted{Joint: "lid", Holes: []events.Hole{h}, Lines: []events.Line{{Kind: kind, Qty: 1}}})
	}
}

// told is the next stage of a hole, told with what was read.
func (c *crew) next(hole events.Hole, v float64) NextStage {
	n, ok := c.job.NextStage("lid", []events.Hole{hole})
	require.True(c.t, ok)
	c.told(events.StageRecorded{Joint: "lid", Holes: n.Holes, Order: n.Order, Stage: n.Stage, Stages: n.Stages, What: n.What, Value: v, Unit: n.Unit, Read: v != 0})
	return n
}

// The list of the studs and that of their nuts stand beside each other on one
// joint, each with its own cells (R73).
func TestStudsAndNutsBesideEachOther(t *testing.T) {
	c := crewOn(t, studPlan)
	lists := c.job.Tightened("lid")
	require.Len(t, lists, 2)
	require.Equal(t, []string{"nuts", "studs"}, []string{lists[0].Order, lists[1].Order})
	require.Equal(t, "stud", lists[1].Member)
	require.True(t, lists[0].Finished() && lists[1].Finished(), "as it came")
	require.Empty(t, auditRed(c))

	// nuts off and on again: the studs owe nothing, the nuts do
	c.told(events.PiecesOut{Joint: "lid", All: true})
	n, _ := c.job.NextStage("lid", nil)
	require.Equal(t, "nuts", n.Order)
	require.True(t, c.job.Tightened("lid")[1].Finished())

	newStuds(c, "2", "3")
	n, _ = c.job.NextStage("lid", nil)
	require.Equal(t, "studs", n.Order)
	require.Equal(t, "stud", n.Member)
	require.Equal(t, []events.Hole{"2", "3"}, n.Holes)
	require.Equal(t, stage.Height, n.Kind)
	c.told(events.PiecesFitted{Joint: "lid", All: true})
	red := auditRed(c)
	require.Contains(t, red, "Lid 2, 3: the stud is in, and was not set: height 24 to 24.5 mm: scan joint lid, hole 2, hole 3, STAGE")
	require.Contains(t, red[1], "torque 14 N.m", "and the nuts are asked for as well")
	require.Contains(t, texts(c.job.MayDo(events.Cranking)), "the stud is in, and was not set")

	// height: too high, then near the limit twice, then its own torque
	c.next("2", 24.9)
	require.Contains(t, c.job.Tightened("lid")[1].Rows[0].Cells[1].Why, "stands too high: turn it further in")
	c.next("2", 24.53)
	require.Contains(t, c.job.Tightened("lid")[1].Rows[0].Cells[1].Why, "read it a second time")
	c.next("2", 24.46)
	n = c.next("2", 0)
	require.Equal(t, "snug 10 N.m", n.What)
	n, _ = c.job.NextStage("lid", []events.Hole{"2"})
	require.Equal(t, "nuts", n.Order, "the stud is set: its nut is next")

	// the nut of a stud that was not set is doubtful until somebody answers for it
	c.told(events.StageRecorded{Joint: "lid", Holes: []events.Hole{"3"}, Order: "nuts", Stage: 1, Stages: 1, What: "torque 14 N.m"})
	require.Contains(t, c.job.Doubts("lid", nil)[0].Why, "before the stud was set")
	require.True(t, hasCode(c.job, RedStage))
	c.next("3", 24.2)
	c.next("3", 0)
	require.True(t, c.job.Tightened("lid")[1].Finished())
	c.told(c.ask(AcceptStage{Joint: "lid", Why: "seen"}))
	c.told(events.StageRecorded{Joint: "lid", Holes: []events.Hole{"1", "2"}, Order: "nuts", Stage: 1, Stages: 1, What: "torque 14 N.m"})
	require.Empty(t, auditRed(c))

	// the nut comes off: only its cell is void; the stud comes out: its cells too
	c.told(events.PiecesOut{Joint: "lid", Holes: []events.Hole{"2"}})
	lists = c.job.Tightened("lid")
	require.Equal(t, stage.Open, lists[0].Rows[0].Cells[1].State)
	require.Equal(t, stage.Done, lists[1].Rows[0].Cells[1].State)
	newStuds(c, "2")
	lists = c.job.Tightened("lid")
	require.Equal(t, stage.Open, lists[1].Rows[0].Cells[1].State)
	require.Equal(t, stage.Done, lists[1].Rows[0].Cells[2].State)
	c.told(events.FastenerBroken{Case: "C2AAAAAA", Joint: "lid", Hole: "3", OtherEnd: "in-hand"})
	require.Equal(t, stage.Open, c.job.Tightened("lid")[1].Rows[0].Cells[2].State, "a broken stud is set no more")
	require.Equal(t, "no stud is in it: set it first", c.job.Tightened("lid")[1].Owed[1].Why)
}

// A stage of a stud that other things speak against is doubtful, begun anew and
// accepted like that of a nut.
func TestStudsBegunAnew(t *testing.T) {
	c := crewOn(t, studPlan)
	newStuds(c, "1")
	c.told(events.StageRecorded{Joint: "lid", Holes: []events.Hole{"1"}, Order: "studs", Stage: 2, Stages: 2, What: "snug 10 N.m"})
	require.Contains(t, c.job.Doubts("lid", nil)[0].Why, "comes after height")
	c.told(c.ask(RestartStage{Joint: "lid"}))
	require.Empty(t, c.job.Doubts("lid", nil))
	c.told(events.StageRecorded{Joint: "lid", Holes: []events.Hole{"1"}, Order: "studs", Stage: 2, Stages: 2, What: "snug 10 N.m"})
	c.told(c.ask(AcceptStage{Joint: "lid", Why: "gauged"}))
	require.Equal(t, stage.Done, c.job.Tightened("lid")[1].Rows[1].Cells[0].State)
	// too tight: only loosening clears that, told of the stud while nothing is on it
	c.told(events.StageRecorded{Joint: "lid", Holes: []events.Hole{"1"}, Order: "studs", Stage: 2, Stages: 2, What: "snug 10 N.m", Read: true, Value: 19, Unit: "N.m"})
	require.True(t, c.job.Doubts("lid", nil)[0].Over)
	c.told(c.ask(Tell{events.PiecesLoosened{Joint: "lid", Holes: []events.Hole{"1"}}}))
	require.Empty(t, c.job.Doubts("lid", nil))
	require.Equal(t, stage.Open, c.job.Tightened("lid")[1].Rows[1].Cells[0].State)
	// no value, a wrong hole, and a stud that is not in: nothing is lost, nothing panics
	c.told(events.StageRecorded{Joint: "lid", Holes: []events.Hole{"9"}, Order: "studs", Stage: 1, Stages: 2})
	c.told(events.StageRecorded{Joint: "lid", Order: "studs", Stage: 9, Stages: 2})
	require.Empty(t, c.job.Differences())
}

// After any history a stud that is out has no cell that stands, no cell is lost,
// and any order of arrival gives the same.
func TestStudsInAnyOrder(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := draw{rt}
		facts := []events.Record{{Shop: "hill", Job: "j1", Terminal: "b1", N: 1, Time: 1000, At: 1000, Event: events.JobOpened{Engine: "x", Plan: studPlan}}}
		for i := range rapid.IntRange(1, 25).Draw(rt, "facts") {
			var holes []events.Hole
			if d.yes("some") {
				holes = []events.Hole{pick(d, []events.Hole{"1", "2", "3"}, "hole")}
			}
			order := pick(d, []string{"studs", "nuts"}, "order")
			var lines []events.Line
			if d.yes("counted") {
				lines = []events.Line{{Kind: pick(d, []events.Kind{lidStud, "nut M8x1.25"}, "kind"), Qty: 1}}
			}
			var ev events.Event
			switch rapid.IntRange(0, 5).Draw(rt, "what") {
			case 0:
				ev = events.PiecesOut{Joint: "lid", Holes: holes, Lines: lines}
			case 1:
				ev = events.PiecesFitted{Joint: "lid", Holes: holes, Lines: lines, All: len(lines) == 0}
			case 2:
				ev = events.StageAccepted{Joint: "lid", Holes: holes, Order: order, Stage: 1, Why: "x"}
			case 3:
				ev = events.StageRestarted{Joint: "lid", Holes: holes, Order: order, Stage: 1}
			default:
				ev = events.StageRecorded{Joint: "lid", Holes: holes, Order: order, Stage: rapid.IntRange(1, 2).Draw(rt, "stage"), Stages: 2, Read: d.yes("read"), Value: 24.2, Unit: "mm"}
			}
			facts = append(facts, events.Record{Shop: "hill", Job: "j1", Terminal: "b1", N: uint32(i + 2), Time: int64(2000 + i), At: int64(2000 + i), Event: ev})
		}
		live, late := &Job{}, &Job{}
		for i := range facts {
			live.Apply(&facts[i])
			v := live.Tightened("lid")[1]
			require.Equal(rt, 6, v.Count.Cells)
			require.Equal(rt, 6, v.Count.Open+v.Count.Part+v.Count.Done+v.Count.Doubtful+v.Count.Over)
			for k, p := range v.Spots {
				if ix := plan.SeatIndex(k); live.State().seats[ix].in&1 == 0 {
					require.False(rt, p.In)
					require.Equal(rt, stage.Open, v.Rows[0].Cells[k].State)
				}
			}
		}
		for _, i := range rapid.Permutation(indices(len(facts))).Draw(rt, "arrival") {
			late.Apply(&facts[i])
		}
		a, b := live.Tightened("lid"), late.Tightened("lid")
		for i := range a {
			a[i].s, b[i].s = nil, nil
		}
		require.Equal(rt, a, b)
	})
}
