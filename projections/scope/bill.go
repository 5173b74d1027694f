package scope

import "countback/projections/plan"

// pay adds what the steps use up: to the step's own price where no other step
// of the web would use it up, else as an action of its own.
func (b *weaver) pay() {
	groups := map[string]int32{}
	for _, x := range b.f.bill(b.s, &b.w) {
		if len(x.by) == 1 {
			a := &b.w.acts[x.by[0]]
			a.price = a.price.add(pieces(x.pieces))
			continue
		}
		key := make([]byte, 0, 2*len(x.by))
		for _, a := range x.by {
			key = append(key, byte(a), byte(a>>8))
		}
		a, ok := groups[string(key)]
		if !ok {
			n := b.add(allOf)
			a = int32(len(b.w.acts))
			groups[string(key)] = a
			b.w.act[n] = a
			b.w.acts = append(b.w.acts, action{node: n, top: n, step: plan.None})
			for _, by := range x.by {
				if at := b.w.acts[by].top; at != none {
					b.w.kids[at] = append(b.w.kids[at], n)
				}
			}
		}
		b.w.acts[a].price = b.w.acts[a].price.add(pieces(x.pieces))
	}
}

// due is pieces that are used up by whichever of some actions comes first.
type due struct {
	pieces int
	by     []int32
}

// bill is what the steps of a web use up of what is in and on now.
func (f *Finder) bill(s *plan.Present, w *web) []due {
	seats, parts := map[plan.SeatIndex]int{}, map[plan.PartIndex]int{}
	var out []due
	spend := func(x plan.PartIndex, a int32) {
		n, ok := parts[x]
		if !ok {
			n = len(out)
			parts[x] = n
			out = append(out, due{pieces: f.parts[x].pieces})
		}
		if by := &out[n].by; len(*by) == 0 || (*by)[len(*by)-1] != a {
			*by = append(*by, a)
		}
	}
	for a := range w.acts {
		step := &f.p.Steps[w.acts[a].step]
		for _, x := range step.TakesOut {
			at := &f.seats[x]
			if at.pieces == 0 && at.seals == nil || stateOf(s, aSeat, int16(x))&seatHeld == 0 {
				continue
			}
			for _, q := range at.seals {
				if s.Part(q) == plan.PartOn && !f.parts[q].travels {
					spend(q, int32(a))
				}
			}
			if at.pieces == 0 {
				continue
			}
			n, ok := seats[x]
			if !ok {
				n = len(out)
				seats[x] = n
				out = append(out, due{pieces: at.pieces})
			}
			out[n].by = append(out[n].by, int32(a))
		}
		for _, x := range step.Removes {
			if f.parts[x].pieces > 0 && !f.parts[x].travels && stateOf(s, aPart, int16(x))&partThere != 0 {
				spend(x, int32(a))
			}
		}
	}
	return out
}
