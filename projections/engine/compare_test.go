package engine

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
)

func askPair(t *testing.T, c *crew, a, b string) (x, y *ScopeWay) {
	t.Helper()
	got, err := c.job.Scope(ScopeAsk{Goals: []string{a}, Against: []string{b}})
	require.NoError(t, err)
	require.Len(t, got.Ways, 2, "the least way of each and nothing else")
	require.Equal(t, []string{a}, got.Ways[0].Goals)
	require.Equal(t, []string{b}, got.Ways[1].Goals)
	return &got.Ways[0], &got.Ways[1]
}

// Two repairs beside each other are just what either is by itself.
func TestCompareIsEachByItself(t *testing.T) {
	c := newCrew(t)
	x, y := askPair(t, c, "part cam-intake", "part head")
	for _, w := range []*ScopeWay{x, y} {
		a, err := c.job.Scope(ScopeAsk{Goals: w.Goals})
		require.NoError(t, err)
		require.Equal(t, a.Ways[0], *w)
	}
	for name, bad := range map[string]ScopeAsk{
		"against itself":    {Goals: []string{"part head"}, Against: []string{"part head"}},
		"no part ghost":     {Goals: []string{"part head"}, Against: []string{"part ghost"}},
		"never comes off":   {Goals: []string{"part head"}, Against: []string{"part block"}},
		"nothing was named": {Goals: []string{"part head"}, Against: []string{}},
	} {
		_, err := c.job.Scope(bad)
		require.ErrorContains(t, err, name)
	}
	c.told(events.PartRemoved{Part: "cam-cover"})
	_, err := c.job.Scope(ScopeAsk{Goals: []string{"part head"}, Against: []string{"part cam-cover"}})
	require.ErrorContains(t, err, "is off already")
}

// Worked by hand from the plan's prices: a cam comes off for 21.50 + 4 x 3.20 +
// 0.85 + 6.40 + 17.90 = 59.45 EUR of pieces. The plan gives no minutes, so every
// step there and back is unknown work.
func TestCompareCountsMoney(t *testing.T) {
	c := newCrew(t)
	x, y := askPair(t, c, "part cam-intake", "part head")
	require.Equal(t, ScopeMoney{Pieces: Money{Amount: 5945, Currency: "EUR"}, Work: Money{Amount: 0, Currency: "EUR"}, NoTime: len(x.Steps) + len(x.Back), NoRate: true}, x.Money)
	require.Equal(t, "59.45 EUR or more", x.Money.SumWords())
	known := 0
	for _, u := range y.Uses {
		if u.Priced {
			known += u.Used
		}
	}
	require.Equal(t, y.Pieces()-known, y.Money.NoPrice)
	require.Positive(t, y.Money.NoPrice)

	l := UsualLimits()
	l.Currency = "USD" // nobody has said what a euro is worth
	c.job.Use(l)
	x, _ = askPair(t, c, "part cam-intake", "part head")
	require.Equal(t, ScopeMoney{Pieces: Money{Amount: 0, Currency: "USD"}, Work: Money{Amount: 0, Currency: "USD"}, NoPrice: 8, NoTime: len(x.Steps) + len(x.Back), NoRate: true}, x.Money)
	require.Equal(t, "unknown", x.Money.SumWords())
	l.Currency, l.Hour = "EUR", Money{Amount: 8500, Currency: "EUR"}
	c.job.Use(l)
	x, _ = askPair(t, c, "part cam-intake", "part head")
	require.Equal(t, Money{Amount: 0, Currency: "EUR"}, x.Money.Work, "no minutes are given")
	sum, all := x.Money.Sum()
	require.Equal(t, Money{Amount: 5945, Currency: "EUR"}, sum)
	require.False(t, all)
}

// Where the plan gives minutes work is the rate by the hour, to the cent.
func TestCompareCountsWork(t *testing.T) {
	c := &crew{t: t, job: &Job{}, name: "b2", who: "Marit", at: 1_747_000_000_000_000, tick: 60_000_000, bags: map[events.Joint]events.Code{}}
	c.told(c.ask(OpenJob{Engine: "Long", Plan: longPlan(20)}))
	l := UsualLimits()
	l.Hour = Money{Amount: 8500, Currency: "EUR"}
	c.job.Use(l)
	a, err := c.job.Scope(ScopeAsk{Goals: []string{"part p1"}})
	require.NoError(t, err)
	w := &a.Ways[0]
	minutes := 0
	for _, list := range [][]ScopeStep{w.Steps, w.Back} {
		for _, s := range list {
			minutes += s.Minutes
		}
	}
	require.Positive(t, minutes)
	require.Equal(t, (8500*int64(minutes)+30)/60, w.Money.Work.Amount)
	require.Zero(t, w.Money.NoTime)
	require.Equal(t, w.Pieces(), w.Money.NoPrice, "this plan has no prices")
}

// The engine is back when what is to be bought has come, what is away is back,
// and the work is done; what nobody has said is listed.
func TestCompareSaysWhenItIsBack(t *testing.T) {
	c := newCrew(t)
	today := c.job.Today()
	x, _ := askPair(t, c, "part cam-intake", "part head")
	require.Equal(t, today, x.Ready)
	require.Len(t, x.NoDay, 5, "five kinds, and nobody said how long any takes")
	c.told(events.LeadTimeSet{Supplier: "Fjord", Kind: "cam-cover-gasket", Days: 6})
	x, _ = askPair(t, c, "part cam-intake", "part head")
	require.Equal(t, c.job.Today().Plus(6), x.Ready)
	require.Len(t, x.NoDay, 4)

	c = newCrew(t)
	c.told(events.SentOut{Slip: "S2AAAAAA", Parts: []events.Part{"head"}, Shop: "Bakke"})
	a, err := c.job.Scope(ScopeAsk{Goals: []string{"part valves-intake"}})
	require.NoError(t, err)
	require.Contains(t, a.Ways[0].NoDay, "slip S2AAAAAA: no day promised")
	day := c.job.Today().Plus(20)
	c.told(events.Promised{On: "slip S2AAAAAA", Day: day})
	a, err = c.job.Scope(ScopeAsk{Goals: []string{"part valves-intake"}})
	require.NoError(t, err)
	require.NotContains(t, a.Ways[0].NoDay, "slip S2AAAAAA: no day promised")
	require.False(t, a.Ways[0].Ready < day)
}

func risksOf(w *ScopeWay, why Risk) []ScopeRisk {
	var out []ScopeRisk
	for _, r := range w.Risks {
		if r.Why == why {
			out = append(out, r)
		}
	}
	return out
}

// Every risk has its fact, and goes with what it follows from.
func TestCompareListsRisks(t *testing.T) {
	c := newCrew(t)
	x, y := askPair(t, c, "part exhaust-manifold", "part head")
	require.Empty(t, risksOf(x, RiskCase))
	require.NotEmpty(t, risksOf(x, RiskSingle))
	require.NotEmpty(t, risksOf(y, RiskYield), "the head is tightened by angle")
	require.NotEmpty(t, risksOf(y, RiskSeal))
	for _, r := range y.Risks {
		require.Empty(t, r.Fact, "%s: as the engine came", r.Text)
	}

	c.told(events.FastenerBroken{Joint: "exhaust", Hole: "3", Case: "C2AAAAAA", Stub: "flush"})
	broke := c.s().Cases()[0].Since
	x, y = askPair(t, c, "part exhaust-manifold", "part head")
	for _, w := range []*ScopeWay{x, y} {
		open := risksOf(w, RiskCase)
		require.Len(t, open, 1)
		require.Equal(t, "hole exhaust:3", open[0].On)
		require.Equal(t, c.s().Fact(broke).ID(), open[0].Fact)
	}
	c.told(events.ExtractionTried{Case: "C2AAAAAA", Method: "weld-nut", Minutes: 20})
	c.told(events.ExtractionTried{Case: "C2AAAAAA", Method: "drill", Minutes: 30, Moved: true})
	c.told(events.StudExtracted{Case: "C2AAAAAA", Hole: events.HoleInsert})
	c.told(events.FindingRaised{Finding: "f1", On: "part head", What: "corroded round the water jacket"})
	c.told(events.HoldSet{Hold: "h1", On: "joint exhaust", Why: "waits for the owner"})
	x, y = askPair(t, c, "part exhaust-manifold", "part head")
	require.Empty(t, risksOf(x, RiskCase))
	require.Contains(t, risksOf(x, RiskBroken)[0].Text, "and took 2 tries")
	require.Empty(t, risksOf(x, RiskFinding), "the head stays where it is")
	require.Contains(t, risksOf(y, RiskFinding)[0].Text, "corroded round the water jacket, finding f1")
	require.Len(t, risksOf(x, RiskHold), 1)
	c.told(events.HoldReleased{Hold: "h1"})
	c.told(events.FindingDone{Finding: "f1"})
	x, y = askPair(t, c, "part exhaust-manifold", "part head")
	require.Empty(t, risksOf(x, RiskHold))
	require.Empty(t, risksOf(y, RiskFinding))
}

// A decision between two names both, and replaces what was decided on either.
func TestDecideBetweenTwo(t *testing.T) {
	c := newCrew(t)
	decide := func(way int, why string) events.ScopeDecided {
		ev, err := c.job.Decide(DecideScope{Goals: []string{"part cam-intake"}, Against: []string{"part head"}, Way: way, By: "Marit", Why: why})
		require.NoError(t, err)
		require.NotNil(t, ev)
		c.told(ev)
		return ev.(events.ScopeDecided)
	}
	first := decide(1, "the lobe is all that is wrong")
	require.Equal(t, []string{"part head"}, first.Beside)
	require.Len(t, first.Against, 1)
	require.Contains(t, first.Against[0], "Head, now: ")
	require.Contains(t, redTexts(c), "Cam intake to come off after all")

	second := decide(2, "the valves leak too")
	require.Equal(t, []string{"part head"}, second.Goals)
	require.Equal(t, []string{"part cam-intake"}, second.Beside)
	require.NotContains(t, redTexts(c), "Cam intake to come off after all", "it was not chosen")
	require.Contains(t, redTexts(c), "Head to come off after all")

	none := decide(0, "the owner takes the risk")
	require.Empty(t, none.Steps)
	require.NotContains(t, redTexts(c), "to come off after all")
	require.Equal(t, "Cam intake and Head stay as they are, decided, the owner takes the risk", c.s().Tells(none))
	_, err := c.job.Decide(DecideScope{Goals: []string{"part cam-intake"}, Against: []string{"part head"}, Way: 3, By: "Marit", Why: "x"})
	require.ErrorContains(t, err, "there is no way 3")
}

// Whatever was told, two repairs can be set beside each other, and what is said
// of them holds together: every piece has a price or is counted as unknown, every
// risk is about something of the plan and its fact is one of the job, and nobody
// is back before today.
func TestCompareOfAnyHistory(t *testing.T) {
	text := sorrel(t)
	rapid.Check(t, func(r *rapid.T) {
		j := &Job{}
		j.Load(history(draw{r}, text, 12))
		goals := []string{"part cam-intake", "part exhaust-manifold", "part head", "joint exhaust", "hole oil-pan:3", "step pan-off"}
		ask := ScopeAsk{Goals: []string{rapid.SampledFrom(goals).Draw(r, "goal")}, Against: []string{rapid.SampledFrom(goals).Draw(r, "against")}}
		a, err := j.Scope(ask)
		if err != nil {
			require.IsType(r, &Refusal{}, err)
			return
		}
		s := j.State()
		for i := range a.Ways {
			w := &a.Ways[i]
			known, sum := 0, int64(0)
			for _, u := range w.Uses {
				require.Equal(r, u.Used, u.Here+u.Buy)
				if u.Priced {
					known += u.Used
					sum += int64(u.Used) * u.Each.Amount
				}
			}
			require.Equal(r, w.Pieces(), known+w.Money.NoPrice)
			require.Equal(r, sum, w.Money.Pieces.Amount)
			require.False(r, w.Ready < a.Today)
			for _, x := range w.Risks {
				require.NotEmpty(r, x.Text)
				require.NotEqual(r, x.On, s.nounWords(x.On), "%s is not of the plan", x.On)
				if x.Fact.N > 0 {
					require.True(r, slices.ContainsFunc(s.job.facts, func(rec events.Record) bool { return rec.ID() == x.Fact }))
				}
			}
		}
	})
}
