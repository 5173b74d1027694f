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
// at outside/…, at 0, at an entry's account and for a match about nothing. n
// is taken as 0 to MaxQty.
func (b *Book) Count(fact Fact, known events.Known, a AccountID, m Match, n int32) Opened {
	if !b.countable(a) {
		return Opened{}
	}
	o := b.set(fact, a, m, n)
	b.sawSome(fact, known, a, m)
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
			b.sawSome(fact, known, a, r.Match)
		}
		return o
	}
	for i := int32(0); i < b.accounts[a].len; i++ {
		c := b.cells.cells[b.accounts[a].off+i]
		if c.qty > 0 && !b.named(rows, c.item) {
			o.add(b.short(fact, a, c.item, c.qty))
		}
	}
	b.Saw(fact, known, a)
	return o
}

// Pieces is a number of pieces of a kind.
type Pieces struct {
	Kind KindID
	N    int32
}

// CountedAsBook is CountAll, complete, where it finds just what the book holds,
// of each kind one item. Otherwise it gives false, and nothing is changed.
func (b *Book) CountedAsBook(fact Fact, known events.Known, a AccountID, rows []Pieces) bool {
	if !b.countable(a) {
		return false
	}
	run := b.cells.run(&b.accounts[a])
	held := 0
	for i := range run {
		if run[i].qty > 0 {
			held++
		}
	}
	if held != len(rows) {
		return false
	}
	for i := range rows {
		at := 0
		for at < len(run) && (run[at].qty <= 0 || run[at].kind != rows[i].Kind) {
			at++
		}
		if at == len(run) || run[at].qty != rows[i].N {
			return false
		}
		for j := range rows[:i] {
			if rows[j].Kind == rows[i].Kind {
				return false
			}
		}
	}
	b.Saw(fact, known, a)
	return true
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
	if b.kindOf(m) == 0 {
		return o
	}
	n = min(max(n, 0), MaxQty)
	have, held := int32(0), ItemID(0)
	for _, c := range b.cells.run(&b.accounts[a]) {
		if c.qty > 0 && b.about(&m, &c) {
			have += c.qty
			held = c.item
		}
	}
	if n > have && !b.full(n-have) {
		if held == 0 {
			held = b.Plain(m)
		}
		o.add(b.over(fact, a, held, n-have))
	}
	for i := int32(0); have > n; i++ {
		c := b.cells.cells[b.accounts[a].off+i]
		if c.qty <= 0 || !b.about(&m, &c) {
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

// sawSome records a count of what matches at an account.
func (b *Book) sawSome(fact Fact, known events.Known, a AccountID, m Match) {
	row := &b.accounts[a]
	row.seen = Look{fact, known}
	if !Bounds(known) {
		return
	}
	for i := row.partial; i != 0; i = b.partials[i].next {
		if b.partials[i].match == m {
			b.partials[i].look = row.seen
			return
		}
	}
	b.partials = append(b.partials, partialCount{match: m, look: row.seen, next: row.partial})
	row.partial = int32(len(b.partials) - 1)
}

// Seen is the last observation of an account of any strength, a claim among
// them.
func (b *Book) Seen(a AccountID) Look { return b.accounts[a].seen }

// LastCount is the last count of an account as a whole.
func (b *Book) LastCount(a AccountID) Look { return b.accounts[a].counted }

// LastCountOf is the last count at an account that an item was part of: of the
// whole account, or of some that the item matches.
func (b *Book) LastCountOf(a AccountID, item ItemID) Look {
	last := b.accounts[a].counted
	for i := b.accounts[a].partial; i != 0; i = b.partials[i].next {
		if p := &b.partials[i]; p.look.Fact >= last.Fact && b.Matches(p.match, item) {
			last = p.look
		}
	}
	return last
}

// Touched is the last fact in which a hand was at the account.
func (b *Book) Touched(a AccountID) Fact { return b.accounts[a].touched }

// Undisturbed says that no hand was at the account after the given fact.
func (b *Book) Undisturbed(a AccountID, since Fact) bool { return b.accounts[a].touched <= since }
