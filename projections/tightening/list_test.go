package tightening

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/projections/plan"
)

func read(t testing.TB, file string) *plan.Plan {
	t.Helper()
	src, err := os.ReadFile(file)
	require.NoError(t, err)
	p, err := plan.Parse(file, src)
	require.NoError(t, err)
	return p
}

const (
	sorrelFile  = "../../testdata/plans/sorrel-i4-20.yaml"
	brambleFile = "../../testdata/plans/bramble-t2-42.yaml"
)

// listOf is the list of a joint.
func listOf(t testing.TB, p *plan.Plan, lists []List, joint string) *List {
	t.Helper()
	for i := range lists {
		for _, j := range lists[i].Joints {
			if string(p.Joints[j].ID) == joint {
				return &lists[i]
			}
		}
	}
	t.Fatalf("no list for %s", joint)
	return nil
}

func TestListsOfTheSorrel(t *testing.T) {
	p := read(t, sorrelFile)
	lists := Lists(p)
	head := listOf(t, p, lists, "head")
	require.Equal(t, []string{"1", "2", "3", "4", "5", "6", "7", "8", "9", "10"}, head.Names)
	require.Equal(t, []string{"10", "9", "8", "7", "6", "5", "4", "3", "2", "1"}, head.Loosen)
	require.Equal(t, "quarter turn, then half turn, then out", head.LoosenBy)
	require.Len(t, head.Editions, 2)
	require.Equal(t, "2, sheet 11", head.Editions[0].Label())
	require.Equal(t, 4, head.Edition(0).Most(), "the last one until a person chooses")
	require.Equal(t, 2, head.Edition(1).Most())
	require.Equal(t, "angle 90 deg", head.Edition(2).List.Stages[3].String())

	exhaust := listOf(t, p, lists, "exhaust")
	require.Equal(t, "exhaust-nuts", exhaust.ID, "a list about nuts before one about their studs")
	e := exhaust.Edition(0)
	require.Equal(t, 2, e.Now(0), "twice through")
	require.Equal(t, 1, e.Due(0))
	require.Equal(t, "cold after the first heat", e.List.Stages[2].Due)
	require.Equal(t, 3, e.Stage(0, 3))
	require.Equal(t, []int{1}, e.List.Stages[1].After, "the second pass waits for the first")

	bed := listOf(t, p, lists, "bedplate")
	require.Equal(t, 2, bed.Edition(0).Now(bed.Spot(bed.Seats[0])))
	require.Equal(t, "Bedplate 1, 2, 3, 4, 5, 6, 7, 8, 9, 10 finished", bed.Edition(0).List.Stages[1].Needs[0])
	require.Contains(t, bed.How, "inner from the middle")

	wheel := listOf(t, p, lists, "flywheel")
	require.True(t, wheel.Guided)
	require.Contains(t, wheel.How, "the plan says: star; opposite pairs, worked out from where the holes lie: guidance only")

	rods := 0
	for _, l := range lists {
		if l.ID == "rod-caps" {
			rods++
			require.Len(t, l.Joints, 1, "each rod by itself")
			require.Len(t, l.Seats, 2)
		}
	}
	require.Equal(t, 4, rods)
}

// Every hole that a list names is on exactly one order, in both demo plans, and
// the numbers of its stages have no gap.
func TestEveryHoleIsOnOneOrder(t *testing.T) {
	for _, file := range []string{sorrelFile, brambleFile} {
		p := read(t, file)
		seen := map[plan.SeatIndex]int{}
		for _, l := range Lists(p) {
			for spot, s := range l.Seats {
				seen[s]++
				for n := range l.Editions {
					e := &l.Editions[n]
					for k := 1; k <= e.Now(spot)+e.Due(spot); k++ {
						require.NotZero(t, e.Stage(spot, k), "%s %s %d", l.ID, l.Names[spot], k)
						require.Equal(t, k, e.Number(e.Stage(spot, k)))
					}
				}
			}
		}
		for i := range p.Tightening {
			if p.Tightening[i].Loosen {
				continue
			}
			for _, g := range p.Tightening[i].Groups {
				for _, s := range g.Holes {
					require.Equal(t, 1, seen[s], "%s %s", p.Tightening[i].ID, p.Seats[s].ID)
				}
			}
		}
	}
}

func TestBrambleStudsWithNuts(t *testing.T) {
	p := read(t, brambleFile)
	lists := Lists(p)
	require.Equal(t, "cylinder-nuts", listOf(t, p, lists, "cylinders").ID)
	require.Equal(t, []string{"1", "5", "3", "7", "2", "6", "4", "8"}, listOf(t, p, lists, "cylinders").Names)
	require.Len(t, listOf(t, p, lists, "rod-1-cap").Editions, 2)
}

// The lists about studs stand beside those about their nuts, each stud by itself.
func TestStudsOfTheSorrel(t *testing.T) {
	p := read(t, sorrelFile)
	studs := Studs(p)
	require.Equal(t, []string{"exhaust-studs", "intake-studs"}, []string{studs[0].ID, studs[1].ID})
	require.Len(t, studs[0].Seats, 9)
	require.Len(t, studs[0].Editions[0].List.Sets, 9)
	require.Equal(t, []string{"6", "7"}, studs[1].Names)
	require.Equal(t, "exhaust-nuts", listOf(t, p, Lists(p), "exhaust").ID)
	require.Empty(t, studs[0].How)
	b := read(t, brambleFile)
	require.Equal(t, "cylinder-studs", Studs(b)[0].ID)
	require.Equal(t, "cylinder-nuts", listOf(t, b, Lists(b), "cylinders").ID)
}

// What is read of parts that are pressed in.
func TestPressesOfTheSorrel(t *testing.T) {
	p := read(t, sorrelFile)
	list := Presses(p)
	require.Len(t, list, 2)
	by := map[string]Press{}
	for _, x := range list {
		by[x.ID] = x
	}
	plugs := by["core-plugs"]
	require.Len(t, plugs.Names, 2)
	require.Equal(t, 0.05, plugs.List.Stages[0].Band)
	require.Equal(t, [][]string{{"1"}, {"2"}}, plugs.List.Sets)
	require.Equal(t, -1, plugs.Spot("9"))
	require.True(t, plugs.Has(0, 1))
	require.False(t, plugs.Has(0, 2))
}
