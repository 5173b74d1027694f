package engine

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/projections/plan"
)

// generated is the text of a large plan: a stack of parts, each held by one or
// two joints, each off in one step and on in another, the last off first on. 100
// steps, 80 joints and 400 fasteners are 50 parts with 80 joints of five holes.
func generated(steps, joints, holes int) string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	parts := steps / 2
	line("plan: {id: generated, family: Generated, edition: 1}")
	line("parts:\n  - {id: block, root: true}")
	for i := range parts {
		line("  - {id: p%d, in: block}", i)
	}
	line("joints:")
	kinds := []string{"M6x1.0x20 8.8 flange", "M6x1.0x25 8.8 flange", "M8x1.25x30 8.8 flange", "M8x1.25x45 8.8 flange", "M8x1.25x30 10.9 flange",
		"M10x1.5x50 8.8 flange", "M10x1.25x60 10.9 flange", "M12x1.25x65 8.8 flange"}
	of := make([][]string, parts)
	for j := range joints {
		of[j%parts] = append(of[j%parts], fmt.Sprintf("j%d: all", j))
		reuse := ""
		if j%7 == 0 {
			reuse = ", reuse: new"
		}
		line("  - {id: j%d, holes: [{at: 1..%d, in: block, clamps: [p%d], fastener: %s, grip: 14, depth: 19%s}]}", j, holes, j%parts, kinds[j%len(kinds)], reuse)
	}
	line("steps:\n  off:")
	for i := range parts {
		when := ""
		if i > 0 {
			when = fmt.Sprintf(", when: [off-%d]", i-1)
		}
		line("    - {id: off-%d, takes-out: {%s}, removes: [p%d], minutes: 5%s}", i, strings.Join(of[i], ", "), i, when)
	}
	line("  on:")
	for i := parts - 1; i >= 0; i-- {
		when := ""
		if i < parts-1 {
			when = fmt.Sprintf(", when: [on-%d]", i+1)
		}
		line("    - {id: on-%d, fits: [p%d], fastens: {%s}, minutes: 5%s}", i, i, strings.Join(of[i], ", "), when)
	}
	return b.String()
}

// generatedApart is such an engine apart, each joint counted into its own bag.
func generatedApart(tb testing.TB) *crew {
	c := &crew{t: tb, job: &Job{}, name: "b2", who: "Marit", at: 1_747_000_000_000_000, tick: 60_000_000, bags: map[events.Joint]events.Code{}}
	c.told(c.ask(OpenJob{Engine: "generated", Plan: generated(100, 80, 5)}))
	require.Len(tb, c.plan().Steps, 100)
	require.Len(tb, c.plan().Joints, 80)
	require.Len(tb, c.plan().Seats, 400)
	for i := range c.plan().Joints {
		c.countedBag(c.plan().Joints[i].ID, "", 0)
	}
	require.Equal(tb, plan.PartOff, c.s().Now().Part(plan.PartIndex(1)))
	return c
}

// All 80 bags of 400 fasteners were tipped into one dish, and one piece in
// twenty is gone.
func tippedOver(tb testing.TB) *crew {
	c := generatedApart(tb)
	for i := range c.plan().Joints {
		c.tip(c.bags[c.plan().Joints[i].ID])
	}
	lines := c.s().At(dish)
	for i := range lines {
		lines[i].Qty -= lines[i].Qty / 20
	}
	c.counted(events.Counted{Place: dish, Lines: lines, All: true})
	return c
}

func TestAWholeEngineIsSortedBack(t *testing.T) {
	c := tippedOver(t)
	so := c.job.Sort(dish, "b2")
	laid, lacks := 0, 0
	for _, p := range so.Into {
		for _, l := range p.Lines {
			laid += l.Qty
		}
	}
	for _, l := range so.Lacks {
		lacks += l.Qty
	}
	require.Equal(t, 400, laid+lacks)
	require.Empty(t, so.Stays)
}

func BenchmarkSort400Fasteners(b *testing.B) {
	c := tippedOver(b)
	againstFold(b, c, func() { viewSink += len(c.job.Sort(dish, "b2").Into) })
}

func BenchmarkWhoseOf400Fasteners(b *testing.B) {
	c := generatedApart(b)
	againstFold(b, c, func() { viewSink += len(c.job.Whose(mustMeasure("7.85x1.25x30")).List) })
}
