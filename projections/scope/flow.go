package scope

// flow is a web with some of its actions open, and what comes up by them.
type flow struct {
	w     *web
	up    []bool
	left  []int32 // kids of an all-node that are not up yet
	by    []int32 // of an any-node that is up: the kid that brought it up
	opens []bool  // by action
	log   []int32 // nodes in the order in which they came up
	queue []int32
	looks int
}

func newFlow(w *web) *flow {
	x := &flow{w: w, up: make([]bool, len(w.kind)), left: make([]int32, len(w.kind)), by: make([]int32, len(w.kind)), opens: make([]bool, len(w.acts))}
	copy(x.left, w.need)
	return x
}

// reset closes everything.
func (x *flow) reset() {
	clear(x.up)
	clear(x.opens)
	copy(x.left, x.w.need)
	x.log = x.log[:0]
	x.looks += len(x.left) / 8
}

// open opens an action, and brings up what comes up by it.
func (x *flow) open(a int32) {
	x.opens[a] = true
	x.raise(x.w.acts[a].node)
}

func (x *flow) raise(n int32) {
	x.queue = append(x.queue[:0], n)
	for len(x.queue) > 0 {
		n := x.queue[len(x.queue)-1]
		x.queue = x.queue[:len(x.queue)-1]
		if x.up[n] {
			continue
		}
		x.up[n] = true
		x.log = append(x.log, n)
		parents := x.w.parents[x.w.from[n]:x.w.from[n+1]]
		x.looks += len(parents) + 1
		for _, p := range parents {
			if x.w.kind[p] == anyOf {
				if !x.up[p] {
					x.by[p] = n
					x.queue = append(x.queue, p)
				}
				continue
			}
			if x.left[p]--; x.left[p] == 0 {
				x.queue = append(x.queue, p)
			}
		}
	}
}

// undo takes back what came up since the log had that length.
func (x *flow) undo(length int) {
	for _, n := range x.log[length:] {
		x.up[n] = false
		parents := x.w.parents[x.w.from[n]:x.w.from[n+1]]
		x.looks += len(parents) + 1
		for _, p := range parents {
			if x.w.kind[p] == allOf {
				x.left[p]++
			}
		}
	}
	x.log = x.log[:length]
}

// close closes actions, and lets down what does not come up without them: first
// all that came up by what goes down, then up again what comes up by another
// kid (delete and rederive: Gupta, Mumick and Subrahmanian 1993). The log is
// lost.
func (x *flow) close(acts ...int32) {
	x.log = x.log[:0]
	for _, a := range acts {
		x.opens[a] = false
		x.queue = append(x.queue[:0], x.w.acts[a].node)
		x.letDown()
	}
	down := append([]int32(nil), x.log...)
	x.log = x.log[:0]
	for _, n := range down {
		if x.up[n] || x.w.kind[n] != anyOf {
			continue
		}
		for _, k := range x.w.kids[n] {
			if x.looks++; x.up[k] {
				x.by[n] = k
				x.raise(n)
				break
			}
		}
	}
}

func (x *flow) letDown() {
	for len(x.queue) > 0 {
		n := x.queue[len(x.queue)-1]
		x.queue = x.queue[:len(x.queue)-1]
		if !x.up[n] {
			continue
		}
		x.up[n] = false
		x.log = append(x.log, n)
		parents := x.w.parents[x.w.from[n]:x.w.from[n+1]]
		x.looks += len(parents) + 1
		for _, p := range parents {
			if x.w.kind[p] == allOf {
				x.left[p]++
			} else if x.by[p] != n {
				continue
			}
			if x.up[p] {
				x.queue = append(x.queue, p)
			}
		}
	}
}

// done reports whether the goal is up.
func (x *flow) done() bool { return x.up[x.w.goal] }

// needed is the open actions by which the goal came up. The flow must be done.
func (x *flow) needed() []int32 {
	var out []int32
	seen := make([]bool, len(x.w.kind))
	stack := []int32{x.w.goal}
	for len(stack) > 0 {
		n := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if seen[n] {
			continue
		}
		seen[n] = true
		if a := x.w.act[n]; a != none {
			out = append(out, a)
		}
		x.looks += len(x.w.kids[n]) + 1
		if x.w.kind[n] == allOf {
			stack = append(stack, x.w.kids[n]...)
		} else {
			stack = append(stack, x.by[n])
		}
	}
	return out
}
