package share

import (
	"countback/events"
	"countback/projections/ledger"
)

// Class numbers what is equal for sharing, in any way that the caller likes.
type Class int32

// Need is Qty pieces (0 or more) for one step. Step is the step's place in the
// order; needs of one step are served in the order given. Accept are the
// classes that will do, the best first. Own is the account whose pieces it
// should have first, 0 for none. Set, if not 0, names the needs that must all
// be served from one lot. Released puts the need behind all that are not.
type Need struct {
	Step     int32
	Accept   []Class
	Qty      int32
	Own      ledger.AccountID
	Set      int32
	Released bool
}

// Supply is Qty pieces of a class in one place and of one lot (empty where that
// is not known; such pieces serve no set). What is not Usable, condemned pieces
// and samples, is never given.
type Supply struct {
	Class  Class
	Place  ledger.AccountID
	Lot    events.Lot
	Qty    int32
	Usable bool
}

// Take is Qty pieces of the supply with that index.
type Take struct {
	Supply int32
	Qty    int32
}

// Share is what a need gets, the best first, and how many are missing. Robs are the other
// steps of which one would go short of a piece, were one more given to this
// need all the same; in order, and only where pieces are missing.
type Share struct {
	From    []Take
	Missing int32
	Robs    []int32
}

// Either is a pair of steps that could each have all its pieces, but not both:
// First has them.
type Either struct {
	First, Then int32
}

// Sharing is the result: Shares in the order of the needs. Exact is false when
// there were too many ways to choose lots for sets to try them all; the shares
// then keep every rule but may serve fewer.
type Sharing struct {
	Shares []Share
	Exact  bool
	flow   *flow
}

// maxTried is the most ways to choose lots for sets that are all tried.
const maxTried = 256

// Among shares the supplies among the needs. Needs and supplies with a quantity
// below 1 get and give nothing.
func Among(needs []Need, supplies []Supply) *Sharing {
	t := newTable(needs, supplies)
	best, exact := t.choose()
	out := &Sharing{Shares: make([]Share, len(needs)), Exact: exact, flow: best}
	takes := make([]Take, 0, len(needs)+len(supplies))
	for i := range needs {
		s := &out.Shares[i]
		from := len(takes)
		for _, a := range t.arcs[t.first[i]:t.first[i+1]] {
			if q := best.on[a.id]; q > 0 {
				takes = append(takes, Take{a.supply, q})
			}
		}
		if len(takes) > from {
			s.From = takes[from:len(takes):len(takes)]
		}
		if s.Missing = best.missing[i]; s.Missing > 0 {
			s.Robs = best.robs(int32(i))
		}
	}
	return out
}
