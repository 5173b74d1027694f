package vault

import (
	"os"
	"runtime"
	"sync"
)

// lookAll looks at every block in a folder, in order, with as many workers as
// the machine has cores. A block that cannot be read is in the result with
// bad set.
func lookAll(stream, dir string, want []uint64) ([]block, error) {
	indexes, err := blockIndexes(dir)
	if err != nil {
		return nil, err
	}
	blocks := make([]block, len(indexes))
	var wg sync.WaitGroup
	next := make(chan int)
	for range min(runtime.GOMAXPROCS(0), len(indexes)) {
		wg.Go(func() {
			var buf []byte
			for i := range next {
				b, err := look(stream, dir, indexes[i], want, &buf)
				if err != nil {
					b.bad = err
				}
				blocks[i] = b
			}
		})
	}
	for i := range indexes {
		next <- i
	}
	close(next)
	wg.Wait()
	return blocks, nil
}

// surveyBlocks goes through the blocks in order and says what is missing from
// them, compared with themselves, the mark and the protected copy.
func (r *Report) surveyBlocks(blocks []block, guard block) {
	seen := map[uint64]Trace{}
	whole, faults := true, len(r.Faults)
	for i, b := range blocks {
		r.Blocks++
		switch {
		case !whole:
		case b.index != i+1:
			r.fault(blockPath(r.Place.blockDir(), i+1), "is missing; block %d begins with event %d, event %d is the next one", b.index, b.first, r.Events+1)
			whole = false
		case b.first != 0 && b.first != r.Events+1:
			r.fault(b.path, "begins with event %d, event %d is the next one", b.first, r.Events+1)
			whole = false
		}
		for seq, t := range b.seen {
			seen[seq] = t
		}
		if whole && b.last > 0 {
			r.Events, r.LastID, r.lastTrace = b.last, b.seen[b.last].ID, b.seen[b.last]
		}
		if b.bad != nil {
			r.judge(b, i == len(blocks)-1)
			whole = false
		} else if b.size == 0 && i < len(blocks)-1 {
			r.fault(b.path, "is empty")
			whole = false
		}
	}
	if r.Events < max(r.Mark, r.Guarded) {
		if len(r.Faults) == faults {
			r.ended()
		}
		return
	}
	r.compareMark(seen)
	r.compareGuard(blocks, guard, seen)
}

// ended reports blocks that are sound and end too early.
func (r *Report) ended() {
	known, by := r.Mark, "were acknowledged"
	if r.Guarded > known {
		known, by = r.Guarded, "are in the protected copy"
	}
	r.fault(r.Place.blockDir(), "ends with event %d, but events up to %d %s: %d are missing, or this is an older copy",
		r.Events, known, by, known-r.Events)
}

// judge tells a write that was cut short from damage. Only the very end of
// the last block may hold half a record, and only if nothing says that it was
// whole: the mark, the protected copy, or an orderly close.
func (r *Report) judge(b block, last bool) {
	unacknowledged := b.last >= r.mark.Seq && b.last >= r.Guarded && !(r.marked && r.mark.Closed)
	if last && b.beyond == 0 && b.size > 0 && unacknowledged {
		r.Torn = b.size - b.good
		return
	}
	r.fault(b.path, "event %d cannot be read: %v at byte %d", max(b.last, r.Events)+1, b.bad, b.good)
}

// compareMark requires the event at the mark to be the one that was
// acknowledged.
func (r *Report) compareMark(seen map[uint64]Trace) {
	m := r.mark
	if t := seen[m.Seq]; r.marked && m.Seq > 0 && t != m.Trace {
		r.fault(r.Place.blockDir(), "event %d is %s, but %s was acknowledged as event %d: this is another store", m.Seq, orNone(t.ID), orNone(m.Trace.ID), m.Seq)
	}
}

// compareGuard requires the last event of the protected copy to be the same
// in the store. That blocks of the copy itself are missing or short is a
// warning: they are copied again.
func (r *Report) compareGuard(blocks []block, guard block, seen map[uint64]Trace) {
	if guard.last == 0 {
		return
	}
	if t, want := seen[guard.last], guard.seen[guard.last]; t != want {
		r.fault(r.Place.blockDir(), "event %d is %s, but %s in the protected copy: one of them is of another store", guard.last, orNone(t.ID), orNone(want.ID))
		return
	}
	for _, b := range blocks {
		if b.index >= guard.index {
			return
		}
		path := blockPath(r.Place.Guard, b.index)
		if info, err := os.Stat(path); err != nil {
			r.warn(path, "protected copy: %v", err)
		} else if info.Size() != b.size {
			r.warn(path, "protected copy: %d bytes, the store's block has %d", info.Size(), b.size)
		}
	}
}

func orNone(id string) string {
	if id == "" {
		return "without an id"
	}
	return id
}
