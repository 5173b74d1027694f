package acts

import (
	"cmp"
	"math/bits"
	"slices"
)

// search looks for the smallest sets of acts of one group.
//
// What a set of acts can explain is a maximum flow of pieces of shorts to overs
// through its links. The pieces of shorts and those of overs are two flows,
// since links of one entry explain one side only; the two can always be had
// together (Mendelsohn and Dulmage, 1958). As long as a flow is below what all acts together could
// do, each set that does better has an act across the cut, so only those are
// tried; a set that was tried through one act is not tried again through the
// next.
type search struct {
	*small
	base  [2]int32   // what not even all acts can explain, by side
	must  [2]uint16  // entries that every largest flow explains wholly
	gains [2][]int32 // the most that 1, 2, 3, … acts can explain together
	touch int        // the most entries that must be explained and one act can
	tried int        // sets looked at
	found []uint64   // sets that do what all acts could
	reach [MaxExact]uint16
}

// exact gives all answers with the fewest acts, the likeliest first; more says
// that there may be others, ok that no answer has fewer acts.
func (t *table) exact(g *group) (answers []Answer, more, ok bool) {
	s := newSearch(t.shrink(g))
	for k := s.least(); len(s.found) == 0; k++ {
		if s.dive(0, 0, 0, k, s.start()); s.tried > maxTried {
			break
		}
	}
	if len(s.found) == 0 {
		return nil, true, false
	}
	for _, set := range s.found {
		var acts []int32
		for m := set; m != 0; m &= m - 1 {
			acts = append(acts, g.acts[bits.TrailingZeros64(m)])
		}
		if a := t.answer(g, acts); !slices.ContainsFunc(answers, func(o Answer) bool { return same(o, a) }) {
			answers = append(answers, a)
		}
	}
	slices.SortStableFunc(answers, func(a, b Answer) int { return cmp.Compare(b.Likelihood, a.Likelihood) })
	return answers, s.tried > maxTried || len(s.found) >= MaxAnswers, true
}

// start is the state before any act: nothing explained.
func (s *search) start() (p [2]pour) {
	p[0].left, p[1].left = s.qty, s.qty
	return p
}

func newSearch(g *small) *search {
	s := &search{small: g}
	all := ^uint64(0)
	for side := range 2 {
		p := s.start()[side]
		s.base[side] = s.fill(&p, int8(side), all, &s.reach)
		spare := uint16(0)
		for e := range s.n {
			if int(s.side[e]) == side && p.left[e] > 0 {
				spare |= s.reach[e]
			}
			if int(s.side[e]) == side {
				s.must[side] |= 1 << e
			}
		}
		s.must[side] &^= spare
		s.gains[side] = s.gain(int8(side))
	}
	for _, a := range s.acts {
		s.touch = max(s.touch, bits.OnesCount16(s.touched(a)))
	}
	return s
}

// gain is the most that one, two, … acts can explain together: a flow through
// a set and one act more is at most the two flows.
func (s *search) gain(side int8) []int32 {
	total := int32(0)
	for e := range s.n {
		if s.side[e] == side {
			total += s.qty[e]
		}
	}
	each := make([]int32, len(s.acts))
	for i, a := range s.acts {
		p := s.start()[side]
		each[i] = total - s.fill(&p, side, a, &s.reach)
	}
	slices.SortFunc(each, func(a, b int32) int { return cmp.Compare(b, a) })
	for i := 1; i < len(each); i++ {
		each[i] += each[i-1]
	}
	return each
}

// touched are the entries that must be explained and that an act touches.
func (s *search) touched(links uint64) (e uint16) {
	for i := range s.n {
		if s.at[i]&links != 0 {
			e |= 1 << i
		}
	}
	return e & (s.must[0] | s.must[1])
}

// least is a number of acts below which nothing can do.
func (s *search) least() int {
	k := 0
	if s.touch > 0 {
		k = (bits.OnesCount16(s.must[0]|s.must[1]) + s.touch - 1) / s.touch
	}
	for side := range 2 {
		total := int32(0)
		for e := range s.n {
			if int(s.side[e]) == side {
				total += s.qty[e]
			}
		}
		for k < len(s.acts) && !s.enough(side, k, total-s.base[side]) {
			k++
		}
	}
	return k
}

// enough says whether k acts could explain so many pieces.
func (s *search) enough(side, k int, pieces int32) bool {
	return pieces <= 0 || k > 0 && s.gains[side][min(k, len(s.gains[side]))-1] >= pieces
}

// dive adds up to k acts to a set. Banned are acts whose sets were tried
// already.
func (s *search) dive(set, banned, allowed uint64, k int, p [2]pour) {
	s.tried++
	branch, best := uint64(0), 65
	done := true
	for side := range 2 {
		left := s.fill(&p[side], int8(side), allowed, &s.reach)
		if left == s.base[side] {
			continue
		}
		done = false
		if !s.enough(side, k, left-s.base[side]) {
			return
		}
		if b, n := s.cut(&p[side], side, set|banned, best); n < best {
			branch, best = b, n
		}
	}
	if done {
		s.found = append(s.found, set)
		return
	}
	if s.untouched(allowed) > k*s.touch {
		return
	}
	for ; branch != 0; branch &= branch - 1 {
		if s.tried > maxTried || len(s.found) >= MaxAnswers {
			return
		}
		i := bits.TrailingZeros64(branch)
		s.dive(set|1<<i, banned, allowed|s.acts[i], k-1, p)
		banned |= 1 << i
	}
}

// untouched is how many entries that must be explained no act of a set touches.
func (s *search) untouched(allowed uint64) int {
	return bits.OnesCount16((s.must[0] | s.must[1]) &^ s.touched(allowed))
}

// cut gives the fewest acts of which every better set has one: those with a
// link out of what can be reached from an entry with something left. If that
// entry need not be explained wholly it is all such entries together.
func (s *search) cut(p *pour, side int, not uint64, best int) (branch uint64, n int) {
	all := uint16(0)
	n = best
	for e := range s.n {
		if int(s.side[e]) != side || p.left[e] == 0 {
			continue
		}
		all |= s.reach[e]
		if s.reach[e]&s.mine(side)&^s.must[side] == 0 {
			if b := s.across(s.reach[e], side) &^ not; bits.OnesCount64(b) < n {
				branch, n = b, bits.OnesCount64(b)
			}
		}
	}
	if b := s.across(all, side) &^ not; bits.OnesCount64(b) < n {
		branch, n = b, bits.OnesCount64(b)
	}
	return branch, n
}

// mine are the entries of a side.
func (s *small) mine(side int) (e uint16) {
	for i := range s.n {
		if int(s.side[i]) == side {
			e |= 1 << i
		}
	}
	return e
}

// across are the acts with a link out of a set of entries.
func (s *search) across(reach uint16, side int) (acts uint64) {
	out, in := uint64(0), uint64(0)
	for r := reach; r != 0; r &= r - 1 {
		e := bits.TrailingZeros16(r)
		if int(s.side[e]) == side {
			out |= s.at[e]
		} else {
			in |= s.at[e]
		}
	}
	for i, a := range s.acts {
		if a&out&^in != 0 {
			acts |= 1 << i
		}
	}
	return acts
}
