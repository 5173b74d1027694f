package scope

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/projections/plan"
)

// drawn is a small plan drawn at random, as text: parts on and in each other,
// holes, gaskets that a joint's opening uses up, pins, a rag, marks that turns
// and removals void, a cavity with two openings, ways that are alternatives,
// and steps in both directions. Hardly any makes sense, and none need pass the
// check: whatever a plan may say, the answers must be right.
type drawn struct {
	r     *rand.Rand
	b     strings.Builder
	parts int
	host  map[int]string
	above int // conditions mostly name parts above this one
}

func (d *drawn) yes(percent int) bool { return d.r.IntN(100) < percent }

func (d *drawn) line(format string, args ...any) { fmt.Fprintf(&d.b, format+"\n", args...) }

// number is the number of a part, mostly above the one that is being written:
// then most of the plan can be done.
func (d *drawn) number() int {
	if d.above < d.parts && d.yes(85) {
		return d.above + 1 + d.r.IntN(d.parts-d.above)
	}
	return 1 + d.r.IntN(d.parts)
}

func (d *drawn) part() string { return fmt.Sprintf("p%d", d.number()) }

func drawPlan(r *rand.Rand, parts int) string {
	d := &drawn{r: r, parts: parts, host: map[int]string{}}
	d.line("plan: {id: drawn, family: Drawn, edition: 1}")
	d.line("parts:")
	d.line("  - {id: block, root: true}")
	for i := 1; i <= parts; i++ {
		d.drawPart(i)
	}
	d.line("joints:")
	for i := 1; i <= parts; i++ {
		d.drawJoint(i)
	}
	d.line("  - {id: bore, holes: [{at: 1, in: block, holds: nothing}]}")
	d.line("cavities:")
	d.line("  - {id: case, open-when: [{part: p%d, is: off}, {seats: {j%d: all}, some-are: empty}], fluid: {of: oil, amount: 1 l}}", parts, parts-1)
	d.line("marks:")
	for m := 1; m <= 2; m++ {
		d.drawMark(m)
	}
	d.line("loans:")
	d.line("  - {id: pin, pins: [%s], fills: {bore: [1]}, must-be-out-for: {stops: [turning, on1]}}", d.part())
	d.line("  - {id: rag, in: case, must-be-out-for: {stops: [%s]}}", []string{"turning", "on2", "off3", "{removal: p2}"}[r.IntN(4)])
	d.line("steps:")
	d.line("  off:")
	for i := 1; i <= parts; i++ {
		d.drawOff(i, fmt.Sprintf("off%d", i))
	}
	for n := range r.IntN(3) {
		d.drawOff(1+r.IntN(parts), fmt.Sprintf("other%d", n))
	}
	d.line("    - {id: turned, turns: true, sets: [m1]%s}", d.extras())
	if d.yes(50) {
		d.line("    - {id: drained, drains: [case], parks: {j1: all}}")
	}
	d.line("  on:")
	for i := 1; i <= parts; i++ {
		if d.yes(60) || i <= 2 {
			d.line("    - {id: on%d, fits: [p%d], fastens: {j%d: all}%s}", i, i, i, d.extras())
		}
	}
	d.line("    - {id: looked, sets: [m2]%s}", d.extras())
	if d.yes(40) {
		d.line("    - {id: filled, fills: [case]%s}", d.extras())
	}
	return d.b.String()
}

func (d *drawn) drawPart(i int) {
	var keys strings.Builder
	d.host[i] = "block"
	if i > 1 && d.yes(40) {
		d.host[i] = fmt.Sprintf("p%d", 1+d.r.IntN(i-1))
	}
	keys.WriteString(", in: " + d.host[i])
	if d.yes(40) {
		keys.WriteString(", reuse: new")
		if d.yes(50) {
			fmt.Fprintf(&keys, ", seals: j%d", 1+d.r.IntN(d.parts))
		}
	}
	if i < d.parts && d.yes(25) {
		fmt.Fprintf(&keys, ", under: [p%d]", i+1+d.r.IntN(d.parts-i))
	}
	d.line("  - {id: p%d%s}", i, keys.String())
}

func (d *drawn) drawJoint(i int) {
	clamps := fmt.Sprintf("p%d", i)
	if inner := fmt.Sprintf("p%d", i-1); d.yes(15) && i > 1 && d.host[i] != inner {
		clamps = inner + ", " + clamps
	}
	reuse := ""
	if d.yes(35) {
		reuse = ", reuse: new"
	}
	d.line("  - {id: j%d, holes: [{at: 1..%d, in: %s, clamps: [%s], fastener: M6x1.0x20 8.8 flange, grip: 8, depth: 16%s}]}", i, 1+d.r.IntN(2), d.host[i], clamps, reuse)
}

func (d *drawn) drawMark(m int) {
	var void []string
	if d.yes(60) {
		void = append(void, "turning")
	}
	if d.yes(60) {
		void = append(void, "{part: "+d.part()+", is: off}")
	}
	if m == 2 && d.yes(15) {
		void = append(void, "{mark: m1}")
	}
	needs := ""
	if d.yes(20) {
		needs = ", needs: [{part: " + d.part() + ", is: on}]"
	}
	if d.yes(30) {
		needs += ", needs-out: [pin]"
	}
	arrival := ""
	if d.yes(50) {
		arrival = ", at-arrival: stands"
	}
	d.line("  - {id: m%d%s%s, void-by: [%s]}", m, arrival, needs, strings.Join(void, ", "))
}

func (d *drawn) drawOff(i int, id string) {
	d.above = i
	d.line("    - {id: %s, takes-out: {j%d: all}, removes: [p%d]%s}", id, i, i, d.extras())
	d.above = 0
}

// extras is minutes, conditions and loans of a step.
func (d *drawn) extras() string {
	out := ""
	if d.yes(50) {
		out = fmt.Sprintf(", minutes: %d", 5*d.r.IntN(5))
	}
	var when []string
	for range d.r.IntN(4) {
		switch {
		case d.above == d.parts:
		case d.yes(40):
			when = append(when, fmt.Sprintf("{any: [%s, %s]}", d.condition(), d.condition()))
		case d.yes(50):
			when = append(when, d.condition())
		}
	}
	if when != nil {
		out += ", when: [" + strings.Join(when, ", ") + "]"
	}
	if d.yes(20) {
		out += ", loan-in: [" + []string{"pin", "rag"}[d.r.IntN(2)] + "]"
	}
	if d.yes(25) {
		out += ", loan-out: [" + []string{"pin", "rag"}[d.r.IntN(2)] + "]"
	}
	return out
}

func (d *drawn) condition() string {
	switch d.r.IntN(12) {
	case 0:
		return "{mark: m1}"
	case 1:
		return "{mark: m2}"
	case 2:
		return "{loan: pin, is: " + []string{"in", "out"}[d.r.IntN(2)] + "}"
	case 3:
		return fmt.Sprintf("{seats: {j%d: all}, are: %s}", d.number(), []string{"out", "out", "filled", "parked"}[d.r.IntN(4)])
	case 4:
		return "{cavity: case, is: " + []string{"open", "closed", "drained", "filled"}[d.r.IntN(4)] + "}"
	case 5:
		return fmt.Sprintf("off%d", d.number())
	}
	return "{part: " + d.part() + ", is: off}"
}

// parseDrawn is a drawn plan; what no plan may say is drawn again.
func parseDrawn(t testing.TB, r *rand.Rand, parts int) *plan.Plan {
	t.Helper()
	text := ""
	for range 20 {
		text = drawPlan(r, parts)
		if p, err := plan.Parse("drawn", []byte(text)); err == nil {
			return p
		}
	}
	_, err := plan.Parse("drawn", []byte(text))
	require.NoError(t, err, text)
	return nil
}

// drawGoal is something to ask for.
func drawGoal(p *plan.Plan, r *rand.Rand) plan.Condition {
	one := func() plan.Condition {
		switch r.IntN(6) {
		case 0:
			return SeatsOut(plan.SeatIndex(r.IntN(len(p.Seats))))
		case 1:
			return StepDone(plan.StepIndex(r.IntN(len(p.Steps))))
		case 2:
			return plan.Condition{Op: plan.OfMark, Mark: plan.MarkIndex(r.IntN(len(p.Marks)))}
		}
		return PartOff(plan.PartIndex(1 + r.IntN(len(p.Parts)-1)))
	}
	switch r.IntN(5) {
	case 0:
		return All(one(), one())
	case 1:
		return plan.Condition{Op: plan.AnyOf, Kids: []plan.Condition{one(), one()}}
	}
	return one()
}
