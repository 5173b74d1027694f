package journal

import (
	"context"
	"errors"
)

// Read implements Journal.
func (m *Memory) Read(ctx context.Context, from Seq, f Filter, fn func(Message) error) error {
	if err := errors.Join(f.Check(), m.alive(ctx)); err != nil {
		return err
	}
	stored, _ := m.upToNow()
	_, err := m.deliver(ctx, stored, from, f, fn)
	return err
}

// Follow implements Journal.
func (m *Memory) Follow(ctx context.Context, from Seq, f Filter, fn func(Message) error) error {
	if err := errors.Join(f.Check(), m.alive(ctx)); err != nil {
		return err
	}
	for {
		stored, grown := m.upToNow()
		var err error
		if from, err = m.deliver(ctx, stored, from, f, fn); err != nil {
			return err
		}
		select {
		case <-grown:
		case <-ctx.Done():
			return ctx.Err()
		case <-m.closed:
			return ErrClosed
		}
	}
}

// upToNow is what is stored, and a channel that is closed when there is more.
func (m *Memory) upToNow() ([]Message, <-chan struct{}) {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.messages[:len(m.messages):len(m.messages)], m.grown
}

// deliver hands stored[from-1:] to fn and returns the number to go on from.
func (m *Memory) deliver(ctx context.Context, stored []Message, from Seq, f Filter, fn func(Message) error) (Seq, error) {
	from = max(from, 1)
	for ; int(from) <= len(stored); from++ {
		if err := m.alive(ctx); err != nil {
			return from, err
		}
		msg := stored[from-1]
		if !f.Match(msg.Job) {
			continue
		}
		if msg.Data == nil {
			return from, &Gap{Job: f.Job, After: from - 1, Next: from + 1, Lost: 1}
		}
		data := append([]byte(nil), msg.Data...)
		msg.Data = data
		err := fn(msg)
		for i := range data {
			data[i] = 0xDB
		}
		if err != nil {
			return from, err
		}
	}
	return from, nil
}
