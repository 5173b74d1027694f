package scope

// scale makes single whole numbers of prices, so that they can be weighed
// against each other: a piece is worth more than the minutes and steps of a
// whole web. Where that would be too large for a number, what only chooses among
// equals is left out, and then the steps.
type scale struct {
	piece int64
	shift uint
}

func scaleOf(w *web) scale {
	for _, shift := range []uint{0, stepBit, minuteBit} {
		s := scale{1, shift}
		pieces := int64(1)
		for a := range w.acts {
			s.piece += w.acts[a].price.lo>>shift + 1
			pieces += w.acts[a].price.hi
		}
		if shift == minuteBit || pieces < 1<<60/s.piece {
			return s
		}
	}
	panic("unreachable: the last one is always taken")
}

// of is the number that stands for a price; for one that was rounded off at
// most so much.
func (s scale) of(p price) int64 { return p.hi*s.piece + p.lo>>s.shift }

// price is what a number stands for.
func (s scale) price(v int64) price {
	return price{v / s.piece, v % s.piece << s.shift}
}
