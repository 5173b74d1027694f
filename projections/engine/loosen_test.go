package engine

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
	"countback/projections/plan"
)

func TestLoosenedInTurn(t *testing.T) {
	c := newCrew(t)
	for _, row := range []struct {
		joint events.Joint
		holes []events.Hole
		want  string
	}{
		{"head", []events.Hole{"10"}, ""},
		{"head", []events.Hole{"10", "9", "8"}, ""},
		{"head", []events.Hole{"9", "10"}, "Head bolts: the plan loosens 10 before 9"},
		{"head", []events.Hole{"1"}, "Head bolts: the plan loosens 10, 9, 8, 7, 6, 5, 4, 3 and 2 before 1"},
		{"head", nil, ""},                            // told as a whole
		{"head", []events.Hole{"77"}, ""},            // no such hole
		{"front-cover", []events.Hole{"1", "9"}, ""}, // the plan orders nothing there
		{"no-such", []events.Hole{"1"}, ""},
	} {
		require.Equal(t, row.want, c.job.OutOfTurn(row.joint, row.holes), "%s %v", row.joint, row.holes)
	}
	c.told(events.PiecesLoosened{Joint: "head", Holes: []events.Hole{"10", "9"}})
	require.Empty(t, c.job.OutOfTurn("head", []events.Hole{"8"}))
	require.Empty(t, c.job.OutOfTurn("head", []events.Hole{"9"}), "what is loose has no turn")
	c.told(events.PiecesLoosened{Joint: "head", Holes: []events.Hole{"1"}, OutOfTurn: true})
	require.Equal(t, "Head bolts 1 loosened, otherwise than the plan orders it", c.s().Tells(c.job.Facts()[2].Event))
	require.Equal(t, "Head bolts: the plan loosens 8 before 7", c.job.OutOfTurn("head", []events.Hole{"7"}))
}

// Whatever was loosened before, what goes on in the plan's order is never asked
// about, and its reverse always is.
func TestThePlansOrderIsNeverAskedAbout(t *testing.T) {
	text := sorrel(t)
	rapid.Check(t, func(rt *rapid.T) {
		j := &Job{}
		j.Apply(&events.Record{Shop: "hill", Job: "j1", Terminal: "b1", N: 1, Time: 1000, At: 1000, Event: events.JobOpened{Engine: "Sorrel", Plan: text}})
		l := j.Tightened("head")[0].Loosen
		var left []events.Hole
		for _, n := range l {
			if rapid.IntRange(0, 2).Draw(rt, "loose") > 0 {
				left = append(left, events.Hole(n))
				continue
			}
			n := uint32(len(j.Facts()) + 1)
			j.Apply(&events.Record{Shop: "hill", Job: "j1", Terminal: "b1", N: n, Time: int64(1000 + n), At: int64(1000 + n), Event: events.PiecesLoosened{Joint: "head", Holes: []events.Hole{events.Hole(l[len(l)-1-len(left)])}}})
		}
		var tight []events.Hole
		for _, n := range l {
			ix, _ := j.State().lay.plan.Hole("head", events.Hole(n))
			if j.State().now.Seat(ix) == plan.SeatFinished {
				tight = append(tight, events.Hole(n))
			}
		}
		require.Empty(rt, j.OutOfTurn("head", tight))
		for i := range tight {
			require.Empty(rt, j.OutOfTurn("head", tight[:i]))
			if i > 0 {
				require.NotEmpty(rt, j.OutOfTurn("head", []events.Hole{tight[i]}))
				require.NotEmpty(rt, j.OutOfTurn("head", []events.Hole{tight[i], tight[i-1]}))
			}
		}
	})
}

func TestLoosenedOnlyCold(t *testing.T) {
	c := newCrew(t)
	require.Empty(t, c.job.WarmLoosening("head", nil), "it never ran here")
	c.told(events.EngineStarted{})
	require.Contains(t, c.job.WarmLoosening("head", nil), "Head bolts: by the plan loosened only while the engine is cold; it is warm since 11 May")
	require.Contains(t, texts(c.job.Can("head-off")), "it is warm since 11 May 21:")
	require.Contains(t, texts(c.job.Can("head-off")), "let it cool, and scan COLD")
	require.Empty(t, c.job.WarmLoosening("front-cover", nil))
	require.Empty(t, c.job.WarmLoosening("no-such", nil))
	require.NotEmpty(t, c.job.WarmLoosening("head", []events.Hole{"3"}))
	c.told(events.PiecesLoosened{Joint: "head", Holes: []events.Hole{"3"}, Warm: true})
	require.Empty(t, c.job.WarmLoosening("head", []events.Hole{"3"}), "it is loose")
	c.told(events.EngineStopped{})
	require.Empty(t, c.job.WarmLoosening("head", nil), "it did not get warm")
	c.told(events.EngineStarted{})
	c.told(events.EngineStopped{Warm: true})
	require.NotEmpty(t, c.job.WarmLoosening("head", nil))
	c.told(events.EngineCooled{})
	require.Empty(t, c.job.WarmLoosening("head", nil))
	require.NotContains(t, texts(c.job.Can("head-off")), "warm")
}
