package spool

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"time"

	"countback/labels/printer"
)

// Settings are what a spool needs.
type Settings struct {
	Dir      string // made if it is not there
	Printers []printer.Printer
	Now      func() time.Time
	Pause    time.Duration // between two tries at a printer that holds; 0: 15 s
}

// Spool is one folder of orders. It may be used by many goroutines.
type Spool struct {
	dir      string
	printers map[string]printer.Printer
	names    []string // of the printers, as given
	now      func() time.Time
	pause    time.Duration
	lock     *os.File

	mu      sync.Mutex
	log     *os.File
	broken  error // the log cannot be written any more
	closed  bool
	entries []*entry
	taken   map[id]*entry
	next    uint64
	at      uint64
	atKnown bool
	holds   map[string]hold // by printer
	busy    map[string]bool // printers that are printing
	changed chan struct{}   // closed at every change
}

// hold is why a printer takes nothing, since when.
type hold struct {
	reason string
	since  time.Time
}

var errClosed = errors.New("print queue: closed")

// Open opens a folder. An order that was being sent when the program ended is
// unclear.
func Open(set Settings) (*Spool, error) {
	s := &Spool{
		dir: set.Dir, printers: map[string]printer.Printer{}, now: set.Now, pause: set.Pause, taken: map[id]*entry{},
		next: 1, holds: map[string]hold{}, busy: map[string]bool{}, changed: make(chan struct{}),
	}
	if s.now == nil {
		s.now = time.Now
	}
	if s.pause <= 0 {
		s.pause = 15 * time.Second
	}
	for _, p := range set.Printers {
		if s.printers[p.Name()] != nil {
			return nil, fmt.Errorf("printer %s: set up twice", p.Name())
		}
		s.printers[p.Name()] = p
		s.names = append(s.names, p.Name())
	}
	if err := s.open(); err != nil {
		if s.log != nil {
			s.log.Close()
		}
		if s.lock != nil {
			s.lock.Close()
		}
		return nil, fmt.Errorf("print queue %s: %w", set.Dir, err)
	}
	return s, nil
}

func (s *Spool) open() (err error) {
	if err := os.MkdirAll(filepath.Join(s.dir, "files"), 0o700); err != nil {
		return err
	}
	if s.lock, err = lockFile(filepath.Join(s.dir, "lock")); err != nil {
		return err
	}
	if s.at, s.atKnown, err = readCursor(filepath.Join(s.dir, "cursor")); err != nil {
		return err
	}
	if s.entries, err = readLog(filepath.Join(s.dir, "log")); err != nil {
		return err
	}
	wanted := map[string]bool{}
	for _, e := range s.entries {
		if e.State == Sending {
			e.State, e.Why = Unclear, "the program ended while it was sending"
		}
		s.taken[e.id()] = e
		s.next = max(s.next, e.N+1)
		if !e.State.over() {
			wanted[e.file()] = true
		}
	}
	if err := s.sweep(wanted); err != nil {
		return err
	}
	return s.rewrite()
}

// sweep removes documents that no order wants: those that were written when
// the power failed, and those of printed orders.
func (s *Spool) sweep(wanted map[string]bool) error {
	list, err := os.ReadDir(filepath.Join(s.dir, "files"))
	if err != nil {
		return err
	}
	for _, f := range list {
		if !wanted[f.Name()] {
			if err := os.Remove(filepath.Join(s.dir, "files", f.Name())); err != nil {
				return err
			}
		}
	}
	return nil
}

// Close ends the use of the folder.
func (s *Spool) Close() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.closed {
		return nil
	}
	s.closed = true
	s.signal()
	return errors.Join(s.log.Close(), s.lock.Close())
}

// Add takes an order. It is on disk when it returns. added is false if the key
// with this reprint number was taken before, in whatever state it is.
func (s *Spool) Add(o Order) (added bool, err error) {
	if err := o.check(); err != nil {
		return false, err
	}
	if s.printers[o.Printer] == nil {
		return false, &UnknownPrinter{o.Printer, s.names}
	}
	if s.has(id{o.Key, o.Document.Reprint()}) {
		return false, nil
	}
	data, err := o.data()
	if err != nil {
		return false, fmt.Errorf("print order %s: %w", o.Key, err)
	}
	sum := sha256.Sum256(data)
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.taken[id{o.Key, o.Document.Reprint()}] != nil {
		return false, nil
	}
	if s.closed {
		return false, errClosed
	}
	if s.broken != nil {
		return false, s.broken
	}
	first := o.Document.Page(0)
	e := &entry{
		Entry:  Entry{N: s.next, Key: o.Key, Reprint: o.Document.Reprint(), Printer: o.Printer, Title: o.Document.Title(), State: Waiting, Time: s.now().UTC()},
		format: o.Format, width: first.WidthMm(), height: first.HeightMm(), sum: hex.EncodeToString(sum[:]),
	}
	if err := writeWhole(filepath.Join(s.dir, "files", e.file()), data); err != nil {
		return false, fmt.Errorf("print order %s: %w", o.Key, err)
	}
	if err := s.write(e.whole()); err != nil {
		return false, err
	}
	s.next++
	s.entries = append(s.entries, e)
	s.taken[e.id()] = e
	s.signal()
	return true, nil
}

func (s *Spool) has(i id) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.taken[i] != nil
}

// signal wakes all who wait for a change.
func (s *Spool) signal() {
	close(s.changed)
	s.changed = make(chan struct{})
}

// Changed is closed at the next change of any order or printer.
func (s *Spool) Changed() <-chan struct{} {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.changed
}
