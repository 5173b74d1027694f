package acts

import "container/heap"

// network is a flow network with costs; node 0 is where the flow comes from and
// node 1 where it goes.
type network struct {
	head []int32 // by node: its last arc, -1 for none
	arcs []arc   // arc i goes back as arc i^1
	pi   []int64 // potentials
	dist []int64
	at   []int32 // the next arc to try
	on   []bool  // on the way that is being searched
}

type arc struct {
	to, next int32
	room     int32
	cost     int64
}

const far = int64(1) << 62

func newNetwork(nodes int) *network {
	n := &network{head: make([]int32, nodes), pi: make([]int64, nodes), dist: make([]int64, nodes),
		at: make([]int32, nodes), on: make([]bool, nodes)}
	for i := range n.head {
		n.head[i] = -1
	}
	return n
}

// arc adds an arc and gives its number.
func (n *network) arc(from, to, room int32, cost int64) int32 {
	i := int32(len(n.arcs))
	n.arcs = append(n.arcs, arc{to, n.head[from], room, cost}, arc{from, n.head[to], 0, -cost})
	n.head[from], n.head[to] = i, i+1
	return i
}

// carried is what an arc carries.
func (n *network) carried(i int32) int32 { return n.arcs[i^1].room }

// run pours as long as a way from 0 to 1 costs less than nothing, the cheapest
// first. The arcs must not have had a cycle to begin with.
func (n *network) run() {
	n.settle()
	for n.shortest() && n.pi[1]-n.pi[0] < 0 {
		copy(n.at, n.head)
		for n.pour(0, 1<<30) > 0 {
		}
	}
}

// settle finds the first potentials, where costs are below zero, by
// relaxation.
func (n *network) settle() {
	for again := true; again; {
		again = false
		for v := range n.head {
			for i := n.head[v]; i >= 0; i = n.arcs[i].next {
				a := &n.arcs[i]
				if d := n.pi[v] + a.cost; a.room > 0 && d < n.pi[a.to] {
					n.pi[a.to] = d
					again = true
				}
			}
		}
	}
}

// shortest adds the distances from node 0 to the potentials; false if node 1
// cannot be reached.
func (n *network) shortest() bool {
	for i := range n.dist {
		n.dist[i] = far
	}
	n.dist[0] = 0
	q := &queue{{0, 0}}
	for q.Len() > 0 {
		top := heap.Pop(q).(reached)
		if top.dist > n.dist[top.node] {
			continue
		}
		for i := n.head[top.node]; i >= 0; i = n.arcs[i].next {
			a := &n.arcs[i]
			if a.room == 0 {
				continue
			}
			if d := top.dist + a.cost + n.pi[top.node] - n.pi[a.to]; d < n.dist[a.to] {
				n.dist[a.to] = d
				heap.Push(q, reached{d, a.to})
			}
		}
	}
	if n.dist[1] == far {
		return false
	}
	for i := range n.pi {
		n.pi[i] += min(n.dist[i], n.dist[1])
	}
	return true
}

// pour sends up to q along arcs that cost nothing over the potentials.
func (n *network) pour(v, q int32) int32 {
	if v == 1 {
		return q
	}
	n.on[v] = true
	defer func() { n.on[v] = false }()
	for ; n.at[v] >= 0; n.at[v] = n.arcs[n.at[v]].next {
		i := n.at[v]
		a := &n.arcs[i]
		if a.room == 0 || n.on[a.to] || a.cost+n.pi[v]-n.pi[a.to] != 0 {
			continue
		}
		if sent := n.pour(a.to, min(q, a.room)); sent > 0 {
			n.arcs[i].room -= sent
			n.arcs[i^1].room += sent
			return sent
		}
	}
	return 0
}

type reached struct {
	dist int64
	node int32
}

type queue []reached

func (q queue) Len() int { return len(q) }
func (q queue) Less(i, j int) bool {
	return q[i].dist < q[j].dist || q[i].dist == q[j].dist && q[i].node < q[j].node
}
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)   { *q = append(*q, x.(reached)) }
func (q *queue) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}
