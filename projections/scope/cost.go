package scope

import (
	"fmt"
	"strings"

	"countback/projections/plan"
)

// Cost is what a way costs. Less pieces are better whatever the minutes, less
// minutes are better whatever the steps.
type Cost struct {
	Pieces  int // single-use pieces used up: fasteners, rings, gaskets
	Minutes int // of the steps that say how long they take
	Steps   int
}

// Less reports whether c is the better one: by pieces, then minutes, then
// steps.
func (c Cost) Less(d Cost) bool {
	if c.Pieces != d.Pieces {
		return c.Pieces < d.Pieces
	}
	if c.Minutes != d.Minutes {
		return c.Minutes < d.Minutes
	}
	return c.Steps < d.Steps
}

// String is the cost in words: "8 single-use pieces, 95 minutes, 9 steps".
func (c Cost) String() string {
	var b strings.Builder
	b.WriteString(count(c.Pieces, "single-use piece"))
	if c.Minutes > 0 {
		b.WriteString(", " + count(c.Minutes, "minute"))
	}
	b.WriteString(", " + count(c.Steps, "step"))
	return b.String()
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// price is a Cost for searching: an ordered group, so that it can be added,
// taken away and compared. lo is minutes, then steps, then steps against the
// grain, which only choose among ways of equal cost.
type price struct{ hi, lo int64 }

const (
	minuteBit = 32
	stepBit   = 16
)

func (a price) add(b price) price   { return price{a.hi + b.hi, a.lo + b.lo} }
func (a price) sub(b price) price   { return price{a.hi - b.hi, a.lo - b.lo} }
func (a price) zero() bool          { return a.hi == 0 && a.lo == 0 }
func (a price) times(n int64) price { return price{a.hi * n, a.lo * n} }

func (a price) less(b price) bool {
	if a.hi != b.hi {
		return a.hi < b.hi
	}
	return a.lo < b.lo
}

// cost drops what only chooses among equals. A lower bound may have taken
// more minutes or steps away than it has: what has as many pieces has at
// least no minutes and no steps then, or a minute more.
func (a price) cost() Cost {
	c := Cost{Pieces: int(a.hi), Minutes: int(a.lo >> minuteBit), Steps: int(a.lo>>stepBit) & (1<<stepBit - 1)}
	if a.lo < 0 {
		c.Minutes, c.Steps = 0, 0
	}
	if c.Steps >= 1<<(stepBit-1) {
		c.Minutes, c.Steps = c.Minutes+1, 0
	}
	return c
}

var dearest = price{1 << 40, 0}

func pieces(n int) price { return price{int64(n), 0} }

// work is the price of doing a step, less the pieces that it uses up; together
// says that the grain is that of putting together.
func work(s *plan.Step, together bool) price {
	p := price{0, int64(s.Minutes)<<minuteBit | 1<<stepBit}
	if s.Section.Apart() == together {
		p.lo++
	}
	return p
}
