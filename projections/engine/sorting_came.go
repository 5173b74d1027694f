package engine

import (
	"slices"

	"countback/events"
	"countback/projections/ledger"
)

// came is what one place gave, the last of it by a fact.
type came struct {
	from ledger.AccountID
	item ledger.ItemID
	n    int32
	fact ledger.Fact
}

// cameFrom lists which places the pieces came from since the place was last
// empty, in the order in which they came.
func (w *sorting) cameFrom() []came {
	var list []came
	b, total := w.s.book, int32(0)
	for p := range b.History(w.from) {
		switch {
		case p.From == p.To:
			continue
		case p.To == w.from:
			total += p.Qty
			list = w.gave(list, p)
		default:
			total -= p.Qty
			if p.Hand {
				list = taken(list, p.Item, p.Qty)
			}
		}
		if total == 0 {
			list = list[:0]
		}
	}
	return slices.DeleteFunc(list, func(c came) bool { return c.n <= 0 })
}

func (w *sorting) gave(list []came, p ledger.Posting) []came {
	from := w.origin(p.From, p.Item, 4)
	if !usable(w.s.book.Class(from)) || from == w.from {
		return list
	}
	for i := range list {
		if list[i].from == from && list[i].item == p.Into {
			list[i].n, list[i].fact = list[i].n+p.Qty, p.Fact
			return list
		}
	}
	return append(list, came{from, p.Into, p.Qty, p.Fact})
}

// taken takes pieces off what came, the last that came first.
func taken(list []came, item ledger.ItemID, n int32) []came {
	for i := len(list) - 1; i >= 0 && n > 0; i-- {
		if list[i].item == item {
			q := min(n, list[i].n)
			list[i].n -= q
			n -= q
		}
	}
	return list
}

// since is how many pieces a place got by another way after it gave some: what
// was found meanwhile and put where it belongs.
func (w *sorting) since(c came) int32 {
	b, n := w.s.book, int32(0)
	name := b.ItemName(c.item)
	for p := range b.History(c.from) {
		o := b.ItemName(p.Item)
		if p.Fact <= c.fact || p.From == p.To || p.From == w.from || p.To == w.from || !alike(name.Kind, o.Kind) || (o.Cond == events.New) != (name.Cond == events.New) {
			continue
		}
		if p.To == c.from {
			n += p.Qty
		} else {
			n -= p.Qty
		}
	}
	return max(0, n)
}

// origin goes back over places where pieces only stood for a while, a wash or a
// dish, to the container that they came from.
func (w *sorting) origin(a ledger.AccountID, item ledger.ItemID, deep int) ledger.AccountID {
	b := w.s.book
	if deep == 0 || b.Class(a) != ledger.Placed {
		return a
	}
	before := ledger.AccountID(0)
	for p := range b.History(a) {
		if p.To == a && p.Into == item && p.From != w.from {
			before = p.From
		}
	}
	if before == 0 || !usable(b.Class(before)) {
		return a
	}
	return w.origin(before, item, deep-1)
}
