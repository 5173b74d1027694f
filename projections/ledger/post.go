package ledger

import "countback/events"

// Post moves qty pieces of an item from one account to another. It is refused,
// and changes nothing, if qty is not 1 to MaxQty, if from and to are the same,
// if the item or either account is 0, if either is the account of an entry
// (those are closed by name), or if from holds too few and may not be negative.
func (b *Book) Post(fact Fact, item ItemID, qty int32, from, to AccountID) bool {
	return b.PostInto(fact, item, item, qty, from, to)
}

// PostInto is Post for pieces that arrive as another item of the same kind: in
// another condition or with another origin. from and to may be the same. It is
// refused also if the kinds differ or if nothing would change.
func (b *Book) PostInto(fact Fact, item, into ItemID, qty int32, from, to AccountID) bool {
	if !quantity(qty) || item == 0 || !b.movable(from, to) || (from == to && item == into) ||
		b.items[item].kind != b.items[into].kind {
		return false
	}
	if !b.post(Posting{fact, item, into, from, to, qty, true}) {
		return false
	}
	b.accounts[from].touched = fact
	b.accounts[to].touched = fact
	return true
}

func (b *Book) movable(from, to AccountID) bool {
	a := b.accounts
	return from != 0 && to != 0 && a[from].class != Unexplained && a[to].class != Unexplained
}

// quantity says that a posting can move so many.
func quantity(n int32) bool { return n > 0 && n <= MaxQty }

// full says that qty more pieces cannot come into the book.
func (b *Book) full(qty int32) bool { return b.made > maxMade-qty }

// post changes two balances and writes the log. It guards what may be negative
// and nothing else.
func (b *Book) post(p Posting) bool {
	f := &b.accounts[p.From]
	if f.negative {
		if b.full(p.Qty) {
			return false
		}
		b.made += p.Qty
		b.cell(p.From, p.Item).qty -= p.Qty
		b.arrive(p.Fact, p.Item, p.Into, p.From, p.To, p.Qty, p.Hand)
		return true
	}
	i, ok := b.cells.find(f, p.Item)
	if !ok || b.cells.cells[i].qty < p.Qty {
		return false
	}
	b.cells.cells[i].qty -= p.Qty
	b.arrive(p.Fact, p.Item, p.Into, p.From, p.To, p.Qty, p.Hand)
	return true
}

// arrive is the second half of a posting whose first half is done. It writes
// the line of the log field by field: a whole one would be built beside it first.
func (b *Book) arrive(fact Fact, item, into ItemID, from, to AccountID, qty int32, hand bool) {
	b.cell(to, into).qty += qty
	n := len(b.log)
	if n == cap(b.log) {
		b.growLog()
	}
	b.log = b.log[:n+1]
	l := &b.log[n]
	l.Fact, l.Item, l.Into, l.From, l.To, l.Qty, l.Hand = fact, item, into, from, to, qty, hand
}

// growLog doubles the log; the runtime's smaller steps would copy it more often.
func (b *Book) growLog() {
	log := make([]Posting, len(b.log), max(firstLog, 2*len(b.log)))
	copy(log, b.log)
	b.log = log
}

// Opened are the entries that one call opened: First to First+N-1.
type Opened struct {
	First EntryNo
	N     int32
}

func (o *Opened) add(k EntryNo) {
	if o.N == 0 {
		o.First = k
	}
	o.N++
}

// Move is what a hand has done: qty pieces that match went from one account to
// another. Items are taken in the order of their numbers. What the book does
// not hold at from is taken from a new over there, so a Move always moves qty
// pieces; outside/… owes it instead. Nothing is moved if qty is not 1 to
// MaxQty, if from and to are the same, if m is about nothing, or if either
// account is 0 or an entry's.
func (b *Book) Move(fact Fact, m Match, qty int32, from, to AccountID) Opened {
	if m.Item == 0 && !m.more {
		return b.MoveKind(fact, m.like.kind, qty, from, to)
	}
	return b.MoveInto(fact, m, 0, qty, from, to)
}

// MoveKind is Move for pieces of a kind of which no more is said.
func (b *Book) MoveKind(fact Fact, kind KindID, qty int32, from, to AccountID) Opened {
	if b.moveOne(fact, kind, qty, from, to) {
		return Opened{}
	}
	return b.MoveInto(fact, OfKind(kind), 0, qty, from, to)
}

// moveOne is Move where the first item of the kind that is at from is enough, as
// it nearly always is. It does all or nothing.
func (b *Book) moveOne(fact Fact, kind KindID, qty int32, from, to AccountID) bool {
	if !quantity(qty) || kind == 0 || from == to || from == 0 || to == 0 {
		return false
	}
	f, t := &b.accounts[from], &b.accounts[to]
	if f.class == Unexplained || t.class == Unexplained {
		return false
	}
	cells, i, end := b.cells.cells, f.off, f.off+f.len
	for i < end && (cells[i].kind != kind || cells[i].qty <= 0) {
		i++
	}
	if i == end {
		return f.negative && b.owe(fact, kind, qty, from, to)
	}
	c := &cells[i]
	if c.qty < qty {
		return false
	}
	c.qty -= qty
	f.touched, t.touched = fact, fact
	b.arrive(fact, c.item, c.item, from, to, qty, true)
	return true
}

// owe is moveOne out of an account that may be negative and holds none: it owes
// pieces of which no more is known than the kind.
func (b *Book) owe(fact Fact, kind KindID, qty int32, from, to AccountID) bool {
	if int(kind) >= len(b.plain) || b.plain[kind] == 0 || b.full(qty) {
		return false
	}
	b.made += qty
	item := b.plain[kind]
	b.cell(from, item).qty -= qty
	b.accounts[from].touched, b.accounts[to].touched = fact, fact
	b.arrive(fact, item, item, from, to, qty, true)
	return true
}

// MoveOnly is Move for a kind of which from holds one item only, and enough of
// it, as it nearly always is: it gives that item. Otherwise it gives 0, and
// nothing is moved.
func (b *Book) MoveOnly(fact Fact, kind KindID, qty int32, from, to AccountID) ItemID {
	if !quantity(qty) || kind == 0 || from == to || !b.movable(from, to) {
		return 0
	}
	f := &b.accounts[from]
	var only *cell
	cells, end := b.cells.cells, f.off+f.len
	for i := f.off; i < end; i++ {
		if c := &cells[i]; c.kind == kind && c.qty > 0 {
			if only != nil {
				return 0
			}
			only = c
		}
	}
	if only == nil || only.qty < qty {
		return 0
	}
	only.qty -= qty
	item := only.item
	f.touched, b.accounts[to].touched = fact, fact
	b.arrive(fact, item, item, from, to, qty, true)
	return item
}

// MoveAll moves all that from, which is not an account that may be negative,
// holds of a kind, of each item MaxQty at most, and says how many pieces these
// were.
func (b *Book) MoveAll(fact Fact, kind KindID, from, to AccountID) (moved int32) {
	if kind == 0 || from == to || !b.movable(from, to) {
		return 0
	}
	f := &b.accounts[from]
	for i := f.off; i < f.off+f.len; i++ { // nothing else is put into from meanwhile
		c := &b.cells.cells[i]
		if c.kind != kind || c.qty <= 0 {
			continue
		}
		n, item := min(c.qty, MaxQty), c.item
		c.qty -= n
		moved += n
		f.touched, b.accounts[to].touched = fact, fact
		b.arrive(fact, item, item, from, to, n, true)
	}
	return moved
}

// MoveItem is Move for pieces of one item.
func (b *Book) MoveItem(fact Fact, item ItemID, qty int32, from, to AccountID) Opened {
	if !b.accounts[from].negative && b.Post(fact, item, qty, from, to) {
		return Opened{}
	}
	return b.MoveInto(fact, Exactly(item), 0, qty, from, to)
}

// MoveInto is Move for pieces that arrive as the item into (of the same kind;
// 0 or an item of another kind leaves each piece what it is).
func (b *Book) MoveInto(fact Fact, m Match, into ItemID, qty int32, from, to AccountID) (o Opened) {
	kind := b.kindOf(m)
	if !quantity(qty) || kind == 0 || from == to || !b.movable(from, to) {
		return o
	}
	if into != 0 && b.items[into].kind != kind {
		into = 0
	}
	rest := b.take(fact, &m, kind, into, qty, from, to)
	if rest > 0 {
		o = b.shortage(fact, b.Plain(m), into, rest, from, to)
	}
	b.accounts[from].touched = fact
	b.accounts[to].touched = fact
	return o
}

// take posts what from holds, up to qty, and gives what is still to be moved.
func (b *Book) take(fact Fact, m *Match, kind KindID, into ItemID, qty int32, from, to AccountID) int32 {
	for i := 0; qty > 0; i++ {
		run := b.cells.run(&b.accounts[from]) // what has arrived may have moved it
		for i < len(run) && (run[i].kind != kind || run[i].qty <= 0 || !b.about(m, &run[i])) {
			i++
		}
		if i == len(run) {
			break
		}
		c := &run[i]
		n := min(c.qty, qty)
		c.qty -= n
		qty -= n
		b.arrive(fact, c.item, intoOr(into, c.item), from, to, n, true)
	}
	return qty
}

func intoOr(into, item ItemID) ItemID {
	if into != 0 {
		return into
	}
	return item
}

// shortage moves pieces that the book does not hold at from.
func (b *Book) shortage(fact Fact, item, into ItemID, qty int32, from, to AccountID) (o Opened) {
	into = intoOr(into, item)
	if b.accounts[from].negative {
		b.post(Posting{fact, item, into, from, to, qty, true})
		return o
	}
	if b.full(qty) {
		return o
	}
	k := b.openEntry(fact, item, from, Over, qty)
	b.post(Posting{fact, item, into, b.entries[k].Account, to, qty, true})
	o.add(k)
	return o
}

// Turn is a change of condition: qty pieces that match at an account are from
// now on in condition c. Those that are not so yet are turned first, those that
// are so already make up the rest. What the account does not hold opens an over
// there. Nothing changes if qty is not 1 to MaxQty, if m is about nothing, or if
// a is 0 or an entry's account.
func (b *Book) Turn(fact Fact, m Match, c events.Condition, qty int32, a AccountID) (o Opened) {
	if !quantity(qty) || b.kindOf(m) == 0 || !b.movable(a, a) {
		return o
	}
	var room [8]cell
	picked, already := b.pick(room[:0], m, b.condID(c), qty, a)
	for _, cl := range picked {
		b.post(Posting{fact, cl.item, b.In(cl.item, c), a, a, cl.qty, true})
		qty -= cl.qty
	}
	if qty > already { // a name is given only to what is posted
		item := b.Plain(m)
		if into := b.In(item, c); into != item || !b.accounts[a].negative {
			o = b.shortage(fact, item, into, qty-already, a, a)
		}
	}
	b.accounts[a].touched = fact
	return o
}

// pick lists what an account holds that matches and is not in a condition, up
// to qty pieces, and how many that match are in it.
func (b *Book) pick(picked []cell, m Match, cond, qty int32, a AccountID) ([]cell, int32) {
	already := int32(0)
	for _, c := range b.cells.run(&b.accounts[a]) {
		switch {
		case c.qty <= 0 || !b.about(&m, &c):
		case b.items[c.item].cond == cond:
			already += c.qty
		case qty > 0:
			c.qty = min(c.qty, qty)
			picked = append(picked, c)
			qty -= c.qty
		}
	}
	return picked, already
}
