package plan

import (
	"fmt"
	"slices"
	"strings"
)

// runs takes the engine apart and puts it together, once for the default
// layouts, once for each other layout and once without anything optional, first as if nothing that was brought
// about were ever undone (what cannot be reached then can never be) and then
// in earnest.
func (c *checker) runs() {
	c.run(NewPresent(c.p))
	for v := range c.p.Variants {
		for o := range c.p.Variants[v].Options {
			if o != c.p.Variants[v].Default {
				s := NewPresent(c.p)
				s.SetVariant(VariantIndex(v), o)
				c.run(s)
			}
		}
	}
	bare, some := NewPresent(c.p), false
	for i := range c.p.Parts {
		if c.p.Parts[i].Optional {
			bare.SetAbsent(PartIndex(i), true)
			some = true
		}
	}
	if some {
		c.run(bare)
	}
}

func (c *checker) run(s *Present) {
	// The way together is checked from the ground even if the way apart was
	// blocked.
	for _, i := range c.way(s, "apart", Off, BenchApart) {
		s.Do(i)
	}
	c.way(s, "together", BenchTogether, On)
}

// way runs one direction and returns the steps that were owed and never done.
func (c *checker) way(s *Present, word string, sections ...Section) (owed []StepIndex) {
	r := newReach(s, sections)
	lost := c.unreached(r)
	c.explainLost(r, lost)
	did, never := s.Greedy(sections...)
	for _, i := range never {
		if !c.p.Steps[i].Optional && !s.IsDone(i) {
			owed = append(owed, i)
		}
	}
	if len(lost) == 0 { // else what is stuck in earnest follows from these
		c.stuck(s, owed, word, len(did))
	}
	return owed
}

func (c *checker) unreached(r *reach) []StepIndex {
	var lost []StepIndex
	for i := range c.p.Steps {
		if r.use[i] && r.ways[i] == nil {
			lost = append(lost, StepIndex(i))
		}
	}
	return lost
}

// stuck says what steps still wait for when nothing more can be done. Those
// that wait for nothing but other stuck steps are left out, unless all do:
// then the first speaks for them.
func (c *checker) stuck(s *Present, owed []StepIndex, word string, after int) {
	said := false
	for _, i := range owed {
		reasons := s.CanDo(i)
		follows := !slices.ContainsFunc(reasons, func(u Unmet) bool {
			return !slices.ContainsFunc(u.By, func(by StepIndex) bool { return slices.Contains(owed, by) })
		})
		if !follows {
			said = true
			c.stuckStep(i, reasons, word, after)
		}
	}
	if !said && len(owed) > 0 {
		c.stuckStep(owed[0], s.CanDo(owed[0]), word, after)
	}
}

func (c *checker) stuckStep(i StepIndex, reasons []Unmet, word string, after int) {
	if slices.ContainsFunc(c.faults, func(f Fault) bool { return f.Level == Broken && f.Line == c.p.Steps[i].Line }) {
		return // what is wrong with it has been said
	}
	code := CodeStuck
	var texts []string
	for _, u := range reasons {
		texts = append(texts, u.Text)
		if step := &c.p.Steps[i]; u.Cond.Op == OfLoan && u.Cond.Is == IsOut && (step.Turns || step.Cranks) {
			code = CodePinned
		}
	}
	c.fault(code, c.p.Steps[i].Line, fmt.Sprintf("step %s: it is never done when the engine comes %s, after %d steps: %s", c.step(i), word, after, strings.Join(texts, "; ")))
}

// edge is a demand of one unreached step that only other unreached steps, or
// none at all, could meet.
type edge struct {
	from StepIndex
	dem  *demand
	leaf *Condition
	to   []StepIndex
}

// explainLost reports why steps cannot be reached: a demand that no step
// meets, or steps that only hold each other up. Steps that merely wait for
// these are not reported.
func (c *checker) explainLost(r *reach, lost []StepIndex) {
	edges := map[StepIndex][]edge{}
	held := map[SeatIndex]bool{}
	for _, i := range lost {
		edges[i] = c.edges(r, i)
		for _, e := range edges[i] {
			if len(e.to) == 0 && (e.dem.why != whyTied || !held[e.dem.seat]) {
				c.nobody(e)
				held[e.dem.seat] = true
			}
		}
	}
	// Loops that share a step are one story: the first is told.
	seen := map[StepIndex]bool{}
	for _, i := range lost {
		loop := findLoop(edges, i)
		if loop == nil || slices.ContainsFunc(loop, func(e edge) bool { return seen[e.from] }) {
			continue
		}
		for _, e := range loop {
			seen[e.from] = true
		}
		c.loop(loop)
	}
}

// edges lists what an unreached step waits for in vain.
func (c *checker) edges(r *reach, i StepIndex) []edge {
	var out []edge
	for k := range r.dem[i] {
		d := &r.dem[i][k]
		if d.active != nil && !d.active(r.s) {
			continue
		}
		if _, ok := r.cost(&d.cond); !ok {
			out = append(out, c.vain(r, i, d, &d.cond)...)
		}
	}
	if step := &c.p.Steps[i]; step.Part != None && !c.p.Parts[step.Part].Root && !r.s.onBench(step) {
		if _, ok := r.bench(step); !ok {
			d := &demand{cond: partCond(step.Part, IsOff), why: whyBench, part: step.Part, seat: None}
			out = append(out, c.vain(r, i, d, &d.cond)...)
		}
	}
	return out
}

// vain descends to the leaves that cannot be met.
func (c *checker) vain(r *reach, i StepIndex, d *demand, cond *Condition) []edge {
	if _, ok := r.cost(cond); ok {
		return nil
	}
	var out []edge
	switch cond.Op {
	case AllOf, AnyOf:
		for k := range cond.Kids {
			out = append(out, c.vain(r, i, d, &cond.Kids[k])...)
		}
		return out
	case OfStep:
		to := []StepIndex{cond.Step}
		if !r.use[cond.Step] {
			to = nil
		}
		return []edge{{i, d, cond, to}}
	case OfCavity:
		if cond.Is == IsOpen {
			return c.vain(r, i, d, &c.p.Cavities[cond.Cavity].OpenWhen)
		}
	case OfSeats, OfSome:
		for _, seat := range cond.Seats {
			leaf := *cond
			leaf.Op, leaf.Seats = OfSeats, []SeatIndex{seat}
			if _, ok := r.cost(&leaf); !ok {
				out = append(out, edge{i, d, &leaf, c.usable(r, c.p.bringers(cond, seat))})
			}
		}
		return out
	}
	return []edge{{i, d, cond, c.usable(r, c.p.bringers(cond, None))}}
}

func (c *checker) usable(r *reach, steps []StepIndex) []StepIndex {
	var out []StepIndex
	for _, i := range steps {
		if r.use[i] {
			out = append(out, i)
		}
	}
	return out
}

// findLoop is the shortest loop of edges through a step, or nil.
func findLoop(edges map[StepIndex][]edge, start StepIndex) []edge {
	came := map[StepIndex]edge{}
	queue := []StepIndex{start}
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		for _, e := range edges[at] {
			for _, to := range e.to {
				if to == start {
					loop := []edge{e}
					for x := at; x != start; {
						loop = append(loop, came[x])
						x = came[x].from
					}
					slices.Reverse(loop)
					return loop
				}
				if _, ok := came[to]; !ok {
					came[to] = e
					queue = append(queue, to)
				}
			}
		}
	}
	return nil
}
