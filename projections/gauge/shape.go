package gauge

import "fmt"

// Section is two diameters at right angles at one height of a bore or a
// journal; either may be missing.
type Section struct{ A, B Reading }

// Shape is what the sections of a bore or a journal say. What could not be
// computed is no reading.
type Shape struct {
	Least, Most  Reading
	Taper        Reading // most less least along one direction, of the two the greater
	TaperIn      string  // "A" or "B"
	OutOfRound   Reading // greatest difference between the two at one height
	OutOfRoundAt int     // which section, from 1 at the top
}

// Round computes the shape from sections in their order along the bore. Taper
// wants two heights in one direction, out-of-round both directions at one
// height. It refuses readings that are no lengths, and none at all.
func Round(sections []Section) (Shape, error) {
	var s Shape
	for i, sec := range sections {
		for _, r := range [...]Reading{sec.A, sec.B} {
			switch {
			case !r.Known():
			case r.unit.Dimension() != Length:
				return Shape{}, &Refusal{fmt.Sprintf("section %d: %s is no length", i+1, r), "write a diameter"}
			default:
				s.Least, s.Most = lesser(s.Least, r), greater(s.Most, r)
			}
		}
		if !sec.A.Known() || !sec.B.Known() {
			continue
		}
		if off := sec.A.Minus(sec.B).Abs(); !s.OutOfRound.Known() || off.Compare(s.OutOfRound) > 0 {
			s.OutOfRound, s.OutOfRoundAt = off, i+1
		}
	}
	if !s.Most.Known() {
		return Shape{}, &Refusal{"no diameter was read", "read two at right angles, at three heights"}
	}
	for _, direction := range [...]struct {
		name string
		of   func(Section) Reading
	}{{"A", func(s Section) Reading { return s.A }}, {"B", func(s Section) Reading { return s.B }}} {
		var along []Reading
		for _, sec := range sections {
			if r := direction.of(sec); r.Known() {
				along = append(along, r)
			}
		}
		if taper := spread(along); taper.Known() && (!s.Taper.Known() || taper.Compare(s.Taper) > 0) {
			s.Taper, s.TaperIn = taper, direction.name
		}
	}
	return s, nil
}

// spread is the greatest less the least of two and more readings.
func spread(list []Reading) Reading {
	if len(list) < 2 {
		return Reading{}
	}
	var least, most Reading
	for _, r := range list {
		least, most = lesser(least, r), greater(most, r)
	}
	return most.Minus(least)
}

func lesser(a, b Reading) Reading {
	if !a.Known() || b.Compare(a) < 0 {
		return b
	}
	return a
}

func greater(a, b Reading) Reading {
	if !a.Known() || b.Compare(a) > 0 {
		return b
	}
	return a
}

// String says the shape in words.
func (s Shape) String() string {
	text := fmt.Sprintf("%s to %s", s.Least, s.Most)
	if s.Taper.Known() {
		text += fmt.Sprintf(", taper %s along %s", s.Taper, s.TaperIn)
	}
	if s.OutOfRound.Known() {
		text += fmt.Sprintf(", out of round %s at %d", s.OutOfRound, s.OutOfRoundAt)
	}
	return text
}

// Play is how much room one part has in another.
type Play struct {
	Least Reading // the smallest bore with the largest journal
	Most  Reading // the largest bore with the smallest journal
	Why   string  // a doubt: they would not go together
}

// Clearance is bore less journal, both at the same temperature. It refuses
// readings that are no lengths.
func Clearance(bore, journal Shape) (Play, error) {
	p := Play{Least: bore.Least.Minus(journal.Most), Most: bore.Most.Minus(journal.Least)}
	if !p.Least.Known() || !p.Most.Known() || bore.Least.unit.Dimension() != Length {
		return Play{}, &Refusal{"clearance of a bore and a journal that were not both read", "read both in mm or in inches"}
	}
	if p.Least.base() < 0 {
		p.Why = fmt.Sprintf("the journal is %s larger than the bore: look at both readings", p.Least.Abs())
	}
	return p, nil
}

// Single is the shape of something of which one diameter was read.
func Single(r Reading) Shape { return Shape{Least: r, Most: r} }

// EndPlay is how far an indicator moved: the greatest of its readings less the
// least. Of a gap that a feeler filled, the feeler is the reading. It refuses
// fewer than two, and readings that do not measure the same thing.
func EndPlay(indicator ...Reading) (Reading, error) {
	if len(indicator) < 2 {
		return Reading{}, &Refusal{fmt.Sprintf("end play from %d readings of an indicator", len(indicator)), "read it pushed to one end and to the other"}
	}
	return alike(indicator, spread)
}

// Gap is what a stack of feelers fills: their sum. It refuses no feelers, and
// readings that do not measure the same thing.
func Gap(feelers ...Reading) (Reading, error) {
	return alike(feelers, func(list []Reading) Reading {
		sum := list[0]
		for _, r := range list[1:] {
			sum = sum.Plus(r)
		}
		return sum
	})
}

// Warpage is the greatest of the gaps that feelers found under a straight edge.
// It refuses none, gaps below zero, and readings that do not measure the same
// thing.
func Warpage(gaps ...Reading) (Reading, error) {
	for _, g := range gaps {
		if g.base() < 0 {
			return Reading{}, &Refusal{fmt.Sprintf("a gap of %s under a straight edge", g), "write 0 where the feeler does not enter"}
		}
	}
	return alike(gaps, func(list []Reading) Reading {
		var most Reading
		for _, r := range list {
			most = greater(most, r)
		}
		return most
	})
}

// alike computes something from readings that all measure a length.
func alike(list []Reading, compute func([]Reading) Reading) (Reading, error) {
	if len(list) == 0 {
		return Reading{}, &Refusal{"nothing was read", "read it"}
	}
	for _, r := range list {
		if r.unit.Dimension() != Length {
			return Reading{}, &Refusal{fmt.Sprintf("%s is no length", r), "write it in mm or in inches"}
		}
	}
	return compute(list), nil
}

// Straightness is how far a line of heights, read at equal steps along a face,
// strays from the straight line that fits it best: the distance between the two
// parallel lines nearest to each other that hold all of them (minimum zone, ISO
// 1101). A face that was set up out of level is not warped. It refuses fewer
// than three readings and more than 1000.
func Straightness(heights ...Reading) (Reading, error) {
	if n := len(heights); n < 3 || n > 1000 {
		return Reading{}, &Refusal{fmt.Sprintf("straightness from %d heights", n), "read it at three places or more"}
	}
	return alike(heights, func(list []Reading) Reading {
		finest := list[0]
		for _, r := range list {
			if r.step() < finest.step() {
				finest = r
			}
		}
		return sized(zone(list), finest.unit, finest.decimals+1)
	})
}

// zone is the least width in whole base parts of a strip that holds all
// heights. Its direction is that of one edge of their hull, so every pair is
// tried: a slope of dy over dx puts a height y at place x at y dx - dy x.
func zone(list []Reading) int64 {
	ys := make([]int64, len(list))
	for i, r := range list {
		ys[i] = r.base()
	}
	best := int64(-1)
	for _, e := range edges(ys) {
		dx, dy := int64(e[1]-e[0]), ys[e[1]]-ys[e[0]]
		low, high := ys[0]*dx, ys[0]*dx
		for x, y := range ys {
			v := y*dx - dy*int64(x)
			low, high = min(low, v), max(high, v)
		}
		if w := (high - low) / dx; best < 0 || w < best {
			best = w
		}
	}
	return best
}

// edges are the edges of the lower and the upper hull of heights at 0, 1, 2 ...
func edges(ys []int64) [][2]int {
	var list [][2]int
	for _, sign := range [...]int64{1, -1} {
		var hull []int
		for i := range ys {
			for len(hull) > 1 {
				a, b := hull[len(hull)-2], hull[len(hull)-1]
				if sign*((ys[b]-ys[a])*int64(i-a)-(ys[i]-ys[a])*int64(b-a)) < 0 {
					break
				}
				hull = hull[:len(hull)-1]
			}
			hull = append(hull, i)
		}
		for k := 1; k < len(hull); k++ {
			list = append(list, [2]int{hull[k-1], hull[k]})
		}
	}
	return list
}
