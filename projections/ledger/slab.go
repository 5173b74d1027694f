package ledger

import (
	"math/bits"
	"slices"
)

// cell is what one account holds of one item. A cell whose pieces are gone
// stays at zero: the same pieces mostly come back.
type cell struct {
	item ItemID
	qty  int32
	kind KindID // of the item
}

// slab holds the cells of all accounts in one slice without pointers: each
// account has a run whose room is a power of two, sorted by item. Runs that
// were outgrown are given out again.
type slab struct {
	cells []cell
	free  [32]int32 // by the power of two: 1 + where a free run begins, 0 for none
}

// firstRoom is the room of an account's first run, as a power of two.
const firstRoom = 2

// scanned is the longest run that is searched from end to end; a short run is
// faster to scan than to halve.
const scanned = 12

func (s *slab) reset() {
	s.cells = s.cells[:0]
	s.free = [32]int32{}
}

// run is what an account holds, sorted by item, with cells at zero among it. It
// is valid until the next change of any account.
func (s *slab) run(a *account) []cell { return s.cells[a.off : a.off+a.len] }

// find gives the cell of an item, or the place where it would be.
func (s *slab) find(a *account, item ItemID) (int32, bool) {
	lo, hi := a.off, a.off+a.len
	for hi-lo > scanned {
		mid := int32(uint32(lo+hi) >> 1)
		if s.cells[mid].item < item {
			lo = mid + 1
		} else {
			hi = mid + 1
		}
	}
	for ; lo < hi; lo++ {
		if it := s.cells[lo].item; it >= item {
			return lo, it == item
		}
	}
	return lo, false
}

// qty is what the account holds of the item.
func (s *slab) qty(a *account, item ItemID) int32 {
	if i, ok := s.find(a, item); ok {
		return s.cells[i].qty
	}
	return 0
}

// cell gives the cell of an item at an account, a new one at zero if there was
// none; then the account is from now on among those where the kind is looked for.
func (b *Book) cell(id AccountID, item ItemID) *cell {
	a := &b.accounts[id]
	if a.len <= scanned {
		cells, end := b.cells.cells, a.off+a.len
		for i := a.off; i < end; i++ {
			if c := &cells[i]; c.item == item {
				return c
			}
		}
	}
	i, ok := b.cells.find(a, item)
	if !ok {
		i = b.cells.insert(a, i, item)
		b.cells.cells[i].kind = b.items[item].kind
		b.hold(b.items[item].kind, id)
	}
	return &b.cells.cells[i]
}

// hold notes that a kind was at an account, in the order of accounts.
func (b *Book) hold(k KindID, id AccountID) {
	for int(k) >= len(b.holders) {
		if len(b.holders) < cap(b.holders) {
			b.holders = b.holders[:len(b.holders)+1]
		} else {
			b.holders = append(b.holders, nil)
		}
		b.holders[len(b.holders)-1] = b.holders[len(b.holders)-1][:0]
	}
	list := b.holders[k]
	if n := len(list); n == 0 || list[n-1] < id { // accounts are mostly met in order
		b.holders[k] = append(list, id)
	} else if at, ok := slices.BinarySearch(list, id); !ok {
		b.holders[k] = slices.Insert(list, at, id)
	}
}

func (s *slab) insert(a *account, i int32, item ItemID) int32 {
	if a.len == a.cap {
		i -= a.off
		s.grow(a)
		i += a.off
	}
	a.len++
	copy(s.cells[i+1:a.off+a.len], s.cells[i:])
	s.cells[i] = cell{item: item}
	return i
}

// grow gives the account a run of twice the room. What a run that was given out
// again holds behind its length is anything.
func (s *slab) grow(a *account) {
	power := firstRoom
	if a.cap > 0 {
		power = bits.Len32(uint32(a.cap))
	}
	off := s.take(power)
	copy(s.cells[off:], s.run(a))
	if a.cap > 0 {
		s.give(a.off, power-1)
	}
	a.off, a.cap = off, 1<<power
}

func (s *slab) take(power int) int32 {
	if at := s.free[power]; at != 0 {
		s.free[power] = s.cells[at-1].qty
		return at - 1
	}
	off := int32(len(s.cells))
	s.cells = slices.Grow(s.cells, 1<<power)[:int(off)+1<<power]
	clear(s.cells[off:])
	return off
}

// open gives room, as a power of two, to an account that has none yet.
func (s *slab) open(a *account, power int) { a.off, a.cap = s.take(power), 1<<power }

func (s *slab) give(off int32, power int) {
	s.cells[off].qty = s.free[power]
	s.free[power] = off + 1
}
