package ledger

import (
	"iter"
	"sort"
)

// Qty is what an account holds of one item; negative when it owes.
func (b *Book) Qty(a AccountID, item ItemID) int32 { return b.cells.qty(&b.accounts[a], item) }

// Balance is what an account holds of all items that match.
func (b *Book) Balance(a AccountID, m Match) int32 {
	if m.Item != 0 {
		return b.Qty(a, m.Item)
	}
	n := int32(0)
	run := b.cells.run(&b.accounts[a])
	for i := range run {
		if c := &run[i]; c.kind == m.like.kind && c.qty != 0 && b.about(&m, c) {
			n += c.qty
		}
	}
	return n
}

// BalanceOf is what an account holds of all items of a kind.
func (b *Book) BalanceOf(a AccountID, k KindID) int32 {
	n, row := int32(0), &b.accounts[a]
	cells, end := b.cells.cells, row.off+row.len
	for i := row.off; i < end; i++ {
		if cells[i].kind == k {
			n += cells[i].qty
		}
	}
	return n
}

// At runs over what an account holds, by item number. The book must not be
// changed meanwhile.
func (b *Book) At(a AccountID) iter.Seq2[ItemID, int32] {
	return func(yield func(ItemID, int32) bool) {
		for _, c := range b.cells.run(&b.accounts[a]) {
			if c.qty != 0 && !yield(c.item, c.qty) {
				return
			}
		}
	}
}

// Held is how many pieces of one item an account holds.
type Held struct {
	Item ItemID
	Qty  int32
}

// HeldOf adds to a list what an account holds of a kind, by item number.
func (b *Book) HeldOf(list []Held, a AccountID, k KindID) []Held {
	run := b.cells.run(&b.accounts[a])
	for i := range run {
		if c := &run[i]; c.kind == k && c.qty > 0 {
			list = append(list, Held{c.item, c.qty})
		}
	}
	return list
}

// Holders lists the accounts that a kind ever was at, by account number. It must
// not be changed.
func (b *Book) Holders(k KindID) []AccountID {
	if int(k) >= len(b.holders) {
		return nil
	}
	return b.holders[k]
}

// Where runs over the accounts that hold or owe pieces that match, by account
// number, with how many. The book must not be changed meanwhile.
func (b *Book) Where(m Match) iter.Seq2[AccountID, int32] {
	return func(yield func(AccountID, int32) bool) {
		k := int(b.kindOf(m))
		if k >= len(b.holders) {
			return
		}
		for _, a := range b.holders[k] {
			if n := b.Balance(a, m); n != 0 && !yield(a, n) {
				return
			}
		}
	}
}

// Tally is what the accounts of each class hold of the items that match. It
// sums to zero for a kind: what came from outside is somewhere.
func (b *Book) Tally(m Match) (t [Classes]int32) {
	for a := 1; a < len(b.accounts); a++ {
		t[b.accounts[a].class] += b.Balance(AccountID(a), m)
	}
	return t
}

// Log is every posting in order. It must not be changed.
func (b *Book) Log() []Posting { return b.log[:len(b.log):len(b.log)] }

// Of are the postings of one fact.
func (b *Book) Of(fact Fact) []Posting {
	lo := sort.Search(len(b.log), func(i int) bool { return b.log[i].Fact >= fact })
	hi := lo
	for hi < len(b.log) && b.log[hi].Fact == fact {
		hi++
	}
	return b.log[lo:hi:hi]
}

// History runs over the postings that left or reached an account, in order.
func (b *Book) History(a AccountID) iter.Seq[Posting] {
	return func(yield func(Posting) bool) {
		for _, p := range b.log {
			if (p.From == a || p.To == a) && !yield(p) {
				return
			}
		}
	}
}

// Hands lists the facts after one fact and up to another in which postings show
// that a hand was at an account: the steps between two counts. What a count
// itself corrected is no hand.
func (b *Book) Hands(a AccountID, after, upTo Fact) []Fact {
	var facts []Fact
	lo := sort.Search(len(b.log), func(i int) bool { return b.log[i].Fact > after })
	for _, p := range b.log[lo:] {
		if p.Fact > upTo {
			break
		}
		if b.byHand(p, a) && (len(facts) == 0 || facts[len(facts)-1] != p.Fact) {
			facts = append(facts, p.Fact)
		}
	}
	return facts
}

// byHand says that a posting shows a hand at an account: it left or reached it,
// or it was taken from there beyond the book.
func (b *Book) byHand(p Posting, a AccountID) bool {
	if !p.Hand {
		return false
	}
	if p.From == a || p.To == a {
		return true
	}
	k := b.EntryAt(p.From)
	return b.entries[k].Place == a && b.entries[k].Shown == p.Fact
}
