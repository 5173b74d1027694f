package engine

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/projections/ledger"
)

const coilBolt = events.Kind("M6x1.0x25 8.8 flange")

// past tells a fact that happened between two moments, in hours after the
// first fact of the crew.
func (c *crew) past(known events.Known, from, to float64, ev events.Event) Change {
	c.t.Helper()
	c.n++
	c.at = max(c.at, c.job.LatestAt()) + c.tick
	base := c.job.Facts()[0].At
	r := events.Record{Shop: "hill", Job: "4K7", Terminal: c.name, N: c.n, Time: c.at, At: c.at, Seen: c.job.Seen(), Operator: c.who, Known: known, Event: ev,
		From: base + int64(from*3.6e9), To: base + int64(to*3.6e9)}
	return c.job.Apply(&r)
}

// hours is a time in hours after the first fact.
func (c *crew) hours(at int64) float64 {
	return float64(at-c.job.Facts()[0].At) / 3.6e9
}

// A crew whose facts lie at the hours 0, 1, 2 ...: a bag of four coil bolts.
func lateCrew(t *testing.T) *crew {
	c := newCrew(t)
	c.tick = time.Hour.Microseconds()
	c.told(events.BagLabelled{Bag: "B2AAAAAA", Joint: "coils"})
	c.counted(events.PiecesOut{Joint: "coils", To: "bag/B2AAAAAA", All: true, Lines: []events.Line{{Kind: coilBolt, Qty: 4}}})
	return c
}

func countCoils(n int) events.Counted {
	return events.Counted{Place: "bag/B2AAAAAA", All: true, Lines: []events.Line{{Kind: coilBolt, Qty: n}}}
}

// Rule R66: a good count that was told late bounds a loss by when it can have
// been made at the earliest, a bad one by when it can have been made at the
// latest, and only hands that can have been at the place in between are named.
func TestAnIntervalBoundsALoss(t *testing.T) {
	c := lateCrew(t)
	at := func() float64 { return c.hours(c.job.LatestAt()) }
	last := at()
	move := events.PiecesMoved{From: "bag/B2AAAAAA", To: "place/shelf", Lines: []events.Line{{Kind: coilBolt, Qty: 1}}}
	back := events.PiecesMoved{From: "place/shelf", To: "bag/B2AAAAAA", Lines: []events.Line{{Kind: coilBolt, Qty: 1}}}
	c.told(move)
	c.told(back)
	// counted good between the two and told after both: the hand after it may be the one
	c.past(events.CountedOpen, last+0.5, last+2.5, countCoils(4))
	require.Zero(t, c.s().Book().Entries())
	c.told(move)
	c.told(back)
	c.past(events.CountedOpen, last+5.2, last+5.8, countCoils(3))
	require.Equal(t, 1, c.s().Book().Entries())
	from, to := c.s().LostBetween(1)
	require.InDelta(t, last+0.5, c.hours(from), 1e-6)
	require.InDelta(t, last+5.8, c.hours(to), 1e-6)
	d := c.job.Differences()[0]
	require.Contains(t, d.Interval, "counted right")
	require.Len(t, d.Hands, 4, "%v", d.Hands)
	w := c.job.Where("bag B2AAAAAA")
	told := w.History[len(w.History)-1]
	require.Contains(t, told.Text, ", between ")
	require.InDelta(t, last+5.8, c.hours(told.To), 1e-6)
	require.InDelta(t, last+5.2, c.hours(w.Seen), 1e-6, "seen when it happened, not when it was told")
	// a hand that was told after the loss and was there before it is named as well
	c.past(events.Reconstructed, last+3.1, last+3.2, events.PiecesMoved{From: "bag/B2AAAAAA", To: "place/wash", Lines: []events.Line{{Kind: coilBolt, Qty: 1}}})
	require.Len(t, c.job.Differences()[0].Hands, 5)
	// and one that was there before the good count is not
	c.past(events.Reconstructed, last+0.1, last+0.2, events.PiecesMoved{From: "bag/B2AAAAAA", To: "place/wash", Lines: []events.Line{{Kind: coilBolt, Qty: 1}}})
	require.Len(t, c.job.Differences()[0].Hands, 5)
}

// Rule R67: a count of a time after which the place was counted or handled sets
// nothing, and narrows the loss from whichever side it is.
func TestACountToldTooLateSetsNothing(t *testing.T) {
	for _, row := range []struct {
		what     string
		n        int
		from, to float64 // of the loss, after the count of the bag at 0 and the short one at 10
	}{
		{"all there: lost later", 4, 5, 10},
		{"one missing: lost before", 3, 0, 6},
		{"more than there can be: not lost before", 5, 5, 10},
	} {
		c := lateCrew(t)
		first := c.hours(c.job.LatestAt())
		for c.hours(c.at) < first+9 {
			c.told(events.BagOpened{Bag: "B2BBBBBB"})
		}
		c.counted(countCoils(3))
		short := c.hours(c.job.LatestAt())
		require.InDelta(t, first+10, short, 1e-6)
		c.past(events.CountedOpen, first+5, first+6, countCoils(row.n))
		require.Equal(t, 1, c.s().Book().Entries(), row.what)
		require.True(t, c.s().Overtaken(ledger.Fact(len(c.job.Facts()))), row.what)
		a, _ := c.s().Book().Lookup("bag/B2AAAAAA")
		require.EqualValues(t, 3, c.s().Book().Balance(a, ledger.OfKind(c.s().Book().Kind(coilBolt))), row.what)
		from, to := c.s().LostBetween(1)
		require.InDelta(t, first+row.from, c.hours(from), 1e-6, row.what)
		require.InDelta(t, first+row.to, c.hours(to), 1e-6, row.what)
	}
	// nothing was at the bag since: the count stands
	c := lateCrew(t)
	at := c.hours(c.at)
	c.past(events.CountedOpen, at+0.1, at+0.2, countCoils(3))
	require.False(t, c.s().Overtaken(ledger.Fact(len(c.job.Facts()))))
	require.Equal(t, 1, c.s().Book().Entries())
}

// A look that was told late clears what was missed before it happened, not all
// that was missed before it was told; a cavity that was closed while the piece
// went is no place to look.
func TestALookToldLate(t *testing.T) {
	c := lateCrew(t)
	start := c.hours(c.at)
	c.told(events.CavityOpened{Cavity: "sump"})
	c.counted(countCoils(3))
	sump, ok := c.plan().Cavity("sump")
	require.True(t, ok)
	en := entryOf(c, 1)
	require.Contains(t, c.s().couldBeIn(en), sump)
	c.past(events.Reconstructed, start+1.1, start+1.2, events.CavityLooked{Cavity: "sump"})
	require.False(t, c.s().cleared(sump, en.Shown), "looked into before it was missed")
	c.past(events.Reconstructed, start+2.5, start+2.9, events.CavityLooked{Cavity: "sump"})
	require.True(t, c.s().cleared(sump, en.Shown))
	// it was open only before the bag was counted right, as somebody says later
	c = lateCrew(t)
	start = c.hours(c.at)
	c.past(events.Reconstructed, start-0.9, start-0.8, events.CavityOpened{Cavity: "sump"})
	c.past(events.Reconstructed, start-0.7, start-0.6, events.CavityClosed{Cavity: "sump"})
	c.counted(countCoils(3))
	require.NotContains(t, c.s().couldBeIn(entryOf(c, 1)), sump)
}
