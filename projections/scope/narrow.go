package scope

// narrow looks for a better bound and better sets in ever smaller webs: what no
// set cheaper than the best one can hold is left out, and then what every
// cheaper set needs is more, the bound is higher, and more can be left out.
func (b *bounder) narrow(limit int) {
	in := b
	var r *relaxing
	for idle := 0; ; {
		b.take(in)
		stop := limit - b.looks()
		if stop <= 0 || !b.open() {
			return
		}
		upper := b.scale.of(b.out.sets[0].price)
		least, left := in.dual(r)
		w, gone, ok := in.w.shaved(in.need, b.scale.of(in.base)+least, left, upper)
		in.x.looks += len(in.w.kind) * in.need.words / 4
		switch {
		case !ok:
			b.raiseTo(b.out.sets[0].price)
			return
		case gone*40 > len(in.w.kind):
			in, r, idle = in.inside(w, stop), nil, 0
			in.greedy()
			in.better(stop / 10)
			in.ascend()
			in.again(in.left, stop/10)
			continue
		case in.left == nil:
			in.ascend()
			continue
		case r == nil:
			r = in.relaxing()
		}
		before := r.least
		r.raise(60, upper-b.scale.of(in.base))
		if p := in.scale.price(in.scale.of(in.base) + r.least); in.out.least.less(p) {
			in.out.least = p
		}
		found := r.look()
		in.again(r.prices(), limit/24)
		if r.least == before {
			if idle++; idle > 3 || !found {
				break
			}
		}
	}
	in.upper, in.limit = b.out.sets[0].price, in.looks()+limit-b.looks()
	in.hits(in.limit)
	b.take(in)
}

// dual is the best bound so far, what every way needs left out, and what it
// leaves of each price.
func (b *bounder) dual(r *relaxing) (least int64, left []int64) {
	if r != nil {
		return r.least, r.left
	}
	rest := b.left
	if rest == nil {
		rest = b.price
	}
	for _, v := range b.raised {
		least += b.scale.of(v)
	}
	left = make([]int64, len(rest))
	for a := range left {
		left[a] = b.scale.of(rest[a])
	}
	return least, left
}

// inside is a bounder of what is left of the web.
func (b *bounder) inside(w *web, limit int) *bounder {
	in := newBounder(w, limit)
	in.scale = b.scale
	in.settle()
	return in
}

// take takes over what a bounder inside has found: its looks, its sets, and its
// bound as far as the best set.
func (b *bounder) take(in *bounder) {
	if in == b {
		return
	}
	b.spent += in.looks() - in.given
	in.given = in.looks()
	for _, set := range in.out.sets {
		acts := make([]int32, len(set.acts))
		for i, a := range set.acts {
			acts[i] = in.w.acts[a].first
		}
		b.keep(acts)
	}
	b.raiseTo(in.out.least)
}

// raiseTo raises the bound, as far as the best set.
func (b *bounder) raiseTo(p price) {
	if best := b.out.sets[0].price; best.less(p) {
		p = best
	}
	if b.out.least.less(p) {
		b.out.least = p
	}
}
