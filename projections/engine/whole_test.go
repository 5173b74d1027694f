package engine

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/projections/ledger"
)

// scrapOld scraps every old single-use piece that lies about.
func (c *crew) scrapOld() {
	s := c.s()
	for a := 1; a <= s.book.Accounts(); a++ {
		id := ledger.AccountID(a)
		if !usable(s.book.Class(id)) {
			continue
		}
		var old []events.Line
		for _, l := range s.contents(id) {
			if l.Cond != events.New && s.singleUse(l.Kind) {
				old = append(old, l)
			}
		}
		if len(old) > 0 {
			c.told(events.PiecesScrapped{From: s.book.Path(id), Lines: old})
		}
	}
}

func codes(lines []RedLine) []string {
	var list []string
	for _, l := range lines {
		list = append(list, l.Code)
	}
	return list
}

// TestSorrelGoesOut takes the whole engine apart, sends its head away, puts it
// together and signs it out.
func TestSorrelGoesOut(t *testing.T) {
	c := newCrew(t)
	c.takeApart()
	c.buy()
	c.build()
	require.Empty(t, c.job.Differences())
	require.Empty(t, c.job.Missing())
	fitted := 0
	for a := 1; a <= c.s().book.Accounts(); a++ {
		if c.s().book.Class(ledger.AccountID(a)) == ledger.Fitted {
			for _, l := range c.s().contents(ledger.AccountID(a)) {
				fitted += l.Qty
			}
		}
	}
	require.Equal(t, 543, fitted)
	for _, l := range c.job.Red() {
		require.Equal(t, RedOld, l.Code, "%s", l)
	}

	next, ok := c.job.NextAudit()
	require.True(t, ok)
	require.EqualValues(t, "ready-to-start", next)
	a, ok := c.job.Audit(next)
	require.True(t, ok)
	require.Empty(t, a.Red)
	require.Contains(t, codes(a.Carried), RedDue)
	require.Contains(t, codes(a.Carried), RedOld)
	require.Len(t, a.Hash, 64)
	again, _ := c.job.Audit(next)
	require.Equal(t, a, again)
	require.Contains(t, c.job.MayDo(events.Cranking), Blocker{"Audit Ready to start is not signed", "clear its red lines, then scan audit ready-to-start, SIGN"})
	require.Equal(t, NeedsTwo, c.refused(SignAudit{Point: next, Operator: "Marit"}).Code)
	require.Equal(t, NeedsTwo, c.refused(SignAudit{Point: next, Operator: "Marit", Second: "Marit"}).Code)
	c.told(c.ask(SignAudit{Point: next, Operator: "Marit", Second: "Ole"}))
	require.Equal(t, a.Hash, c.s().signature(next).Hash)

	require.Len(t, c.job.MayDo(events.Cranking), 2, "battery and fuel")
	c.live()
	require.Empty(t, c.job.MayDo(events.Cranking))
	for _, id := range []events.Step{"first-start", "run-in", "cold-check"} {
		require.Empty(t, c.job.Can(id), "%s", id)
		c.do(id)
	}
	require.NotNil(t, c.s().signature("ready-to-start"), "the first start takes no signature away")
	require.Equal(t, Conflict, c.refused(EndJob{How: events.Released}).Code)
	require.Equal(t, Due{"mount-bracket", []events.Hole{"1", "2", "3", "4"}, "torque 49 N.m after alignment in the vehicle", 2, "bracket"}, c.s().Dues()[0])
	for _, d := range c.s().Dues() { // what fell due later
		c.told(events.StageRecorded{Joint: d.Joint, Holes: d.Holes, Stage: d.Stage, Stages: d.Stage, What: d.What})
	}
	require.Empty(t, c.s().Dues())
	no := c.refused(SignAudit{Point: "released", Operator: "Marit", Second: "Ole"})
	require.Contains(t, no.Fact, "old single-use pieces")
	c.scrapOld()
	a, _ = c.job.Audit("released")
	require.Empty(t, a.Red, "%v", a.Red)
	require.Contains(t, a.Record, "After the record of ready-to-start, SHA-256 ")
	c.told(c.ask(SignAudit{Point: "released", Operator: "Marit", Second: "Ole"}))
	_, ok = c.job.NextAudit()
	require.False(t, ok)
	c.told(c.ask(EndJob{How: events.Released}))
	require.Equal(t, events.Released, c.s().Ended.How)
	require.Empty(t, c.job.Red())

	// every prefix gives the state that was live then, and a copy in any order the same
	copied := &Job{}
	copied.Load(c.recs)
	require.Equal(t, fingerprint(c.s()), fingerprint(copied.State()))
}
