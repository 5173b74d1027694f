package engine

import (
	"countback/events"
	"countback/projections/plan"
)

// orderOf sorts the steps that put together: a step comes behind those that it
// waits for, and otherwise the plan's order holds. Steps that wait for each
// other keep the plan's order.
func orderOf(p *plan.Plan, before [][]plan.StepIndex) []plan.StepIndex {
	left := 0
	for i := range p.Steps {
		if !p.Steps[i].Section.Apart() {
			left++
		}
	}
	order := make([]plan.StepIndex, 0, left)
	placed := make([]bool, len(p.Steps))
	for len(order) < left {
		next := nextInOrder(p, before, placed)
		placed[next] = true
		order = append(order, next)
	}
	return order
}

// nextInOrder is the first step whose waits are all placed, or the first at
// all where none is.
func nextInOrder(p *plan.Plan, before [][]plan.StepIndex, placed []bool) plan.StepIndex {
	first := plan.StepIndex(plan.None)
	for i := range p.Steps {
		if placed[i] || p.Steps[i].Section.Apart() {
			continue
		}
		if first == plan.None {
			first = plan.StepIndex(i)
		}
		free := true
		for _, w := range before[i] {
			free = free && (placed[w] || w == plan.StepIndex(i))
		}
		if free {
			return plan.StepIndex(i)
		}
	}
	return first
}

// waitsFor lists the steps that put together and that a condition asks for in
// any case: named steps, and the only step that puts a part on or sets a mark.
func waitsFor(p *plan.Plan, c *plan.Condition, list []plan.StepIndex) []plan.StepIndex {
	add := func(steps []plan.StepIndex) {
		var together []plan.StepIndex
		for _, st := range steps {
			if !p.Steps[st].Section.Apart() {
				together = append(together, st)
			}
		}
		if len(together) == 1 {
			list = append(list, together[0])
		}
	}
	switch c.Op {
	case plan.AllOf:
		for i := range c.Kids {
			list = waitsFor(p, &c.Kids[i], list)
		}
	case plan.OfStep:
		add([]plan.StepIndex{c.Step})
	case plan.OfPart:
		if c.Is == plan.IsOn {
			add(p.Fitters(c.Part))
		}
	case plan.OfMark:
		add(p.Setters(c.Mark))
	}
	return list
}

// alikeKinds lists for every kind the others that may stand in for it.
func alikeKinds(kinds []events.Kind) [][]int32 {
	list := make([][]int32, len(kinds))
	for i, k := range kinds {
		sp, ok := specOf(k)
		if !ok {
			continue
		}
		for o, other := range kinds {
			if o != i && interchange(sp, other) {
				list[i] = append(list[i], int32(o))
			}
		}
	}
	return list
}

// singleKinds says of every kind whether all its places take only new pieces.
func singleKinds(l *layout) []bool {
	single := make([]bool, len(l.kinds))
	for i := range single {
		single[i] = true
	}
	for i := range l.seats {
		for _, m := range l.seats[i].members {
			single[m.kind] = single[m.kind] && m.single
		}
	}
	for i := range l.parts {
		single[l.parts[i].kind] = single[l.parts[i].kind] && l.parts[i].single
	}
	return single
}
