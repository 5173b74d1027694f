package engine

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
	"countback/projections/fastener/stage"
)

const pressPlan = `plan: {id: carrier, family: Carrier, edition: 1}
parts:
  - {id: box, root: true}
  - {id: lid, in: box, host: true}
  - {id: seal, in: lid, seats: {at: 1, place: pressed bore}, reuse: new}
  - {id: plugs, count: 3, in: lid, seats: {at: 1..3, place: pressed bore}}
joints:
  - {id: lid, holes: [{at: 1..2, in: box, clamps: [lid], fastener: M6x1.0x20 8.8 flange}]}
marks: [{id: warm, name: Carrier warm}]
steps:
  "off": [{id: lid-off, takes-out: {lid: all}, removes: [lid]}]
  "bench":
    - {id: strip, part: lid, way: apart, removes: [seal, plugs]}
    - {id: press, part: lid, way: together, fits: [seal, plugs]}
  "on": [{id: lid-on, fits: [lid], fastens: {lid: all}}]
tightening:
  - {id: seal, seats: {seal: [1]}, stages: [{press-depth: 0.5..1.0, band: 0.05}]}
  - {id: plugs, seats: {plugs: all}, stages: [{press-depth: 1..1.5, only: [1, 2]}, {press-depth: 2..2.5, needs: {mark: warm}}]}
audit-points: [{id: ready, needs: [seats-finished], signs: second-person}]
`

// depth tells what was read of a position, at its next stage.
func (c *crew) depth(part events.Part, pos events.Hole, v float64, unit string) NextStage {
	n, ok := c.job.NextPress(part, []events.Hole{pos})
	require.True(c.t, ok)
	c.told(events.PartPressed{Part: part, Positions: []events.Hole{pos}, Order: n.Order, Stage: n.Stage, What: n.What, Value: v, Unit: unit, Read: unit != ""})
	return n
}

func (c *crew) cellOf(part events.Part, pos events.Hole, number int) Cell {
	v, ok := c.job.Pressed(part)
	require.True(c.t, ok)
	for i, s := range v.Spots {
		if s.Hole == pos {
			return v.Rows[number-1].Cells[i]
		}
	}
	c.t.Fatalf("%s has no position %s", part, pos)
	return Cell{}
}

func auditRed(c *crew) []string {
	a, _ := c.job.Audit("ready")
	var list []string
	for _, l := range a.Red {
		list = append(list, l.String())
	}
	return list
}

// One of a pressed part's depths against its limits, with the guard band of what
// it is read with: R48, R49.
func TestDepths(t *testing.T) {
	for _, row := range []struct {
		name  string
		reads []float64
		unit  string
		state stage.State
		why   string
	}{
		{"clear of the limits", []float64{0.75}, "mm", stage.Done, ""},
		{"in inches", []float64{0.03}, "in", stage.Done, ""},
		{"told, not read", []float64{0}, "", stage.Part, "told without a reading: measure its depth"},
		{"not deep enough", []float64{0.4}, "mm", stage.Part, "not deep enough: press it further"},
		{"then pressed further", []float64{0.4, 0.8}, "mm", stage.Done, ""},
		{"too deep", []float64{1.1}, "mm", stage.Over, "too deep: out, and again"},
		{"too deep, and read again", []float64{1.1, 0.8}, "mm", stage.Over, "too deep: out, and again"},
		{"near the limit", []float64{0.48}, "mm", stage.Part, "0.48 of press-depth 0.5 to 1 mm is within 0.05 mm of a limit: read it a second time"},
		{"near, and clear the second time", []float64{0.48, 0.6}, "mm", stage.Done, ""},
		{"near twice, inside by the middle", []float64{0.48, 0.53}, "mm", stage.Done, ""},
		{"near twice, outside by the middle", []float64{0.48, 0.49}, "mm", stage.Part, "not deep enough: press it further"},
		{"near at the other limit, outside", []float64{1.01, 1.04}, "mm", stage.Over, "too deep: out, and again"},
		{"two that do not agree", []float64{0.54, 1.02}, "mm", stage.Part, "0.54 and 1.02 mm were read, which do not agree: read it a third time"},
		{"the third decides", []float64{0.54, 1.02, 0.55}, "mm", stage.Done, ""},
		{"in another unit altogether", []float64{12}, "N.m", stage.Doubtful, "12 N.m was read, and press-depth 0.5 to 1 mm is none of that: read it again"},
		{"beyond any gauge", []float64{75}, "mm", stage.Over, "too deep: out, and again"},
	} {
		t.Run(row.name, func(t *testing.T) {
			c := crewOn(t, pressPlan)
			c.told(events.PartRemoved{Part: "seal"})
			c.told(events.PartFitted{Part: "seal"})
			require.Equal(t, stage.Open, c.cellOf("seal", "1", 1).State)
			for _, v := range row.reads {
				c.told(events.PartPressed{Part: "seal", Positions: []events.Hole{"1"}, Order: "seal", Stage: 1, Value: v, Unit: row.unit, Read: row.unit != ""})
			}
			cell := c.cellOf("seal", "1", 1)
			require.Equal(t, row.state, cell.State, cell.Why)
			require.Contains(t, cell.Why, row.why)
			red := auditRed(c)
			if row.state == stage.Done {
				require.NotContains(t, texts(c.job.MayDo(events.Cranking)), "Seal")
				for _, l := range red {
					require.NotContains(t, l, "depth")
				}
				return
			}
			found := ""
			for _, l := range red {
				found += l + "\n"
			}
			require.Contains(t, found, row.why)
		})
	}
}

func TestWhatComesOutOwesItsDepthAgain(t *testing.T) {
	c := crewOn(t, pressPlan)
	require.Empty(t, auditRed(c), "as it came")
	_, ok := c.job.NextPress("seal", nil)
	require.False(t, ok, "what nobody pressed in here owes nothing")
	c.told(events.PartRemoved{Part: "plugs", Positions: []events.Hole{"1", "3"}})
	c.told(events.PartFitted{Part: "plugs", Positions: []events.Hole{"1", "3"}})
	require.Equal(t, []string{"Plugs 1: pressed in, and press-depth 1 to 1.5 mm was not read: scan part plugs, position 1, STAGE",
		"Plugs 1, 3: pressed in, and press-depth 2 to 2.5 mm was not read: scan part plugs, position 1, STAGE"}, auditRed(c)[:2])
	n, ok := c.job.NextPress("plugs", nil)
	require.True(t, ok)
	require.Equal(t, []events.Hole{"1"}, n.Holes, "a reading is of one piece")
	require.Equal(t, 2, n.Stages)
	c.depth("plugs", "1", 1.2, "mm")
	// the second depth is read warm: without that it is doubtful
	n = c.depth("plugs", "1", 2.2, "mm")
	require.Contains(t, n.Wrong, "wants this first: Carrier warm")
	require.Equal(t, stage.Doubtful, c.cellOf("plugs", "1", 2).State)
	require.True(t, hasCode(c.job, RedStage))
	require.Equal(t, Malformed, c.refused(AcceptDepth{Part: "plugs"}).Code)
	require.Equal(t, Unknown, c.refused(AcceptDepth{Part: "lid", Why: "x"}).Code)
	require.Equal(t, Conflict, c.refused(AcceptDepth{Part: "seal", Why: "x"}).Code)
	c.told(c.ask(AcceptDepth{Part: "plugs", Why: "it was warm"}))
	require.Equal(t, stage.Done, c.cellOf("plugs", "1", 2).State)
	c.told(events.MarkMade{Mark: "warm"})
	n = c.depth("plugs", "3", 2.2, "mm")
	require.Equal(t, 1, n.Stages, "position 3 has one stage")
	v, _ := c.job.Pressed("plugs")
	require.True(t, v.Finished())
	require.True(t, v.Rows[0].Cells[1].Presumed, "position 2 is as it came")
	// out again: its cells are void, those of the others are not
	c.told(events.PartRemoved{Part: "plugs", Positions: []events.Hole{"1"}})
	require.Equal(t, stage.Open, c.cellOf("plugs", "1", 1).State)
	require.Equal(t, stage.Done, c.cellOf("plugs", "3", 1).State)
	require.Equal(t, "nothing is in it: press it in first", func() string { v, _ := c.job.Pressed("plugs"); return v.Owed[0].Why }())
	// a depth that was read says that it is in
	c.depth("plugs", "1", 1.2, "mm")
	require.EqualValues(t, 3, c.s().book.BalanceOf(c.s().group[c.s().lay.parts[3].group], c.s().kinds[c.s().lay.parts[3].kind]))
	require.Empty(t, c.job.Differences())
	// a part of nobody, a position of nobody
	c.told(events.PartPressed{Part: "ghost", Stage: 1})
	c.told(events.PartPressed{Part: "plugs", Positions: []events.Hole{"9"}, Stage: 1})
	c.told(events.DepthAccepted{Part: "ghost", Stage: 1, Why: "x"})
	require.Len(t, notesOf(c.s(), NoSuch), 3)
	require.Equal(t, Malformed, c.refused(Tell{events.PartPressed{Part: "plugs", Stage: 0}}).Code)
}

// The words for cells of pressed parts hold after any history, in any order of
// arrival, and no cell is ever lost.
func TestPressedPartsInAnyOrder(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := draw{rt}
		facts := []events.Record{{Shop: "hill", Job: "j1", Terminal: "b1", N: 1, Time: 1000, At: 1000, Event: events.JobOpened{Engine: "x", Plan: pressPlan}}}
		for i := range rapid.IntRange(1, 25).Draw(rt, "facts") {
			part := pick(d, []events.Part{"seal", "plugs", "lid"}, "part")
			var at []events.Hole
			if d.yes("some") {
				at = []events.Hole{pick(d, []events.Hole{"1", "2", "3"}, "position")}
			}
			var ev events.Event
			switch rapid.IntRange(0, 4).Draw(rt, "what") {
			case 0:
				ev = events.PartRemoved{Part: part, Positions: at}
			case 1:
				ev = events.PartFitted{Part: part, Positions: at, Counted: rapid.IntRange(0, 3).Draw(rt, "counted")}
			case 2:
				ev = events.DepthAccepted{Part: part, Positions: at, Stage: 1, Why: "x"}
			default:
				ev = events.PartPressed{Part: part, Positions: at, Stage: rapid.IntRange(0, 3).Draw(rt, "stage"), Read: d.yes("read"), Value: float64(d.n("value")) / 4, Unit: "mm"}
			}
			facts = append(facts, events.Record{Shop: "hill", Job: "j1", Terminal: "b1", N: uint32(i + 2), Time: int64(2000 + i), At: int64(2000 + i), Event: ev})
		}
		live, late := &Job{}, &Job{}
		for i := range facts {
			live.Apply(&facts[i])
			for _, part := range []events.Part{"seal", "plugs"} {
				v, _ := live.Pressed(part)
				want := map[events.Part]int{"seal": 1, "plugs": 5}[part]
				require.Equal(rt, want, v.Count.Cells)
				require.Equal(rt, want, v.Count.Open+v.Count.Part+v.Count.Done+v.Count.Doubtful+v.Count.Over)
				for k, s := range v.Spots {
					if !s.In {
						require.NotEqual(rt, stage.Done, v.Rows[0].Cells[k].State, "%s %s is out, and its depth stands", part, s.Name)
					}
				}
			}
		}
		for _, i := range rapid.Permutation(indices(len(facts))).Draw(rt, "arrival") {
			late.Apply(&facts[i])
		}
		for _, part := range []events.Part{"seal", "plugs"} {
			a, _ := live.Pressed(part)
			b, _ := late.Pressed(part)
			a.s, b.s = nil, nil
			require.Equal(rt, a, b)
		}
	})
}
