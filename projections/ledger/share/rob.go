package share

import "slices"

// robs lists the steps that hold what a need could use, or what would do for
// those who hold it, and so on: with one piece more for the need one of them
// would go short.
func (f *flow) robs(need int32) (steps []int32) {
	f.spread(need, func(int32) bool { return false })
	own := f.needs[need].Step
	for i := range f.needs {
		if f.seen(int32(i)) && f.needs[i].Step != own {
			steps = append(steps, f.needs[i].Step)
		}
	}
	slices.Sort(steps)
	return slices.Compact(steps)
}

// spread goes along all chains from a need, whatever they cost, the shortest
// first, until it comes to a supply that will do; -1 if it comes to none.
func (f *flow) spread(need int32, will func(supply int32) bool) int32 {
	n := int32(len(f.needs))
	f.begin()
	f.note(need, -1)
	for head := 0; head < len(f.popped); head++ {
		v := f.popped[head]
		if v < n {
			for i := f.first[v]; i < f.first[v+1]; i++ {
				if a := &f.arcs[i]; f.may(a) {
					f.note(n+a.supply, i)
				}
			}
			continue
		}
		if will(v - n) {
			return v - n
		}
		for _, i := range f.users[f.used[v-n]:f.used[v-n+1]] {
			if f.on[i] > 0 {
				f.note(f.arcs[i].need, i)
			}
		}
	}
	return -1
}

func (s *search) note(v, via int32) {
	if !s.seen(v) {
		s.mark[v], s.via[v] = s.round, via
		s.popped = append(s.popped, v)
	}
}

// Either lists the pairs of steps that could each have all their pieces, but
// not both, the others keeping theirs.
func (s *Sharing) Either() []Either {
	var pairs []Either
	f := s.flow
	for _, i := range f.order {
		for _, step := range s.Shares[i].Robs {
			p := Either{step, f.needs[i].Step}
			if !slices.Contains(pairs, p) && f.whole(p.First) && f.instead(p) {
				pairs = append(pairs, p)
			}
		}
	}
	return pairs
}

// whole says that a step has all its pieces.
func (f *flow) whole(step int32) bool {
	for i := range f.needs {
		if f.needs[i].Step == step && f.missing[i] > 0 {
			return false
		}
	}
	return true
}

// instead says whether the later step of a pair could have all its pieces if
// the first gave up its own.
func (f *flow) instead(p Either) bool {
	g := *f
	g.on, g.free, g.missing = slices.Clone(f.on), slices.Clone(f.free), slices.Clone(f.missing)
	for i := range g.arcs {
		if a := &g.arcs[i]; g.needs[a.need].Step == p.First {
			g.free[a.supply] += g.on[i]
			g.on[i] = 0
		}
	}
	for i := range g.needs {
		for g.needs[i].Step == p.Then && g.missing[i] > 0 {
			end := g.spread(int32(i), func(s int32) bool { return g.free[s] > 0 })
			if end < 0 {
				return false
			}
			g.shift(int32(i), end)
		}
	}
	return true
}
