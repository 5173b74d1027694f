package ledger

import "countback/events"

// Number is one row of a count: how many pieces match.
type Number struct {
	Match Match
	N     int32
}

// Count sets what an account holds of the matching items to n, by an
// observation. Book above n opens a short for each item that is missing some,
// in the order of their numbers; book below n opens one over. Nothing happens
// at outside/…, at 0 and at an entry's account. A negative n is taken as 0.
func (b *Book) Count(fact Fact, known events.Known, a AccountID, m Match, n int32) Opened {
	if !b.countable(a) {
		return Opened{}
	}
	o := b.set(fact, a, m, n)
	b.sawKind(fact, known, a, b.kindOf(m))
	return o
}

// CountAll sets several numbers at once. Complete says that this is all there
// is: every item that no row matches is set to zero, and the account counts as
// seen whole. Rows should not match the same item twice; if they do, the later
// one has the last word.
func (b *Book) CountAll(fact Fact, known events.Known, a AccountID, rows []Number, complete bool) (o Opened) {
	if !b.countable(a) {
		return o
	}
	for _, r := range rows {
		o.join(b.set(fact, a, r.Match, r.N))
	}
	if !complete {
		for _, r := range rows {
			b.sawKind(fact, known, a, b.kindOf(r.Match))
		}
		return o
	}
	for i := int32(0); i < b.accounts[a].len; {
		c := b.cells.cells[b.accounts[a].off+i]
		if b.named(rows, c.item) {
			i++
			continue
		}
		o.add(b.short(fact, a, c.item, c.qty))
	}
	b.Saw(fact, known, a)
	return o
}

func (o *Opened) join(p Opened) {
	if o.N == 0 {
		o.First = p.First
	}
	o.N += p.N
}

func (b *Book) countable(a AccountID) bool {
	return a != 0 && b.accounts[a].class != Outside && b.accounts[a].class != Unexplained
}

func (b *Book) named(rows []Number, item ItemID) bool {
	for _, r := range rows {
		if b.Matches(r.Match, item) {
			return true
		}
	}
	return false
}

// set makes the balance n and opens entries for the difference.
func (b *Book) set(fact Fact, a AccountID, m Match, n int32) (o Opened) {
	n = min(max(n, 0), MaxQty)
	have, held := int32(0), ItemID(0)
	for _, c := range b.cells.run(&b.accounts[a]) {
		if b.Matches(m, c.item) {
			have += c.qty
			held = c.item
		}
	}
	if n > have {
		if held == 0 {
			held = b.Plain(m)
		}
		o.add(b.over(fact, a, held, n-have))
	}
	for i := int32(0); have > n; {
		c := b.cells.cells[b.accounts[a].off+i]
		if !b.Matches(m, c.item) {
			i++
			continue
		}
		q := min(c.qty, have-n)
		o.add(b.short(fact, a, c.item, q))
		have -= q
	}
	return o
}

// short opens an entry below the book and posts what is missing to it.
func (b *Book) short(fact Fact, a AccountID, item ItemID, qty int32) EntryNo {
	k := b.openEntry(fact, item, a, Short, qty)
	b.post(Posting{fact, item, item, a, b.entries[k].Account, qty, false})
	return k
}

// over opens an entry above the book and posts what is too many from it.
func (b *Book) over(fact Fact, a AccountID, item ItemID, qty int32) EntryNo {
	k := b.openEntry(fact, item, a, Over, qty)
	b.post(Posting{fact, item, item, b.entries[k].Account, a, qty, false})
	return k
}

// Saw records that an account was looked at as a whole, without a number: a
// claim, or a look that agreed with the book.
func (b *Book) Saw(fact Fact, known events.Known, a AccountID) {
	row := &b.accounts[a]
	row.seen = Look{fact, known}
	if Bounds(known) {
		row.counted = row.seen
		row.partial = 0
	}
}

// Touch records that a hand was at an account without moving what it holds.
func (b *Book) Touch(fact Fact, a AccountID) { b.accounts[a].touched = fact }

// sawKind records a count of one kind at an account.
func (b *Book) sawKind(fact Fact, known events.Known, a AccountID, k KindID) {
	row := &b.accounts[a]
	row.seen = Look{fact, known}
	if !Bounds(known) {
		return
	}
	for i := row.partial; i != 0; i = b.partials[i].next {
		if b.partials[i].kind == k {
			b.partials[i].look = row.seen
			return
		}
	}
	b.partials = append(b.partials, partialCount{kind: k, look: row.seen, next: row.partial})
	row.partial = int32(len(b.partials) - 1)
}

// Seen is the last observation of an account of any strength, a claim among
// them.
func (b *Book) Seen(a AccountID) Look { return b.accounts[a].seen }

// LastCount is the last count of a kind at an account: of that kind alone, or
// of the whole account. Kind 0 asks for the whole account only.
func (b *Book) LastCount(a AccountID, k KindID) Look {
	row := &b.accounts[a]
	for i := row.partial; i != 0 && k != 0; i = b.partials[i].next {
		if b.partials[i].kind == k {
			return b.partials[i].look
		}
	}
	return row.counted
}

// Touched is the last fact in which a hand was at the account.
func (b *Book) Touched(a AccountID) Fact { return b.accounts[a].touched }

// Undisturbed says that no hand was at the account after the given fact.
func (b *Book) Undisturbed(a AccountID, since Fact) bool { return b.accounts[a].touched <= since }
