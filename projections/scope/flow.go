package scope

// flow is a web with some of its actions open, and what comes up by them.
type flow struct {
	w     *web
	up    []bool
	left  []int32 // kids of an all-node that are not up yet
	opens []bool  // by action
	log   []int32 // nodes in the order in which they came up
	queue []int32
	looks int
}

func newFlow(w *web) *flow {
	x := &flow{w: w, up: make([]bool, len(w.kind)), left: make([]int32, len(w.kind)), opens: make([]bool, len(w.acts))}
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

// done reports whether the goal is up.
func (x *flow) done() bool { return x.up[x.w.goal] }

// forced is the actions without which the goal cannot come up, and what they
// cost together. It is exact for single actions: the greatest solution of
// "an all-node needs what any of its kids needs, an any-node what all of its
// kids need".
func (x *flow) forced() (must []int32) {
	w := x.w
	x.reset()
	for a := range w.acts {
		x.open(int32(a))
	}
	words := (len(w.acts) + 63) / 64
	sets := make([]uint64, words*len(w.kind))
	for i := range sets {
		sets[i] = ^uint64(0)
	}
	next := make([]uint64, words)
	for again := true; again; {
		again = false
		for _, n := range x.log {
			x.looks += (len(w.kids[n]) + 1) * (words + 1) / 2
			if w.kind[n] == anyOf {
				for i := range next {
					next[i] = ^uint64(0)
				}
			} else {
				clear(next)
			}
			for _, k := range w.kids[n] {
				for i, word := range sets[int(k)*words : (int(k)+1)*words] {
					if w.kind[n] == anyOf {
						next[i] &= word
					} else {
						next[i] |= word
					}
				}
			}
			if a := w.act[n]; a != none {
				next[a/64] |= 1 << (a % 64)
			}
			for i := range next {
				if at := int(n)*words + i; sets[at] != next[i] {
					sets[at] = next[i]
					again = true
				}
			}
		}
	}
	for a := range w.acts {
		if sets[int(w.goal)*words+a/64]&(1<<(a%64)) != 0 {
			must = append(must, int32(a))
		}
	}
	return must
}

// needed is the open actions by which the goal came up first: for an any-node
// the kid that was up first. The flow must be done.
func (x *flow) needed() []int32 {
	when := make([]int32, len(x.w.kind))
	for i, n := range x.log {
		when[n] = int32(i) + 1
	}
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
			continue
		}
		first := int32(none)
		for _, k := range x.w.kids[n] {
			if when[k] != 0 && (first == none || when[k] < when[first]) {
				first = k
			}
		}
		stack = append(stack, first)
	}
	return out
}
