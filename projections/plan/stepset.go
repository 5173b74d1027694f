package plan

import (
	"math/bits"
	"slices"
)

// stepSet is a set of steps.
type stepSet []uint64

func (a stepSet) len() int {
	n := 0
	for _, w := range a {
		n += bits.OnesCount64(w)
	}
	return n
}

func (a stepSet) with(b stepSet) stepSet {
	out := slices.Clone(a)
	for i := range b {
		out[i] |= b[i]
	}
	return out
}

func (a stepSet) list() []StepIndex {
	var out []StepIndex
	for w, word := range a {
		for ; word != 0; word &= word - 1 {
			out = append(out, StepIndex(w*64+bits.TrailingZeros64(word)))
		}
	}
	return out
}

func setOf(steps []StepIndex, of int) stepSet {
	set := make(stepSet, (of+63)/64)
	for _, i := range steps {
		set[i/64] |= 1 << (i % 64)
	}
	return set
}
