package engine

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
	"countback/projections/plan"
)

// tightMakers tell what can befall a list of the Sorrel: stages in and out of
// order, with and without a reading, by other hands, loosened, out and in.
var tightJoints = map[events.Joint]struct {
	order string
	holes []events.Hole
}{
	"head":        {"head", []events.Hole{"1", "2", "3", "10"}},
	"exhaust":     {"exhaust-nuts", []events.Hole{"1", "2", "9"}},
	"front-cover": {"cover", []events.Hole{"1", "2", "3", "4"}},
	"rod-1-cap":   {"rod-caps", []events.Hole{"1", "2"}},
	"phasers":     {"phasers", []events.Hole{"I", "E"}},
}

var tightNames = []events.Joint{"head", "exhaust", "front-cover", "rod-1-cap", "phasers"}

func tightFact(d draw) events.Event {
	j := pick(d, tightNames, "joint")
	x := tightJoints[j]
	var holes []events.Hole
	if d.yes("some") {
		holes = []events.Hole{pick(d, x.holes, "hole"), pick(d, x.holes, "hole")}
	}
	n := rapid.IntRange(1, 5).Draw(d.T, "stage")
	switch rapid.IntRange(0, 11).Draw(d.T, "what") {
	case 0:
		return events.PiecesOut{Joint: j, Holes: holes, All: true}
	case 1, 2:
		return events.PiecesFitted{Joint: j, Holes: holes, All: true}
	case 3:
		return events.PiecesLoosened{Joint: j, Holes: holes}
	case 4:
		return events.StageRestarted{Joint: j, Holes: holes, Order: x.order, Stage: n}
	case 5:
		return events.StageAccepted{Joint: j, Holes: holes, Stage: n, Why: "seen"}
	case 6:
		return events.StageRecorded{Joint: j, Holes: holes, Order: x.order, Stage: n, Stages: 4, Read: true, Value: float64(d.n("value") * 5), Unit: pick(d, []string{"N.m", "deg", "lbf.ft", "mm", ""}, "unit")}
	case 7:
		return events.EditionChosen{Order: x.order, Choice: rapid.IntRange(0, 3).Draw(d.T, "choice"), Signed: "Ole", Why: "newer"}
	case 8:
		return events.PiecesParked{Joint: j, Holes: holes}
	case 9:
		return events.StageRecorded{Joint: j, Holes: holes, Stage: n, Stages: 4, What: "torque 10 N.m"}
	}
	return events.StageRecorded{Joint: j, Holes: holes, Order: x.order, Stage: n, Stages: 4, What: "torque 40 N.m"}
}

func tightHistory(d draw, text string) []events.Record {
	facts := []events.Record{{Shop: "hill", Job: "j1", Terminal: "b1", N: 1, Time: 1000, At: 1000, Event: events.JobOpened{Engine: "Sorrel", Plan: text}}}
	at := int64(1000)
	for i := range rapid.IntRange(1, 30).Draw(d.T, "facts") {
		at += int64(rapid.SampledFrom([]int{1, 60, 3600}).Draw(d.T, "seconds")) * 1_000_000
		facts = append(facts, events.Record{Shop: "hill", Job: "j1", Terminal: "b1", N: uint32(i + 2), Time: at, At: at,
			Operator: pick(d, []events.Badge{"Marit", "Ole", ""}, "who"), Event: tightFact(d)})
	}
	return facts
}

// soundTight holds the count of the fold against the matrix of every list: the
// same holes are finished, and no cell is lost.
func soundTight(t require.TestingT, s *State) {
	for li := range s.tight.lists {
		l, ed := s.listOf(int32(li)), s.edition(int32(li))
		if _, ok := tightJoints[s.lay.plan.Joints[l.Joints[0]].ID]; !ok {
			continue
		}
		fresh := *s // a matrix from nothing, and not the one that is kept
		fresh.tight.lists = append([]listState(nil), s.tight.lists...)
		fresh.tight.lists[li].m = nil
		m := fresh.matrix(int32(li))
		cells := 0
		for n := range ed.List.Stages {
			cells += len(ed.Spots(n + 1))
		}
		count := m.Count()
		require.Equal(t, cells, count.Cells, l.ID)
		require.Equal(t, cells, count.Open+count.Part+count.Done+count.Doubtful+count.Over, l.ID)
		for spot, ix := range l.Seats {
			if at, _ := s.listAt(ix); at != int32(li) || !s.holdsMain(ix) || s.seats[ix].parked {
				continue
			}
			require.Equal(t, doneUpTo(m, l, ed, spot), int(s.seats[ix].stages), "%s %s, hard %v", l.ID, l.Names[spot], s.tight.lists[li].hard)
			if s.seats[ix].in == s.lay.seats[ix].full && s.now.Seat(ix) >= plan.SeatFilled {
				require.Equal(t, int(s.seats[ix].stages) >= ed.Now(spot), s.now.Seat(ix) == plan.SeatFinished, "%s %s", l.ID, l.Names[spot])
			}
		}
	}
}

// Rules R48 to R52: the count that the fold keeps and the matrix of each list
// give the same answer after every fact, live, folded again and in any order of
// arrival, and the matrix never loses a cell.
func TestCountAndMatrixAgree(t *testing.T) {
	text := sorrel(t)
	rapid.Check(t, func(rt *rapid.T) {
		facts := tightHistory(draw{rt}, text)
		live := &Job{}
		for i := range facts {
			live.Apply(&facts[i])
			soundTight(rt, live.State())
		}
		late := &Job{}
		for _, i := range rapid.Permutation(indices(len(facts))).Draw(rt, "arrival") {
			late.Apply(&facts[i])
		}
		soundTight(rt, late.State())
		for _, j := range tightNames {
			a, b := live.Tightened(j), late.Tightened(j)
			for i := range a {
				a[i].s, b[i].s = nil, nil
			}
			require.Equal(rt, a, b)
		}
	})
}

// An order for which two sources disagree is red at the audit from the first
// piece that was put in here, until somebody chooses; one that nobody touched is
// not, and one list over several joints is one line.
func TestEditionsThatNobodyChoseAreRed(t *testing.T) {
	c := newCrew(t)
	red := func() (list []RedLine) {
		a, _ := c.job.Audit("ready-to-start")
		for _, l := range a.Red {
			if l.Code == RedEdition {
				list = append(list, l)
			}
		}
		return list
	}
	require.Empty(t, red(), "as the engine came")
	c.takeApart()
	require.Empty(t, red(), "out, and nothing in")
	for _, j := range []events.Joint{"rod-1-cap", "rod-2-cap", "head"} {
		c.told(events.PiecesFitted{Joint: j, All: true})
	}
	list := red()
	require.Len(t, list, 2)
	require.Equal(t, "Head bolts: its editions disagree, and nobody has chosen: 1 (2, sheet 11) or 2 (3, sheet 11 revised)", list[0].Text)
	require.Equal(t, "scan joint head, EDITION", list[0].Scan)
	c.told(c.ask(ChooseEdition{Joint: "head", Choice: 2, Signed: "Marit", Why: "the newer sheet"}))
	require.Len(t, red(), 1)
	c.told(c.ask(ChooseEdition{Joint: "rod-2-cap", Choice: 1, Signed: "Marit", Why: "by angle"}))
	require.Empty(t, red())
	c.told(events.EditionChosen{Order: "head", Choice: 7})
	require.Empty(t, red(), "a choice of what the plan does not have is none, and takes none away")
}

// Where the plan gives no pause the shop's counts, whenever it is set; where the
// plan gives one the shop's does not.
func TestTheShopsPause(t *testing.T) {
	const text = `plan: {id: lid, family: Lid, edition: 1}
parts: [{id: box, root: true}, {id: lid, in: box}]
joints:
  - {id: lid, holes: [{at: 1..2, in: box, clamps: [lid], fastener: M6x1.0x20 8.8 flange}]}
steps:
  "off": [{id: lid-off, takes-out: {lid: all}, removes: [lid]}]
  "on": [{id: lid-on, fits: [lid], fastens: {lid: all}}]
tightening: [{id: lid, seats: {lid: all}, order: [1, 2], %s stages: [{torque: 5}, {angle: 90}]}]
`
	for _, row := range []struct {
		name, plan string
		limits     []Limits
		broken     bool
		pause      time.Duration
		planned    bool
	}{
		{"the usual one", "", nil, true, 30 * time.Minute, false},
		{"an hour by the shop", "", []Limits{{AnglePause: time.Hour}}, false, time.Hour, false},
		{"none is too long", "", []Limits{{}}, false, 0, false},
		{"set again to less", "", []Limits{{}, {AnglePause: 20 * time.Minute}}, true, 20 * time.Minute, false},
		{"ten minutes by the plan", "pause: 10,", []Limits{{AnglePause: time.Hour}}, true, 10 * time.Minute, true},
		{"two hours by the plan", "pause: 120,", []Limits{{AnglePause: time.Minute}}, false, 2 * time.Hour, true},
	} {
		t.Run(row.name, func(t *testing.T) {
			c := crewOn(t, fmt.Sprintf(text, row.plan))
			c.told(events.PiecesOut{Joint: "lid", All: true})
			c.told(events.PiecesFitted{Joint: "lid", All: true})
			c.told(events.StageRecorded{Joint: "lid", Order: "lid", Stage: 1, Stages: 2, What: "torque 5 N.m"})
			c.told(events.StageRecorded{Joint: "lid", Holes: []events.Hole{"1"}, Order: "lid", Stage: 2, Stages: 2, What: "angle 90 deg"})
			c.minutes(40)
			c.told(events.StageRecorded{Joint: "lid", Holes: []events.Hole{"2"}, Order: "lid", Stage: 2, Stages: 2, What: "angle 90 deg"})
			for _, l := range row.limits {
				c.job.Use(l)
			}
			require.Equal(t, row.broken, hasCode(c.job, RedStage))
			soundTight(t, c.s())
			v := c.job.Tightened("lid")[0]
			require.Equal(t, row.pause, v.Pause)
			require.Equal(t, row.planned, v.Planned)
			require.Equal(t, !row.broken, v.Finished())
		})
	}
}
