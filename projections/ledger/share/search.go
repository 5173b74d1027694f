package share

// search is what looking for a chain writes down. What it says of a node holds
// if mark is the number of this round.
type search struct {
	dist   []int32
	via    []int32 // the arc that led here; at the end, the supply
	mark   []uint32
	round  uint32
	heap   []reached
	popped []int32 // settled nodes, in order
}

type reached struct {
	dist, node int32
}

func newSearch(nodes int) *search {
	return &search{dist: make([]int32, nodes), via: make([]int32, nodes), mark: make([]uint32, nodes)}
}

// begin starts a round.
func (s *search) begin() {
	s.round++
	s.heap, s.popped = s.heap[:0], s.popped[:0]
}

// seen says whether this round came to a node.
func (s *search) seen(v int32) bool { return s.mark[v] == s.round }

// reach notes that a node can be had at a price.
func (s *search) reach(v, dist, via int32) {
	if s.seen(v) && s.dist[v] <= dist {
		return
	}
	s.mark[v], s.dist[v], s.via[v] = s.round, dist, via
	h := append(s.heap, reached{dist, v})
	i := len(h) - 1
	for ; i > 0 && dist < h[(i-1)/2].dist; i = (i - 1) / 2 {
		h[i] = h[(i-1)/2]
	}
	h[i] = reached{dist, v}
	s.heap = h
}

// pop gives the nearest node that is not settled and settles it.
func (s *search) pop() (v int32, ok bool) {
	for len(s.heap) > 0 {
		top := s.heap[0]
		s.sink()
		if top.dist == s.dist[top.node] {
			s.dist[top.node] = top.dist
			s.popped = append(s.popped, top.node)
			return top.node, true
		}
	}
	return 0, false
}

// sink takes the top off the heap.
func (s *search) sink() {
	h := s.heap
	x := h[len(h)-1]
	h = h[:len(h)-1]
	s.heap = h
	if len(h) == 0 {
		return
	}
	i := 0
	for {
		c := 2*i + 1
		if c >= len(h) {
			break
		}
		if c+1 < len(h) && h[c+1].dist < h[c].dist {
			c++
		}
		if h[c].dist >= x.dist {
			break
		}
		h[i] = h[c]
		i = c
	}
	h[i] = x
}
