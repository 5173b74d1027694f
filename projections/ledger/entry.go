package ledger

import (
	"sort"

	"countback/events"
)

// EntryNo numbers the shorts and overs of one book, from 1.
type EntryNo int32

// Sign says on which side of the book a count was.
type Sign int8

// The two signs.
const (
	Short Sign = -1 // counted below the book
	Over  Sign = +1 // counted, or taken, above the book
)

// Entry is one short or over: Qty pieces of Item at Place, of which Open are
// still unexplained. Account is its own account, unexplained/<No>; Ord is its
// ordinal, from 1, among the entries that the same fact showed. The first count that differed was Shown; the loss happened after After (the last count
// of that kind there, 0 if it never was counted) and not later than Shown.
// Closed, Ending and Peer tell how its last piece was explained, Ending is empty
// while some are open; the postings of its account tell all of it. Facts holds the two facts of a disagreement
// between terminals that had not seen each other, 0 for an ordinary entry.
type Entry struct {
	No      EntryNo
	Ord     int32
	Item    ItemID
	Place   AccountID
	Account AccountID
	Qty     int32
	Open    int32
	After   Fact
	Shown   Fact
	Closed  Fact
	Peer    EntryNo
	Facts   [2]Fact
	Sign    Sign
	Ending  events.Ending
}

// Disputed says that the entry is a disagreement between two named facts.
func (e Entry) Disputed() bool { return e.Facts != [2]Fact{} }

func (b *Book) openEntry(fact Fact, item ItemID, place AccountID, sign Sign, qty int32) EntryNo {
	k := EntryNo(len(b.entries))
	after := b.LastCountOf(place, item).Fact
	own := b.addAccount(Unexplained, sign == Over)
	ord := int32(1)
	if last := &b.entries[k-1]; last.Shown == fact && k > 1 {
		ord = last.Ord + 1
	}
	b.entries = append(b.entries, Entry{No: k, Ord: ord, Item: item, Place: place, Account: own, Qty: qty, Open: qty,
		After: after, Shown: fact, Sign: sign})
	b.open++
	return k
}

// Entries is how many entries there are, open and closed; they are 1 to
// Entries.
func (b *Book) Entries() int { return len(b.entries) - 1 }

// OpenEntries is how many entries are open.
func (b *Book) OpenEntries() int { return b.open }

// Entry is entry k; the zero Entry if there is none.
func (b *Book) Entry(k EntryNo) Entry {
	if k <= 0 || int(k) >= len(b.entries) {
		return Entry{}
	}
	return b.entries[k]
}

// ShownBy is the entry with ordinal ord, from 1, among those that a fact
// showed; 0 if there is none.
func (b *Book) ShownBy(fact Fact, ord int32) EntryNo {
	k := sort.Search(len(b.entries), func(i int) bool {
		e := &b.entries[i]
		return e.Shown > fact || e.Shown == fact && e.Ord >= ord
	})
	if e := b.Entry(EntryNo(k)); e.Shown == fact && e.Ord == ord {
		return e.No
	}
	return 0
}

// EntryAt is the entry whose own account a is, 0 if a is another account.
func (b *Book) EntryAt(a AccountID) EntryNo {
	if b.accounts[a].class != Unexplained {
		return 0
	}
	return EntryNo(sort.Search(len(b.entries), func(i int) bool { return b.entries[i].Account >= a }))
}

// Dispute names the two facts between which entry k is a disagreement.
func (b *Book) Dispute(k EntryNo, one, other Fact) {
	if b.isOpen(k, 1) {
		b.entries[k].Facts = [2]Fact{one, other}
	}
}

func (b *Book) isOpen(k EntryNo, qty int32) bool {
	return k > 0 && int(k) < len(b.entries) && qty > 0 && b.entries[k].Open >= qty
}

// Close explains qty pieces of entry k against an account: a short posts to it
// (found: a container; miscount: the entry's own place; plan wrong:
// outside/arrived; borrowed: outside/job/…; written off: lost), an over takes
// from it. It is refused, and changes nothing, if the entry has fewer open, if
// the account is 0 or an entry's, if how is empty or Paired (see Pair), or if an
// over asks an account for more than it holds or can give.
func (b *Book) Close(fact Fact, k EntryNo, how events.Ending, qty int32, against AccountID) bool {
	if !b.isOpen(k, qty) || how == "" || how == events.Paired || !b.movable(against, against) {
		return false
	}
	e := &b.entries[k]
	p := Posting{fact, e.Item, e.Item, e.Account, against, qty, how == events.Found}
	if e.Sign == Over {
		p.From, p.To = against, e.Account
	}
	if !b.post(p) {
		return false
	}
	if p.Hand {
		b.accounts[against].touched = fact
	}
	b.ended(fact, k, how, qty, 0)
	return true
}

// Pair explains qty pieces of a short by as many of an over. If their kinds
// differ, a piece of one kind was taken for the other: the short's piece then
// goes to via and the over's comes from it, and via must be outside/….
// Otherwise via is not used. It is refused, and changes nothing, if either has
// fewer open, the signs are not short and over, via is needed and is not
// outside/…, or the book is full.
func (b *Book) Pair(fact Fact, short, over EntryNo, qty int32, via AccountID) bool {
	if !b.isOpen(short, qty) || !b.isOpen(over, qty) {
		return false
	}
	s, o := &b.entries[short], &b.entries[over]
	if s.Sign != Short || o.Sign != Over {
		return false
	}
	if b.items[s.Item].kind == b.items[o.Item].kind {
		b.post(Posting{fact, s.Item, o.Item, s.Account, o.Account, qty, false})
	} else {
		if b.accounts[via].class != Outside || b.full(qty) {
			return false
		}
		b.post(Posting{fact, s.Item, s.Item, s.Account, via, qty, false})
		b.post(Posting{fact, o.Item, o.Item, via, o.Account, qty, false})
	}
	b.ended(fact, short, events.Paired, qty, over)
	b.ended(fact, over, events.Paired, qty, short)
	return true
}

func (b *Book) ended(fact Fact, k EntryNo, how events.Ending, qty int32, peer EntryNo) {
	e := &b.entries[k]
	e.Open -= qty
	e.Peer = peer
	if e.Open == 0 {
		e.Closed, e.Ending = fact, how
		b.open--
	}
}

// Recounted lists the open entries that entry k answers as a miscount: of the
// opposite sign, of the same kind, at the same place, which no hand has touched
// since the earlier of the two was shown. The oldest comes first.
func (b *Book) Recounted(k EntryNo) []EntryNo {
	var found []EntryNo
	if !b.isOpen(k, 1) {
		return nil
	}
	e := &b.entries[k]
	for i := 1; i < len(b.entries); i++ {
		o := &b.entries[i]
		if o.Open > 0 && o.Sign == -e.Sign && o.Place == e.Place &&
			b.items[o.Item].kind == b.items[e.Item].kind && b.Undisturbed(e.Place, min(o.Shown, e.Shown)) {
			found = append(found, EntryNo(i))
		}
	}
	return found
}
