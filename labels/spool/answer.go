package spool

import (
	"fmt"
	"sort"
	"time"
)

// find is the order of a key.
func (s *Spool) find(key string, reprint int) (*entry, error) {
	if s.closed {
		return nil, errClosed
	}
	e := s.taken[id{key, reprint}]
	if e == nil {
		return nil, fmt.Errorf("print order %s, reprint %d: there is none", key, reprint)
	}
	return e, nil
}

// Printed says that an unclear order did come out of the printer.
func (s *Spool) Printed(key string, reprint int) error {
	return s.answer(key, reprint, Printed, "", Unclear)
}

// Again says that an unclear order did not come out: it is printed as it is,
// first in its queue.
func (s *Spool) Again(key string, reprint int) error {
	return s.answer(key, reprint, Waiting, "", Unclear)
}

// Drop gives an order up, with the reason. Its key stays taken.
func (s *Spool) Drop(key string, reprint int, why string) error {
	return s.answer(key, reprint, Dropped, why, Unclear, Waiting)
}

// answer changes the state of an order that has one of some states.
func (s *Spool) answer(key string, reprint int, to State, why string, from ...State) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	e, err := s.find(key, reprint)
	if err != nil {
		return err
	}
	ok := false
	for _, f := range from {
		ok = ok || e.State == f
	}
	if !ok {
		return fmt.Errorf("print order %s, reprint %d: it is %s; nothing to answer", key, reprint, e.State)
	}
	if err := s.set(e, to, why); err != nil {
		return err
	}
	if to.over() {
		s.forget(e)
		delete(s.holds, e.Printer)
	}
	s.signal()
	return nil
}

// Retry tries a held printer now, not after the pause.
func (s *Spool) Retry(name string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	delete(s.holds, name)
	s.signal()
}

// Move gives everything that waits for one printer, also one that is not set
// up any more, to another. Unclear orders stay: they are about the printer that
// may have printed them. It returns how many were moved.
func (s *Spool) Move(from, to string) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.printers[to] == nil {
		return 0, &UnknownPrinter{to, s.names}
	}
	if s.closed {
		return 0, errClosed
	}
	n := 0
	for _, e := range s.entries {
		if e.Printer != from || e.State != Waiting || from == to {
			continue
		}
		now := s.now().UTC()
		if err := s.write(record{N: e.N, State: Waiting, Time: now, Printer: to}); err != nil {
			return n, err
		}
		e.Printer, e.Time = to, now
		n++
	}
	delete(s.holds, from)
	s.signal()
	return n, nil
}

// Queue is the state of one printer for a screen.
type Queue struct {
	Printer string
	SetUp   bool // false: orders wait for a printer that is not set up any more
	State   QueueState
	Reason  string    // of held and asking, and of a printer that is not set up
	Since   time.Time // of held and asking
	Open    []Entry   // what is not over, in its order
}

// QueueState is what a printer is doing.
type QueueState string

// The states of a queue.
const (
	Idle    QueueState = "idle"
	Prints  QueueState = "printing"
	Held    QueueState = "held"
	Asks    QueueState = "look at the printer"
	Missing QueueState = "not set up"
	Stopped QueueState = "stopped" // the spool itself is out of order
)

// Queues lists the printers as they were given, then those that orders wait
// for and that are not set up.
func (s *Spool) Queues() []Queue {
	s.mu.Lock()
	defer s.mu.Unlock()
	open := map[string][]Entry{}
	for _, e := range s.entries {
		if !e.State.over() {
			open[e.Printer] = append(open[e.Printer], e.Entry)
		}
	}
	var list []Queue
	for _, name := range s.names {
		list = append(list, s.queue(name, open[name]))
		delete(open, name)
	}
	var gone []string
	for name := range open {
		gone = append(gone, name)
	}
	sort.Strings(gone)
	for _, name := range gone {
		unknown := &UnknownPrinter{name, s.names}
		list = append(list, Queue{Printer: name, State: Missing, Reason: unknown.Error(), Since: open[name][0].Time, Open: open[name]})
	}
	return list
}

func (s *Spool) queue(name string, open []Entry) Queue {
	q := Queue{Printer: name, SetUp: true, State: Idle, Open: open}
	switch h, held := s.holds[name]; {
	case s.broken != nil:
		q.State, q.Reason = Stopped, s.broken.Error()
	case len(open) > 0 && open[0].State == Unclear:
		q.State, q.Reason, q.Since = Asks, open[0].Title+" may have been printed: "+open[0].Why, open[0].Time
	case held && len(open) > 0:
		q.State, q.Reason, q.Since = Held, h.reason, h.since
	case s.busy[name]:
		q.State = Prints
	}
	return q
}

// Find is an order by its key; ok is false if there is none.
func (s *Spool) Find(key string, reprint int) (e Entry, ok bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if found := s.taken[id{key, reprint}]; found != nil {
		return found.Entry, true
	}
	return Entry{}, false
}
