package stream

import (
	"context"
	"errors"
	"sync"

	"countback/events"
	"countback/events/journal"
)

// pens keeps what this program knows of each terminal that it writes for.
type pens struct {
	mu  sync.Mutex
	all map[events.Terminal]*pen
}

// pen belongs to one terminal. Appends of a terminal take it in turns, so
// that the number of the next one is known whatever the server checks.
type pen struct {
	terminal events.Terminal
	turn     chan struct{} // holds one token while nobody has the pen

	known   bool   // last was read from the journal
	last    uint32 // n of the last message
	unclear *journal.Unclear
}

// take waits for a terminal's pen.
func (s *Stream) take(ctx context.Context, t events.Terminal) (*pen, error) {
	if s.ctx.Err() != nil {
		return nil, journal.ErrClosed
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	p := s.pens.of(t)
	select {
	case <-p.turn:
		return p, nil
	case <-ctx.Done():
		return nil, ctx.Err()
	case <-s.ctx.Done():
		return nil, journal.ErrClosed
	}
}

func (ps *pens) of(t events.Terminal) *pen {
	ps.mu.Lock()
	defer ps.mu.Unlock()
	p := ps.all[t]
	if p == nil {
		if ps.all == nil {
			ps.all = map[events.Terminal]*pen{}
		}
		p = &pen{terminal: t, turn: make(chan struct{}, 1)}
		p.turn <- struct{}{}
		ps.all[t] = p
	}
	return p
}

func (p *pen) release() { p.turn <- struct{}{} }

// note keeps an unclear answer until something says what became of that
// draft. That a later try did not arrive either says nothing.
func (p *pen) note(err error) {
	var unclear *journal.Unclear
	var stale *journal.Stale
	var conflict *journal.Conflict
	switch {
	case errors.As(err, &unclear):
		p.unclear, p.known = unclear, false
	case err == nil, errors.As(err, &stale), errors.As(err, &conflict):
		p.unclear = nil
	}
}
