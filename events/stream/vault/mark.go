package vault

import (
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"io/fs"
	"os"
	"strings"
	"sync"
)

// Mark is the last message that is known to have been acknowledged.
type Mark struct {
	Seq    uint64 // 0: none
	Trace  Trace
	Closed bool // the store was closed in order after it
}

// A mark's file has two slots, written in turns, so that one is whole
// whatever happens while the other is written.
const (
	slotSize  = 256
	slotSpace = 4096 // apart from each other, so that they share no sector
)

// Marker keeps the mark's file.
type Marker struct {
	f     *os.File
	count uint64 // of the goroutine that writes
	buf   [slotSize]byte
	dirty chan struct{}
	done  chan struct{}

	mu     sync.Mutex
	mark   Mark
	err    error // the first one that writing met
	closed bool
}

// DamagedMark says that neither slot of a mark can be read.
type DamagedMark struct{ Path string }

func (e *DamagedMark) Error() string {
	return fmt.Sprintf("high-water mark %s cannot be read, so nobody can tell whether events are missing at the end; run: countback store check, then: countback store restore", e.Path)
}

// readMark reads a mark; false without an error if there is no such file or
// nothing was ever written to it.
func readMark(path string) (m Mark, count uint64, ok bool, err error) {
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return Mark{}, 0, false, nil
	}
	if err != nil {
		return Mark{}, 0, false, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil || info.Size() == 0 {
		return Mark{}, 0, false, err
	}
	for i := range int64(2) {
		var b [slotSize]byte
		if _, err := f.ReadAt(b[:], i*slotSpace); err != nil && !errors.Is(err, io.EOF) {
			return Mark{}, 0, false, err
		}
		if slot, n, err := parseSlot(b[:]); err == nil && n > count {
			m, count, ok = slot, n, true
		}
	}
	if !ok {
		return Mark{}, 0, false, &DamagedMark{Path: path}
	}
	return m, count, true, nil
}

// appendSlot writes a mark as one line, filled with blanks to slotSize.
func appendSlot(b []byte, count uint64, m Mark) []byte {
	state := "open"
	if m.Closed {
		state = "closed"
	}
	id := m.Trace.ID
	if id == "" {
		id = "-"
	}
	b = fmt.Appendf(b, "countback mark %s count %d seq %d id %s sum %08x state %s", version, count, m.Seq, id, m.Trace.Sum, state)
	for len(b) < slotSize-10 {
		b = append(b, ' ')
	}
	return fmt.Appendf(b, " %08x\n", crc32.Checksum(b, castagnoli))
}

func parseSlot(b []byte) (m Mark, count uint64, err error) {
	text, tail := b[:slotSize-10], string(b[slotSize-10:])
	if tail != fmt.Sprintf(" %08x\n", crc32.Checksum(text, castagnoli)) {
		return m, 0, fmt.Errorf("checksum does not match")
	}
	var v, id, state string
	_, err = fmt.Sscanf(strings.TrimRight(string(text), " "), "countback mark %s count %d seq %d id %s sum %x state %s",
		&v, &count, &m.Seq, &id, &m.Trace.Sum, &state)
	if err != nil {
		return m, 0, err
	}
	if v != version {
		return m, 0, &OtherVersion{Path: "mark", Version: v}
	}
	if id != "-" {
		m.Trace.ID = id
	}
	m.Closed = state == "closed"
	return m, count, nil
}

// OpenMarker opens the mark of a store that is elsewhere, or makes one, and
// returns what it says. The error may be a *DamagedMark.
func OpenMarker(path string) (*Marker, Mark, error) {
	m, count, _, err := readMark(path)
	if err != nil {
		return nil, m, err
	}
	m.Closed = false
	k, err := openMarker(path, m, count)
	return k, m, err
}

// openMarker opens a mark for writing, or makes one at m.
func openMarker(path string, m Mark, count uint64) (*Marker, error) {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_RDWR, 0o644)
	if err != nil {
		return nil, err
	}
	k := &Marker{f: f, mark: m, count: count, dirty: make(chan struct{}, 1), done: make(chan struct{})}
	if err := k.write(m, true); err != nil {
		return nil, errors.Join(err, f.Close())
	}
	go k.follow()
	return k, nil
}

// Advance notes an acknowledged message, unless a later one was noted. It
// does not wait: the mark is written by a goroutine of its own, into the
// operating system's memory, some microseconds later. It returns the first
// error that writing has met so far.
func (k *Marker) Advance(seq uint64, id string, data []byte) error {
	t := TraceOf(id, data)
	k.mu.Lock()
	defer k.mu.Unlock()
	if seq > k.mark.Seq && !k.closed {
		k.mark = Mark{Seq: seq, Trace: t}
		select {
		case k.dirty <- struct{}{}:
		default: // it is about to be written
		}
	}
	return k.err
}

// follow writes the mark whenever it has moved.
func (k *Marker) follow() {
	defer close(k.done)
	for range k.dirty {
		m, _ := k.Current()
		if err := k.write(m, false); err != nil {
			k.mu.Lock()
			if k.err == nil {
				k.err = err
			}
			k.mu.Unlock()
		}
	}
}

func (k *Marker) write(m Mark, sync bool) error {
	k.count++
	b := appendSlot(k.buf[:0], k.count, m)
	if _, err := k.f.WriteAt(b, int64(k.count%2)*slotSpace); err != nil {
		return err
	}
	if sync {
		return k.f.Sync()
	}
	return nil
}

// Current is the mark as it is to be written, and the first error that writing it met.
func (k *Marker) Current() (Mark, error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.mark, k.err
}

// Close writes the mark durably; inOrder notes that the store was closed in
// order.
func (k *Marker) Close(inOrder bool) error {
	k.mu.Lock()
	k.closed = true
	k.mu.Unlock()
	close(k.dirty)
	<-k.done
	m, _ := k.Current()
	m.Closed = inOrder
	return errors.Join(k.write(m, true), k.f.Close())
}
