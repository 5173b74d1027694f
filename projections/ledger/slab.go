package ledger

import "math/bits"

// cell is what one account holds of one item. No cell is kept at zero.
type cell struct {
	item ItemID
	qty  int32
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

func (s *slab) reset() {
	s.cells = s.cells[:0]
	s.free = [32]int32{}
}

// run is what an account holds, sorted by item. It is valid until the next
// change of any account.
func (s *slab) run(a *account) []cell { return s.cells[a.off : a.off+a.len] }

// find gives the place in the account's run where the item is or would be.
func (s *slab) find(a *account, item ItemID) (int32, bool) {
	run := s.run(a)
	lo, hi := 0, len(run)
	for hi-lo > 8 {
		mid := int(uint(lo+hi) >> 1)
		if run[mid].item < item {
			lo = mid + 1
		} else {
			hi = mid + 1
		}
	}
	for ; lo < len(run); lo++ {
		if run[lo].item >= item {
			return int32(lo), run[lo].item == item
		}
	}
	return int32(lo), false
}

// qty is what the account holds of the item.
func (s *slab) qty(a *account, item ItemID) int32 {
	if i, ok := s.find(a, item); ok {
		return s.cells[a.off+i].qty
	}
	return 0
}

// add changes the cell of the item by qty, which may be negative.
func (s *slab) add(a *account, item ItemID, qty int32) {
	i, ok := s.find(a, item)
	if !ok {
		s.insert(a, i, cell{item, qty})
		return
	}
	c := &s.cells[a.off+i]
	if c.qty += qty; c.qty == 0 {
		run := s.run(a)
		copy(run[i:], run[i+1:])
		a.len--
	}
}

func (s *slab) insert(a *account, i int32, c cell) {
	if a.len == a.cap {
		s.grow(a)
	}
	a.len++
	run := s.run(a)
	copy(run[i+1:], run[i:])
	run[i] = c
}

// grow gives the account a run of twice the room.
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
	for range 1 << power {
		s.cells = append(s.cells, cell{})
	}
	return off
}

func (s *slab) give(off int32, power int) {
	s.cells[off].qty = s.free[power]
	s.free[power] = off + 1
}
