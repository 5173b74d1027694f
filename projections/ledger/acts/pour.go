package acts

import "math/bits"

// small is one group in numbers that fit into words: up to 12 entries, so at
// most 36 links of a short and an over and 12 of one entry, and not more acts
// than links.
type small struct {
	side [MaxExact]int8 // 0 for a short, 1 for an over
	qty  [MaxExact]int32
	n    int
	ends [][2]int8 // of each link: its short and its over, -1 for none
	at   [MaxExact]uint64
	acts []uint64 // the links of each act
}

func (t *table) shrink(g *group) *small {
	s := &small{n: len(g.entries)}
	local := map[int32]int8{none: -1}
	for i, e := range g.entries {
		local[e] = int8(i)
		s.qty[i] = t.entries[e].Qty
		if t.entries[e].Sign > 0 {
			s.side[i] = 1
		}
	}
	bit := map[int32]int{}
	for i, l := range g.links {
		ends := [2]int8{local[t.links[l].short], local[t.links[l].over]}
		s.ends = append(s.ends, ends)
		bit[l] = i
		for _, e := range ends {
			if e >= 0 {
				s.at[e] |= 1 << i
			}
		}
	}
	for _, a := range g.acts {
		mask := uint64(0)
		for _, l := range t.acts[a].links {
			mask |= 1 << bit[l]
		}
		s.acts = append(s.acts, mask)
	}
	return s
}

// pour is a flow that explains as many pieces of one side as the allowed links
// can: left is what is unexplained of an entry of that side, and what an entry
// of the other side can still take.
type pour struct {
	on   [4 * MaxExact]int32
	left [MaxExact]int32
}

// fill makes the flow as large as it can be through the allowed links and gives
// what is left on the side. For each entry with something left, reach is what
// more could be poured to, were there one link more.
func (s *small) fill(p *pour, side int8, allowed uint64, reach *[MaxExact]uint16) (left int32) {
	for again := true; again; {
		again, left = false, 0
		for e := range s.n {
			if s.side[e] != side || p.left[e] == 0 {
				continue
			}
			for p.left[e] > 0 {
				seen, more := s.augment(p, side, allowed, e)
				reach[e] = seen
				if !more {
					break
				}
				again = true
			}
			left += p.left[e]
		}
	}
	return left
}

// augment pours from one entry along the shortest way, breadth first: to the
// other side through any allowed link, back through a link that carries some.
func (s *small) augment(p *pour, side int8, allowed uint64, from int) (seen uint16, more bool) {
	var via [MaxExact]int8
	var queue [MaxExact]int8
	queue[0], seen = int8(from), 1<<from
	for head, tail := 0, 1; head < tail; head++ {
		e := queue[head]
		out := s.side[e] == side
		for m := s.at[e] & allowed; m != 0; m &= m - 1 {
			l := int8(bits.TrailingZeros64(m))
			y := s.ends[l][1-s.side[e]]
			switch {
			case y < 0 && out:
				s.along(p, side, &via, e, p.left[from], from)
				return seen, true
			case y < 0 || seen&(1<<y) != 0 || !out && p.on[l] == 0:
				continue
			}
			seen |= 1 << y
			via[y] = l
			queue[tail] = y
			tail++
			if out && p.left[y] > 0 {
				q := s.along(p, side, &via, y, min(p.left[from], p.left[y]), from)
				p.left[y] -= q
				return seen, true
			}
		}
	}
	return seen, false
}

// along pours up to q pieces down the way found to an entry and gives how many
// went.
func (s *small) along(p *pour, side int8, via *[MaxExact]int8, to int8, q int32, from int) int32 {
	for e := to; int(e) != from; {
		l := via[e]
		if s.side[e] == side { // came back through l
			q = min(q, p.on[l])
		}
		e = s.ends[l][1-s.side[e]]
	}
	for e := to; int(e) != from; {
		l := via[e]
		if s.side[e] == side {
			p.on[l] -= q
		} else {
			p.on[l] += q
		}
		e = s.ends[l][1-s.side[e]]
	}
	p.left[from] -= q
	return q
}
