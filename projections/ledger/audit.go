package ledger

import "fmt"

// Verify replays the log from nothing, in the slowest and plainest way, and
// says where the book differs from it: a posting of no pieces or between two
// kinds, an account below zero that may not be, a balance that the log does not
// give, a kind that does not sum to zero over all accounts, an entry whose open
// pieces are not in its account. Nil is a sound book.
func (b *Book) Verify() error {
	held := make(map[AccountID]map[ItemID]int)
	for i, p := range b.log {
		if err := b.replay(held, p); err != nil {
			return fmt.Errorf("posting %d of fact %d: %w", i, p.Fact, err)
		}
		if i > 0 && p.Fact < b.log[i-1].Fact {
			return fmt.Errorf("posting %d: fact %d after fact %d", i, p.Fact, b.log[i-1].Fact)
		}
	}
	if err := b.verifyBalances(held); err != nil {
		return err
	}
	open := 0
	for _, e := range b.entries[1:] {
		if err := b.verifyEntry(e, held[e.Account]); err != nil {
			return fmt.Errorf("unexplained/%d: %w", e.No, err)
		}
		if e.Open > 0 {
			open++
		}
	}
	if open != b.open {
		return fmt.Errorf("%d entries are open, the book says %d", open, b.open)
	}
	return nil
}

func (b *Book) replay(held map[AccountID]map[ItemID]int, p Posting) error {
	if p.Qty <= 0 {
		return fmt.Errorf("quantity %d", p.Qty)
	}
	if p.From == p.To && p.Item == p.Into {
		return fmt.Errorf("nothing changes at %s", b.Path(p.From))
	}
	if b.KindOf(p.Item) != b.KindOf(p.Into) {
		return fmt.Errorf("%s became %s", b.ItemName(p.Item).Kind, b.ItemName(p.Into).Kind)
	}
	for _, a := range []AccountID{p.From, p.To} {
		if held[a] == nil {
			held[a] = make(map[ItemID]int)
		}
	}
	held[p.From][p.Item] -= int(p.Qty)
	held[p.To][p.Into] += int(p.Qty)
	if n := held[p.From][p.Item]; n < 0 && !b.mayOwe(p.From) {
		return fmt.Errorf("%s holds %d of %s", b.Path(p.From), n, b.ItemName(p.Item).Kind)
	}
	return nil
}

func (b *Book) mayOwe(a AccountID) bool {
	return b.Class(a) == Outside || b.Entry(b.EntryAt(a)).Sign == Over
}

func (b *Book) verifyBalances(held map[AccountID]map[ItemID]int) error {
	sums := make(map[KindID]int)
	for a := AccountID(1); int(a) <= b.Accounts(); a++ {
		for i := ItemID(1); int(i) <= b.Items(); i++ {
			have, want := int(b.Qty(a, i)), held[a][i]
			if have != want {
				return fmt.Errorf("%s holds %d of %v, the log gives %d", b.Path(a), have, b.ItemName(i), want)
			}
			sums[b.KindOf(i)] += have
		}
	}
	for k := KindID(1); int(k) <= b.Kinds(); k++ {
		if sums[k] != 0 {
			return fmt.Errorf("%s sums to %d over all accounts", b.KindName(k), sums[k])
		}
	}
	return nil
}

func (b *Book) verifyEntry(e Entry, held map[ItemID]int) error {
	switch {
	case e.Sign != Short && e.Sign != Over:
		return fmt.Errorf("sign %d", e.Sign)
	case e.Qty <= 0 || e.Open < 0 || e.Open > e.Qty:
		return fmt.Errorf("%d open of %d", e.Open, e.Qty)
	case (e.Open == 0) != (e.Ending != ""):
		return fmt.Errorf("%d open, ended as %q", e.Open, e.Ending)
	case e.After > e.Shown:
		return fmt.Errorf("counted at fact %d after it was shown at %d", e.After, e.Shown)
	case b.EntryAt(e.Account) != e.No || b.ShownBy(e.Shown, e.Ord) != e.No:
		return fmt.Errorf("not found by its account %d or its ordinal %d of fact %d", e.Account, e.Ord, e.Shown)
	}
	for i, n := range held {
		want := 0
		if i == e.Item {
			want = -int(e.Sign) * int(e.Open)
		}
		if n != want {
			return fmt.Errorf("its account holds %d of %v, want %d", n, b.ItemName(i), want)
		}
	}
	return nil
}
