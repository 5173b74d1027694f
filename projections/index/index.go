// Package index finds the number that belongs to a text.
//
// A fold looks up some text with every fact: a joint, a bag, a kind. A [Table]
// does for this one purpose what a Go map does for every purpose, in about a
// third of the time: entries lie in one slice without pointers between them, so
// that a table is copied and emptied as a block of memory, and they are found by
// a sum of the text that is quick to make. Nothing is ever taken out of it.
//
// It knows no order and cannot be walked: what is shown or stored never comes
// from it.
package index

import "math/bits"

// Table finds numbers by texts. The zero Table is empty and ready.
type Table[K ~string] struct {
	slots []slot[K] // a power of two of them, at most three of four used
	spare []slot[K] // memory of the size that it had before
	n     int
}

// slot is one entry.
type slot[K ~string] struct {
	text K
	n    int32
	sum  uint32 // of the text, never 0; 0: the slot is free
}

// fewest is how many slots a table has at least.
const fewest = 16

// Len is how many texts have a number.
func (t *Table[K]) Len() int { return t.n }

// Get is the number of a text, false if it has none.
func (t *Table[K]) Get(text K) (int32, bool) {
	if len(t.slots) == 0 {
		return 0, false
	}
	sum := sumOf(string(text))
	for i := int(sum); ; i++ {
		s := &t.slots[i&(len(t.slots)-1)]
		if s.sum == sum && s.text == text {
			return s.n, true
		}
		if s.sum == 0 {
			return 0, false
		}
	}
}

// Add gives the number of a text, and says whether it is n: that is its number
// from now on if it had none.
func (t *Table[K]) Add(text K, n int32) (number int32, added bool) {
	if 4*t.n >= 3*len(t.slots) {
		t.grow()
	}
	sum := sumOf(string(text))
	for i := int(sum); ; i++ {
		s := &t.slots[i&(len(t.slots)-1)]
		if s.sum == 0 {
			s.text, s.n, s.sum = text, n, sum
			t.n++
			return n, true
		}
		if s.sum == sum && s.text == text {
			return s.n, false
		}
	}
}

// Put gives a text a number, in place of one that it has.
func (t *Table[K]) Put(text K, n int32) {
	if 4*t.n >= 3*len(t.slots) {
		t.grow()
	}
	if t.put(slot[K]{text, n, sumOf(string(text))}) {
		t.n++
	}
}

// put says whether the text is new.
func (t *Table[K]) put(one slot[K]) bool {
	for i := int(one.sum); ; i++ {
		s := &t.slots[i&(len(t.slots)-1)]
		if s.sum == 0 {
			*s = one
			return true
		}
		if s.sum == one.sum && s.text == one.text {
			s.n = one.n
			return false
		}
	}
}

// Room makes room for so many more texts.
func (t *Table[K]) Room(n int) {
	for 4*(t.n+n) > 3*len(t.slots) {
		t.grow()
	}
}

func (t *Table[K]) grow() {
	old := t.slots
	t.resize(max(fewest, 2*len(old)))
	clear(t.slots)
	for i := range old {
		if old[i].sum != 0 {
			t.put(old[i])
		}
	}
}

// resize takes the spare memory if it is large enough. What is in it is
// anything.
func (t *Table[K]) resize(n int) {
	if cap(t.spare) < n {
		t.spare = make([]slot[K], n)
	}
	t.slots, t.spare = t.spare[:n], t.slots
}

// Reset empties the table and keeps its memory.
func (t *Table[K]) Reset() {
	if t.n > 0 {
		clear(t.slots)
		t.n = 0
	}
}

// CopyFrom makes the table equal to another, in its own memory if there is
// enough.
func (t *Table[K]) CopyFrom(o *Table[K]) {
	if len(t.slots) != len(o.slots) {
		t.resize(len(o.slots))
	}
	copy(t.slots, o.slots)
	t.n = o.n
}

// golden is 2^64 by the golden ratio, a factor without a pattern.
const golden = 0x9e3779b97f4a7c15

// sumOf mixes a text into a number, eight bytes at a time, the last eight
// always whole.
func sumOf(text string) uint32 {
	h := uint64(len(text)) + golden
	if len(text) < 8 {
		for i := range len(text) {
			h = h<<8 ^ h>>56 ^ uint64(text[i])
		}
		return ended(mix(h))
	}
	for i := 0; i+8 < len(text); i += 8 {
		h = mix(h ^ eight(text[i:i+8]))
	}
	return ended(mix(h ^ eight(text[len(text)-8:])))
}

// mix spreads every bit over all: the two halves of a product, one on the other.
func mix(h uint64) uint64 {
	high, low := bits.Mul64(h, golden)
	return high ^ low
}

// ended is never 0, which marks a free slot.
func ended(h uint64) uint32 { return max(1, uint32(h)) }

// eight reads eight bytes as one number; the compiler makes one load of it.
func eight(s string) uint64 {
	_ = s[7]
	return uint64(s[0]) | uint64(s[1])<<8 | uint64(s[2])<<16 | uint64(s[3])<<24 |
		uint64(s[4])<<32 | uint64(s[5])<<40 | uint64(s[6])<<48 | uint64(s[7])<<56
}
