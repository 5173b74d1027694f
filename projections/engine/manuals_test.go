package engine

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/projections/fastener/stage"
	"countback/projections/plan"
)

// manuals is a job whose plan is the tightening lists of public manuals.
func manuals(t testing.TB) *crew {
	src, err := os.ReadFile("../plan/testdata/manuals.yaml")
	require.NoError(t, err)
	require.False(t, plan.CheckSource("manuals.yaml", src).Broken(), "%s", plan.CheckSource("manuals.yaml", src))
	c := &crew{t: t, job: &Job{}, name: "b2", who: "Marit", at: 1_747_000_000_000_000, tick: 60_000_000, bags: map[events.Joint]events.Code{}}
	c.tell(events.Told, c.ask(OpenJob{Engine: "Bench", Plan: string(src)}))
	return c
}

// renewed takes the fasteners of a joint out and puts them in again.
func (c *crew) renewed(j events.Joint) {
	c.told(events.PiecesOut{Joint: j, All: true})
	c.told(events.PiecesFitted{Joint: j, All: true})
}

// turnedOn tells whatever stage is next, hole by hole, with a reading where one
// is wanted, until nothing is: the holes in the order in which they were turned.
func (c *crew) turnedOn(j events.Joint) []string {
	c.t.Helper()
	var order []string
	for range 100 {
		list := c.job.Tightened(j)
		require.Len(c.t, list, 1)
		if len(list[0].Next) == 0 {
			return order
		}
		x := list[0].Next[0]
		e := events.StageRecorded{Joint: j, Holes: []events.Hole{x.Hole}, Order: list[0].Order, Stage: x.Number, Stages: x.Of, What: x.What}
		if x.Kind == stage.Stretch {
			n, _ := c.job.NextStage(j, []events.Hole{x.Hole})
			least, most, _ := n.Range()
			e.Value, e.Unit, e.Read = (least+most)/2, "mm", true
		}
		c.told(e)
		order = append(order, x.Name)
	}
	return order
}

// The stage plans of public manuals, written as a plan and played by facts: each
// list goes through all its cells in its order and is finished then.
func TestListsOfPublicManuals(t *testing.T) {
	for _, row := range []struct {
		joint events.Joint
		cells int
		mark  events.Mark
		first []string // of the turns
	}{
		{"head-angles", 40, "", []string{"1", "2", "3", "4", "5", "6", "7", "8", "1"}},
		{"head-long", 26, "", []string{"1", "2", "3", "4", "5", "6", "1"}},
		{"rod-nuts", 12, "", []string{"1", "2", "1", "2"}},
		{"main-caps", 28, "scribed", []string{"1L", "1R", "1L", "1R"}},
		{"mains", 24, "tapped", []string{"1", "2", "3", "4", "5", "6", "7", "8", "1"}},
		{"rod-sixth", 4, "marked", []string{"1", "2", "1", "2"}},
		{"rods", 6, "", []string{"1", "2", "1", "2", "1", "2"}},
		{"head-steps", 16, "", []string{"9", "10", "5", "6", "9"}},
		{"rod-stretch", 4, "", []string{"1", "2", "1", "2"}},
		{"crankcase", 12, "", []string{"1", "2", "3", "4", "1"}},
	} {
		t.Run(string(row.joint), func(t *testing.T) {
			c := manuals(t)
			c.renewed(row.joint)
			order := []string{}
			if row.mark != "" {
				order = c.turnedOn(row.joint)
				require.Less(t, len(order), row.cells, "held up until the mark stands")
				c.told(events.MarkMade{Mark: row.mark})
			}
			order = append(order, c.turnedOn(row.joint)...)
			require.Len(t, order, row.cells)
			require.Equal(t, row.first, order[:len(row.first)])
			x := c.job.Tightened(row.joint)[0]
			require.True(t, x.Finished(), "%v", x.Owed)
			require.Equal(t, row.cells, x.Count.Done)
			for i := range c.s().seats {
				if c.plan().Joints[c.plan().Seats[i].Joint].ID == row.joint {
					require.Equal(t, plan.SeatFinished, c.s().now.Seat(plan.SeatIndex(i)))
				}
			}
		})
	}
}

// No nut again without the adjacent one: TM 9-2815-220-24 WP 0174.
func TestNeighboursComeLooseWithEachOther(t *testing.T) {
	c := manuals(t)
	c.renewed("crankcase")
	c.turnedOn("crankcase")
	c.told(events.PiecesLoosened{Joint: "crankcase", Holes: []events.Hole{"2"}})
	var owed []string
	for _, x := range c.job.Tightened("crankcase")[0].Owed {
		owed = append(owed, x.Name)
	}
	require.Equal(t, []string{"1", "2", "3", "1", "2", "3", "1", "2", "3"}, owed)
	ix, _ := c.plan().Hole("crankcase", "3")
	require.Equal(t, plan.SeatFilled, c.s().now.Seat(ix))
	require.Len(t, c.turnedOn("crankcase"), 9)
}

// A stretch beyond what the bolt bears is spent, and says so: the same manual.
func TestStretchBeyondItsMost(t *testing.T) {
	c := manuals(t)
	c.renewed("crankcase")
	read := func(hole events.Hole, inches float64) {
		c.told(events.StageRecorded{Joint: "crankcase", Holes: []events.Hole{hole}, Order: "crankcase", Stage: 3, Stages: 3, Value: inches, Unit: "in", Read: true})
	}
	for k := 1; k <= 2; k++ {
		c.told(events.StageRecorded{Joint: "crankcase", Order: "crankcase", Stage: k, Stages: 3})
	}
	read("1", .019)
	read("2", .023)
	read("3", .0241)
	d := c.job.Doubts("crankcase", nil)
	require.Len(t, d, 1)
	require.Equal(t, []events.Hole{"2", "3"}, d[0].Holes)
	require.True(t, d[0].Over)
	var texts []string
	for _, l := range c.job.Red() {
		if l.Code == RedStage {
			texts = append(texts, l.String())
		}
	}
	require.Len(t, texts, 2)
	require.Contains(t, texts[0], "not yet spent")
	require.Contains(t, texts[1], "replace it")
	no := c.refused(AcceptStage{Joint: "crankcase", Why: "looks fine"})
	require.Contains(t, no.Next, "LOOSE")
}
