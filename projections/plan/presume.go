package plan

import "slices"

// PresumedBefore is the steps that must have happened for a part to be off,
// given the present state, in an order in which they can happen; the step that
// takes it off is the last. Of alternatives one that already holds is taken,
// else the one with the fewest steps. Nothing is presumed where the part is
// off already. ok is false where no steps of the plan lead there; the steps
// then are those that were found on the way.
func (s *Present) PresumedBefore(i PartIndex) (steps []StepIndex, ok bool) {
	return s.Way(partCond(i, IsOff), Off, BenchApart)
}

// maxRounds is how often Way looks again because a step undid what another
// had brought about: a turn of the crank voids where it stood.
const maxRounds = 6

// Way is a short way from the present state to one in which the goal holds,
// by steps of the given sections (all where none is given): a backward closure
// over what each step demands. It is no proof that none is shorter.
func (s *Present) Way(goal Condition, sections ...Section) (steps []StepIndex, ok bool) {
	now := s.Clone()
	for range maxRounds {
		if goal.Eval(now) {
			return steps, true
		}
		set, found := newReach(now, sections).cost(&goal)
		if !found || set.len() == 0 {
			return steps, false
		}
		did := now.Clone().inOrder(set)
		steps = append(steps, now.pruned(did, goal)...)
	}
	return steps, goal.Eval(now)
}

// pruned does the steps less those that the goal turns out not to need: a way
// through a bore where the cover comes off anyway. Where the steps do not lead
// to the goal they are all done.
func (s *Present) pruned(steps []StepIndex, goal Condition) []StepIndex {
	for n := len(steps) - 1; n >= 0; n-- {
		fewer := slices.Delete(slices.Clone(steps), n, n+1)
		try := s.Clone()
		if did := try.inOrder(setOf(fewer, len(s.p.Steps))); goal.Eval(try) {
			steps = did
			n = min(n, len(steps))
		}
	}
	return s.inOrder(setOf(steps, len(s.p.Steps)))
}

// inOrder does the steps of a set in the plan's order as far as they can be
// done, and returns them as they were done.
func (s *Present) inOrder(set stepSet) []StepIndex {
	var did []StepIndex
	left := set.list()
	for again := true; again; {
		again = false
		for n, i := range left {
			if !s.IsDone(i) && s.Can(i) {
				s.Do(i)
				did = append(did, i)
				left = slices.Delete(left, n, n+1)
				again = true
				break
			}
		}
	}
	return did
}
