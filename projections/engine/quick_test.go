package engine

import (
	"maps"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
	"countback/projections/plan"
)

// A fold of facts that were folded before goes by what was kept of them, and by
// quick ways where they say no more. It ends as the first fold did, whatever the
// facts were, and a second time as well.
func TestFoldingAgainEndsTheSame(t *testing.T) {
	t.Run("a job in the plan's order", func(t *testing.T) {
		facts := life(t, 3000)
		foldAgain(t, facts)
		j := &Job{}
		j.Load(facts)
		quick := 0
		for i := range j.meant {
			if j.meant[i].quick != slow {
				quick++
			}
		}
		require.Greater(t, quick, 2500, "of 3,000")
	})
	t.Run("what a plain job does not do", func(t *testing.T) {
		foldAgain(t, oddJob(t))
	})
	for _, file := range []string{"sorrel-i4-20", "bramble-t2-42"} {
		text, err := os.ReadFile("../../testdata/plans/" + file + ".yaml")
		require.NoError(t, err)
		t.Run(file, rapid.MakeCheck(func(t *rapid.T) {
			foldAgain(t, history(draw{t}, string(text), 60))
		}))
	}
}

// oddJob has what drawn facts seldom meet: parts presumed off and told later, a
// bag that nobody labelled, new bolts tightened by an angle, several pieces of a
// loan.
func oddJob(t testing.TB) []events.Record {
	p, err := plan.Parse("plan", []byte(sorrel(t)))
	require.NoError(t, err)
	j, ok := p.Joint("coils")
	require.True(t, ok)
	seats := p.Joints[j].Seats
	w := &writer{}
	bag, other := w.code(j), w.code(j+1)
	lines := w.lines(p, seats)
	w.add(events.Told, events.JobOpened{Engine: "Sorrel", Plan: sorrel(t)})
	w.add(events.Told, events.PartRemoved{Part: "oil-filter", To: "place/tray"})
	w.add(events.Told, events.PartRemoved{Part: "valves-intake"})
	w.add(events.Told, events.PartRemoved{Part: "buckets", To: "place/tray"})
	w.add(events.Told, events.PartRemoved{Part: "locks"})
	w.add(events.Told, events.LoanIn{Loan: "intake-port-plug", Count: 1})
	w.add(events.Told, events.LoanIn{Loan: "intake-port-plug", Count: 3})
	w.add(events.Told, events.LoanOut{Loan: "intake-port-plug", Count: 2})
	w.add(events.Told, events.BagOpened{Bag: other})
	w.add(events.Told, events.BagOpened{Bag: bag})
	w.add(events.Told, events.PiecesFitted{Joint: "coils", From: "bench/b2/coils"})
	w.add(events.CountedBlind, events.PiecesOut{Joint: "coils", To: events.Place("bag/" + bag), Lines: lines, All: true})
	fresh := slices.Clone(lines)
	for i := range fresh {
		fresh[i].Cond = events.New
	}
	w.add(events.Told, events.HardwareReceived{From: "outside/order", To: events.Place("bag/" + other), Lines: fresh})
	w.add(events.Told, events.PiecesFitted{Joint: "coils", From: events.Place("bag/" + other)})
	w.add(events.Told, events.StageRecorded{Joint: "coils", Stage: 1, Stages: 1, What: "angle 90 deg"})
	so := &Job{}
	so.Load(w.recs)
	never := slices.IndexFunc(so.State().Uncounted(), func(u Uncounted) bool { return u.Joint != "" })
	require.GreaterOrEqual(t, never, 0)
	presumed := so.State().Uncounted()[never].Joint // in again, and some of it out by number: still never counted
	j, _ = p.Joint(presumed)
	one := w.lines(p, p.Joints[j].Seats)[:1]
	one[0].Qty = 1
	w.add(events.Told, events.PiecesFitted{Joint: presumed})
	w.add(events.CountedBlind, events.PiecesOut{Joint: presumed, To: events.Place("bag/" + other), Lines: one})
	return w.recs
}

func foldAgain(t require.TestingT, facts []events.Record) {
	first, again := &Job{}, &Job{}
	first.Load(facts)
	again.Load(facts)
	want, lines := toldOf(first.State()), len(again.lineList)
	for range 2 {
		again.fold(-1)
		require.Len(t, again.lineList, lines, "what is kept does not grow with every fold")
		a, b := first.State(), again.State()
		require.Equal(t, want, toldOf(b))
		require.Equal(t, a.seats, b.seats)
		require.Equal(t, a.parts, b.parts)
		require.Equal(t, whole(a.bagList), whole(b.bagList))
		require.True(t, maps.EqualFunc(a.bags, b.bags, func(x, y *Bag) bool { return *x == *y }))
		require.True(t, maps.EqualFunc(a.loans, b.loans, func(x, y *LoanState) bool { return *x == *y }))
		require.Equal(t, whole(a.turns), whole(b.turns))
		require.Equal(t, whole(a.notes), whole(b.notes))
		require.Equal(t, whole(a.uncounted), whole(b.uncounted))
		require.Equal(t, whole(a.benches), whole(b.benches))
		require.Equal(t, a.dated, b.dated)
		require.True(t, a.now.Equal(b.now))
	}
}

// whole is a list, empty where it is none.
func whole[T any](list []T) []T { return append([]T{}, list...) }

// An event that has a quick way has these members and no others. Who adds one says
// in fact_names.go whether a fact that sets it may still go that way, and then here.
func TestQuickKnowsEveryMember(t *testing.T) {
	for _, row := range []struct {
		event   events.Event
		members string
	}{
		{events.PiecesOut{}, "Joint Holes Left To Lines All OutOfTurn Warm"},
		{events.PiecesFitted{}, "Joint Holes From Lines Trial All"},
		{events.Counted{}, "Place Lines All"},
		{events.StageRecorded{}, "Joint Holes Order Stage Stages What Edition Tool Value Unit Read"},
		{events.PartFitted{}, "Part Positions From Counted WayRound"},
		{events.PartRemoved{}, "Part Positions To Counted NoneCame"},
		{events.BagLabelled{}, "Bag Joint Part"},
		{events.BagOpened{}, "Bag"},
		{events.BagClosed{}, "Bag Lines"},
		{events.LoanIn{}, "Loan Count Where Lot"},
		{events.LoanOut{}, "Loan Count"},
		{events.MarkMade{}, "Mark"},
	} {
		typ := reflect.TypeOf(row.event)
		var members []string
		for i := range typ.NumField() {
			members = append(members, typ.Field(i).Name)
		}
		require.ElementsMatch(t, strings.Fields(row.members), members, typ.Name())
	}
}
