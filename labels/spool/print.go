package spool

import (
	"context"
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

// Outcome is what one try did.
type Outcome uint8

// The outcomes.
const (
	Nothing Outcome = iota // no order waits for the printer
	Done                   // one was printed
	Holding                // the printer took nothing: see Queues for the reason
	Asking                 // the first order is unclear: a person has to answer
	Busy                   // another try is under way
)

// Next tries the first order of a printer once. Orders of one printer are
// printed in the order in which they were added; one that is held or unclear
// holds those behind it. An error means that the spool itself is out of order.
func (s *Spool) Next(ctx context.Context, name string) (Outcome, error) {
	p := s.printers[name]
	if p == nil {
		return Nothing, &UnknownPrinter{name, s.names}
	}
	e, outcome, err := s.begin(name)
	if e == nil {
		return outcome, err
	}
	data, reason := s.document(e)
	if reason == "" {
		err = p.Print(ctx, printer.File{Name: e.printName(), Title: e.Title, Format: e.format, Data: data, WidthMm: e.width, HeightMm: e.height})
	} else {
		err = &printer.Held{Printer: name, Reason: reason}
	}
	return s.finish(e, err)
}

// begin takes the first order of a printer and writes down that it is being
// sent.
func (s *Spool) begin(name string) (*entry, Outcome, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.closed {
		return nil, Nothing, errClosed
	}
	if s.broken != nil {
		return nil, Nothing, s.broken
	}
	if s.busy[name] {
		return nil, Busy, nil
	}
	e := s.first(name)
	switch {
	case e == nil:
		return nil, Nothing, nil
	case e.State == Unclear:
		return nil, Asking, nil
	}
	if err := s.set(e, Sending, ""); err != nil {
		return nil, Nothing, err
	}
	s.busy[name] = true
	s.signal()
	return e, Done, nil
}

// first is the first order of a printer that is not over.
func (s *Spool) first(name string) *entry {
	for _, e := range s.entries {
		if e.Printer == name && !e.State.over() {
			return e
		}
	}
	return nil
}

// set writes down a new state and then holds it.
func (s *Spool) set(e *entry, state State, why string) error {
	r := record{N: e.N, State: state, Time: s.now().UTC(), Why: why}
	if err := s.write(r); err != nil {
		return err
	}
	e.State, e.Time, e.Why = r.State, r.Time, r.Why
	return nil
}

// document reads the bytes of an order; reason says what is wrong with them.
func (s *Spool) document(e *entry) (data []byte, reason string) {
	data, err := os.ReadFile(filepath.Join(s.dir, "files", e.file()))
	if err != nil {
		return nil, fmt.Sprintf("the document of %s is gone: %v; drop the order and reprint it", e.Title, err)
	}
	if sum := sha256.Sum256(data); hex.EncodeToString(sum[:]) != e.sum {
		return nil, fmt.Sprintf("the document of %s is damaged; drop the order and reprint it", e.Title)
	}
	return data, ""
}

// finish writes down what became of an order.
func (s *Spool) finish(e *entry, result error) (Outcome, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	defer s.signal()
	s.busy[e.Printer] = false
	var held *printer.Held
	switch {
	case result == nil:
		delete(s.holds, e.Printer)
		if err := s.set(e, Printed, ""); err != nil {
			return Done, err
		}
		s.forget(e)
		return Done, nil
	case errors.As(result, &held):
		since := s.now()
		if old, ok := s.holds[e.Printer]; ok {
			since = old.since
		}
		s.holds[e.Printer] = hold{held.Reason, since}
		return Holding, s.set(e, Waiting, "")
	}
	delete(s.holds, e.Printer)
	why := result.Error()
	var unclear *printer.Unclear
	if errors.As(result, &unclear) {
		why = unclear.Reason
	}
	return Asking, s.set(e, Unclear, why)
}

// forget removes a document that nobody needs any more. What cannot be removed
// now is removed when the folder is opened next.
func (s *Spool) forget(e *entry) { _ = os.Remove(filepath.Join(s.dir, "files", e.file())) }

// Run prints until the context ends or the spool is closed: each printer on its own, what is held
// again after the pause. It returns the error that put the spool out of order,
// nil if there was none.
func (s *Spool) Run(ctx context.Context) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	errs := make([]error, len(s.names))
	var wg sync.WaitGroup
	for i, name := range s.names {
		wg.Go(func() {
			if errs[i] = s.serve(ctx, name); errs[i] != nil {
				cancel()
			}
		})
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// serve prints the orders of one printer.
func (s *Spool) serve(ctx context.Context, name string) error {
	for ctx.Err() == nil {
		changed := s.Changed()
		outcome, err := s.Next(ctx, name)
		if errors.Is(err, errClosed) {
			return nil
		}
		if err != nil {
			return err
		}
		switch outcome {
		case Done:
		case Holding:
			s.wait(ctx, name)
		default:
			select {
			case <-changed:
			case <-ctx.Done():
			}
		}
	}
	return nil
}

// wait waits until a held printer is to be tried again: after the pause, or
// when somebody asked for it.
func (s *Spool) wait(ctx context.Context, name string) {
	t := time.NewTimer(s.pause)
	defer t.Stop()
	for {
		changed := s.Changed()
		if !s.held(name) {
			return
		}
		select {
		case <-t.C:
			return
		case <-ctx.Done():
			return
		case <-changed:
		}
	}
}

func (s *Spool) held(name string) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	_, ok := s.holds[name]
	return ok && !s.closed
}
