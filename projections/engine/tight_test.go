package engine

import (
	"testing"

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
