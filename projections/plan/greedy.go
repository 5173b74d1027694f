package plan

import "slices"

// Greedy does every step of the sections that can be done, in the plan's
// order and again from the start, until none is left that can be done and is
// not. Optional steps are only taken when nothing else can be done. A step
// whose mark has fallen since is done again where the run would be stuck
// otherwise. It returns the steps in the order in which they were done, and
// those that could never be.
func (s *Present) Greedy(sections ...Section) (did, never []StepIndex) {
	g := greedy{s: s, times: make([]int, len(s.p.Steps))}
	for i := range s.p.Steps {
		for _, want := range sections {
			if s.p.Steps[i].Section == want {
				g.steps = append(g.steps, StepIndex(i))
			}
		}
	}
	for g.pass(g.fresh) || g.again() {
	}
	for _, i := range g.steps {
		if g.times[i] == 0 {
			never = append(never, i)
		}
	}
	return g.did, never
}

// maxRepeats is how often a step may be done again in one run: enough for
// every mark that one act of turning voids, and an end for marks that void
// each other.
const maxRepeats = 4

type greedy struct {
	s     *Present
	steps []StepIndex
	times []int
	did   []StepIndex
}

func (g *greedy) fresh(i StepIndex) bool { return g.times[i] == 0 && !g.s.p.Steps[i].Optional }

// again tries what a run that is stuck may still try: optional steps, and
// steps that set a mark that has fallen, where a step that is owed waits for
// just that.
func (g *greedy) again() bool {
	var asked []StepIndex
	for _, i := range g.steps {
		if g.fresh(i) && !g.s.IsDone(i) {
			asked = addBy(asked, g.s.CanDo(i))
		}
	}
	helps := func(i StepIndex) bool {
		first := g.times[i] == 0 && g.s.p.Steps[i].Optional
		fallen := g.times[i] > 0 && g.times[i] <= maxRepeats && len(g.s.p.Steps[i].Sets) > 0
		return (first || fallen) && slices.Contains(asked, i)
	}
	for _, i := range g.steps {
		if g.try(i, helps) {
			return true
		}
	}
	return false
}

// pass does all steps that may and can be done, once through.
func (g *greedy) pass(may func(StepIndex) bool) bool {
	some := false
	for _, i := range g.steps {
		some = g.try(i, may) || some
	}
	return some
}

func (g *greedy) try(i StepIndex, may func(StepIndex) bool) bool {
	if !may(i) || g.s.IsDone(i) || !g.s.Can(i) {
		return false
	}
	g.s.Do(i)
	g.times[i]++
	g.did = append(g.did, i)
	return true
}
