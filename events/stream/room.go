package stream

import (
	"fmt"

	"countback/events/journal"
)

// room watches the space on the disk of a store.
type room struct {
	dir  string
	keep int64
	free func() (int64, error) // bytes that this user can still write
}

func newRoom(dir string, keep int64) *room {
	return &room{dir: dir, keep: keep, free: func() (int64, error) { return freeBytes(dir) }}
}

// perMessage is what a record, its part of an index and a new block's entry
// may need beyond the message itself.
const perMessage = 64 << 10

// check refuses what would not leave the reserve free. A server that meets a
// full disk gives no answer at all and takes nothing more until it is
// started again.
func (r *room) check(size int) error {
	free, err := r.free()
	if err != nil {
		return fmt.Errorf("space on the disk of %s: %w", r.dir, err)
	}
	if left := free - r.keep; left < int64(size)+perMessage {
		return fmt.Errorf("%w: %d MiB are free on the disk of %s, and %d MiB are kept in reserve; make room there", journal.ErrFull, free>>20, r.dir, r.keep>>20)
	}
	return nil
}
