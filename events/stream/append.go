package stream

import (
	"context"
	"errors"
	"fmt"

	"countback/events/journal"
)

// Append implements journal.Journal.
func (s *Stream) Append(ctx context.Context, d journal.Draft, e journal.Expect) (journal.Receipt, error) {
	if err := errors.Join(d.Check(), e.Check()); err != nil {
		return journal.Receipt{}, err
	}
	p, err := s.take(ctx, d.Terminal)
	if err != nil {
		return journal.Receipt{}, err
	}
	defer p.release()
	if p.unclear != nil && p.unclear.ID != d.ID() {
		return journal.Receipt{}, p.unclear
	}
	r, err := s.append(ctx, p, d, e)
	p.note(err)
	s.reach(r.Seq)
	return r, err
}

func (s *Stream) append(ctx context.Context, p *pen, d journal.Draft, e journal.Expect) (journal.Receipt, error) {
	if !p.known || d.N != p.last+1 {
		if err := s.learn(ctx, p); err != nil {
			return journal.Receipt{}, err
		}
	}
	if d.N > p.last+1 {
		return journal.Receipt{}, &journal.Skipped{Terminal: d.Terminal, N: d.N, Last: p.last}
	}
	if d.N <= p.last {
		r, _, err := s.find(ctx, d)
		return r, err
	}
	if s.room != nil {
		if err := s.room.take(len(d.Data)); err != nil {
			return journal.Receipt{}, fmt.Errorf("event %s not stored: %w", d.ID(), err)
		}
	}
	return s.submit(ctx, p, d, e)
}

// learn reads the terminal's last message to know which n comes next.
func (s *Stream) learn(ctx context.Context, p *pen) error {
	last, _, err := s.last(ctx, p.terminal)
	if err != nil {
		return err
	}
	p.known, p.last = true, last.N
	return nil
}
