package engine

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
)

// drawnPlan is a plan that looks like no engine in particular: 50 parts that
// come off one behind the other and go on in turn, so 100 steps; 80 joints with
// five fasteners each, 400 in all, of 40 sizes, a third of them single-use; a
// kit with all of these.
func drawnPlan(seed uint64) string {
	r := rand.New(rand.NewPCG(seed, 100))
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	reuse := func() string { return []string{"", "", ", reuse: new"}[r.IntN(3)] }
	const parts, joints = 50, 80
	line("plan: {id: drawn, family: Drawn, edition: 1}\nparts:\n  - {id: block, root: true}")
	for i := 1; i <= parts; i++ {
		line("  - {id: p%d, in: block%s}", i, reuse())
	}
	line("joints:")
	var kit []string
	of := map[int][]string{}
	for j := 1; j <= joints; j++ {
		part, size, single := (j-1)%parts+1, fmt.Sprintf("M%dx1.25x%d 8.8 flange", 8, 20+2*r.IntN(40)), reuse()
		line("  - {id: j%d, holes: [{at: 1..5, in: block, clamps: [p%d], fastener: %s, grip: 10, depth: 200, thread-in: cast iron%s}]}", j, part, size, single)
		of[part] = append(of[part], fmt.Sprintf("j%d: all", j))
		if single != "" && len(kit) < 15 {
			kit = append(kit, fmt.Sprintf("      - {piece: %s, count: 6, surplus-expected: 1}", size))
		}
	}
	before := func(i int) string {
		if i == 1 {
			return ""
		}
		return fmt.Sprintf(", when: [{part: p%d, is: %%s}]", i-1-r.IntN(min(3, i-1)))
	}
	line("steps:\n  off:")
	when := make([]string, parts+1)
	for i := 1; i <= parts; i++ {
		when[i] = before(i)
		takes := strings.Join(of[i], ", ")
		line("    - {id: off-%d, takes-out: {%s}, removes: [p%d], minutes: %d}", i, takes, i, 5+r.IntN(60))
	}
	line("  on:")
	for i := 1; i <= parts; i++ {
		w := when[i]
		if w != "" {
			w = fmt.Sprintf(w, "on")
		}
		line("    - {id: on-%d, fits: [p%d], fastens: {%s}, minutes: %d%s}", i, i, strings.Join(of[i], ", "), 5+r.IntN(60), w)
	}
	line("kits:\n  - id: set\n    lines:\n%s", strings.Join(kit, "\n"))
	return b.String()
}

// drawnCrew has such an engine apart, nothing new bought, half of what it needs
// on order with several suppliers, some promised, some steps planned.
func drawnCrew(t testing.TB, seed uint64) *crew {
	c := &crew{t: t, job: &Job{}, name: "b2", who: "Marit", at: morning, tick: 1_000_000, bags: map[events.Joint]events.Code{}}
	c.told(events.JobOpened{Engine: "drawn", Plan: drawnPlan(seed)})
	require.Len(t, c.plan().Steps, 100)
	require.Len(t, c.plan().Joints, 80)
	require.Len(t, c.plan().Seats, 400)
	c.takeApart()
	for i := range 10 {
		c.told(events.LeadTimeSet{Supplier: "s" + itoa(i), Days: 2 + i})
	}
	n := 0
	for _, g := range c.job.Buy().Groups {
		for i, l := range g.Lines {
			if i%2 == 0 {
				c.order("o"+itoa(n%10), events.Day("2026-12-01").Plus(n%30), events.Line{Kind: l.Kind, Qty: l.Buy})
				n++
			}
		}
	}
	for i := 5; i <= 50; i += 5 {
		c.told(events.StepPlanned{Step: events.Step("on-" + itoa(i)), Day: events.Day("2026-12-10").Plus(i / 5)})
	}
	c.clock()
	return c
}

func TestDrawnPlansAreAnswered(t *testing.T) {
	for seed := range uint64(5) {
		c := drawnCrew(t, seed)
		list := c.job.Buy()
		need, ordered := 0, 0
		for _, g := range list.Groups {
			for _, l := range g.Lines {
				need += l.Need
				ordered += l.Ordered
			}
		}
		require.Greater(t, need, 50)
		require.Greater(t, ordered, need/4)
		require.Less(t, ordered, need)
		blocked, unknown := 0, 0
		for _, n := range c.job.WhatNow() {
			if len(n.Blockers) > 0 {
				blocked++
			}
			if !n.Earliest.Known {
				unknown++
			}
		}
		require.Greater(t, blocked, 20)
		require.Positive(t, unknown, "half of it is not on order")
	}
}

// The target is 5,000 us for each, on a plan of 100 steps, 80 joints and 400
// fasteners.
func BenchmarkWhatNowOfADrawnPlan(b *testing.B) {
	c := drawnCrew(b, 1)
	againstFold(b, c, func() { viewSink += len(c.job.WhatNow()) })
}

func BenchmarkBuyListOfADrawnPlan(b *testing.B) {
	c := drawnCrew(b, 1)
	againstFold(b, c, func() { viewSink += len(c.job.Buy().Groups) })
}

func BenchmarkBuyList(b *testing.B) {
	c := newCrew(b)
	c.takeApart()
	againstFold(b, c, func() { viewSink += len(c.job.Buy().Groups) })
}
