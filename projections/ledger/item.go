package ledger

import "countback/events"

type (
	// KindID numbers a kind within one book, from 1.
	KindID int32
	// ItemID numbers an item within one book, from 1.
	ItemID int32
)

// Item is what a posting moves: a kind of piece, its condition, and where they
// matter the lot that it came in and the seat that it came from.
type Item struct {
	Kind   events.Kind
	Cond   events.Condition
	Lot    events.Lot
	Origin events.Seat
}

// itemRow is an item in numbers.
type itemRow struct {
	kind   KindID
	lot    int32
	origin int32
	cond   int32
}

// Match says which items a call is about: exactly Item when it is not 0,
// otherwise every item of Kind that agrees with what was said of condition, lot
// and origin. Book.OfKind, Book.Like and Exactly make one.
type Match struct {
	Item ItemID
	more bool // more is said than the kind
	like itemRow
}

// Exactly matches one item.
func Exactly(i ItemID) Match { return Match{Item: i} }

// OfKind matches every item of a kind.
func OfKind(k KindID) Match { return Match{like: itemRow{kind: k}} }

// Like matches every item of the kind of it that agrees with it. An empty
// condition, lot or origin was not said and agrees with any.
func (b *Book) Like(it Item) Match { return matching(b.row(it)) }

func matching(r itemRow) Match { return Match{like: r, more: r.cond|r.lot|r.origin != 0} }

func (b *Book) row(it Item) itemRow {
	r := itemRow{kind: b.Kind(it.Kind)}
	if it.Cond != "" || it.Lot != "" || it.Origin != "" {
		r.cond, r.lot, r.origin = b.condID(it.Cond), b.lots.id(it.Lot), b.seats.id(it.Origin)
	}
	return r
}

// Kind gives the number of a kind, new if the book had not met it; 0 for an
// empty kind.
func (b *Book) Kind(k events.Kind) KindID { return KindID(b.kinds.id(k)) }

// KindName is the kind behind a number.
func (b *Book) KindName(k KindID) events.Kind { return b.kinds.list[k] }

// Kinds is how many kinds the book knows; their numbers are 1 to Kinds.
func (b *Book) Kinds() int { return len(b.kinds.list) - 1 }

// Item gives the number of an item, new if the book had not met it; 0 for an
// empty kind.
func (b *Book) Item(it Item) ItemID { return b.intern(b.row(it)) }

func (b *Book) intern(r itemRow) ItemID {
	if r.kind == 0 {
		return 0
	}
	if r.cond|r.lot|r.origin == 0 {
		return b.internPlain(r)
	}
	if id, ok := b.itemOf[r]; ok {
		return id
	}
	id := b.addItem(r)
	b.itemOf[r] = id
	return id
}

func (b *Book) internPlain(r itemRow) ItemID {
	for int(r.kind) >= len(b.plain) {
		b.plain = append(b.plain, 0)
	}
	if b.plain[r.kind] == 0 {
		b.plain[r.kind] = b.addItem(r)
	}
	return b.plain[r.kind]
}

func (b *Book) addItem(r itemRow) ItemID {
	b.items = append(b.items, r)
	return ItemID(len(b.items) - 1)
}

// InCond matches every item of a kind that is in a condition.
func (b *Book) InCond(k KindID, c events.Condition) Match {
	return matching(itemRow{kind: k, cond: b.condID(c)})
}

// ItemName is the item behind a number.
func (b *Book) ItemName(i ItemID) Item {
	r := b.items[i]
	return Item{Kind: b.kinds.list[r.kind], Cond: b.conds.list[r.cond], Lot: b.lots.list[r.lot], Origin: b.seats.list[r.origin]}
}

// Items is how many items the book knows; their numbers are 1 to Items.
func (b *Book) Items() int { return len(b.items) - 1 }

// KindOf is the kind of an item.
func (b *Book) KindOf(i ItemID) KindID { return b.items[i].kind }

// condID is the number of a condition. That a piece is new or used is asked
// with most facts, so these two have a number from the start.
func (b *Book) condID(c events.Condition) int32 {
	switch c {
	case events.New:
		return condNew
	case events.Used:
		return condUsed
	}
	return b.conds.id(c)
}

const (
	condNew  = 1
	condUsed = 2
)

// In is the item that i becomes when its condition changes.
func (b *Book) In(i ItemID, c events.Condition) ItemID {
	r := b.items[i]
	r.cond = b.condID(c)
	return b.intern(r)
}

// From is the item that i becomes when its origin changes: a new piece gets one
// when it is fitted, an old one when it is reassigned.
func (b *Book) From(i ItemID, origin events.Seat) ItemID {
	r := b.items[i]
	r.origin = b.seats.id(origin)
	return b.intern(r)
}

// Plain is the item that stands for a match when the book holds none: the
// exact item, or the kind with no more than what was said.
func (b *Book) Plain(m Match) ItemID {
	if m.Item != 0 {
		return m.Item
	}
	return b.intern(m.like)
}

// Matches says whether m is about item i.
func (b *Book) Matches(m Match, i ItemID) bool {
	if m.Item != 0 {
		return i == m.Item
	}
	r := &b.items[i]
	l := m.like
	return r.kind == l.kind && (l.cond == 0 || r.cond == l.cond) &&
		(l.lot == 0 || r.lot == l.lot) && (l.origin == 0 || r.origin == l.origin)
}

// about is Matches for a cell, which knows its kind: most matches are about a
// kind and no more.
func (b *Book) about(m *Match, c *cell) bool {
	if m.Item != 0 {
		return c.item == m.Item
	}
	return c.kind == m.like.kind && (!m.more || b.Matches(*m, c.item))
}

// Cond is the condition of an item.
func (b *Book) Cond(i ItemID) events.Condition { return b.conds.list[b.items[i].cond] }

// Origin is the seat that an item came from, empty where that is not known.
func (b *Book) Origin(i ItemID) events.Seat { return b.seats.list[b.items[i].origin] }

// kindOf is the kind that a match is about.
func (b *Book) kindOf(m Match) KindID {
	if m.Item != 0 {
		return b.items[m.Item].kind
	}
	return m.like.kind
}
