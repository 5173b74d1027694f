package engine

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
)

func askCams(after ...events.Step) ScopeAsk {
	return ScopeAsk{Goals: []string{"part cam-intake", "part cam-exhaust"}, After: after}
}

func useOf(w *ScopeWay, kind events.Kind) ScopeUse {
	for _, u := range w.Uses {
		if u.Kind == kind {
			return u
		}
	}
	return ScopeUse{}
}

// What is used up is here or to be bought; what a step needs anyway is promised
// to that step.
func TestScopeCountsWhatIsHere(t *testing.T) {
	c := newCrew(t)
	a, err := c.job.Scope(askCams())
	require.NoError(t, err)
	require.Equal(t, "Cam intake and Cam exhaust", a.Name)
	require.False(t, a.Holds)
	w := &a.Ways[0]
	require.Equal(t, "proved least", w.Verdict)
	require.Equal(t, 8, w.Pieces())
	require.Equal(t, 8, w.Buy())
	require.Equal(t, ScopeUse{Kind: "cam-cover-gasket", Name: "Cam cover gasket", Part: true, Used: 1, Buy: 1, Each: Money{Amount: 2150, Currency: "EUR"}, Priced: true}, useOf(w, "cam-cover-gasket"))
	require.NotEmpty(t, w.Again, "cams-on is to be done again")
	require.NotEmpty(t, w.Void)
	require.Greater(t, a.Ways[1].Pieces(), w.Pieces())

	c.told(events.HardwareReceived{From: "outside/supplier/fjord", To: "place/shelf", Lines: []events.Line{{Kind: "cam-cover-gasket", Qty: 1}}})
	a, err = c.job.Scope(askCams())
	require.NoError(t, err)
	require.Equal(t, 1, useOf(&a.Ways[0], "cam-cover-gasket").Here)
	require.Equal(t, 7, a.Ways[0].Buy())
}

// Early against late: the same question after a step that puts together costs
// what that step put in.
func TestScopeEarlyAgainstLate(t *testing.T) {
	c := coverOff(t)
	a, err := c.job.Scope(ScopeAsk{Goals: []string{"part cam-intake"}, After: []events.Step{"cam-cover-on"}})
	require.NoError(t, err)
	late := a.Ways[len(a.Ways)-1]
	require.Equal(t, []events.Step{"cam-cover-on"}, late.After)
	require.Greater(t, late.Pieces(), a.Ways[0].Pieces())
	rows := WayRows(a.Ways, a.Today)
	require.Equal(t, "steps there", rows[0].What)
	for _, r := range rows {
		require.Len(t, r.Cells, len(a.Ways), r.What)
	}
	for _, bad := range []ScopeAsk{{}, {Goals: []string{"part ghost"}}, {Goals: []string{"part block"}}, {Goals: []string{"mark two-turns"}},
		{Goals: []string{"part cam-intake"}, After: []events.Step{"ghost"}}, {Goals: []string{"hole oil-pan:99"}}} {
		_, err := c.job.Scope(bad)
		require.IsType(t, &Refusal{}, err, "%v", bad)
	}
	held, err := c.job.Scope(ScopeAsk{Goals: []string{"part front-cover"}})
	require.NoError(t, err)
	require.True(t, held.Holds)
	require.Empty(t, held.Ways)
}

// The planned finish moves by the work there and back, in days of work.
func TestScopeMovesTheFinish(t *testing.T) {
	c := &crew{t: t, job: &Job{}, name: "b2", who: "Marit", at: 1_747_000_000_000_000, tick: 60_000_000, bags: map[events.Joint]events.Code{}}
	c.told(c.ask(OpenJob{Engine: "Long", Plan: longPlan(20)}))
	ask := ScopeAsk{Goals: []string{"part p1"}}
	a, err := c.job.Scope(ask)
	require.NoError(t, err)
	require.Empty(t, a.Ways[0].Finish)
	c.told(events.StepPlanned{Step: "on1", Day: "2026-12-14"})
	a, err = c.job.Scope(ask)
	require.NoError(t, err)
	work := a.Ways[0].Minutes + a.Ways[0].BackMinutes
	last := events.Day("")
	for _, step := range c.plan().Steps {
		last = last.Later(c.job.PlannedStart(step.ID))
	}
	require.Equal(t, last.Plus(work/c.job.Limits().DayMinutes), a.Ways[0].Finish)
}

// What is away with a slip concerns the slip.
func TestScopeNamesTheSlip(t *testing.T) {
	c := newCrew(t)
	c.told(events.SentOut{Slip: "S2AAAAAA", Parts: []events.Part{"head"}, Shop: "Bakke"})
	a, err := c.job.Scope(ScopeAsk{Goals: []string{"part valves-intake"}})
	require.NoError(t, err)
	require.NotEmpty(t, a.Ways)
	require.Equal(t, []ScopeSlip{{"S2AAAAAA", "Slip S2AAAAAA to Bakke: Valves intake is away with it: ask them to do it, and write it on the slip"}}, a.Ways[0].Slips)
	a, err = c.job.Scope(ScopeAsk{Goals: []string{"part oil-pan"}})
	require.NoError(t, err)
	require.Empty(t, a.Ways, "the pan is off since the head is")
}

// A decision is a person's, with a reason, red until it is carried out, and
// replaced by the next one on the same thing.
func TestDecideScope(t *testing.T) {
	c := newCrew(t)
	ask := DecideScope{Goals: []string{"part cam-cover"}, Way: 1, By: "Marit", Why: "it leaks"}
	for name, bad := range map[string]func(*DecideScope){
		"no reason": func(d *DecideScope) { d.Why = "" }, "no badge": func(d *DecideScope) { d.By = "" },
		"no way 7": func(d *DecideScope) { d.Way = 7 }, "no part ghost": func(d *DecideScope) { d.Goals = []string{"part ghost"} },
	} {
		d := ask
		bad(&d)
		_, err := c.job.Decide(d)
		require.ErrorContains(t, err, name)
	}
	ev, err := c.job.Decide(ask)
	require.NoError(t, err)
	c.told(ev)
	require.Contains(t, redTexts(c), "Cam cover to come off after all")
	again, err := c.job.Decide(ask)
	require.NoError(t, err)
	require.Nil(t, again)
	next, ok := c.s().ScopeNext(c.s().ScopeChoices()[0])
	require.True(t, ok)
	require.Equal(t, ev.(events.ScopeDecided).Steps[0], next)
	for _, step := range ev.(events.ScopeDecided).Steps {
		c.do(step)
	}
	require.NotContains(t, redTexts(c), "to come off after all")
	require.NotZero(t, c.s().ScopeChoices()[0].Reached)

	c.told(events.ScopeDecided{Goals: []string{"part head"}, Steps: []events.Step{"head-off"}, Why: "smoke"})
	c.told(events.ScopeDecided{Goals: []string{"part head"}, Why: "the owner takes the risk"})
	require.NotContains(t, redTexts(c), "Head to come off after all")
	c.told(events.ScopeDecided{Goals: []string{"part ghost", ""}, Steps: []events.Step{"nothing"}})
	require.Contains(t, redTexts(c), "ghost and  to come off after all")
}

func redTexts(c *crew) string {
	var b strings.Builder
	for _, l := range c.job.Red() {
		b.WriteString(l.String() + "\n")
	}
	return b.String()
}

// longPlan is a plan of so many steps off and on, 80 of 100 parts with a joint of
// five fasteners, some single-use, with alternatives in 30 of 100 conditions.
func longPlan(steps int) string {
	r := rand.New(rand.NewPCG(7, uint64(steps)))
	var parts, joints, off, on strings.Builder
	fmt.Fprint(&parts, "plan: {id: long, family: Long, edition: 1}\nparts:\n  - {id: block, root: true}\n")
	n := steps / 2
	for i := 1; i <= n; i++ {
		reuse := ""
		if r.IntN(4) == 0 {
			reuse = ", reuse: new"
		}
		fmt.Fprintf(&parts, "  - {id: p%d, in: block%s}\n", i, reuse)
		fmt.Fprintf(&joints, "  - {id: j%d, holes: [{at: 1..5, in: block, clamps: [p%d], fastener: M8x1.25x30 8.8 flange, grip: 14, depth: 19%s}]}\n", i, i, reuse)
		fmt.Fprintf(&joints, "  - {id: k%d, holes: [{at: 1..3, in: block, clamps: [p%d], fastener: M6x1.0x20 8.8 flange, grip: 8, depth: 16}]}\n", i, i)
		when := ""
		if i < n {
			one := func() string { return fmt.Sprintf("{part: p%d, is: off}", i+1+r.IntN(min(n-i, 12))) }
			when = ", when: [" + one() + "]"
			if r.IntN(100) < 30 {
				when = ", when: [{any: [" + one() + ", " + one() + "]}]"
			}
		}
		fmt.Fprintf(&off, "    - {id: off%d, takes-out: {j%d: all, k%d: all}, removes: [p%d], minutes: %d%s}\n", i, i, i, i, 2+r.IntN(20), when)
	}
	for i := n; i >= 1; i-- {
		fmt.Fprintf(&on, "    - {id: on%d, fits: [p%d], fastens: {j%d: all, k%d: all}, minutes: 5}\n", i, i, i, i)
	}
	return parts.String() + "joints:\n" + joints.String() + "steps:\n  off:\n" + off.String() + "  on:\n" + on.String()
}

// BenchmarkScope asks what it takes for the deepest part to come off and to be
// back, on 100 steps, 100 joints and 400 fasteners, with what is here and what
// must be bought; and all of it with the other ways on the demo plan.
func BenchmarkScope(b *testing.B) {
	long := &crew{t: b, job: &Job{}}
	long.job.Load([]events.Record{{Shop: "s", Job: "j", Terminal: "b1", N: 1, Time: 1, At: 1, Event: events.JobOpened{Engine: "long", Plan: longPlan(100)}}})
	require.NotEmpty(b, long.job.State().Plan().Steps)
	b.Run("steps=100", func(b *testing.B) {
		againstFold(b, long, func() {
			a, err := long.job.Scope(ScopeAsk{Goals: []string{"part p1"}})
			require.NoError(b, err)
			require.True(b, a.Ways[0].Proved)
			viewSink += len(a.Ways)
		})
	})
	c := newCrew(b)
	b.Run("sorrel", func(b *testing.B) {
		againstFold(b, c, func() {
			a, err := c.job.Scope(askCams())
			require.NoError(b, err)
			viewSink += len(a.Ways)
		})
	})
}
