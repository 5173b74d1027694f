package gauge

import "fmt"

// Range is from a least to a most size; an end that is no reading is open. The
// zero value has no ends.
type Range struct{ Min, Max Reading }

// Between is from low to high.
func Between(low, high Reading) Range { return Range{low, high} }

// AtMost is up to high.
func AtMost(high Reading) Range { return Range{Max: high} }

// AtLeast is from low on.
func AtLeast(low Reading) Range { return Range{Min: low} }

// Known reports whether it has any end.
func (r Range) Known() bool { return r.Min.Known() || r.Max.Known() }

// dimension is what its ends measure.
func (r Range) dimension() Dimension {
	if r.Min.Known() {
		return r.Min.unit.Dimension()
	}
	return r.Max.unit.Dimension()
}

// String is the range in words, in the units that its ends were written in.
func (r Range) String() string {
	switch {
	case r.Min.Known() && r.Max.Known() && r.Min == r.Max:
		return r.Min.String()
	case r.Min.Known() && r.Max.Known() && r.Min.unit == r.Max.unit:
		return r.Min.number() + " to " + r.Max.String()
	case r.Min.Known() && r.Max.Known():
		return r.Min.String() + " to " + r.Max.String()
	case r.Min.Known():
		return "at least " + r.Min.String()
	case r.Max.Known():
		return "at most " + r.Max.String()
	}
	return "no limit"
}

// Limits are what a size is held against.
type Limits struct {
	Of      string // what is measured, in words: main journal 2
	New     Range  // for new parts
	Service Range  // for parts that have run; where it has no end, New decides
	Source  string // document and edition
}

// Check says what is wrong with limits: none at all, ends that run backwards or
// measure different things, service limits that are tighter than those for new
// parts.
func (l Limits) Check() error {
	if !l.New.Known() && !l.Service.Known() {
		return fmt.Errorf("limits of %s: none is given", l.Of)
	}
	ends := []Reading{l.New.Min, l.New.Max, l.Service.Min, l.Service.Max}
	for i, a := range ends {
		for _, b := range ends[i+1:] {
			if a.Known() && b.Known() && !a.Alike(b) {
				return fmt.Errorf("limits of %s: %s and %s measure different things", l.Of, a, b)
			}
		}
	}
	for _, r := range []Range{l.New, l.Service} {
		if r.Min.Known() && r.Max.Known() && r.Min.Compare(r.Max) > 0 {
			return fmt.Errorf("limits of %s: %s runs backwards", l.Of, r)
		}
	}
	if tighter(l.Service.Min, l.New.Min, 1) || tighter(l.Service.Max, l.New.Max, -1) ||
		tighter(l.Service.Min, l.New.Max, 1) || tighter(l.Service.Max, l.New.Min, -1) {
		return fmt.Errorf("limits of %s: service %s is tighter than new %s", l.Of, l.Service, l.New)
	}
	return nil
}

// tighter reports whether a service end lies inside a new one.
func tighter(service, fresh Reading, sign int) bool {
	return service.Known() && fresh.Known() && service.Compare(fresh)*sign > 0
}

// deciding is the range that decides: the service limits, each end that they
// leave open as the new ones have it.
func (l Limits) deciding() Range {
	if !l.Service.Known() {
		return l.New
	}
	r := l.Service
	if !r.Min.Known() {
		r.Min = l.New.Min
	}
	if !r.Max.Known() {
		r.Max = l.New.Max
	}
	return r
}

// holds reports whether a size lies in the range, its ends included.
func (r Range) holds(base int64) bool {
	return !(r.Min.Known() && base < r.Min.base()) && !(r.Max.Known() && base > r.Max.base())
}

// nearest is the end that a size lies nearest to, and how far inside it, below
// zero outside.
func (r Range) nearest(base int64) (end Reading, inside int64) {
	if r.Min.Known() {
		end, inside = r.Min, base-r.Min.base()
	}
	if r.Max.Known() {
		if in := r.Max.base() - base; !end.Known() || in < inside {
			end, inside = r.Max, in
		}
	}
	return end, inside
}
