package journal

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"

	"countback/events"
)

// Memory is a journal without a disk, for tests and for trying things out.
// It keeps every rule of the contract, can be made to fail on purpose, and
// overwrites the data of a message once its reader's callback has returned.
type Memory struct {
	*shelf
	closing sync.Once
	closed  chan struct{}
	unclear map[events.Terminal]string // terminal -> id of its unsettled draft; under mu
}

// shelf is what several handles on one memory share.
type shelf struct {
	mu         sync.Mutex
	messages   []Message // by number
	ofTerminal map[events.Terminal]int
	ofJob      map[events.Job]Seq
	faults     []Fault
	grown      chan struct{} // closed and replaced with every message
}

// Fault is one way in which an append fails, for tests of those who append.
type Fault uint8

// The faults that Fail takes.
const (
	LoseAnswer  Fault = iota + 1 // the message is stored, the answer is lost: *Unclear
	LoseRequest                  // the message never arrives, nobody answers: *Unclear
	Unreachable                  // ErrOffline
	NoRoom                       // ErrFull
)

var errNoAnswer = errors.New("no answer")

// NewMemory makes an empty journal.
func NewMemory() *Memory {
	return handle(&shelf{
		ofTerminal: map[events.Terminal]int{},
		ofJob:      map[events.Job]Seq{},
		grown:      make(chan struct{}),
	})
}

func handle(s *shelf) *Memory {
	return &Memory{shelf: s, closed: make(chan struct{}), unclear: map[events.Terminal]string{}}
}

// Again is a second handle on the same messages: what another program sees,
// or the same one after a restart. It is open whether or not m is closed.
func (m *Memory) Again() *Memory { return handle(m.shelf) }

// Fail makes the coming appends that would succeed fail instead, one for each
// fault, in this order.
func (m *Memory) Fail(faults ...Fault) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.faults = append(m.faults, faults...)
}

// Tear takes one message out without a trace, as damage to a store would.
func (m *Memory) Tear(seq Seq) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.messages = slices.Clone(m.messages) // readers may hold the old one
	m.messages[seq-1].Data = nil
}

// Append implements Journal.
func (m *Memory) Append(ctx context.Context, d Draft, e Expect) (Receipt, error) {
	if err := errors.Join(d.Check(), e.Check(), m.alive(ctx)); err != nil {
		return Receipt{}, err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if id := m.unclear[d.Terminal]; id != "" && id != d.ID() {
		return Receipt{}, &Unclear{ID: id, Cause: errNoAnswer}
	}
	last, _ := m.lastOf(d.Terminal)
	if d.N <= last.N {
		delete(m.unclear, d.Terminal)
		return m.repeat(d)
	}
	if d.N > last.N+1 {
		return Receipt{}, &Skipped{Terminal: d.Terminal, N: d.N, Last: last.N}
	}
	have := m.ofJob[d.Job]
	if e.scope == OfTerminal {
		have = last.Seq
	}
	if have != e.last {
		delete(m.unclear, d.Terminal)
		return Receipt{}, NewStale(d, e, have)
	}
	return m.store(d)
}

// store keeps the draft, or fails as Fail demands. The lock is held.
func (m *Memory) store(d Draft) (Receipt, error) {
	fault := Fault(0)
	if len(m.faults) > 0 {
		fault, m.faults = m.faults[0], m.faults[1:]
	}
	switch fault {
	case Unreachable:
		return Receipt{}, fmt.Errorf("event %s not stored: %w", d.ID(), ErrOffline)
	case NoRoom:
		return Receipt{}, fmt.Errorf("event %s not stored: %w", d.ID(), ErrFull)
	case LoseRequest:
		m.unclear[d.Terminal] = d.ID()
		return Receipt{}, &Unclear{ID: d.ID(), Cause: errNoAnswer}
	}
	delete(m.unclear, d.Terminal)
	seq := Seq(len(m.messages) + 1)
	m.ofTerminal[d.Terminal] = len(m.messages)
	m.ofJob[d.Job] = seq
	m.messages = append(m.messages, Message{
		Seq: seq, Terminal: d.Terminal, N: d.N, Job: d.Job, Data: slices.Clone(d.Data),
	})
	close(m.grown)
	m.grown = make(chan struct{})
	if fault == LoseAnswer {
		m.unclear[d.Terminal] = d.ID()
		return Receipt{}, &Unclear{ID: d.ID(), Cause: errNoAnswer}
	}
	return Receipt{Seq: seq}, nil
}

// repeat answers a draft whose number is taken. The lock is held.
func (m *Memory) repeat(d Draft) (Receipt, error) {
	for i := m.ofTerminal[d.Terminal]; i >= 0; i-- {
		have := m.messages[i]
		if have.Terminal != d.Terminal || have.N != d.N {
			continue
		}
		if have.Job != d.Job || !bytes.Equal(have.Data, d.Data) {
			return Receipt{}, &Conflict{ID: d.ID(), Seq: have.Seq}
		}
		return Receipt{Seq: have.Seq, Repeated: true}, nil
	}
	panic("unreachable: terminal " + string(d.Terminal) + " has a message after " + d.ID() + " and not that one")
}

// Settle implements Journal.
func (m *Memory) Settle(ctx context.Context, d Draft) (Receipt, bool, error) {
	if err := errors.Join(d.Check(), m.alive(ctx)); err != nil {
		return Receipt{}, false, err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.unclear[d.Terminal] == d.ID() {
		delete(m.unclear, d.Terminal)
	}
	if last, _ := m.lastOf(d.Terminal); d.N > last.N {
		return Receipt{}, false, nil
	}
	r, err := m.repeat(d)
	return r, err == nil, err
}

// Last implements Journal.
func (m *Memory) Last(ctx context.Context, t events.Terminal) (Message, bool, error) {
	if err := errors.Join(CheckName("terminal", string(t)), m.alive(ctx)); err != nil {
		return Message{}, false, err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	last, ok := m.lastOf(t)
	last.Data = slices.Clone(last.Data)
	return last, ok, nil
}

// lastOf is a terminal's last message. The lock is held.
func (m *Memory) lastOf(t events.Terminal) (Message, bool) {
	i, ok := m.ofTerminal[t]
	if !ok {
		return Message{}, false
	}
	return m.messages[i], true
}

// LastOfJob implements Journal.
func (m *Memory) LastOfJob(ctx context.Context, j events.Job) (Seq, error) {
	if err := errors.Join(CheckName("job", string(j)), m.alive(ctx)); err != nil {
		return 0, err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.ofJob[j], nil
}

// Head implements Journal.
func (m *Memory) Head(ctx context.Context) (Seq, error) {
	if err := m.alive(ctx); err != nil {
		return 0, err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	return Seq(len(m.messages)), nil
}

// Health implements Journal.
func (m *Memory) Health(ctx context.Context) error { return m.alive(ctx) }

// Close implements Journal.
func (m *Memory) Close() error {
	m.closing.Do(func() { close(m.closed) })
	return nil
}

func (m *Memory) alive(ctx context.Context) error {
	select {
	case <-m.closed:
		return ErrClosed
	default:
		return ctx.Err()
	}
}
