package stream

import (
	"fmt"
	"sync"
	"time"

	"countback/events/journal"
)

// room watches the space on the disk of a store.
type room struct {
	dir  string
	keep int64
	free func() (int64, error) // bytes that this user can still write

	mu      sync.Mutex
	checked time.Time // when the disk was asked last
	left    int64     // what was free beyond the reserve then, less what was taken since
}

// Asking the disk before every append costs several microseconds, so while
// there is plenty it is asked once a second.
const (
	plenty   = 256 << 20
	askAgain = time.Second
)

// take is check before an append.
func (r *room) take(size int) error {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.left -= int64(size) + perMessage; r.left > plenty && time.Since(r.checked) < askAgain {
		return nil
	}
	r.checked = time.Now()
	var err error
	r.left, err = r.beyond(size)
	return err
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
	_, err := r.beyond(size)
	return err
}

// beyond is what is free beyond the reserve.
func (r *room) beyond(size int) (int64, error) {
	free, err := r.free()
	if err != nil {
		return 0, fmt.Errorf("space on the disk of %s: %w", r.dir, err)
	}
	left := free - r.keep
	if left < int64(size)+perMessage {
		return 0, fmt.Errorf("%w: %d MiB are free on the disk of %s, and %d MiB are kept in reserve; make room there", journal.ErrFull, free>>20, r.dir, r.keep>>20)
	}
	return left, nil
}
