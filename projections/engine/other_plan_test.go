package engine

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/projections/plan"
)

// What must come off, slips, cores and the owner's things work for every part of
// an engine in inch sizes as well, with no name of the other plan in them.
func TestAnyPartOfAnyPlan(t *testing.T) {
	text, err := os.ReadFile("../../testdata/plans/bramble-t2-42.yaml")
	require.NoError(t, err)
	p, err := plan.Parse("bramble", text)
	require.NoError(t, err)
	ways, sent := 0, 0
	for i := range p.Parts {
		if p.Parts[i].Root || p.Parts[i].Stays {
			continue
		}
		id := p.Parts[i].ID
		c := &crew{t: t, job: &Job{}, name: "b2", who: "Marit", at: 1_747_000_000_000_000, tick: 60_000_000, bags: map[events.Joint]events.Code{}}
		c.told(c.ask(OpenJob{Engine: "Bramble", Plan: string(text)}))
		a, err := c.job.Scope(ScopeAsk{Goals: []string{noun("part", id)}})
		require.NoError(t, err, id)
		if len(a.Ways) == 0 {
			continue
		}
		ways++
		require.True(t, a.Ways[0].Proved, id)
		for _, step := range a.Ways[0].Steps {
			ix, ok := p.Step(step.Step)
			require.True(t, ok)
			require.True(t, c.s().Now().Can(ix), "%s: %s", id, step.Step)
			c.do(step.Step)
		}
		require.NotEqual(t, plan.PartOn, c.s().Now().Part(plan.PartIndex(i)), id)

		c.told(events.OwnerAsked{Part: id, Wish: events.WishShown})
		c.told(events.CoreAgreed{Part: id, Supplier: "fjord", Deposit: 100})
		if c.s().Now().Part(plan.PartIndex(i)) == plan.PartOff {
			sent++
			c.told(events.SentOut{Slip: "S2BBBBBB", Parts: []events.Part{id}, Shop: "Dahl"})
			v, ok := c.job.SlipNow("S2BBBBBB")
			require.True(t, ok)
			require.Equal(t, p.Parts[i].Count, slipLine(v, events.Kind(id)).Away, id)
			c.counted(events.Returned{Slip: "S2BBBBBB"})
			v, _ = c.job.SlipNow("S2BBBBBB")
			require.Equal(t, []events.Part{id}, v.Unlooked)
			for _, l := range v.Lines {
				require.Zero(t, l.Missing, "%s: %s", id, l.Kind)
			}
		}
		require.NoError(t, c.s().Book().Verify(), id)
	}
	require.Greater(t, ways, 10)
	require.Greater(t, sent, 5)
}
