package engine

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
)

func TestRusts(t *testing.T) {
	for m, want := range map[string]bool{"cast iron": true, "Steel": true, "stainless steel": false, "aluminium": false, "": false, "iron liners": true} {
		require.Equal(t, want, rusts(m), m)
	}
}

const aDay = 24 * 3_600_000_000

func agedOf(j *Job, code string) []Aged {
	var list []Aged
	for _, a := range j.Ageing() {
		if a.Code == code {
			list = append(list, a)
		}
	}
	return list
}

func TestBareIronIsAskedFor(t *testing.T) {
	c := newCrew(t)
	c.told(events.PlanAmended{Op: "alter", Section: "parts", ID: "flywheel", Text: "{material: steel}", Why: "it is"})
	c.countedBag("flywheel", "", 0)
	require.Empty(t, c.job.Ageing())
	c.job.Clock(c.at + 4*aDay)
	l := agedOf(c.job, AgedIron)
	require.Len(t, l, 1)
	require.Equal(t, 4, l[0].Days)
	require.True(t, l[0].Due)

	c.told(events.PiecesMoved{From: c.s().PartAt("flywheel"), To: "place/shelf-3", Lines: []events.Line{{Kind: "flywheel", Qty: 1}}})
	c.told(events.Preserved{Place: "place/shelf-3", With: "oil"})
	require.Empty(t, agedOf(c.job, AgedIron))
	require.Len(t, agedOf(c.job, AgedKept), 1, "all on the shelf was oiled")
	c.job.Clock(c.at + 43*aDay)
	require.True(t, agedOf(c.job, AgedOil)[0].Due)
	lim := UsualLimits()
	lim.Oiled = 0
	c.job.Use(lim)
	require.Empty(t, agedOf(c.job, AgedOil), "this shop never asks")

	// on again and off again, the old oil counts no more
	c.told(events.PartFitted{Part: "flywheel"})
	require.Empty(t, c.job.Ageing())
	c.told(events.PartRemoved{Part: "flywheel"})
	c.job.Clock(c.at + 5*aDay)
	require.Len(t, agedOf(c.job, AgedIron), 1)
}

func TestLotsHaveTheirDay(t *testing.T) {
	c := newCrew(t)
	day := events.DayOf(c.at)
	c.told(events.LotDated{Lot: "blue-5", Expires: day})
	require.Empty(t, c.s().LotLate("blue-5", day), "on its last day it is good")
	require.NotEmpty(t, c.s().LotLate("blue-5", day.Plus(1)))
	require.Empty(t, c.s().LotLate("blue-9", day.Plus(1)), "nobody said how long it is good")
	c.told(events.SealantApplied{Joint: "oil-pan", Lot: "blue-5"})
	require.Empty(t, agedOf(c.job, AgedUsed))
	c.at += 2 * aDay
	c.told(events.SealantApplied{Joint: "oil-pan", Lot: "blue-5"})
	require.Len(t, agedOf(c.job, AgedUsed), 1)
	require.True(t, agedOf(c.job, AgedLot)[0].Due)
}

func TestDesiccantDriesForSoLong(t *testing.T) {
	c := newCrew(t)
	c.told(events.LoanIn{Loan: "desiccant", Count: 1, Where: "cylinders"})
	require.False(t, agedOf(c.job, AgedDesiccant)[0].Due)
	c.job.Clock(c.at + 57*aDay)
	require.True(t, agedOf(c.job, AgedDesiccant)[0].Due)
	c.told(events.LoanOut{Loan: "desiccant", Count: 1})
	require.Empty(t, agedOf(c.job, AgedDesiccant))
}
