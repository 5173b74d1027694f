package ledger

import (
	"maps"
	"math/bits"
	"slices"

	"countback/events"
	"countback/projections/index"
)

// Fact is the position of an event in the order in which a job is folded. 0 is
// the opening, when the plan is presumed. Facts given to a book never decrease.
type Fact int32

// MaxQty is the most pieces of one item that one posting can move.
const MaxQty = events.MaxQty

// maxMade is the most pieces that may come into one book from outside/… and
// from overs, all kinds together, so that no balance can run over. A full book
// takes nothing more from there.
const maxMade = 1 << 30

// firstLog is the room of a log's first allocation.
const firstLog = 256

// Posting is one line of the log: at Fact, Qty pieces of Item left From and
// arrived at To as Into. Into is Item, or another item of the same kind when
// the piece changed its condition or its origin. Hand says that a hand moved it;
// otherwise a count or an explanation only put the book right.
type Posting struct {
	Fact     Fact
	Item     ItemID
	Into     ItemID
	From, To AccountID
	Qty      int32
	Hand     bool
}

// Book is the ledger of one job. The zero Book is not usable; New makes one.
// A Book is not safe for use by several goroutines at once.
type Book struct {
	accounts  []account
	paths     []events.Place
	accountOf index.Table[events.Place]

	items  []itemRow
	plain  []ItemID           // by kind: the item of which no more is known; 0: not met
	itemOf map[itemRow]ItemID // all others
	kinds  names[events.Kind]
	conds  names[events.Condition]
	lots   names[events.Lot]
	seats  names[events.Seat]

	cells    slab
	rooms    []uint8       // by account: the room of its run, as a power of two, before the last Reset
	holders  [][]AccountID // by kind: where it ever was, in the order of accounts
	partials []partialCount
	log      []Posting
	entries  []Entry
	open     int
	made     int32 // pieces that ever left an account that may be negative
}

// New makes an empty book.
func New() *Book {
	b := &Book{
		itemOf: make(map[itemRow]ItemID),
		kinds:  newNames[events.Kind](),
		conds:  newNames[events.Condition](),
		lots:   newNames[events.Lot](),
		seats:  newNames[events.Seat](),
	}
	b.sentinels()
	return b
}

// sentinels puts row 0, which stands for none, into every table.
func (b *Book) sentinels() {
	b.accounts = append(b.accounts, account{})
	b.paths = append(b.paths, "")
	b.items = append(b.items, itemRow{})
	b.partials = append(b.partials, partialCount{})
	b.entries = append(b.entries, Entry{})
	b.conds.id(events.New) // condNew
	b.conds.id(events.Used)
}

// Reset empties the book and keeps its memory, for folding another job, or the
// same again: an account gets as much room at once as that of its number had.
func (b *Book) Reset() {
	b.rooms = b.rooms[:0]
	for i := range b.accounts {
		b.rooms = append(b.rooms, uint8(bits.Len32(uint32(b.accounts[i].cap)>>1)))
	}
	b.accountOf.Reset()
	clear(b.itemOf)
	b.plain = b.plain[:0]
	clear(b.paths)
	b.kinds.reset()
	b.conds.reset()
	b.lots.reset()
	b.seats.reset()
	b.cells.reset()
	b.holders = b.holders[:0]
	b.accounts, b.paths, b.items = b.accounts[:0], b.paths[:0], b.items[:0]
	b.partials, b.log, b.entries, b.open, b.made = b.partials[:0], b.log[:0], b.entries[:0], 0, 0
	b.sentinels()
}

// Room makes room for as many more accounts, so that a copy of the book need not
// grow when it is used.
func (b *Book) Room(accounts int) { b.accountOf.Room(accounts) }

// CopyFrom makes the book equal to another, with the same numbers, and keeps its
// own memory for that.
func (b *Book) CopyFrom(o *Book) {
	b.accounts, b.paths, b.items = append(b.accounts[:0], o.accounts...), append(b.paths[:0], o.paths...), append(b.items[:0], o.items...)
	b.accountOf.CopyFrom(&o.accountOf)
	clear(b.itemOf)
	maps.Copy(b.itemOf, o.itemOf)
	b.plain = append(b.plain[:0], o.plain...)
	b.kinds.copyFrom(&o.kinds)
	b.conds.copyFrom(&o.conds)
	b.lots.copyFrom(&o.lots)
	b.seats.copyFrom(&o.seats)
	b.cells.cells, b.cells.free = append(b.cells.cells[:0], o.cells.cells...), o.cells.free
	b.holders = b.holders[:min(len(o.holders), cap(b.holders))]
	for k := range o.holders {
		if k == len(b.holders) {
			b.holders = append(b.holders, nil)
		}
		b.holders[k] = append(b.holders[k][:0], o.holders[k]...)
	}
	b.partials, b.entries = append(b.partials[:0], o.partials...), append(b.entries[:0], o.entries...)
	b.log = append(b.log[:0], o.log...)
	b.open, b.made = o.open, o.made
}

// Clone makes a book of its own with the same content and the same numbers.
func (b *Book) Clone() *Book {
	c := *b
	c.accounts, c.paths, c.items = slices.Clone(b.accounts), slices.Clone(b.paths), slices.Clone(b.items)
	c.accountOf = index.Table[events.Place]{}
	c.accountOf.CopyFrom(&b.accountOf)
	c.plain, c.itemOf = slices.Clone(b.plain), maps.Clone(b.itemOf)
	c.kinds, c.conds, c.lots, c.seats = b.kinds.clone(), b.conds.clone(), b.lots.clone(), b.seats.clone()
	c.cells.cells, c.rooms = slices.Clone(b.cells.cells), nil
	c.holders = make([][]AccountID, len(b.holders))
	for k := range b.holders {
		c.holders[k] = slices.Clone(b.holders[k])
	}
	c.partials, c.log, c.entries = slices.Clone(b.partials), slices.Clone(b.log), slices.Clone(b.entries)
	return &c
}
